//! How the approval stands: the hold point, the rounds with their packets, and what holds everything again.

use super::HandOver;
use crate::documents::chapters::{Block, Cell, Chapters, Grid, Heading, Row, Run};
use crate::documents::teller::Teller as _;
use crate::domain::book::in_force;
use crate::domain::derived::hold::answer;
use crate::domain::recorded::rounds::Round;

/// What an approval goes by (by the list that a round freezes).
const LAPSES: &str = "An approval is of what its round showed: the cage's measurements, bars, joints, gussets and plates, the \
tube with its heats, body and seats, kit, weighings, figures that were read, photographs that were there with what was drawn \
over them, rulings, the rule book's text, and every verdict that followed. When one of these is otherwise, or a joint is welded while it is held, the \
approval lapses and all is held again, until a new round is approved. Photographs, questions and log lines that are added, and \
welds after a release, change nothing of it.";

pub(super) fn tell(chapters: &mut Chapters<'_>, of: &HandOver<'_>) {
    chapters.chapter("How its approval stands", "approval");
    chapters.strong(&super::describe_hold(of.facts, of.found));
    book(chapters, of);
    if of.facts.rounds.is_empty() {
        chapters.said("No round was issued: nobody outside the shop was asked about this cage.");
    } else {
        rounds(chapters, of);
        changed(chapters, of);
    }
    if of.facts.book.is_some() {
        chapters.said(LAPSES);
    }
}

fn book(chapters: &mut Chapters<'_>, of: &HandOver<'_>) {
    let Some(book) = &of.facts.book else { return };
    match &of.found.worked.rules {
        Some(rules) => {
            let force = in_force::describe(&rules.book);
            chapters.said(&format!("Built by the rules of {}: {force}.", rules.book.describe()));
        }
        None => chapters.said(&format!(
            "Built by the rules of {}, whose text this program cannot read: nothing is judged.",
            book.describe()
        )),
    }
    if let Some(out) = &of.found.worked.out_of_force {
        chapters.strong(&out.describe());
    }
}

/// Each round with its answer and its packet's fingerprint.
fn rounds(chapters: &mut Chapters<'_>, of: &HandOver<'_>) {
    let mut headings = vec!["Round", "Issued", "Answer", "Packet, SHA-256"];
    if of.keys.is_some() {
        headings.push("Signed by the key");
    }
    let row = |round: &Round| {
        let name = format!("Round {}", round.number);
        let to = (of.packet_at)(round.number).unwrap_or_default();
        let mut cells = vec![
            Cell::of_runs(vec![Run::to(&name, &to)]),
            plain(&format!("{} by {}", (of.day_of)(round.issued), round.by)),
            plain(&answered(of, round)),
            plain(round.packet_sha256.text()),
        ];
        if let Some(keys) = of.keys {
            let key = keys.get(&round.number).map_or("not signed", String::as_str);
            cells.push(plain(key));
        }
        Row::of(cells)
    };
    let rows = of.facts.rounds.iter().map(row).collect();
    let headings = headings.into_iter().map(|words| Heading { words: words.to_owned(), figures: false }).collect();
    chapters.put(Block::Table(Grid { headings, rows }));
}

fn plain(words: &str) -> Cell {
    Cell::of_runs(vec![Run::of(words)])
}

fn answered(of: &HandOver<'_>, round: &Round) -> String {
    answer(of.facts, round).map_or_else(
        || "none is recorded".to_owned(),
        |reply| format!("{}, {}, {}", reply.decision.word(), reply.given_by, (of.day_of)(reply.received)),
    )
}

/// What is not as the newest round showed it.
fn changed(chapters: &mut Chapters<'_>, of: &HandOver<'_>) {
    let Some(newest) = of.facts.rounds.last() else { return };
    if of.found.changes.is_empty() {
        return chapters.said(&format!("Nothing of what round {} showed is recorded otherwise since.", newest.number));
    }
    chapters.strong(&format!("Not as round {} showed it: {}.", newest.number, of.found.changes.len()));
    let rows = of.found.changes.iter().map(|change| vec![change.at.to_string(), change.what.clone()]).collect();
    chapters.grid(&["At", "What"], rows);
}
