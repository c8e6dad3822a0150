//! The wire between a phone and the shop, which can be held at a byte: what lies behind it then has got so many bytes of
//! photographs and not one more.

use std::io::{Read as _, Write as _};
use std::net::{Shutdown, SocketAddr, TcpListener, TcpStream};
use std::sync::{Arc, Condvar, Mutex};
use std::time::Duration;

const PATIENCE: Duration = Duration::from_mins(1);

/// A wire of one test. What it carries of photographs' parts is counted.
pub(crate) struct Wire {
    address: SocketAddr,
    state: Arc<State>,
}

#[derive(Default)]
struct State {
    now: Mutex<Now>,
    changed: Condvar,
}

#[derive(Default)]
struct Now {
    /// Bytes of parts that may still pass; none when all may.
    left: Option<usize>,
    /// Whether the wire is held, and no byte goes to the shop.
    held: bool,
    /// The connections being carried.
    open: Vec<TcpStream>,
}

impl Wire {
    /// A wire to a shop's address.
    pub(crate) fn to(shop: &str) -> Self {
        let shop: SocketAddr = shop.strip_prefix("http://").unwrap().parse().unwrap();
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let address = listener.local_addr().unwrap();
        let state = Arc::<State>::default();
        let carried = Arc::clone(&state);
        std::thread::spawn(move || {
            for phone in listener.incoming().map_while(Result::ok) {
                // where the shop is away, the phone's connection breaks
                let Ok(server) = TcpStream::connect(shop) else { continue };
                let (mut back_from, mut back_to) = (server.try_clone().unwrap(), phone.try_clone().unwrap());
                {
                    let mut now = carried.now.lock().unwrap();
                    now.open.extend([phone.try_clone().unwrap(), server.try_clone().unwrap()]);
                }
                std::thread::spawn(move || {
                    // either end may be killed at any time
                    let _ = std::io::copy(&mut back_from, &mut back_to);
                    let _ = back_to.shutdown(Shutdown::Both);
                });
                let state = Arc::clone(&carried);
                std::thread::spawn(move || carry(&phone, &server, &state));
            }
        });
        Self { address, state }
    }

    /// Where the phone finds the shop.
    pub(crate) fn address(&self) -> String {
        format!("http://{}", self.address)
    }

    /// Lets so many bytes of photographs' parts pass, then holds the wire; says whether so many came.
    pub(crate) fn hold_after(&self, bytes: usize) -> bool {
        let mut now = self.state.now.lock().unwrap();
        now.left = Some(bytes);
        let (now, _) = self.state.changed.wait_timeout_while(now, PATIENCE, |now| !now.held).unwrap();
        now.held
    }

    /// Breaks what is being carried, and carries again.
    pub(crate) fn let_go(&self) {
        let mut now = self.state.now.lock().unwrap();
        for end in now.open.drain(..) {
            // it may be broken already
            let _ = end.shutdown(Shutdown::Both);
        }
        (now.left, now.held) = (None, false);
        self.state.changed.notify_all();
    }
}

/// Carries a phone's bytes to the shop until either goes away.
fn carry(mut phone: &TcpStream, mut server: &TcpStream, state: &State) {
    let (mut bytes, mut part) = (vec![0; 16 << 10], false);
    while let Ok(read @ 1..) = phone.read(&mut bytes) {
        let bytes = &bytes[..read];
        // a browser begins each request of a connection with a write of its own
        if bytes.starts_with(b"PATCH ") {
            part = true;
        } else if [&b"GET "[..], b"PUT ", b"POST ", b"HEAD ", b"DELETE "].iter().any(|method| bytes.starts_with(method))
        {
            part = false;
        }
        let may = {
            let mut now = state.now.lock().unwrap();
            let may = if part { now.left.map_or(read, |left| left.min(read)) } else { read };
            if part && now.left.is_some() {
                now.left = now.left.map(|left| left - may);
                now.held = now.held || may < read;
            }
            state.changed.notify_all();
            may
        };
        if server.write_all(&bytes[..may]).is_err() {
            break;
        }
        let now = state.now.lock().unwrap();
        drop(state.changed.wait_while(now, |now| now.held).unwrap());
        if may < read {
            break;
        }
    }
    // either end may be gone
    let _ = server.shutdown(Shutdown::Both);
    let _ = phone.shutdown(Shutdown::Both);
}
