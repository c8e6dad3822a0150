//! `certificate`: the shop's own authority, and a certificate for the names that phones reach this machine by.

use std::net::IpAddr;
use std::path::Path;
use std::process::ExitCode;

use crate::actions;
use crate::clock::Clock;
use crate::domain::shop::certificate::Name;
use crate::startup::{StartError, outward};

/// Makes them and says how to go on. Names typed before stay where none are typed now.
pub(super) fn make(folder: &Path, typed: &[String]) -> Result<ExitCode, StartError> {
    let mut names = Vec::new();
    for name in typed {
        names.push(name.parse().map_err(|fault: crate::domain::words::faults::Fault| StartError::Names(fault.why))?);
    }
    if names.is_empty()
        && let Some(own) = actions::shop::certificate::own(folder)?
    {
        names = own.names;
    }
    names.extend(of_machine());
    let (own, new) = actions::shop::certificate::make(folder, names, Clock::of_machine().today())?;
    let all = own.names.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    println!("The certificate is made for {all}. It is good until {}.", own.until);
    println!("Start `tackbook serve` on this folder (again): it serves https and plain http at one port.");
    if new {
        println!("The authority is new: each phone has to be told once to trust it, on the sheet /trust of the shop.");
        println!("Its SHA-256, to compare there:\n{}", own.fingerprint().text());
    } else {
        println!("The authority is the one from before: phones that trust it need nothing.");
    }
    println!("The keys lie in the folder's keys/certificate.json. Whoever has them can pass for the shop's machines.");
    Ok(ExitCode::SUCCESS)
}

/// The names and addresses by which this machine is always reached.
fn of_machine() -> Vec<Name> {
    let mut names = vec![
        Name::Host("localhost".to_owned()),
        Name::Address(IpAddr::from([127, 0, 0, 1])),
        Name::Address(IpAddr::from([0, 0, 0, 0, 0, 0, 0, 1_u16])),
    ];
    names.extend(outward().map(Name::Address));
    let machine = rustix::system::uname();
    if let Ok(host) = machine.nodename().to_string_lossy().parse::<Name>() {
        // most machines on a shop's network answer to this one (RFC 6762, 3)
        let local = (!host.to_string().contains('.')).then(|| Name::Host(format!("{host}.local")));
        names.extend(local);
        names.push(host);
    }
    names
}
