//! Saving a build's cage, taking a cage file in, taking the last change back.

use serde_json::{Value, json};

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::cage::files::measured;
use crate::domain::cage::record::changed::{Changed, changed};
use crate::domain::cage::record::tape::taped::{Overtaken, Taped};
use crate::domain::cage::{CageRecord, usual_bars};
use crate::domain::recorded::car_file::pattern::stated;
use crate::domain::recorded::facts::CageText;
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;
use crate::domain::words::limits;
use crate::domain::words::wording::capital;

/// Saves a cage that nobody else has saved since `version` (0 when there was none); gives the new version.
pub async fn save(ctx: &Context, build: BuildId, version: i64, record: &CageRecord) -> Result<i64, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    let what = if version == 0 { "The cage was laid out." } else { "The cage was changed." };
    refuse(record.faults())?;
    let before = standing(ctx, build, version).await?;
    let change = Change { before: &before, record, what: what.to_owned(), differs: Vec::new() };
    keep_numbered(ctx, build, version, &change).await
}

/// States of this car what is named of its pattern, over the record that stands at `version`: from then on it is this car's own.
pub async fn state(ctx: &Context, build: BuildId, version: i64, keys: &[String]) -> Result<i64, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    let pattern = ctx.store.pattern(build).await?.ok_or(ActionError::NotFound("pattern"))?;
    let before = standing(ctx, build, version).await?;
    let record = stated(&pattern.figures, &before, keys);
    let differs = changed(&before, &record);
    if differs.is_empty() {
        let why = "Tick what you measured or decided on this car: nothing is ticked that does not stand in its record already.";
        refuse(vec![Fault::new("stated", why)])?;
    }
    refuse(record.faults())?;
    let count = if differs.len() == 1 { "One thing was".to_owned() } else { format!("{} things were", differs.len()) };
    let what = format!("{count} stated of this car, as on {}, the car it was begun from.", pattern.car);
    keep_numbered(ctx, build, version, &Change { before: &before, record: &record, what, differs }).await
}

/// A record in the place of the one before it, and what the log says of that.
struct Change<'a> {
    before: &'a CageRecord,
    record: &'a CageRecord,
    what: String,
    differs: Vec<Changed>,
}

/// Saves a record with its numbers: those given out stay, but for the joints of a cage that may still be numbered anew. What
/// is recorded of the build between reading and writing may name one: then it is looked at again.
async fn keep_numbered(ctx: &Context, build: BuildId, version: i64, change: &Change<'_>) -> Result<i64, ActionError> {
    for _ in 0..TRIES {
        let measured = change.before.missing().is_empty();
        let facts = if measured { None } else { Some(ctx.store.facts(build).await?) };
        let open = facts.filter(|facts| facts.may_number_anew(change.before));
        let record = if open.is_some() { change.record.numbered_anew() } else { change.record.numbered() };
        let (as_of, differs) = (open.map(|facts| facts.as_of), change.differs.clone());
        let save = Save { differs, as_of, ..Save::of(version, &record, change.what.clone())? };
        if let Some(saved) = keep(ctx, build, save).await? {
            return Ok(saved);
        }
    }
    Err(ActionError::NotWorked("The build is changed all the time: the cage was not saved. Save it again.".to_owned()))
}

/// So many times it is read again when somebody else wrote between reading and writing.
const TRIES: usize = 8;

/// What became of a measurement.
#[derive(Debug, Clone, PartialEq)]
pub enum Kept {
    /// It stands in the record now.
    Set,
    /// Somebody else wrote another figure there meanwhile: theirs, as typed; empty where they took it away.
    Overtaken(String),
}

/// Sets one measurement into the record, whatever else others saved meanwhile. A cage that nobody saved yet begins with the
/// bars it is drawn with.
pub async fn tape(ctx: &Context, build: BuildId, taped: &Taped) -> Result<Kept, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    let mut last = ActionError::Stale { now: 0 };
    for _ in 0..TRIES {
        let (record, version) = match ctx.store.cage(build).await? {
            Some(cage) => (read(&cage)?, cage.version),
            None => (CageRecord { options: usual_bars(), ..CageRecord::default() }, 0),
        };
        let with = match taped.set_in(&record) {
            Err(Overtaken(theirs)) => return Ok(Kept::Overtaken(theirs)),
            Ok(None) => return Ok(Kept::Set),
            Ok(Some(with)) => with,
        };
        refuse(with.faults())?;
        let what = format!("{} was measured: {}.", capital(&taped.measure.word_in(record.structure)), taped.value.text);
        let change = Change { before: &record, record: &with, what, differs: Vec::new() };
        match keep_numbered(ctx, build, version, &change).await {
            Ok(_) => return Ok(Kept::Set),
            Err(stale @ ActionError::Stale { .. }) => last = stale,
            Err(other) => return Err(other),
        }
    }
    Err(last)
}

/// Puts the cage of a cage file in the place of the one that stands at `version`. The build's numbers stay, and what stood
/// stays among the saves.
pub async fn take_in(ctx: &Context, build: BuildId, version: i64, file: &str) -> Result<i64, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    let brought = measured(file).map_err(ActionError::Refused)?;
    let before = standing(ctx, build, version).await?;
    let record = brought.record.with_numbers_of(&before).numbered();
    let differs = changed(&before, &record);
    let what = match differs.len() {
        0 => "A cage file was taken in; it is the cage that stood.".to_owned(),
        one => format!("A cage file was taken in: {}.", describe(one)),
    };
    kept(ctx, build, Save { differs, ..Save::of(version, &record, what)? }).await
}

/// Puts the cage back as it stood before `version`, which must be the newest; as a new save, so that both stay.
pub async fn take_back(ctx: &Context, build: BuildId, version: i64) -> Result<i64, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    let now = standing(ctx, build, version).await?;
    let saves = ctx.store.cage_saves(build, 2).await?;
    let [last, before] = saves.as_slice() else { return Err(ActionError::NotFound("earlier save")) };
    if last.cage.version != version {
        return Err(ActionError::Stale { now: last.cage.version });
    }
    let record = read(&before.cage)?.with_numbers_of(&now);
    let differs = changed(&now, &record);
    let what = format!("The last change of the cage, by {}, was taken back: {}.", last.by, describe(differs.len()));
    kept(ctx, build, Save { differs, ..Save::of(version, &record, what)? }).await
}

fn describe(count: usize) -> String {
    match count {
        1 => "one thing is another".to_owned(),
        more => format!("{more} things are others"),
    }
}

/// The record that stands at `version`, which must be the newest.
async fn standing(ctx: &Context, build: BuildId, version: i64) -> Result<CageRecord, ActionError> {
    match ctx.store.cage(build).await? {
        None if version == 0 => Ok(CageRecord::default()),
        Some(cage) if cage.version == version => read(&cage),
        other => Err(ActionError::Stale { now: other.map_or(0, |cage| cage.version) }),
    }
}

fn read(cage: &CageText) -> Result<CageRecord, ActionError> {
    cage.record().map_err(|error| ActionError::NotWorked(format!("The cage's record does not read: {error}")))
}

fn text(record: &CageRecord) -> Result<String, ActionError> {
    refuse(record.faults())?;
    serde_json::to_string(record).map_err(|error| ActionError::NotWorked(error.to_string()))
}

/// What is saved over which version, and what the log says of it.
struct Save {
    version: i64,
    json: String,
    what: String,
    differs: Vec<Changed>,
    /// The build's last log entry by which it was worked out; none where the version alone decides.
    as_of: Option<i64>,
}

impl Save {
    fn of(version: i64, record: &CageRecord, what: String) -> Result<Self, ActionError> {
        Ok(Self { version, json: text(record)?, what, differs: Vec::new(), as_of: None })
    }
}

/// Saves what the version alone decides.
async fn kept(ctx: &Context, build: BuildId, save: Save) -> Result<i64, ActionError> {
    let now = save.version;
    keep(ctx, build, save).await?.ok_or(ActionError::Stale { now })
}

/// Saves it; none where something was recorded of the build since it was worked out.
async fn keep(ctx: &Context, build: BuildId, save: Save) -> Result<Option<i64>, ActionError> {
    let Save { version, json, what, differs, as_of } = save;
    if json.len() > limits::FORM_BYTES {
        refuse(vec![Fault::new("cage", "A cage's record has at most 512 KiB.")])?;
    }
    let mut detail = json!({ "version": version + 1, "sha256": Fingerprint::of(json.as_bytes()) });
    if let (false, Some(detail)) = (differs.is_empty(), detail.as_object_mut()) {
        let line = |one: &Changed| json!({ "what": one.what, "was": one.was, "is": one.is });
        detail.insert("changed".to_owned(), Value::Array(differs.iter().map(line).collect()));
    }
    let entry = ctx.entry("cage", build, what, detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                if let Some(as_of) = as_of
                    && write.as_of(build).await? != as_of
                {
                    return Ok((None, None));
                }
                let saved = write.save_cage(build, version, &json, &entry).await?;
                Ok((Some(saved), Some(entry)))
            })
        })
        .await
}
