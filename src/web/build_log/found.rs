//! What of a log is looked for, and what is found of it: a page of lines, a page of entries, and who and what there is.

use std::collections::HashMap;

use crate::domain::recorded::notes::Note;
use crate::store::recorded::build_log::LogEntry;
use crate::store::recorded::log_search::LogSearch;
use crate::web::gate::Seen;
use crate::web::page::in_address;
use crate::web::paging::{ON_A_PAGE, Page};
use crate::web::problem::Problem;

/// A page of what was looked for.
pub(super) struct Found<'s> {
    pub(super) search: LogSearch,
    /// The lines that people wrote, all that are found, and the page of them.
    pub(super) notes: Vec<&'s Note>,
    pub(super) lines: Page,
    /// The program's entries of the page.
    pub(super) entries: Vec<LogEntry>,
    pub(super) noted: Page,
    /// How many entries are found in all.
    pub(super) all: usize,
    /// Whose they are and what they are about, each with its count.
    pub(super) people: Vec<(String, u32)>,
    pub(super) rooms: Vec<(String, u32)>,
}

/// What an address looks for.
pub(super) fn searched(asked: &HashMap<String, String>) -> LogSearch {
    let text = |name: &str| asked.get(name).map(|text| text.trim().to_owned()).unwrap_or_default();
    LogSearch { words: text("q"), by: text("by"), room: text("room") }
}

impl<'s> Found<'s> {
    /// What an address asks for; `NotFound` for what is no page.
    pub(super) async fn of(seen: &'s Seen, asked: &HashMap<String, String>) -> Result<Self, Problem> {
        let (store, build, search) = (&seen.who.ctx.store, seen.build(), searched(asked));
        let (people, rooms) = (store.log_people(build, &search).await?, store.log_rooms(build, &search).await?);
        let own = people.iter().filter(|(by, _)| search.by.is_empty() || *by == search.by);
        let all = own.map(|(_, count)| usize::try_from(*count).unwrap_or_default()).sum();
        let notes: Vec<&Note> = seen.facts.notes.iter().filter(|note| says(note, &search)).collect();
        let page = |name: &str, all| Page::of(asked.get(name).map(String::as_str), all).ok_or(Problem::NotFound);
        let (lines, noted) = (page("lines", notes.len())?, page("entries", all)?);
        let [skip, most] = [noted.range().start, ON_A_PAGE].map(|count| u32::try_from(count).unwrap_or(u32::MAX));
        let entries = store.log_found(build, &search, skip, most).await?;
        Ok(Self { search, notes, lines, entries, noted, all, people, rooms })
    }
}

/// Whether a line is looked for; what it is about stands with the entries alone.
fn says(note: &Note, search: &LogSearch) -> bool {
    let words = search.words.to_ascii_lowercase();
    let waits = note.waits.as_ref().map(|wait| wait.on.as_str()).unwrap_or_default();
    let says = [note.text.as_str(), waits].iter().any(|text| text.to_ascii_lowercase().contains(&words));
    says && (search.by.is_empty() || note.by == search.by)
}

/// The part of an address that asks for this.
pub(super) fn address_of(search: &LogSearch) -> String {
    let named = [("q", &search.words), ("by", &search.by), ("room", &search.room)];
    let asked = named.iter().filter(|(_, text)| !text.is_empty());
    let each: Vec<String> = asked.map(|(name, text)| format!("{name}={}&", in_address(text))).collect();
    each.concat()
}
