//! Signing in and out, the first sign-in of a shop, and adding people.

use jiff::{SignedDuration, Timestamp};
use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::actions::secrets;
use crate::clock::Clock;
use crate::domain::shop::people::{Deed, Person, Role};
use crate::domain::shop::sign_ins::{looked_up_by, password_faults, plain, read_alike, sign_in_faults};
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::PersonId;
use crate::store::shop::people::{Failures, SignIn};
use crate::store::{Entry, Store};

pub(in crate::actions) const ROOM: &str = "people";
/// How long a set-up link is good.
const LINK: SignedDuration = SignedDuration::from_hours(24);
/// Guesses at a name before it has to wait, the first wait and the longest.
const FREE_TRIES: i64 = 5;
const FIRST_WAIT: SignedDuration = SignedDuration::from_secs(15);
const LONGEST_WAIT: SignedDuration = SignedDuration::from_mins(15);
/// Failed sign-ins are forgotten after this.
const FORGET: SignedDuration = SignedDuration::from_hours(24);

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
    let name = plain(name);
    let (link, at) = (secrets::hashed(link), clock.now());
    let since = at.saturating_sub(LINK).unwrap_or(Timestamp::MIN);
    // only who has the link makes work; it is used up below, with what it is used for
    if !store.setup_link_is_good(&link, since).await? || store.people_count().await? > 0 {
        return Err(ActionError::LinkSpent);
    }
    refuse(sign_in_faults(&name, password))?;
    let hash = secrets::hash_password(password.to_owned()).await?;
    let person = Person { id: clock.new_id().into(), name, role: Role::Office };
    let token = secrets::token();
    let session = secrets::hashed(&token);
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
    let name = plain(name);
    refuse(sign_in_faults(&name, password))?;
    let hash = secrets::hash_password(password.to_owned()).await?;
    let person = Person { id: ctx.clock.new_id().into(), name, role };
    let at = ctx.clock.now();
    let what = format!("{} was added, {}.", person.name, role.word());
    let entry = ctx.shop_entry(ROOM, what, json!({ "name": person.name, "role": role.word() }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let taken = write.everybodys_names().await?.into_iter().find(|one| read_alike(one, &person.name));
                if let Some(taken) = taken {
                    let why = format!(
                        "Somebody here is or was called {taken}, which reads like it. Add a second name or a letter."
                    );
                    return Err(ActionError::Refused(vec![Fault::new("name", why)]));
                }
                write.add_person(&person, &hash, at).await?;
                Ok((person, Some(entry)))
            })
        })
        .await
}

/// A password for somebody who will be told it: sixteen letters in groups of four, 71 bits.
pub fn made_password() -> String {
    let letters = secrets::letters() + &secrets::letters();
    letters.as_bytes().chunks(4).map(String::from_utf8_lossy).collect::<Vec<_>>().join("-")
}

/// Gives a person another password. Every session under the old one is over with the next request.
pub async fn reset_password(ctx: &Context, id: PersonId, password: &str) -> Result<Person, ActionError> {
    ctx.allow(Deed::RunShop)?;
    let people = ctx.store.people().await?;
    let name = people.iter().find(|person| person.id == id).map_or("", |person| &person.name);
    refuse(password_faults(name, password))?;
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

/// The person of a name as it was typed: first who is called just so, then who is called so but for capitals, letters that do
/// not show and forms of one letter. None where the latter are several.
pub async fn called(store: &Store, name: &str) -> Result<Option<SignIn>, ActionError> {
    if let Some(found) = store.person_by_name(name.trim()).await? {
        return Ok(Some(found));
    }
    let wanted = looked_up_by(name);
    let mut alike = store.people().await?.into_iter().filter(|person| looked_up_by(&person.name) == wanted);
    match (alike.next(), alike.next()) {
        (Some(one), None) => Ok(store.person_by_name(&one.name).await?),
        _ => Ok(None),
    }
}

/// Signs a person in on a device. Whether the name or the password was wrong does not show, in words, work or time. The
/// guess is counted before the password is looked at, so that many at once are no more guesses than one after another.
pub async fn sign_in(
    store: &Store,
    clock: &Clock,
    name: &str,
    password: &str,
    device: &str,
) -> Result<SignedIn, ActionError> {
    let name_hash = failures_name(name);
    count_guess(store, clock, name_hash.clone()).await?;
    let found = called(store, name).await?;
    let stored = found.as_ref().map(|found| found.password.clone());
    let right = secrets::is_password(password.to_owned(), stored).await?;
    let at = clock.now();
    let Some(person) = found.filter(|_| right).map(|found| found.person) else {
        let entry = shop(at, "nobody signed in", "A sign-in was refused.".to_owned());
        store.change::<_, ActionError, _>(move |_| Box::pin(async move { Ok(((), Some(entry))) })).await?;
        return Err(ActionError::WrongSignIn);
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

/// Counts a guess at a name, or says how long the name waits. A wait that a clock set back would draw out is counted from now.
async fn count_guess(store: &Store, clock: &Clock, name_hash: String) -> Result<(), ActionError> {
    let at = clock.now();
    let since = at.saturating_sub(FORGET).unwrap_or(Timestamp::MIN);
    let waits = store
        .change::<_, ActionError, _>(move |write| {
            Box::pin(async move {
                let mut failures = write.failures(&name_hash).await?;
                if let Some(ahead) = failures.as_mut().filter(|failures| failures.latest > at) {
                    ahead.latest = at;
                    write.count_wait_from(&name_hash, at).await?;
                }
                if let Some(left) = failures.and_then(|failures| wait(failures, at)) {
                    return Ok((Some(left), None));
                }
                write.count_failure(&name_hash, since, at).await?;
                Ok((None, None))
            })
        })
        .await?;
    waits.map_or(Ok(()), |left| Err(ActionError::Wait(left)))
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

/// What guesses at a name are counted by.
fn failures_name(name: &str) -> String {
    secrets::hashed(&looked_up_by(name))
}

/// How long a session lasts unused, and in all: long on the shop floor, where gloves type no passwords; short at the desk.
pub(in crate::actions) const fn lasts(role: Role) -> (SignedDuration, SignedDuration) {
    match role {
        Role::Fabricator => (SignedDuration::from_hours(30 * 24), SignedDuration::from_hours(180 * 24)),
        Role::Office | Role::Scrutineer => (SignedDuration::from_hours(12), SignedDuration::from_hours(7 * 24)),
    }
}

/// How long a name still has to wait: 15 s after the fifth guess, doubling, at most 15 min, never for good.
fn wait(failures: Failures, now: Timestamp) -> Option<SignedDuration> {
    let beyond = u32::try_from(failures.count - FREE_TRIES).ok()?;
    let whole = (FIRST_WAIT * (1 << beyond.min(10))).min(LONGEST_WAIT);
    let left = whole - now.duration_since(failures.latest);
    left.is_positive().then_some(left)
}

pub(in crate::actions) fn shop(at: Timestamp, by: &str, what: String) -> Entry {
    Entry { build: None, by: by.to_owned(), at, room: ROOM, what, detail: json!({}) }
}
