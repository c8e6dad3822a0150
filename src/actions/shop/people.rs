//! Signing in and out, the first sign-in of a shop, and adding people.

use jiff::{SignedDuration, Timestamp};
use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::actions::secrets;
use crate::clock::Clock;
use crate::domain::shop::people::{Deed, Person, Role, password_faults, sign_in_faults};
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::PersonId;
use crate::store::shop::people::Failures;
use crate::store::{Entry, Store, StoreError};

pub(in crate::actions) const ROOM: &str = "people";
/// How long a set-up link is good.
const LINK: SignedDuration = SignedDuration::from_hours(24);
/// Failed sign-ins before a name has to wait, and the longest wait.
pub(in crate::actions) const FREE_TRIES: i64 = 5;
const LONGEST_WAIT: SignedDuration = SignedDuration::from_mins(15);
/// Failed sign-ins are forgotten after this.
pub(in crate::actions) const FORGET: SignedDuration = SignedDuration::from_hours(24);

/// Somebody signed in, and the token that says so.
#[derive(Debug, Clone)]
pub struct SignedIn {
    /// Who.
    pub person: Person,
    /// The token for the cookie; the store has only its hash.
    pub token: String,
}

/// Makes the one-time link's token that lets the first office person in. None when the shop has people already.
pub async fn make_setup_link(store: &Store, clock: &Clock) -> Result<Option<String>, ActionError> {
    let token = secrets::token();
    let (hash, at) = (secrets::hashed(&token), clock.now());
    let entry = shop(at, "the program", "A one-time set-up link was made.".to_owned());
    store
        .change(move |write| {
            Box::pin(async move {
                if write.people_count().await? > 0 {
                    return Ok((None, None));
                }
                write.add_setup_link(&hash, at).await?;
                Ok((Some(token), Some(entry)))
            })
        })
        .await
}

/// Begins the shop: the first office person, let in by the one-time link, and signed in.
pub async fn begin_shop(
    store: &Store,
    clock: &Clock,
    link: &str,
    name: &str,
    password: &str,
) -> Result<SignedIn, ActionError> {
    let name = name.trim().to_owned();
    refuse(sign_in_faults(&name, password))?;
    let hash = secrets::hash_password(password.to_owned()).await?;
    let person = Person { id: clock.new_id().into(), name, role: Role::Office };
    let token = secrets::token();
    let (link, session, at) = (secrets::hashed(link), secrets::hashed(&token), clock.now());
    let since = at.saturating_sub(LINK).unwrap_or(Timestamp::MIN);
    let entry = shop(at, &person.name, format!("{} began the shop.", person.name));
    store
        .change(move |write| {
            Box::pin(async move {
                let good = write.use_setup_link(&link, since, at).await?;
                if !good || write.people_count().await? > 0 {
                    return Err(ActionError::LinkSpent);
                }
                write.add_person(&person, &hash, at).await?;
                write.add_session(&session, person.id, "", at).await?;
                Ok((SignedIn { person, token }, Some(entry)))
            })
        })
        .await
}

/// Adds a person with a sign-in.
pub async fn add(ctx: &Context, name: &str, role: Role, password: &str) -> Result<Person, ActionError> {
    ctx.allow(Deed::RunShop)?;
    let name = name.trim().to_owned();
    refuse(sign_in_faults(&name, password))?;
    let hash = secrets::hash_password(password.to_owned()).await?;
    let person = Person { id: ctx.clock.new_id().into(), name, role };
    let at = ctx.clock.now();
    let what = format!("{} was added, {}.", person.name, role.word());
    let entry = ctx.shop_entry(ROOM, what, json!({ "name": person.name, "role": role.word() }));
    let taken = format!("Somebody here is already called {}. Add a second name or a letter.", person.name);
    let added = ctx
        .store
        .change(move |write| {
            Box::pin(async move {
                write.add_person(&person, &hash, at).await?;
                Ok((person, Some(entry)))
            })
        })
        .await;
    match added {
        Err(StoreError::Taken(_)) => Err(ActionError::Refused(vec![Fault::new("name", taken)])),
        other => Ok(other?),
    }
}

/// A password for somebody who will be told it: sixteen letters in groups of four, 71 bits.
pub fn made_password() -> String {
    let letters = secrets::letters() + &secrets::letters();
    letters.as_bytes().chunks(4).map(String::from_utf8_lossy).collect::<Vec<_>>().join("-")
}

/// Gives a person another password. Every session under the old one is over with the next request.
pub async fn reset_password(ctx: &Context, id: PersonId, password: &str) -> Result<Person, ActionError> {
    ctx.allow(Deed::RunShop)?;
    refuse(password_faults(password))?;
    let hash = secrets::hash_password(password.to_owned()).await?;
    let at = ctx.clock.now();
    let mut entry = ctx.shop_entry(ROOM, String::new(), json!({ "person": id }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let person = write.person(id).await?;
                write.set_password(id, &hash).await?;
                write.end_sessions_of(id, at).await?;
                write.end_pairings_of(id, at).await?;
                write.forget_failures(&failures_name(&person.name)).await?;
                entry.what = format!("{} was given another password.", person.name);
                Ok((person, Some(entry)))
            })
        })
        .await
}

/// Removes a person's sign-in; what they recorded stays under their name. The last office person stays.
pub async fn remove(ctx: &Context, id: PersonId) -> Result<(), ActionError> {
    ctx.allow(Deed::RunShop)?;
    let at = ctx.clock.now();
    let mut entry = ctx.shop_entry(ROOM, String::new(), json!({ "person": id }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let person = write.person(id).await?;
                if person.role == Role::Office && write.people_of_role(Role::Office).await? == 1 {
                    let why =
                        "This is the last office sign-in; without one nobody could run the shop. Add another first.";
                    return Err(ActionError::Refused(vec![Fault::new("person", why)]));
                }
                write.remove_person(id, at).await?;
                write.end_sessions_of(id, at).await?;
                write.end_pairings_of(id, at).await?;
                entry.what = format!("{} was removed.", person.name);
                Ok(((), Some(entry)))
            })
        })
        .await
}

/// Signs a person in on a device. Whether the name or the password was wrong does not show, in words, work or time.
pub async fn sign_in(
    store: &Store,
    clock: &Clock,
    name: &str,
    password: &str,
    device: &str,
) -> Result<SignedIn, ActionError> {
    let name = name.trim();
    let name_hash = failures_name(name);
    if let Some(wait) = store.failures(&name_hash).await?.and_then(|failures| wait(failures, clock.now())) {
        return Err(ActionError::Wait(wait));
    }
    let found = store.person_by_name(name).await?;
    let stored = found.as_ref().map(|found| found.password.clone());
    let right = secrets::is_password(password.to_owned(), stored).await?;
    let at = clock.now();
    let Some(person) = found.filter(|_| right).map(|found| found.person) else {
        let since = at.saturating_sub(FORGET).unwrap_or(Timestamp::MIN);
        let entry = shop(at, "nobody signed in", "A sign-in was refused.".to_owned());
        return store
            .change(move |write| {
                Box::pin(async move {
                    write.count_failure(&name_hash, since, at).await?;
                    Ok(((), Some(entry)))
                })
            })
            .await
            .and_then(|()| Err(ActionError::WrongSignIn));
    };
    let token = secrets::token();
    let (session, device) = (secrets::hashed(&token), device.to_owned());
    let entry = shop(at, &person.name, format!("{} signed in.", person.name));
    store
        .change(move |write| {
            Box::pin(async move {
                write.forget_failures(&name_hash).await?;
                write.add_session(&session, person.id, &device, at).await?;
                Ok((SignedIn { person, token }, Some(entry)))
            })
        })
        .await
}

/// Ends a session; it is over with the next request.
pub async fn sign_out(ctx: &Context, token: &str) -> Result<(), ActionError> {
    let (session, at) = (secrets::hashed(token), ctx.clock.now());
    let entry = shop(at, &ctx.by.name, format!("{} signed out.", ctx.by.name));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let ended = write.end_session(&session, at).await?;
                Ok(((), ended.then_some(entry)))
            })
        })
        .await
}

/// Whose session a token is, if it still is one.
pub async fn who(store: &Store, clock: &Clock, token: &str) -> Result<Option<Person>, ActionError> {
    let hash = secrets::hashed(token);
    let Some(session) = store.session(&hash).await? else {
        return Ok(None);
    };
    let (idle, whole) = lasts(session.person.role);
    let now = clock.now();
    let unused = now.duration_since(session.seen);
    if unused > idle || now.duration_since(session.begun) > whole {
        return Ok(None);
    }
    // Noted in steps, so that reading a page seldom writes.
    if unused > idle / 48 {
        store
            .change::<_, ActionError, _>(move |write| {
                Box::pin(async move {
                    write.session_seen(&hash, now).await?;
                    Ok(((), None))
                })
            })
            .await?;
    }
    Ok(Some(session.person))
}

/// What failed sign-ins under a name are counted by, capitals or not.
pub(in crate::actions) fn failures_name(name: &str) -> String {
    secrets::hashed(&name.to_lowercase())
}

/// How long a session lasts unused, and in all: long on the shop floor, where gloves type no passwords; short at the desk.
pub(in crate::actions) const fn lasts(role: Role) -> (SignedDuration, SignedDuration) {
    match role {
        Role::Fabricator => (SignedDuration::from_hours(30 * 24), SignedDuration::from_hours(180 * 24)),
        Role::Office | Role::Scrutineer => (SignedDuration::from_hours(12), SignedDuration::from_hours(7 * 24)),
    }
}

/// How long a name still has to wait: 1 s after the fifth failure, doubling, at most 15 min, never for good.
pub(in crate::actions) fn wait(failures: Failures, now: Timestamp) -> Option<SignedDuration> {
    let beyond = u32::try_from(failures.count - FREE_TRIES).ok()?;
    let whole = SignedDuration::from_secs(1_i64 << beyond.min(10)).min(LONGEST_WAIT);
    let left = whole - now.duration_since(failures.latest);
    left.is_positive().then_some(left)
}

pub(in crate::actions) fn shop(at: Timestamp, by: &str, what: String) -> Entry {
    Entry { build: None, by: by.to_owned(), at, room: ROOM, what, detail: json!({}) }
}
