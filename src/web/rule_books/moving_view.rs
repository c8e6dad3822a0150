//! What the sheet about a build's edition shows.

use askama::Template;

use super::changes_view::Changes;
use crate::domain::recorded::rounds::Decision;
use crate::domain::words::ids::BookId;
use crate::store::book::book_moves::BookMove;
use crate::store::book::rule_books::Book;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::Sheet;

/// The edition a build is judged by, and the way to another; for a build without one, the way to its first.
#[derive(Template)]
#[template(path = "rule_books/edition.html")]
pub(super) struct EditionSheet {
    sheet: Sheet,
    name: String,
    /// Empty where it has none yet.
    now: String,
    moves: Vec<String>,
    stale: bool,
    /// How many other editions there are.
    choices: usize,
    to: Field,
    moving: Option<Moving>,
}

/// A move that is looked at.
pub(super) struct Moving {
    edition: String,
    to: String,
    as_of: i64,
    beside: String,
    /// What of the rounds is to be known first; empty before the first.
    rounds: String,
    changes: Changes,
    reason: Field,
}

impl Moving {
    pub(super) fn of(seen: &Seen, book: &Book, changes: Changes, form: &Form) -> Self {
        let facts = &seen.facts;
        let from = facts.book.as_ref().map(|from| from.id.to_string()).unwrap_or_default();
        let rounds = facts.rounds.last().map(|round| {
            let newest = facts.replies.iter().rev().find(|reply| reply.round == round.id);
            let stands = match newest.map(|reply| reply.decision) {
                Some(Decision::Approved) => "is approved",
                Some(Decision::NotYet) => "has questions",
                Some(Decision::Refused) => "is refused",
                None => "waits for its reply",
            };
            format!(
                "Round {} {stands} under the edition that the build has now, and keeps it. The move shows as a change since \
                 that round: the scrutineer must see a new one.",
                round.number
            )
        });
        Self {
            edition: format!("{}, {}", book.name, book.edition),
            to: book.id.to_string(),
            as_of: facts.as_of,
            beside: format!("/books/beside?old={from}&new={}", book.id),
            rounds: rounds.unwrap_or_default(),
            changes,
            reason: form
                .field("reason", "Why it is moved")
                .hint("It stands in the log: the event's date, the body's letter."),
        }
    }
}

impl EditionSheet {
    /// From the shop's books and the build's moves, what is looked at, and what was typed.
    pub(super) fn of(
        seen: &Seen,
        (books, moves): (&[Book], &[BookMove]),
        moving: Option<Moving>,
        (form, stale): (&Form, bool),
    ) -> Self {
        let named = |book: &Book| format!("{}, {}", book.name, book.edition);
        let from = seen.facts.book.as_ref();
        let mut others: Vec<&Book> = books.iter().filter(|book| from.is_none_or(|from| from.id != book.id)).collect();
        // Editions of the same book first, the newest of them above.
        others.reverse();
        others.sort_by_key(|book| from.is_none_or(|from| from.name != book.name));
        // Who has no book yet is proposed the newest.
        let mut choices: Vec<(String, String)> =
            from.map(|_| (String::new(), "choose one".to_owned())).into_iter().collect();
        choices.extend(others.iter().map(|book| (book.id.to_string(), named(book))));
        let word = |id: BookId| books.iter().find(|book| book.id == id).map(named).unwrap_or_default();
        let line = |one: &BookMove| {
            let day = seen.who.ctx.clock.day_of(one.at);
            format!("Moved on {day} by {} from {} to {}: {}", one.by, word(one.from), word(one.to), one.reason)
        };
        Self {
            sheet: seen.sheet("Edition"),
            name: seen.facts.build.name.clone(),
            now: from.map(|from| format!("{}, {}", from.name, from.edition)).unwrap_or_default(),
            moves: moves.iter().map(line).collect(),
            stale,
            choices: others.len(),
            to: form.field("to", if from.is_some() { "Another edition" } else { "Rule book" }).choice(choices),
            moving,
        }
    }
}
