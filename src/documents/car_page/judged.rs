//! What every rule says of every part: its word with figure, limit and margin, and what it rests on.

use crate::documents::chapters::{Block, Cell, Chapters, Grid, Heading, Row, Run, plain};
use crate::documents::packet::{Packet, rules};
use crate::domain::judge::verdicts::Verdict;

pub(super) fn tell(chapters: &mut Chapters<'_>, packet: &Packet<'_>) {
    rules::begin(chapters, packet);
    if packet.found.worked.verdicts.is_empty() {
        return;
    }
    chapters.soft("None of these words is an approval: the scrutineer decides.");
    for verdicts in packet.found.worked.by_rule() {
        let Some(first) = verdicts.first() else { continue };
        chapters.heading(&format!("{} {}", first.clause, rules::words_of(first)), "");
        let rows = verdicts.iter().map(|verdict| row(chapters, packet, verdict)).collect();
        let headings = ["At", "Word", "Figure, limit, margin, what it rests on"];
        let headings = headings.map(|words| Heading { words: words.to_owned(), figures: false }).to_vec();
        chapters.put(Block::Table(Grid { headings, rows }));
    }
}

fn row(chapters: &Chapters<'_>, packet: &Packet<'_>, verdict: &Verdict) -> Row {
    let part = chapters.cell(&verdict.of.map(|of| of.to_string()).unwrap_or_default());
    let word = Cell::of_runs(vec![Run::of(&verdict.describe(packet.units))]).signed(verdict.word);
    Row::of(vec![part, word, Cell::of_runs(vec![Run::of(&rules::facts(packet, verdict))])])
}

/// What is said of one part, a verdict in a row.
pub(super) fn of_part(chapters: &mut Chapters<'_>, packet: &Packet<'_>, verdicts: &[&Verdict]) {
    if verdicts.is_empty() {
        return chapters.soft("No rule speaks of it.");
    }
    let row = |verdict: &&Verdict| {
        let word = Cell::of_runs(vec![Run::of(&verdict.describe(packet.units))]).signed(verdict.word);
        let figure = verdict.describe_figure(packet.units);
        let what = verdict.measure.map_or_else(|| verdict.words.clone(), |measure| measure.word().to_owned());
        let cells = [verdict.clause.as_str(), &what, &figure].map(|words| Cell::of_runs(vec![Run::of(&plain(words))]));
        Row::of([word].into_iter().chain(cells).collect())
    };
    let rows = verdicts.iter().map(row).collect();
    let headings = ["Word", "Clause", "What", "Figure"];
    let headings = headings.map(|words| Heading { words: words.to_owned(), figures: false }).to_vec();
    chapters.put(Block::Table(Grid { headings, rows }));
}
