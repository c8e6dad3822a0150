//! Saving a car's file: everything is looked at first, so that what is then written is known to its last byte.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use super::{Tell, apart};
use crate::actions::context::Context;
use crate::actions::error::ActionError;
use crate::actions::shop::signing;
use crate::documents::car_page::{CarPage, LogLine, RoundFile, index};
use crate::domain::derived::build_file::BuildFile;
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::car_file::{Listed, LogLine as Line, Manifest, Part, PhotoKind, VERSION};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::rounds::Round;
use crate::domain::shop::people::Deed;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;
use crate::quantity::Units;
use crate::store::StoreError;
use crate::store::car_file::{BuildRecords, Evidence, Ready, Writing, follows, named, text_of};
use crate::store::vault::Item;

/// A car's file that is ready to be written.
#[derive(Debug)]
pub struct Saving {
    /// Its list.
    pub manifest: Manifest,
    /// The file.
    pub writing: Writing,
}

/// Makes a build's file ready to be written: reads every photograph and packet, works the texts out, signs the list.
/// `tell` is called with how many of the photographs and packets were read.
///
/// # Errors
/// `NotAllowed`; `Held` where the log of the build was altered; `NotFound`.
pub async fn prepare(ctx: &Context, build: BuildId, tell: Tell<'_>) -> Result<Saving, ActionError> {
    ctx.allow(Deed::RunShop)?;
    let (facts, records) = ctx.store.records_of_build(build).await?;
    if let Some(line) = records.log.entries.iter().find(|line| !follows(line, build)) {
        let why = "is not what was written. A file of altered records would vouch for them: check the shop's folder with \
                   verify, and restore a backup";
        return Err(ActionError::Held(format!("Entry {} of the log {why}.", line.number)));
    }
    let facts = as_written(facts, &records);
    let kept = kept(ctx, &records, tell).await?;
    let work = move || texts(&facts, &records, &kept).map(|texts| (texts, facts, records, kept));
    let (mut things, facts, records, kept) = apart(work).await??;
    things.extend(kept.things);
    things.sort_by(|one, other| one.0.cmp(&other.0));
    let listed = |(part, ready): &(Part, Ready)| Listed {
        path: part.to_string(),
        size: ready.size(),
        sha256: ready.sha256().clone(),
    };
    let manifest = Manifest {
        tackbook_car: VERSION,
        form: records.records.form,
        build,
        name: facts.build.name.clone(),
        log_entries: records.log.entries.len(),
        log_head: records.log.head().to_owned(),
        files: things.iter().map(listed).collect(),
        lost: kept.lost,
    };
    let list = manifest.text();
    // the same records as those that came are signed by whoever signed them then
    let signature = match ctx.store.came_with(build).await? {
        Some(came) if came.manifest == list => came.signature,
        _ => signing::sign(ctx, list.as_bytes()).await?,
    };
    let head = [
        Ready::of_bytes(Manifest::PATH, list.into_bytes())?,
        Ready::of_bytes(Manifest::SIGNATURE, signature.into_bytes())?,
    ];
    let things = head.into_iter().chain(things.into_iter().map(|(_, ready)| ready)).collect();
    Ok(Saving { manifest, writing: Writing::of(ctx.store.vault(), things) })
}

/// The facts with the numbers that entries of the log had where they were written, and the address that the car had where it
/// was begun: they are the same in every shop.
fn as_written(mut facts: BuildFacts, records: &BuildRecords) -> BuildFacts {
    let entries = &records.log.entries;
    let number = |table: &str, (name, value): (&str, String), column: &str| {
        let row = records.rows(table).iter().find(|row| text_of(row, name) == value)?;
        let hash = text_of(row, column);
        entries.iter().find(|line| line.hash == hash).map(|line| line.number)
    };
    for photo in &mut facts.photos {
        let name = photo.capture.to_string();
        if let Some(received) = &mut photo.received {
            received.entry = number("photos", ("capture", name), "entry").unwrap_or_default();
        }
    }
    for round in &mut facts.rounds {
        round.as_of = number("rounds", ("id", round.id.to_string()), "as_of").unwrap_or_default();
    }
    let slug = records.rows("builds").first().map_or("", |row| text_of(row, "slug"));
    slug.clone_into(&mut facts.build.slug);
    facts.as_of = entries.last().map_or(0, |line| line.number);
    records.log.head().clone_into(&mut facts.log_head);
    facts
}

struct Kept {
    things: Vec<(Part, Ready)>,
    lost: Vec<Fingerprint>,
}

/// The photographs, packets and mails that the records name, as far as they are whole.
async fn kept(ctx: &Context, records: &BuildRecords, tell: Tell<'_>) -> Result<Kept, ActionError> {
    let vault = ctx.store.vault();
    let Evidence { photos, packets, mails } = named(records)?;
    let (mut things, mut lost, mut done) = (Vec::new(), Vec::new(), 0);
    let mut take = |part: Result<(Part, Ready), Fingerprint>| {
        match part {
            Ok(thing) => things.push(thing),
            Err(gone) => lost.push(gone),
        }
        done += 1;
        tell(done);
    };
    for (round, sha256) in packets {
        let name = |_: &[u8]| Part::Packet(round).to_string();
        let ready = Ready::of_kept(vault, Item::Packet(sha256.clone()), name).await?;
        take(ready.map(|ready| (Part::Packet(round), ready)).ok_or(sha256));
    }
    for sha256 in photos {
        let part = |first: &[u8]| Part::Photo(sha256.clone(), PhotoKind::of(first));
        let ready = Ready::of_kept(vault, Item::Photo(sha256.clone()), |first| part(first).to_string()).await?;
        let thing = ready.and_then(|ready| Some((ready.name().parse().ok()?, ready)));
        take(thing.ok_or_else(|| sha256.clone()));
    }
    for sha256 in mails {
        let part = Part::Mail(sha256.clone());
        let ready = Ready::of_kept(vault, Item::Mail(sha256.clone()), |_: &[u8]| part.to_string()).await?;
        take(ready.map(|ready| (part, ready)).ok_or(sha256));
    }
    lost.sort();
    Ok(Kept { things, lost })
}

/// The day that a build's record ends with: that of its last entry, in UTC, so that it is the same wherever it is read.
fn last_day(records: &BuildRecords) -> Date {
    let last = records.log.entries.last().and_then(|line| line.at.parse::<Timestamp>().ok());
    last.unwrap_or(Timestamp::UNIX_EPOCH).to_zoned_datetime(TimeZone::UTC).date()
}

/// What the records say, as texts.
fn texts(facts: &BuildFacts, records: &BuildRecords, kept: &Kept) -> Result<Vec<(Part, Ready)>, ActionError> {
    let found = Findings::of(facts, last_day(records));
    let mut texts = vec![
        (Part::Index, page(facts, &found, records, kept)?.into_bytes()),
        (Part::Build, BuildFile::of(facts, found.worked.standing(facts)).text().into_bytes()),
        (Part::Records, json(&records.records)?),
        (Part::Log, json(&records.log)?),
    ];
    if let Some(book) = &facts.book {
        texts.push((Part::Book, book.toml.clone().into_bytes()));
    }
    for (round, contents) in &records.contents {
        texts.push((Part::Contents(*round), contents.clone().into_bytes()));
    }
    for row in records.rows("round_signatures") {
        let round = facts.rounds.iter().find(|round| round.id.to_string() == text_of(row, "round"));
        if let Some(round) = round {
            texts.push((Part::Signature(round.number), text_of(row, "signature").as_bytes().to_vec()));
        }
    }
    let ready = |(part, bytes): (Part, Vec<u8>)| Ok((part.clone(), Ready::of_bytes(&part.to_string(), bytes)?));
    texts.into_iter().map(ready).collect()
}

/// The whole record to be read in a browser.
fn page(facts: &BuildFacts, found: &Findings, records: &BuildRecords, kept: &Kept) -> Result<String, ActionError> {
    let log: Vec<LogLine<'_>> = records.log.entries.iter().filter_map(log_line).collect();
    let photos = kept.things.iter().filter_map(|(part, _)| match part {
        Part::Photo(name, _) => Some((name.clone(), part.to_string())),
        _ => None,
    });
    let signed = |round: &Round| {
        let id = round.id.to_string();
        records.rows("round_signatures").iter().any(|row| text_of(row, "round") == id)
    };
    let there = |round: &&Round| kept.things.iter().any(|(part, _)| *part == Part::Packet(round.number));
    let rounds = facts.rounds.iter().filter(there).map(|round| RoundFile {
        number: round.number,
        packet: Part::Packet(round.number).to_string(),
        signature: signed(round).then(|| Part::Signature(round.number).to_string()),
    });
    let mails = kept.things.iter().filter_map(|(part, _)| match part {
        Part::Mail(name) => Some(name.clone()),
        _ => None,
    });
    let page = CarPage {
        facts,
        findings: found,
        log: &log,
        photos: &photos.collect(),
        rounds: &rounds.collect::<Vec<_>>(),
        mails: &mails.collect(),
        day: last_day(records),
        // as the body's book has it, whatever this shop reads
        units: found.worked.rules.as_ref().map_or(Units::Metric, |rules| rules.book.units),
    };
    index(&page).map_err(|error| ActionError::NotWorked(error.to_string()))
}

fn log_line(line: &Line) -> Option<LogLine<'_>> {
    let Line { number, at, by, room, what, .. } = line;
    Some(LogLine { number: *number, at: at.parse().ok()?, by, room, what })
}

fn json(what: &impl serde::Serialize) -> Result<Vec<u8>, ActionError> {
    let text = serde_json::to_string_pretty(what).map_err(|error| StoreError::NotKept(error.to_string()))?;
    Ok((text + "\n").into_bytes())
}
