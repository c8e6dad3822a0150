//! The signature of a round's packet and the list of allowed signers to check it by, handed out beside the packet.

use axum::http::header;
use axum::response::{IntoResponse, Response};

use super::door::DoorOf;
use crate::actions::recorded::packet;
use crate::actions::shop::signing::fingerprint;
use crate::domain::shop::signing::{RoundSignature, SIGNERS_FILE, allowed_signers, command, packet_name};
use crate::web::problem::Problem;

/// How a round's packet can be checked.
pub(super) struct Signed {
    /// Where the signature is.
    pub(super) signature: String,
    /// Where the list of allowed signers is.
    pub(super) signers: String,
    /// The command that checks it.
    pub(super) command: String,
    /// The key's SHA-256, as OpenSSH prints it.
    pub(super) key: String,
}

impl Signed {
    /// Of a round whose addresses begin so.
    pub(super) fn of(signature: &RoundSignature, base: &str, slug: &str, round: u32) -> Self {
        Self {
            signature: format!("{base}/packet.pdf.sig"),
            signers: format!("{base}/{SIGNERS_FILE}"),
            command: command(&packet_name(slug, round)),
            key: fingerprint(&signature.public),
        }
    }
}

async fn signed(door: &DoorOf) -> Result<RoundSignature, Problem> {
    let signature = packet::signature(&door.who.ctx, door.build.id, door.round).await?;
    signature.ok_or(Problem::NotFound)
}

/// A text to keep, under a name of letters, figures and dashes.
pub(super) fn kept_as(name: &str, text: String) -> Response {
    let headers = [
        (header::CONTENT_TYPE, "text/plain; charset=utf-8".to_owned()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\"")),
        (header::CACHE_CONTROL, "private, no-store".to_owned()),
    ];
    (headers, text).into_response()
}

/// The signature.
pub(super) async fn signature(door: DoorOf) -> Result<Response, Problem> {
    let signed = signed(&door).await?;
    Ok(kept_as(&format!("{}.sig", packet_name(&door.build.slug, door.round)), signed.signature))
}

/// The list of allowed signers.
pub(super) async fn signers(door: DoorOf) -> Result<Response, Problem> {
    Ok(kept_as(SIGNERS_FILE, allowed_signers(&signed(&door).await?.public)))
}
