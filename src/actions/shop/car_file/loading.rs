//! Loading a car's file: read to its last byte, tried out aside, and only then put into the shop, all of it or nothing.

use std::collections::HashSet;
use std::io::Read;

use jiff::civil::Date;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};

use super::rounds_fit::rounds_fit;
use super::{Tell, apart, fault_of, read, refused};
use crate::actions::context::Context;
use crate::actions::error::ActionError;
use crate::actions::shop::signing::fingerprint;
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::car_file::{CarFault, Log, Manifest, Part, Records, VERSION};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::shop::people::Deed;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;
use crate::store::StoreError;
use crate::store::car_file::{BuildRecords, CameWith, Evidence, WholeFile, follows, named, text_of, tried};
use crate::store::vault::Item;

const ROOM: &str = "builds";

/// A car that was loaded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Loaded {
    /// The list of its file.
    pub manifest: Manifest,
    /// The public key that signed it.
    pub public: String,
    /// Its address in this shop.
    pub slug: String,
}

/// Loads a car from its file. Nothing of the shop is changed before the whole file was read and its records were tried out.
///
/// # Errors
/// `NotAllowed`; `Refused` at [`super::FILE`] with what is wrong with the file, or that the car is here already; `Store` where the
/// disk has no room.
pub async fn load(
    ctx: &Context,
    from: impl Read + Send + 'static,
    tell: impl Fn(u64) + Send + Sync + 'static,
) -> Result<Loaded, ActionError> {
    ctx.allow(Deed::RunShop)?;
    let (Tried { whole, facts, records }, public) = whole_of(ctx, from, tell).await?;
    let WholeFile { manifest, list, signature, spool, .. } = whole;
    let items = items(&records)?;
    let came = CameWith {
        slug: facts.build.slug.clone(),
        manifest: list,
        signature,
        public: public.clone(),
        loaded: ctx.clock.now(),
        by: ctx.by.name.clone(),
    };
    if let Some(here) = ctx.store.build(manifest.build).await? {
        return Err(already(&here.name));
    }
    // what the shop would refuse is refused before a photograph is in its place
    match put(ctx, manifest.clone(), records.clone(), came.clone(), false).await {
        Err(ActionError::Store(StoreError::Rehearsed)) => {}
        other => return other.and(Err(ActionError::NotWorked("a rehearsal was kept".to_owned()))),
    }
    ctx.store.place_all(spool, items).await?;
    let slug = put(ctx, manifest.clone(), records, came, true).await?;
    Ok(Loaded { manifest, public, slug })
}

/// A file that was read to its last byte and tried out, and the public key that signed it. Nothing of the shop is changed.
pub(super) async fn whole_of(
    ctx: &Context,
    mut from: impl Read + Send + 'static,
    tell: impl Fn(u64) + Send + Sync + 'static,
) -> Result<(Tried, String), ActionError> {
    let spool = ctx.store.spool(ctx.clock.new_id());
    let tell: Box<dyn Fn(u64) + Send + Sync> = Box::new(tell);
    let (whole, public) = apart(move || read(&mut from, spool, &*tell as Tell<'_>)).await?.map_err(refused)?;
    let tried = looked_at(whole, ctx.clock.today()).await.map_err(|fault| fault_of(&fault))?;
    Ok((tried, public))
}

fn already(name: &str) -> ActionError {
    fault_of(&CarFault::HereAlready(format!("This car is in the shop already, as {name}.")))
}

/// A file that was tried out.
pub(super) struct Tried {
    /// As it was read.
    pub(super) whole: WholeFile,
    /// What it records.
    pub(super) facts: BuildFacts,
    /// In this program's form.
    records: BuildRecords,
}

/// What the file records, tried out; or why it is not taken.
async fn looked_at(whole: WholeFile, today: Date) -> Result<Tried, CarFault> {
    let build = whole.manifest.build;
    let given = given(&whole)?;
    log_fits(&whole.manifest, &given.log, build)?;
    let (facts, records) = tried(build, given).await.map_err(|error| CarFault::Records(words(&error)))?;
    evidence_fits(&whole, &records)?;
    texts_fit(&whole, &facts, &records)?;
    let tried = apart(move || {
        let (fits, found) = (rounds_fit(&whole, &facts, &records), Findings::of(&facts, today));
        (Tried { whole, facts, records }, fits, found)
    });
    let (tried, fits, found) =
        tried.await.map_err(|_| CarFault::Records("its figures cannot be worked out".to_owned()))?;
    fits?;
    if !found.worked.cage_reads {
        return Err(CarFault::Records("its cage is no cage's record".to_owned()));
    }
    Ok(tried)
}

/// The records as the file gives them.
fn given(whole: &WholeFile) -> Result<BuildRecords, CarFault> {
    let records: Records = json_of(whole, &Part::Records)?;
    let log: Log = json_of(whole, &Part::Log)?;
    if records.tackbook_records != VERSION || log.tackbook_log != VERSION || records.form != whole.manifest.form {
        return Err(CarFault::Records("its parts are of different forms".to_owned()));
    }
    let contents = whole.texts.iter().filter_map(|(part, bytes)| match part {
        Part::Contents(round) => Some((*round, bytes)),
        _ => None,
    });
    let text = |(round, bytes): (u32, &Vec<u8>)| {
        let text = String::from_utf8(bytes.clone()).map_err(|error| CarFault::Records(error.to_string()))?;
        Ok((round, text))
    };
    Ok(BuildRecords { records, log, contents: contents.map(text).collect::<Result<_, CarFault>>()? })
}

fn json_of<T: DeserializeOwned>(whole: &WholeFile, part: &Part) -> Result<T, CarFault> {
    let bytes = whole.text(part).ok_or_else(|| CarFault::List(format!("{part} is missing")))?;
    serde_json::from_slice(bytes).map_err(|error| CarFault::Records(format!("{part}: {error}")))
}

/// Every entry is the one that was written, once, and they are those that the list counts.
fn log_fits(manifest: &Manifest, log: &Log, build: BuildId) -> Result<(), CarFault> {
    let wrong = |why: String| CarFault::Records(format!("log.json: {why}"));
    if let Some(line) = log.entries.iter().find(|line| !follows(line, build)) {
        return Err(wrong(format!("entry {} is not what its hash says was written", line.number)));
    }
    let mut seen = HashSet::new();
    if let Some(line) = log.entries.iter().find(|line| !seen.insert(&line.hash)) {
        return Err(wrong(format!("entry {} is there twice", line.number)));
    }
    if log.entries.len() != manifest.log_entries || log.head() != manifest.log_head {
        return Err(wrong("it does not end with the entry that the list names".to_owned()));
    }
    Ok(())
}

/// Everything that the records name is in the file, or is said to be lost; and nothing is in it that they do not name.
fn evidence_fits(whole: &WholeFile, records: &BuildRecords) -> Result<(), CarFault> {
    let wrong = |why: String| CarFault::Records(why);
    let Evidence { photos, packets, mails } = named(records).map_err(|error| wrong(words(&error)))?;
    let mut named: Vec<(String, Fingerprint)> =
        packets.into_iter().map(|(round, name)| (Part::Packet(round).to_string(), name)).collect();
    named.extend(photos.into_iter().map(|name| (format!("photos/{name}"), name)));
    named.extend(mails.into_iter().map(|name| (format!("mails/{name}"), name)));
    let mut files: Vec<_> =
        whole.manifest.files.iter().filter(|file| file.path.parse().is_ok_and(|part: Part| part.is_kept())).collect();
    let mut lost = whole.manifest.lost.clone();
    for (path, name) in named {
        let at = files.iter().position(|file| file.path.starts_with(&path) && file.sha256 == name);
        match (at, lost.iter().position(|one| *one == name)) {
            (Some(at), None) => {
                files.swap_remove(at);
            }
            (None, Some(at)) => {
                lost.swap_remove(at);
            }
            _ => return Err(wrong(format!("{path} is recorded, and is not in the file"))),
        }
    }
    match files.first() {
        Some(file) => Err(wrong(format!("{} is in the file, and nothing recorded names it", file.path))),
        None if !lost.is_empty() => Err(wrong("it calls something lost that nothing recorded names".to_owned())),
        None => sizes_fit(whole, records),
    }
}

/// Each photograph and mail has the length that is recorded of it.
fn sizes_fit(whole: &WholeFile, records: &BuildRecords) -> Result<(), CarFault> {
    let photos = records.rows("photos").iter().filter(|row| !text_of(row, "received").is_empty());
    let mails = records.rows("reply_mails").iter();
    for (what, row) in photos.map(|row| ("photo", row)).chain(mails.map(|row| ("mail", row))) {
        let sha256 = text_of(row, "sha256");
        let file = whole.manifest.files.iter().find(|file| file.sha256.text() == sha256);
        if file.is_some_and(|file| row.get("size").and_then(Value::as_u64) != Some(file.size)) {
            return Err(CarFault::Records(format!("{what} {sha256} has another length than was recorded")));
        }
    }
    Ok(())
}

/// The texts that stand in the file by themselves are those of the records.
fn texts_fit(whole: &WholeFile, facts: &BuildFacts, records: &BuildRecords) -> Result<(), CarFault> {
    let wrong = |what: &str| CarFault::Records(format!("{what} is not the one that the records name"));
    if whole.text(&Part::Book) != facts.book.as_ref().map(|book| book.toml.as_bytes()) {
        return Err(wrong("book.toml"));
    }
    for round in &facts.rounds {
        if Fingerprint::of(round.contents.as_bytes()) != round.contents_sha256 {
            return Err(wrong(&Part::Contents(round.number).to_string()));
        }
        let id = round.id.to_string();
        let signed = records.rows("round_signatures").iter().find(|row| text_of(row, "round") == id);
        let part = Part::Signature(round.number);
        if whole.text(&part) != signed.map(|row| text_of(row, "signature").as_bytes()) {
            return Err(wrong(&part.to_string()));
        }
    }
    let rounds = whole.texts.iter().filter(|(part, _)| matches!(part, Part::Contents(_) | Part::Signature(_)));
    if rounds.count() != facts.rounds.len() + records.rows("round_signatures").len() {
        return Err(wrong("a part of a round"));
    }
    Ok(())
}

fn items(records: &BuildRecords) -> Result<Vec<Item>, ActionError> {
    let Evidence { photos, packets, mails } = named(records)?;
    let packets = packets.into_iter().map(|(_, name)| Item::Packet(name));
    Ok(photos.into_iter().map(Item::Photo).chain(packets).chain(mails.into_iter().map(Item::Mail)).collect())
}

/// Puts the records into the shop, with an entry of the shop's own log that says where they came from; where it is only
/// rehearsed, nothing of it stays, and `Rehearsed` says that it would.
async fn put(
    ctx: &Context,
    manifest: Manifest,
    records: BuildRecords,
    came: CameWith,
    kept: bool,
) -> Result<String, ActionError> {
    let (photos, rounds) = (manifest.photos(), manifest.rounds());
    let what = format!(
        "{} came with a car's file: {} log entries, {photos} photographs, {rounds} rounds, signed by the key {}.",
        manifest.name,
        manifest.log_entries,
        fingerprint(&came.public)
    );
    let list = Fingerprint::of(came.manifest.as_bytes());
    let entry = ctx.shop_entry(ROOM, what, json!({ "build": manifest.build, "list": list, "public": came.public }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                if write.has_build(manifest.build).await? {
                    return Err(already(&manifest.name));
                }
                let slug = write.load_car(manifest.build, records, &came).await.map_err(|error| match error {
                    StoreError::Taken(what) => {
                        let why = format!("A {what} in the file is in this shop already, in another car.");
                        fault_of(&CarFault::HereAlready(why))
                    }
                    StoreError::NotKept(why) => fault_of(&CarFault::Records(why)),
                    other => other.into(),
                })?;
                if kept { Ok((slug, Some(entry))) } else { Err(StoreError::Rehearsed.into()) }
            })
        })
        .await
}

/// The store's trouble with records from outside, in a few words.
fn words(error: &StoreError) -> String {
    match error {
        StoreError::Taken(what) => format!("a {what} is there twice"),
        StoreError::NotKept(why) => why.clone(),
        other => other.to_string(),
    }
}
