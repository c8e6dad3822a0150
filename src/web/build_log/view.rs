//! What the log's sheet shows.

use askama::Template;

use super::found::{Found, address_of};
use super::{Typed, why_field};
use crate::domain::recorded::notes::Note;
use crate::domain::shop::people::{Deed, may};
use crate::quantity::{Hours, Money, Show};
use crate::store::recorded::build_log::LogEntry;
use crate::store::recorded::log_search::LogSearch;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::Sheet;
use crate::web::paging::Pages;

/// What people wrote, newest first, and the program's own entries.
#[derive(Template)]
#[template(path = "build_log/log.html")]
pub(crate) struct Log {
    sheet: Sheet,
    hours: String,
    cost: String,
    waits: Vec<Waits>,
    notes: Vec<Line>,
    entries: Vec<(i64, String, String, String)>,
    pages_of_lines: Option<Pages>,
    pages_of_entries: Option<Pages>,
    fields: Vec<Field>,
    /// What is looked for, and how many entries are found.
    search: LogSearch,
    found: usize,
    people: Vec<Filter>,
    rooms: Vec<Filter>,
    /// Where all that is found is handed out.
    csv: String,
    json: String,
    may_strike: bool,
    /// A fault of a line that is on no page shown.
    faults: Vec<String>,
}

/// Whose entries, or what they are about, with how many there are.
struct Filter {
    words: String,
    count: u32,
    to: String,
    here: bool,
}

struct Line {
    day: String,
    text: String,
    hours: String,
    cost: String,
    waiting_on: String,
    /// By whom and when it was ended, and what became of it; empty while it is waited for.
    over: String,
    by: String,
    /// By whom, when and why it is struck through; empty while it stands.
    struck: String,
    strike: String,
    why: Field,
}

/// Something that is still waited for, and the form that ends it.
struct Waits {
    on: String,
    since: String,
    by: String,
    to: String,
    how: Field,
}

impl Log {
    /// From what is found of it, with what was typed.
    pub(crate) fn of(seen: &Seen, found: &Found<'_>, typed: &Typed<'_>) -> Self {
        let (units, notes) = (seen.who.units, &seen.facts.notes);
        let at = |entry: &LogEntry| {
            let day = seen.who.ctx.clock.day_of(entry.at);
            (entry.number, day.to_string(), entry.by.clone(), entry.what.clone())
        };
        // What is struck through counts for nothing.
        let stands = || notes.iter().filter(|note| note.struck.is_none());
        let hours: f64 = stands().filter_map(|note| note.hours).map(Hours::hours).sum();
        let cost: i64 = stands().filter_map(|note| note.cost).map(Money::minor).sum();
        let (form, asked) = (typed.new, address_of(&found.search));
        let lines: Vec<Line> = found.lines.part(&found.notes).iter().map(|note| Line::of(seen, note, typed)).collect();
        let shown = |line: &&Line| line.why.fault.is_some();
        let of_line = typed.of_line.map(|(_, form)| form.other_faults(&[&form.field("how", "")])).unwrap_or_default();
        let faults = if lines.iter().any(|line| shown(&line)) { Vec::new() } else { of_line };
        Self {
            sheet: seen.sheet("Log"),
            hours: Hours::from_hours(hours).show(units),
            cost: Money::from_minor(cost).show(units),
            waits: notes.iter().rev().filter_map(|note| Waits::of(seen, note, typed)).collect(),
            notes: lines,
            entries: found.entries.iter().map(at).collect(),
            pages_of_lines: found
                .lines
                .describe("Lines", |number| seen.address(&format!("/log?{asked}lines={number}#written"))),
            pages_of_entries: found
                .noted
                .describe("Entries", |number| seen.address(&format!("/log?{asked}entries={number}#noted"))),
            fields: vec![
                form.field("day", "Day").day(),
                form.field("text", "What was done").area(),
                form.field("hours", "Hours").hint("As 2.5 or 2:30; leave empty for none."),
                form.field("cost", "Cost").hint("In the shop's own currency, as 48.20; leave empty for none."),
                form.field("waiting_on", "Waiting on").hint("Who or what this waits for; leave empty for nothing."),
            ],
            people: filters(seen, &found.people, &found.search, Kind::Person),
            rooms: filters(seen, &found.rooms, &found.search, Kind::Room),
            csv: seen.address(&format!("/log.csv?{asked}")),
            json: seen.address(&format!("/log.json?{asked}")),
            search: found.search.clone(),
            found: found.all,
            may_strike: may(seen.who.ctx.by.role, Deed::RecordWork),
            faults,
        }
    }
}

/// What a filter asks for.
#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Person,
    Room,
}

/// Each way to the entries of one, and to those of all; touching the one that is chosen lets it go.
fn filters(seen: &Seen, counts: &[(String, u32)], search: &LogSearch, kind: Kind) -> Vec<Filter> {
    let chosen = if kind == Kind::Person { &search.by } else { &search.room };
    let with = |value: &str| match kind {
        Kind::Person => LogSearch { by: value.to_owned(), ..search.clone() },
        Kind::Room => LogSearch { room: value.to_owned(), ..search.clone() },
    };
    let filter = |words: String, count: u32, value: &str| Filter {
        words,
        count,
        to: seen.address(&format!("/log?{}#noted", address_of(&with(value)))),
        here: chosen == value,
    };
    let all = counts.iter().map(|(_, count)| count).sum();
    let each = counts.iter().map(|(value, count)| filter(value.replace('_', " "), *count, value));
    std::iter::once(filter("all".to_owned(), all, "")).chain(each).collect()
}

impl Line {
    fn of(seen: &Seen, note: &Note, typed: &Typed<'_>) -> Self {
        let units = seen.who.units;
        let empty = Form::empty(units);
        let form = typed.of_line.filter(|(line, _)| *line == note.id).map_or(&empty, |(_, form)| form);
        let struck = note.struck.as_ref();
        Self {
            day: note.day.to_string(),
            text: note.text.clone(),
            hours: note.hours.map(|hours| hours.show(units)).unwrap_or_default(),
            cost: note.cost.map(|cost| cost.show(units)).unwrap_or_default(),
            waiting_on: note.waits.as_ref().map(|wait| wait.on.clone()).unwrap_or_default(),
            over: describe_over(seen, note).unwrap_or_default(),
            by: note.by.clone(),
            struck: struck
                .map(|one| format!("{}, {}: {}", one.by, seen.who.ctx.clock.minute_of(one.at), one.why))
                .unwrap_or_default(),
            strike: seen.address(&format!("/log/{}/strike", note.id)),
            why: form.field_named(why_field(note.id), "What is wrong with it"),
        }
    }
}

impl Waits {
    /// Of a line that still waits; none of any other. What was typed of its end is given back.
    fn of(seen: &Seen, note: &Note, typed: &Typed<'_>) -> Option<Self> {
        let on = note.waits_on()?.to_owned();
        let empty = Form::empty(seen.who.units);
        let form = typed.of_line.filter(|(line, _)| *line == note.id).map_or(&empty, |(_, form)| form);
        Some(Self {
            on,
            since: note.day.to_string(),
            by: note.by.clone(),
            to: seen.address(&format!("/log/{}/over", note.id)),
            how: form.field("how", "What became of it").hint("As: came on Tuesday, two short. May stay empty."),
        })
    }
}

/// That a wait is over: by whom, when, what became of it.
fn describe_over(seen: &Seen, note: &Note) -> Option<String> {
    let ended = note.waits.as_ref()?.ended.as_ref()?;
    let how = if ended.how.is_empty() { String::new() } else { format!(": {}", ended.how) };
    Some(format!("over, said {} on {}{how}", ended.by, seen.who.ctx.clock.day_of(ended.at)))
}
