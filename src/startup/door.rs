//! The door: one address for https and for plain http, told apart by a connection's first byte. Who stands in it without
//! saying anything keeps nobody else out, and nobody keeps it from closing.

use std::io;
use std::net::SocketAddr;
use std::time::Duration;

use axum::Router;
use axum::extract::ConnectInfo;
use hyper::Request;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::watch;
use tokio::task::JoinSet;
use tokio::time::timeout;
use tokio_rustls::TlsAcceptor;
use tokio_util::either::Either;
use tower_service::Service as _;

use super::patient::Patient;
use super::places::{Place, Places};
use crate::web::Carried;

/// The first byte of TLS: a handshake's record (RFC 8446, 5.1). No method of HTTP begins with it.
const HANDSHAKE: u8 = 22;
/// How long a connection has to say what it is and to agree on its keys (own choice: some turns over a weak network).
const TO_BEGIN: Duration = Duration::from_secs(8);
/// How long a request's head may take, and how long a connection is kept that asks for nothing more (own choice).
const TO_ASK: Duration = Duration::from_secs(15);
/// How long what is being answered may take once the program was told to stop (own choice; a phone sends the rest again).
const LAST_ANSWERS: Duration = Duration::from_secs(6);
/// Where the machine has no room for another connection, so long until the next is asked for.
const FULL: Duration = Duration::from_millis(200);

/// Where connections come in.
pub(super) struct Door {
    listener: TcpListener,
    /// Where there is no certificate, everything is plain.
    sealed: Option<TlsAcceptor>,
    places: Places,
}

impl Door {
    /// A door at an address that was taken.
    pub(super) fn at(listener: TcpListener, sealed: Option<TlsAcceptor>) -> Self {
        Self { listener, sealed, places: Places::default() }
    }

    /// Lets connections in until told to stop, then waits for what is being answered, and not for long.
    pub(super) async fn serve(self, router: Router, mut stop: watch::Receiver<bool>) {
        let mut lines = JoinSet::new();
        let mut full = false;
        loop {
            let arrived = tokio::select! {
                biased;
                () = told(&mut stop) => break,
                Some(_) = lines.join_next() => continue,
                arrived = self.listener.accept() => arrived,
            };
            let Ok((stream, from)) = arrived else {
                tokio::time::sleep(FULL).await;
                continue;
            };
            let Some(place) = self.places.take(from.ip()) else {
                if !full {
                    tracing::warn!("so many connections are open that more are turned away");
                }
                full = true;
                continue;
            };
            full = false;
            let line = Line { from, _place: place };
            lines.spawn(line.run(stream, self.sealed.clone(), router.clone(), stop.clone()));
        }
        drop(self.listener);
        let all = async { while lines.join_next().await.is_some() {} };
        if timeout(LAST_ANSWERS, all).await.is_err() {
            tracing::info!(lines = lines.len(), "connections that were not done are cut");
            lines.shutdown().await;
        }
    }
}

/// Waits until it is time to stop.
async fn told(stop: &mut watch::Receiver<bool>) {
    // an error says that nobody is left to tell it
    let _ = stop.wait_for(|stop| *stop).await;
}

/// A connection and its place.
struct Line {
    from: SocketAddr,
    _place: Place,
}

impl Line {
    async fn run(
        self,
        stream: TcpStream,
        sealed: Option<TlsAcceptor>,
        router: Router,
        mut stop: watch::Receiver<bool>,
    ) {
        let begun = tokio::select! {
            begun = timeout(TO_BEGIN, received(stream, sealed)) => begun,
            () = told(&mut stop) => return,
        };
        let io = match begun {
            Ok(Ok(io)) => io,
            Ok(Err(error)) => return tracing::debug!(%error, "a connection did not come to be"),
            Err(_) => return tracing::debug!("a connection said nothing"),
        };
        let carried = if matches!(io, Either::Right(_)) { Carried::Https } else { Carried::Http };
        let from = self.from;
        let service = service_fn(move |mut request: Request<Incoming>| {
            request.extensions_mut().insert(ConnectInfo(carried));
            request.extensions_mut().insert(ConnectInfo(from));
            router.clone().call(request)
        });
        let mut http = http1::Builder::new();
        http.timer(TokioTimer::new()).header_read_timeout(TO_ASK);
        let mut line = std::pin::pin!(http.serve_connection(TokioIo::new(Patient::with(io)), service));
        let ended = tokio::select! {
            ended = line.as_mut() => ended,
            () = told(&mut stop) => {
                line.as_mut().graceful_shutdown();
                line.await
            }
        };
        if let Err(error) = ended {
            tracing::debug!(%error, "a connection broke");
        }
    }
}

/// A connection: plain, or sealed by TLS.
type Connection = Either<TcpStream, Box<tokio_rustls::server::TlsStream<TcpStream>>>;

async fn received(stream: TcpStream, sealed: Option<TlsAcceptor>) -> io::Result<Connection> {
    let Some(sealed) = sealed else { return Ok(Either::Left(stream)) };
    let mut first = [0];
    if stream.peek(&mut first).await? == 1 && first == [HANDSHAKE] {
        return Ok(Either::Right(Box::new(sealed.accept(stream).await?)));
    }
    Ok(Either::Left(stream))
}
