//! `serve`: a shop's folder in a browser.

use std::net::{IpAddr, SocketAddr, UdpSocket};
use std::path::Path;
use std::process::ExitCode;

use super::qr;
use crate::startup::{Server, StartError};

/// Serves until told to stop.
pub(super) async fn serve(folder: &Path, listen: &str, names: Vec<String>) -> Result<ExitCode, StartError> {
    let server = Server::open(folder, listen, names).await?;
    let address = reached_by(server.address()?);
    println!("The shop is open at {address}");
    if let Some(link) = server.setup_link().await? {
        println!("Nobody can sign in yet. This link makes the office sign-in, once, within a day:\n{address}{link}");
    } else if let Some(code) = qr::code(&address) {
        println!("{code}");
    }
    server.serve().await?;
    Ok(ExitCode::SUCCESS)
}

/// An address that a phone on the same network can type: where all of the machine's addresses are listened on, the one
/// that leads outside. Nothing is sent to find it.
pub(super) fn reached_by(address: SocketAddr) -> String {
    let outward = || -> Option<IpAddr> {
        let socket = UdpSocket::bind("0.0.0.0:0").ok()?;
        socket.connect("192.0.2.1:9").ok()?;
        Some(socket.local_addr().ok()?.ip())
    };
    let ip =
        if address.ip().is_unspecified() { outward().unwrap_or(IpAddr::from([127, 0, 0, 1])) } else { address.ip() };
    format!("http://{}", SocketAddr::new(ip, address.port()))
}
