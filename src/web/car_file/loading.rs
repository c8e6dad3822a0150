//! A car's file as it comes in by a form: read while it arrives, never the whole of it in memory.

use std::io::{self, Read};
use std::time::Duration;

use axum::body::Bytes;
use axum::extract::multipart::{Field, MultipartRejection};
use axum::extract::{Multipart, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use tokio::sync::mpsc::{Receiver, Sender, channel};

use super::view;
use crate::actions::ActionError;
use crate::actions::shop::car_file::load as load_file;
use crate::domain::shop::people::{Deed, may};
use crate::web::app::App;
use crate::web::gate::SignedIn;
use crate::web::page::show;
use crate::web::problem::Problem;

/// How many pieces of the body wait to be read.
const WAITING: usize = 16;
/// How long the body may stay silent.
const PATIENCE: Duration = Duration::from_mins(1);

/// A piece of the body, its end, or why it broke off.
type Piece = io::Result<Option<Bytes>>;

/// The sheet that asks for a file.
pub(super) async fn asked(who: SignedIn) -> Result<Response, Problem> {
    allowed(&who)?;
    show(StatusCode::OK, &view::Load::of(&who, Vec::new()))
}

fn allowed(who: &SignedIn) -> Result<(), Problem> {
    if may(who.ctx.by.role, Deed::RunShop) { Ok(()) } else { Err(Problem::NotFound) }
}

/// Takes a file in, or says why not and changes nothing.
pub(super) async fn load(
    State(app): State<App>,
    who: SignedIn,
    form: Result<Multipart, MultipartRejection>,
) -> Result<Response, Problem> {
    allowed(&who)?;
    let none = || {
        show(StatusCode::UNPROCESSABLE_ENTITY, &view::Load::of(&who, vec!["Choose the car's file first.".to_owned()]))
    };
    let Ok(mut form) = form else { return none() };
    let Ok(_turn) = app.cars.0.try_acquire() else {
        let why = "Another car's file is being saved or loaded. Wait until that is done, and choose this one again.";
        return show(StatusCode::SERVICE_UNAVAILABLE, &view::Load::of(&who, vec![why.to_owned()]));
    };
    let field =
        form.next_field().await.ok().flatten().filter(|field| field.file_name().is_some_and(|name| !name.is_empty()));
    let Some(field) = field else { return none() };
    let (to, from) = channel(WAITING);
    let arriving = Arriving { from, piece: Bytes::new(), ended: false };
    let (loaded, ()) = tokio::join!(load_file(&who.ctx, arriving, |_| ()), pass_on(field, to));
    match loaded {
        Ok(loaded) => Ok(Redirect::to(&format!("/builds/{}/car-file", loaded.slug)).into_response()),
        Err(ActionError::Refused(faults)) => {
            let why = faults.into_iter().map(|fault| fault.why).collect();
            show(StatusCode::UNPROCESSABLE_ENTITY, &view::Load::of(&who, why))
        }
        Err(other) => Err(other.into()),
    }
}

/// Passes the body on as it comes. When its reader has said no, the rest is read and forgotten: else the browser would not see
/// the answer.
async fn pass_on(mut field: Field<'_>, to: Sender<Piece>) {
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
struct Arriving {
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
