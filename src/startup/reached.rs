//! Where a phone on the same network finds this machine.

use std::net::{IpAddr, SocketAddr, UdpSocket};

use super::tls::Tls;
use crate::web::Reached;

/// The machine's address on the network that leads outside; none where nothing does. Nothing is sent to find it.
pub fn outward() -> Option<IpAddr> {
    let socket = UdpSocket::bind("0.0.0.0:0").ok()?;
    // an address for examples (RFC 5737, 3): the system only looks up which way it would go
    socket.connect("192.0.2.1:9").ok()?;
    Some(socket.local_addr().ok()?.ip())
}

/// How the server at an address is reached, under the names it was started with.
pub(super) fn reached(listening: SocketAddr, names: &[String], tls: Option<&Tls>) -> Reached {
    let own = IpAddr::from([127, 0, 0, 1]);
    let ip = if listening.ip().is_unspecified() { outward().unwrap_or(own) } else { listening.ip() };
    let at = SocketAddr::new(ip, listening.port());
    let plain = format!("http://{at}");
    let Some(tls) = tls else { return Reached { address: plain.clone(), plain, ..Reached::default() } };
    // an address in figures needs nobody to look it up; where the certificate does not carry it, a name does
    let carries_it = tls.names.contains(&ip.to_string());
    let name = names.iter().find(|name| *name != "localhost");
    let address = match name.filter(|_| !carries_it) {
        Some(name) => format!("https://{name}:{}", listening.port()),
        None => format!("https://{at}"),
    };
    Reached { address, plain, authority: tls.authority.clone(), until: tls.until }
}
