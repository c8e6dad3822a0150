//! `demo`: the demo shop in a browser, made where there is none.

use std::io::{IsTerminal as _, Write as _};
use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;

use serde_json::json;

use super::{opened, qr};
use crate::demo::{SIGN_INS, Wanted};
use crate::startup::{Server, StartError};

/// Serves the demo shop until told to stop; where there is none, it is made meanwhile. With `--json` its line is printed when it is whole.
pub(super) async fn demo(folder: &Path, listen: &str, wanted: Wanted, as_json: bool) -> Result<ExitCode, StartError> {
    let mut server = Server::open(folder, listen, Vec::new(), None).await?;
    opened::tell(server.brought_up());
    let begun = server.begin_demo(folder, wanted, Arc::new(describe)).await?;
    let address = server.address().to_owned();
    if as_json {
        let line = move || {
            let sign_ins = SIGN_INS.map(|one| json!({ "role": one.role, "name": one.name, "password": one.password }));
            println!("{}", json!({ "address": address, "sign_ins": sign_ins }));
        };
        server.serve_demo(begun, line).await?;
        return Ok(ExitCode::SUCCESS);
    }
    println!("The demo shop is open at {address}");
    for one in SIGN_INS {
        println!("  {:11} name: {:11} password: {}", one.role.word(), one.name, one.password);
    }
    if let Some(code) = qr::code(&server.first_for_phones()) {
        println!("{code}");
    }
    println!("All in it is invented and drawn. Keep nothing real here: its passwords are known to everybody.");
    println!("It is in the folder {}; stop with Ctrl-C.", folder.display());
    let new = begun.is_some();
    if new {
        println!("Its builds are being made while you look round; each sheet says how far they are.");
    }
    let whole = move || {
        if new {
            println!("The demo shop is whole.");
        }
    };
    server.serve_demo(begun, whole).await?;
    Ok(ExitCode::SUCCESS)
}

/// One line that goes on while photographs are drawn; where nobody watches, one line for each build.
fn describe(build: &str, done: usize, of: usize) {
    if std::io::stderr().is_terminal() {
        let end = if done == of { "\n" } else { "" };
        eprint!("\rDrawing photograph {done} of {of} of {build} {end}");
        // a line that is not shown at once harms nothing
        let _ = std::io::stderr().flush();
    } else if done == of {
        eprintln!("{of} photographs of {build} are drawn.");
    }
}
