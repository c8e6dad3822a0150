//! The door: one address for https and for plain http, told apart by a connection's first byte.

use std::io;
use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;

use axum::extract::connect_info::Connected;
use axum::serve::{IncomingStream, Listener};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{Semaphore, mpsc};
use tokio_rustls::TlsAcceptor;
use tokio_rustls::server::TlsStream;
use tokio_util::either::Either;

use crate::web::Carried;

/// The first byte of TLS: a handshake's record (RFC 8446, 5.1). No method of HTTP begins with it.
const HANDSHAKE: u8 = 22;
/// How long a connection has to say what it is and to agree on its keys.
const PATIENCE: Duration = Duration::from_secs(15);
/// Most connections that are still saying what they are.
const AT_THE_DOOR: usize = 256;
/// Where the machine has no room for another connection, so long until the next is asked for.
const FULL: Duration = Duration::from_secs(1);

/// Where connections come in.
#[derive(Debug)]
pub(super) struct Door {
    inside: mpsc::Receiver<(Connection, SocketAddr)>,
    address: SocketAddr,
}

/// A connection: plain, or sealed by TLS.
type Connection = Either<TcpStream, Box<TlsStream<TcpStream>>>;

impl Door {
    /// Opens it; where there is no certificate, everything is plain.
    pub(super) fn open(listener: TcpListener, sealed: Option<TlsAcceptor>) -> io::Result<Self> {
        let address = listener.local_addr()?;
        let (through, inside) = mpsc::channel(1);
        let places = Arc::new(Semaphore::new(AT_THE_DOOR));
        tokio::spawn(async move {
            loop {
                let arrived = tokio::select! {
                    () = through.closed() => return,
                    arrived = listener.accept() => arrived,
                };
                let Ok((stream, from)) = arrived else {
                    tokio::time::sleep(FULL).await;
                    continue;
                };
                let (through, sealed) = (through.clone(), sealed.clone());
                let Ok(place) = Arc::clone(&places).acquire_owned().await else { return };
                tokio::spawn(async move {
                    match tokio::time::timeout(PATIENCE, received(stream, sealed)).await {
                        Ok(Ok(line)) => {
                            drop(place);
                            // the server may have stopped meanwhile
                            let _ = through.send((line, from)).await;
                        }
                        Ok(Err(error)) => tracing::debug!(%error, "a connection did not come to be"),
                        Err(_) => tracing::debug!("a connection said nothing"),
                    }
                });
            }
        });
        Ok(Self { inside, address })
    }
}

async fn received(stream: TcpStream, sealed: Option<TlsAcceptor>) -> io::Result<Connection> {
    let Some(sealed) = sealed else { return Ok(Either::Left(stream)) };
    let mut first = [0];
    if stream.peek(&mut first).await? == 1 && first == [HANDSHAKE] {
        return Ok(Either::Right(Box::new(sealed.accept(stream).await?)));
    }
    Ok(Either::Left(stream))
}

impl Listener for Door {
    type Io = Connection;
    type Addr = SocketAddr;

    async fn accept(&mut self) -> (Connection, SocketAddr) {
        match self.inside.recv().await {
            Some(came) => came,
            // the task that listens ends only after this
            None => std::future::pending().await,
        }
    }

    fn local_addr(&self) -> io::Result<SocketAddr> {
        Ok(self.address)
    }
}

impl Connected<IncomingStream<'_, Door>> for Carried {
    fn connect_info(stream: IncomingStream<'_, Door>) -> Self {
        match stream.io() {
            Either::Right(_) => Self::Https,
            Either::Left(_) => Self::Http,
        }
    }
}
