//! What the log's sheet shows.

use askama::Template;

use crate::domain::build_log::Note;
use crate::quantity::{Hours, Money, Show};
use crate::store::build_log::LogEntry;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::Sheet;

/// What people wrote, newest first, and the program's own entries.
#[derive(Template)]
#[template(path = "build_log/log.html")]
pub(crate) struct Log {
    sheet: Sheet,
    hours: String,
    cost: String,
    notes: Vec<Line>,
    entries: Vec<(i64, String, String, String)>,
    fields: Vec<Field>,
}

struct Line {
    day: String,
    text: String,
    hours: String,
    cost: String,
    waiting_on: String,
    by: String,
}

impl Log {
    /// From what was written and noted.
    pub(crate) fn of(seen: &Seen, entries: &[LogEntry], form: &Form) -> Self {
        let (units, notes) = (seen.who.units, &seen.facts.notes);
        let line = |note: &Note| Line {
            day: note.day.to_string(),
            text: note.text.clone(),
            hours: note.hours.map(|hours| hours.show(units)).unwrap_or_default(),
            cost: note.cost.map(|cost| cost.show(units)).unwrap_or_default(),
            waiting_on: note.waiting_on.clone(),
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
            notes: notes.iter().map(line).collect(),
            entries: entries.iter().map(at).collect(),
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
