//! Signing a phone in without a password: a code that the desk shows and the phone reads, or eight letters to type.
//! What somebody is signed in on, and ending it.

use jiff::{SignedDuration, Timestamp};
use serde_json::json;

use super::people::{ROOM, SignedIn, lasts, shop};
use crate::actions::context::Context;
use crate::actions::error::ActionError;
use crate::actions::secrets;
use crate::clock::Clock;
use crate::domain::shop::people::{Deed, Person};
use crate::domain::words::ids::PersonId;
use crate::store::Store;
use crate::store::shop::pairing::{Device, GivenCode, NewPairing};

/// How long a code is good (ASVS 5.0, 6.5.5).
pub const GOOD_FOR: SignedDuration = SignedDuration::from_mins(10);

/// A code that pairs one phone, once.
#[derive(Debug, Clone)]
pub struct Pairing {
    /// Who will be signed in.
    pub person: Person,
    /// The long code, for an address.
    pub token: String,
    /// The letters to type where no code can be read.
    pub letters: String,
    /// Until when it is good.
    pub until: Timestamp,
}

/// The code as a phone gives it.
#[derive(Debug, Clone, Copy)]
pub enum Given<'a> {
    /// The long one, out of an address.
    Token(&'a str),
    /// Letters as typed: small or capital, with spaces or without.
    Letters(&'a str),
}

/// A person as the office sees everybody, and as everybody sees themselves.
pub async fn person(ctx: &Context, id: PersonId) -> Result<Person, ActionError> {
    if ctx.by.id != id {
        ctx.allow(Deed::RunShop)?;
    }
    let people = ctx.store.people().await?;
    people.into_iter().find(|person| person.id == id).ok_or(ActionError::NotFound("person"))
}

/// Makes a code for a person's phone; the office for anybody, everybody for themselves. Their earlier codes are good no more.
pub async fn make(ctx: &Context, id: PersonId) -> Result<Pairing, ActionError> {
    let person = person(ctx, id).await?;
    let (token, letters) = (secrets::token(), secrets::letters());
    let made = ctx.clock.now();
    let new = NewPairing { person: id, token: secrets::hashed(&token), letters: secrets::hashed(&letters), made };
    let what = format!("A code to pair a phone was made for {}.", person.name);
    let entry = ctx.shop_entry(ROOM, what, json!({ "person": id }));
    let until = ctx.clock.after(GOOD_FOR);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.add_pairing(&new).await?;
                Ok((Pairing { person, token, letters, until }, Some(entry)))
            })
        })
        .await
}

/// Who would be signed in by a long code, while it is good. Looking uses nothing up.
pub async fn whose(store: &Store, clock: &Clock, token: &str) -> Result<Option<Person>, ActionError> {
    let Some(id) = store.pairing_of(&secrets::hashed(token), since(clock)).await? else { return Ok(None) };
    Ok(store.people().await?.into_iter().find(|person| person.id == id))
}

/// Signs a phone in by a code, which is used up by it. Wrong letters harm nobody else's code: they are guesses of the address
/// they came from (`Strangers`), and of 22 letters in eight places they find none within a code's ten minutes.
///
/// # Errors
/// `PairingSpent` for a code that was used, is too old or never was.
pub async fn pair(store: &Store, clock: &Clock, given: Given<'_>, device: &str) -> Result<SignedIn, ActionError> {
    let code = match given {
        Given::Token(token) => GivenCode::Token(secrets::hashed(token)),
        Given::Letters(typed) => {
            let letters: String = typed.chars().filter(|letter| letter.is_alphanumeric()).collect();
            GivenCode::Letters(secrets::hashed(&letters.to_uppercase()))
        }
    };
    let (since, at, token, device) = (since(clock), clock.now(), secrets::token(), device.to_owned());
    let session = secrets::hashed(&token);
    let paired = store
        .change::<_, ActionError, _>(move |write| {
            Box::pin(async move {
                let Some(id) = write.use_pairing(&code, (since, at)).await? else {
                    return Ok((None, Some(shop(at, "nobody signed in", "A pairing code was refused.".to_owned()))));
                };
                let person = write.person(id).await?;
                write.add_session(&session, id, &device, at).await?;
                let what = format!("{} signed in on {} by a pairing code.", person.name, said(&device));
                let entry = shop(at, &person.name, what);
                Ok((Some(SignedIn { person, token }), Some(entry)))
            })
        })
        .await?;
    paired.ok_or(ActionError::PairingSpent)
}

/// What a person is signed in on and still let in by, the latest used first; `token` is one's own.
pub async fn devices(ctx: &Context, person: &Person, token: &str) -> Result<Vec<Device>, ActionError> {
    let (idle, whole) = lasts(person.role);
    let now = ctx.clock.now();
    let mut devices = ctx.store.devices(person.id, &secrets::hashed(token)).await?;
    devices.retain(|one| now.duration_since(one.seen) <= idle && now.duration_since(one.begun) <= whole);
    Ok(devices)
}

/// Signs a person out on one device: with its next request it is nobody's. What waits there to be sent stays there.
pub async fn end(ctx: &Context, id: PersonId, number: i64) -> Result<(), ActionError> {
    let person = person(ctx, id).await?;
    let at = ctx.clock.now();
    let mut entry = ctx.shop_entry(ROOM, String::new(), json!({ "person": id }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let ended = write.end_device(id, number, at).await?.ok_or(ActionError::NotFound("device"))?;
                entry.what = format!("{} was signed out on {}.", person.name, said(&ended));
                Ok(((), Some(entry)))
            })
        })
        .await
}

/// A device in a sentence.
fn said(device: &str) -> &str {
    if device.is_empty() { "a device that did not say what it is" } else { device }
}

fn since(clock: &Clock) -> Timestamp {
    clock.now().saturating_sub(GOOD_FOR).unwrap_or(Timestamp::MIN)
}
