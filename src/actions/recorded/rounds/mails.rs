//! The mail that a typed-in reply was typed from: attached with it or later, and given out again byte for byte.

use serde_json::json;

use super::ROOM;
use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::recorded::rounds::mails::{Mail, NewMail};
use crate::domain::recorded::rounds::{Came, Reply};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;
use crate::domain::words::limits;
use crate::store::vault::Item;

/// Why nothing is attached to a reply that nobody typed in.
const GIVEN_HERE: &str = "This reply was given here by whoever signed it: there is no mail that it was typed from.";

fn refused(why: impl Into<String>) -> ActionError {
    ActionError::Refused(vec![Fault::new("mail", why)])
}

/// Keeps the bytes of a mail that comes with a reply, before any row names them.
pub(super) async fn with(ctx: &Context, came: Option<Came>, new: Option<NewMail>) -> Result<Option<Mail>, ActionError> {
    let Some(new) = new else { return Ok(None) };
    if !came.is_none_or(Came::is_typed_in) {
        return Err(refused(GIVEN_HERE));
    }
    Ok(Some(kept(ctx, new).await?))
}

async fn kept(ctx: &Context, new: NewMail) -> Result<Mail, ActionError> {
    refuse(new.faults())?;
    let (sha256, size) = (Fingerprint::of(&new.bytes), new.bytes.len() as u64);
    ctx.store.vault().put(Item::Mail(sha256.clone()), new.bytes).await?;
    Ok(Mail { name: new.name, size, sha256, attached: ctx.clock.now(), by: ctx.by.name.clone() })
}

/// Why a reply takes no more mails, if it does not.
fn takes(reply: &Reply) -> Result<(), ActionError> {
    if !reply.typed_in() {
        return Err(refused(GIVEN_HERE));
    }
    if reply.mails.len() >= limits::MAILS {
        return Err(refused(format!("A reply has at most {} mails.", limits::MAILS)));
    }
    Ok(())
}

/// A reply to a round of this number.
fn found(replies: Vec<Reply>, id: &str) -> Result<Reply, ActionError> {
    replies.into_iter().find(|reply| reply.id == id).ok_or(ActionError::NotFound("reply"))
}

/// Attaches a mail to a reply that was typed in. The same bytes are attached to it once.
///
/// # Errors
/// `NotAllowed`; `NotFound` where the build has no such reply; `Refused` at `mail`.
pub async fn attach(ctx: &Context, build: BuildId, reply: &str, new: NewMail) -> Result<Mail, ActionError> {
    ctx.allow(Deed::Reply)?;
    takes(&found(ctx.store.replies(build).await?, reply)?)?;
    let mail = kept(ctx, new).await?;
    let detail = json!({ "reply": reply, "name": mail.name, "size": mail.size, "sha256": mail.sha256 });
    let mut entry = ctx.entry(ROOM, build, String::new(), detail);
    let reply = reply.to_owned();
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let reply = found(write.replies(build).await?, &reply)?;
                if let Some(there) = reply.mails.iter().find(|there| there.sha256 == mail.sha256) {
                    return Ok((there.clone(), None));
                }
                takes(&reply)?;
                let rounds = write.rounds(build).await?;
                let round = rounds.iter().find(|round| round.id == reply.round).map_or(0, |round| round.number);
                write.add_mail(&reply.id, &mail).await?;
                entry.what = format!(
                    "A mail was attached to the reply of {} to round {round}: “{}”, SHA-256 {}.",
                    reply.given_by, mail.name, mail.sha256
                );
                Ok((mail, Some(entry)))
            })
        })
        .await
}

/// A mail of a reply with its bytes, which are those that were attached.
///
/// # Errors
/// `NotAllowed`; `NotFound`; `Held` where the file is gone or is not the one that was attached.
pub async fn mail(
    ctx: &Context,
    build: BuildId,
    reply: &str,
    sha256: &Fingerprint,
) -> Result<(Mail, Vec<u8>), ActionError> {
    ctx.allow(Deed::SeeRounds)?;
    let reply = found(ctx.store.replies(build).await?, reply)?;
    let mail = reply.mails.into_iter().find(|mail| mail.sha256 == *sha256).ok_or(ActionError::NotFound("mail"))?;
    let held = ctx.store.vault().get(&Item::Mail(sha256.clone())).await?;
    let lost = || {
        ActionError::Held(format!(
            "“{}” is not what was attached any more. Bring its file back from a backup.",
            mail.name
        ))
    };
    let bytes = held.ok_or_else(lost)?.bytes().await?;
    if Fingerprint::of(&bytes) == *sha256 { Ok((mail, bytes)) } else { Err(lost()) }
}
