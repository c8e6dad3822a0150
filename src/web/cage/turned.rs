//! What another cage turns: the verdicts with another word, the parts that came, went or have another number; told before a
//! save as what it would do, and after it as what it did.

use crate::actions::{ActionError, worked_apart};
use crate::domain::cage::CageRecord;
use crate::domain::derived::worked::Worked;
use crate::domain::derived::worked::turned::{Turn, Turned};
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::recorded::facts::CageSave;
use crate::domain::words::ids::Balloon;
use crate::quantity::Units;
use crate::web::gate::Seen;
use crate::web::page::{in_address, part_address};

/// So many lines of verdicts, and so many parts of a kind, stand on the sheet; of more their number is told.
const LINES: usize = 8;
/// So many parts are named on a line.
const NAMED: usize = 3;

/// What turns.
pub(super) struct Turns {
    /// Whether it was saved; else it only would be so.
    pub(super) saved: bool,
    /// Why nothing is said of verdicts; empty where something is.
    pub(super) unjudged: &'static str,
    /// How many rules turn.
    pub(super) rules: usize,
    pub(super) lines: Vec<Line>,
    pub(super) more: usize,
    pub(super) parts: Vec<Parts>,
    /// All the verdicts.
    pub(super) to: String,
}

/// A rule whose word turns.
pub(super) struct Line {
    pub(super) word: Word,
    pub(super) clause: String,
    pub(super) parts: String,
    pub(super) is: String,
    pub(super) was: String,
    pub(super) to: String,
}

/// Parts that came, went, or have another number.
pub(super) struct Parts {
    pub(super) label: &'static str,
    /// Each with its sheet, where it has one.
    pub(super) named: Vec<(String, String)>,
    pub(super) more: usize,
}

/// What would follow from a record that is typed; none where the cage that stands does not read.
pub(super) async fn tried(seen: &Seen, record: &CageRecord) -> Result<Option<Worked>, ActionError> {
    let saves = seen.who.ctx.store.cage_saves(seen.build(), 1).await?;
    match seen.facts.with_cage(record, saves.first().map(|last| last.at)) {
        Ok(facts) => Ok(Some(worked_apart(facts, seen.who.ctx.clock.today()).await?)),
        Err(_) => Ok(None),
    }
}

/// What a save turned, where it is the newest one; the cage before it is judged by all else as it stands now.
pub(super) async fn by_last_save(
    seen: &Seen,
    now: &Worked,
    saves: &[CageSave],
    version: i64,
) -> Result<Option<Turns>, ActionError> {
    if saves.first().is_none_or(|last| last.cage.version != version) {
        return Ok(None);
    }
    let facts = seen.facts.with_cage_before(saves.get(1).map(|save| &save.cage));
    let before = worked_apart(facts, seen.who.ctx.clock.today()).await?;
    // A cage that does not read is not known.
    Ok((before.cage_reads && now.cage_reads).then(|| Turns::of(seen, &before, now, true)))
}

/// A verdict before it is so: "would be short by 12 mm", "would meet".
pub(super) fn would(verdict: &Verdict, units: Units) -> String {
    let words = verdict.describe(units);
    match verdict.word {
        Word::Meets => "would meet".to_owned(),
        Word::NoPhoto => "would have no photo".to_owned(),
        Word::ScrutineerDecides => "would be for the scrutineer to decide".to_owned(),
        Word::ShortBy | Word::OverBy if verdict.margin.is_none() => "would not meet".to_owned(),
        _ => format!("would be {words}"),
    }
}

impl Turns {
    pub(super) fn of(seen: &Seen, before: &Worked, after: &Worked, saved: bool) -> Self {
        let Turned { verdicts, came, went, renumbered, whole } = Turned::of(before, after);
        let unjudged = match (&after.rules, after.unread_book.is_empty()) {
            (Some(_), _) => "",
            (None, true) => "No book chosen: nothing is judged.",
            (None, false) => "The book does not read: nothing is judged.",
        };
        let (came_label, went_label) = match (saved, whole) {
            (true, true) => ("New", "Gone"),
            (false, true) => ("Would be new", "Would go"),
            (true, false) => ("Laid out now", "Not laid out any more"),
            (false, false) => ("Would be laid out", "Would not be laid out"),
        };
        let address = |of: &Balloon| seen.address(&part_address(*of));
        // What is not stored has no sheet yet.
        let came = came.iter().map(|of| (of.to_string(), if saved { address(of) } else { String::new() }));
        let went = went.iter().map(|of| (of.to_string(), if saved { String::new() } else { address(of) }));
        let other = renumbered
            .iter()
            .map(|(was, is)| (format!("{was} to {is}"), if saved { address(is) } else { String::new() }));
        let other_label = if saved { "Another number" } else { "Would have another number" };
        let parts = [
            Parts::of(came_label, came.collect()),
            Parts::of(went_label, went.collect()),
            Parts::of(other_label, other.collect()),
        ];
        let lines = verdicts.iter().take(LINES).filter_map(|turn| Line::of(seen, turn, saved));
        Self {
            saved,
            unjudged,
            rules: verdicts.len(),
            lines: lines.collect(),
            more: verdicts.len().saturating_sub(LINES),
            parts: parts.into_iter().flatten().collect(),
            to: seen.address("/verdicts"),
        }
    }
}

impl Parts {
    fn of(label: &'static str, mut named: Vec<(String, String)>) -> Option<Self> {
        let more = named.len().saturating_sub(LINES);
        named.truncate(LINES);
        (!named.is_empty()).then_some(Self { label, named, more })
    }
}

impl Line {
    fn of(seen: &Seen, turn: &Turn, saved: bool) -> Option<Self> {
        let (units, either) = (seen.who.units, turn.either()?);
        let is = match &turn.is {
            Some(is) if saved => is.describe(units),
            Some(is) => would(is, units),
            None if saved => "asked no more".to_owned(),
            None => "would not be asked".to_owned(),
        };
        let was = turn
            .was
            .as_ref()
            .map_or_else(|| "not asked before".to_owned(), |was| format!("was {}", was.describe(units)));
        let named: Vec<String> = turn.of.iter().map(ToString::to_string).collect();
        let parts = if turn.alike > NAMED { format!("{} parts", turn.alike) } else { named.join(", ") };
        let to = seen.address(&format!("/verdicts?rule={}", in_address(&either.rule_id)));
        let word = turn.is.as_ref().map_or(Word::NotAsked, |is| is.word);
        Some(Self { word, clause: either.clause.clone(), parts, is, was, to })
    }
}
