//! `serve`: a shop's folder in a browser.

use std::net::IpAddr;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use super::{opened, qr};
use crate::startup::{Server, StartError};

/// Serves until told to stop.
pub(super) async fn serve(
    folder: &Path,
    listen: &str,
    names: Vec<String>,
    (given, backup_to): (Option<(&Path, &Path)>, Option<PathBuf>),
    figures_to: Option<Vec<IpAddr>>,
) -> Result<ExitCode, StartError> {
    let mut server = Server::open(folder, listen, names, given).await?;
    opened::tell(server.brought_up());
    if let Some(to) = figures_to {
        server.tell_figures(to);
    }
    let (address, first) = (server.address(), server.first_for_phones());
    println!("The shop is open at {address}");
    if let Some(authority) = server.authority() {
        println!("A phone that does not trust it yet begins at {first}");
        println!("The authority's SHA-256, to compare there:\n{}", authority.text());
    }
    if let Some(link) = server.setup_link().await? {
        println!("Nobody can sign in yet. This link makes the office sign-in, once, within a day:\n{address}{link}");
    } else if let Some(code) = qr::code(&first) {
        println!("{code}");
    }
    server.serve(backup_to).await?;
    Ok(ExitCode::SUCCESS)
}
