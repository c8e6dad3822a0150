//! A part's body, written as it comes: what arrived before it broke off is kept, from its start and without gaps.

use std::future::poll_fn;
use std::pin::Pin;
use std::time::Duration;

use axum::body::{Body, HttpBody as _};
use axum::http::StatusCode;

use super::headers::{MOST_AT_ONCE, Part, too_much};
use super::refusal::Refusal;
use super::turns::Turn;
use crate::actions::{self, Context};
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;
use crate::store::vault::Appended;

/// How many bytes are gathered before they are written and synced.
const GATHERED: usize = 512 << 10;

/// How a body ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum End {
    /// As it should.
    Whole,
    /// A newer request wants to write.
    Replaced,
    /// No byte came for too long.
    Silent,
    /// The connection broke.
    Broken,
    /// There was more than one request may carry.
    TooMuch,
}

/// An upload that is being written to.
#[derive(Debug)]
pub(super) struct Receiving<'a> {
    /// By whom.
    pub(super) ctx: &'a Context,
    /// Into which build.
    pub(super) build: BuildId,
    /// Which content.
    pub(super) sha256: &'a Fingerprint,
    /// How long the body may stay silent.
    pub(super) patience: Duration,
}

impl Receiving<'_> {
    /// Writes a part's body and says how many bytes are on the disk then.
    pub(super) async fn take(&self, part: &Part, mut body: Body, turn: &mut Turn) -> Result<u64, Refusal> {
        let (mut offset, mut taken, mut gathered) = (part.offset, 0_u64, Vec::new());
        let end = loop {
            let frame = poll_fn(|cx| Pin::new(&mut body).poll_frame(cx));
            let frame = tokio::select! {
                biased;
                () = turn.replaced() => break End::Replaced,
                frame = tokio::time::timeout(self.patience, frame) => frame,
            };
            let bytes = match frame {
                Err(_) => break End::Silent,
                Ok(None) => break End::Whole,
                Ok(Some(Err(_))) => break End::Broken,
                Ok(Some(Ok(frame))) => frame.into_data().unwrap_or_default(),
            };
            taken += bytes.len() as u64;
            if taken > MOST_AT_ONCE {
                break End::TooMuch;
            }
            gathered.extend_from_slice(&bytes);
            // bytes with a digest wait until it was looked at
            if part.digest.is_none() && gathered.len() >= GATHERED {
                offset = self.put(offset, std::mem::take(&mut gathered)).await?;
            }
        };
        if end == End::Whole && part.digest.is_some() {
            let digest = Fingerprint::of(&gathered);
            if !part.is_digest_of(digest.text()) {
                let why = "These bytes were altered on the way; send them again.";
                return Err(Refusal::new(StatusCode::BAD_REQUEST, why).at(offset));
            }
        }
        offset = self.put(offset, gathered).await?;
        match end {
            End::Whole => Ok(offset),
            End::Replaced => Err(Refusal::new(StatusCode::CONFLICT, "A newer request goes on with this.").at(offset)),
            End::Silent => Err(Refusal::new(StatusCode::REQUEST_TIMEOUT, "Nothing came any more.").at(offset)),
            End::Broken => Err(Refusal::new(StatusCode::BAD_REQUEST, "The connection broke.").at(offset)),
            End::TooMuch => Err(too_much().at(offset)),
        }
    }

    /// Puts bytes on the disk and says how many are there then.
    async fn put(&self, offset: u64, bytes: Vec<u8>) -> Result<u64, Refusal> {
        match actions::recorded::photos::append(self.ctx, self.build, self.sha256, offset, bytes).await? {
            Appended::Now(now) => Ok(now),
            Appended::GoOnFrom(now) => Err(Refusal::go_on_from(now, offset)),
            Appended::TooLong => {
                let why = "More came than was told of, so all of it was thrown away. Begin again.";
                Err(Refusal::other_length(why).at(0))
            }
        }
    }
}
