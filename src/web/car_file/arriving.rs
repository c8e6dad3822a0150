//! A body that is read while it arrives, by a reader that waits: never the whole of it in memory.

use std::io::{self, Read};
use std::time::Duration;

use axum::body::Bytes;
use axum::extract::multipart::Field;
use tokio::sync::mpsc::{Receiver, Sender, channel};

/// How many pieces of the body wait to be read.
const WAITING: usize = 16;
/// How long the body may stay silent.
const PATIENCE: Duration = Duration::from_mins(1);

/// A piece of the body, its end, or why it broke off.
type Piece = io::Result<Option<Bytes>>;

/// The way of a body: where its pieces go in, and the reader they come out of.
pub(super) fn way() -> (Sender<Piece>, Arriving) {
    let (to, from) = channel(WAITING);
    (to, Arriving { from, piece: Bytes::new(), ended: false })
}

/// Passes the body on as it comes. When its reader has said no, the rest is read and forgotten: else the browser would not see
/// the answer.
pub(super) async fn pass_on(mut field: Field<'_>, to: Sender<Piece>) {
    loop {
        let piece = match tokio::time::timeout(PATIENCE, field.chunk()).await {
            Ok(Ok(piece)) => Ok(piece),
            Ok(Err(error)) => Err(io::Error::other(error.to_string())),
            Err(_) => Err(io::Error::new(io::ErrorKind::TimedOut, "nothing came any more")),
        };
        let over = !matches!(piece, Ok(Some(_)));
        // nobody reads any more where the file was refused
        let _ = to.send(piece).await;
        if over {
            return;
        }
    }
}

/// The body, for a reader that waits.
pub(super) struct Arriving {
    from: Receiver<Piece>,
    piece: Bytes,
    ended: bool,
}

impl Read for Arriving {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        while self.piece.is_empty() && !self.ended {
            match self.from.blocking_recv() {
                Some(Ok(Some(piece))) => self.piece = piece,
                Some(Ok(None)) => self.ended = true,
                Some(Err(error)) => return Err(error),
                None => return Err(io::Error::new(io::ErrorKind::BrokenPipe, "the body broke off")),
            }
        }
        let piece = self.piece.split_to(into.len().min(self.piece.len()));
        if let Some(place) = into.get_mut(..piece.len()) {
            place.copy_from_slice(&piece);
        }
        Ok(piece.len())
    }
}
