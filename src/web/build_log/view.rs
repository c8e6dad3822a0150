//! What the log's sheet shows.

use askama::Template;

use crate::domain::recorded::notes::Note;
use crate::domain::words::ids::NoteId;
use crate::quantity::{Hours, Money, Show};
use crate::store::recorded::build_log::LogEntry;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::Sheet;
use crate::web::paging::{Page, Pages};

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
    /// From what was written and the noted entries of a page, with what was typed of a new line and of the end of a wait.
    pub(crate) fn of(
        seen: &Seen,
        entries: &[LogEntry],
        (lines, noted): (&Page, &Page),
        (form, over): (&Form, Option<(NoteId, &Form)>),
    ) -> Self {
        let (units, notes) = (seen.who.units, &seen.facts.notes);
        let line = |note: &Note| Line {
            day: note.day.to_string(),
            text: note.text.clone(),
            hours: note.hours.map(|hours| hours.show(units)).unwrap_or_default(),
            cost: note.cost.map(|cost| cost.show(units)).unwrap_or_default(),
            waiting_on: note.waits.as_ref().map(|wait| wait.on.clone()).unwrap_or_default(),
            over: describe_over(seen, note).unwrap_or_default(),
            by: note.by.clone(),
        };
        let at = |entry: &LogEntry| {
            let day = seen.who.ctx.clock.day_of(entry.at);
            (entry.number, day.to_string(), entry.by.clone(), entry.what.clone())
        };
        let hours: f64 = notes.iter().filter_map(|note| note.hours).map(Hours::hours).sum();
        let cost: i64 = notes.iter().filter_map(|note| note.cost).map(Money::minor).sum();
        Self {
            sheet: seen.sheet("Log"),
            hours: Hours::from_hours(hours).show(units),
            cost: Money::from_minor(cost).show(units),
            waits: notes.iter().rev().filter_map(|note| Waits::of(seen, note, over)).collect(),
            notes: lines.part(notes).iter().map(line).collect(),
            entries: entries.iter().map(at).collect(),
            pages_of_lines: lines.describe("Lines", |number| seen.address(&format!("/log?lines={number}#written"))),
            pages_of_entries: noted.describe("Entries", |number| seen.address(&format!("/log?entries={number}#noted"))),
            fields: vec![
                form.field("day", "Day").day(),
                form.field("text", "What was done").area(),
                form.field("hours", "Hours").hint("As 2.5 or 2:30; leave empty for none."),
                form.field("cost", "Cost").hint("In the shop's own currency, as 48.20; leave empty for none."),
                form.field("waiting_on", "Waiting on").hint("Who or what this waits for; leave empty for nothing."),
            ],
        }
    }
}

impl Waits {
    /// Of a line that still waits; none of any other. What was typed of its end is given back.
    fn of(seen: &Seen, note: &Note, over: Option<(NoteId, &Form)>) -> Option<Self> {
        let on = note.waits_on()?.to_owned();
        let empty = Form::empty(seen.who.units);
        let form = over.filter(|(line, _)| *line == note.id).map_or(&empty, |(_, form)| form);
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
