//! What was said: rounds with their answers, rulings, the weld log, questions, notes, and the log in full.

use super::{CarPage, LogLine, day_of, second_of, within};
use crate::documents::chapters::{Block, Cell, Chapters, Grid, Heading, Row, Run, plain};
use crate::documents::packet::{Packet, questions as asked, rulings as ruled, welds as welded};
use crate::documents::teller::Teller as _;
use crate::domain::derived::contents::{Asks, edition_of};
use crate::domain::derived::hold::named;
use crate::domain::recorded::notes::Note;
use crate::domain::recorded::rounds::Round;
use crate::domain::recorded::rounds::receipt::receipt;
use crate::quantity::Show as _;

/// The rounds, each with its papers, what it asked and each answer as it was recorded.
pub(super) fn rounds(chapters: &mut Chapters<'_>, page: &CarPage<'_>, packet_at: &dyn Fn(u32) -> Option<String>) {
    chapters.chapter("Rounds and their answers", "rounds");
    if page.facts.rounds.is_empty() {
        return chapters.said("No round was issued.");
    }
    for round in &page.facts.rounds {
        one(chapters, page, round, packet_at);
    }
}

fn one(chapters: &mut Chapters<'_>, page: &CarPage<'_>, round: &Round, packet_at: &dyn Fn(u32) -> Option<String>) {
    chapters.heading(&format!("Round {}", round.number), &format!("round-{}", round.number));
    let edition = edition_of(round).map(|edition| format!(" under {edition}")).unwrap_or_default();
    let asks = match Asks::of(round) {
        Asks::WholeCage => "It asks about the whole cage.".to_owned(),
        Asks::Joints(early) => format!("It asks for these joints alone: {}.", named(early.keys())),
        Asks::Unreadable => "What it asked cannot be read.".to_owned(),
    };
    let (at, by) = (second_of(round.issued), &round.by);
    chapters.said(&format!("Issued {at} UTC by {by}{edition}. {asks}"));
    let file = page.rounds.iter().find(|file| file.number == round.number);
    let signature = file.and_then(|file| within(file.signature.as_ref()?, "rounds/"));
    let packet = packet_at(round.number);
    let mut runs = match &packet {
        Some(to) => vec![Run::to("The packet, PDF", to)],
        None => vec![Run::of("LOST: its packet is not in this file.")],
    };
    runs.push(Run::of(" · "));
    runs.push(signature.map_or_else(|| Run::of("It has no signature here."), |to| Run::to("Its signature", to)));
    chapters.put(Block::Runs(Cell::of_runs(runs)));
    chapters.soft(&format!("Packet, SHA-256: {}", round.packet_sha256.text()));
    chapters.soft(&format!(
        "Contents list, SHA-256: {}; made as of log entry {}",
        round.contents_sha256.text(),
        round.as_of
    ));
    let mut replies = page.facts.replies.iter().filter(|reply| reply.round == round.id).peekable();
    if replies.peek().is_none() {
        chapters.said("No answer to it is recorded.");
    }
    for reply in replies {
        let text = receipt(&page.facts.build.name, round, reply, &page.facts.questions);
        chapters.put(Block::Letter(plain(&text)));
        for mail in &reply.mails {
            let words = mail.describe(&second_of(mail.attached));
            let runs = if page.mails.contains(&mail.sha256) {
                vec![Run::to("Came with it", &format!("mails/{}", mail.sha256)), Run::of(&format!(": {words}"))]
            } else {
                vec![Run::of(&format!("LOST: {words} is not in this file."))]
            };
            chapters.put(Block::Runs(Cell::of_runs(runs)));
        }
    }
}

/// What the scrutineer ruled.
pub(super) fn rulings(chapters: &mut Chapters<'_>, packet: &Packet<'_>) {
    if packet.facts.rulings.is_empty() {
        chapters.chapter("What the scrutineer ruled", "rulings");
        return chapters.said("Nothing was ruled.");
    }
    ruled::add(chapters, packet);
}

/// The weld log, with what was struck through.
pub(super) fn welds(chapters: &mut Chapters<'_>, packet: &Packet<'_>) {
    let all = &packet.facts.welds;
    if all.is_empty() {
        chapters.chapter("Weld log", welded::PLACE);
        return chapters.said("No weld is logged.");
    }
    welded::add(chapters, packet);
    let rows: Vec<Row> = all
        .iter()
        .filter_map(|weld| {
            let struck = weld.struck.as_ref()?;
            let mut cells = vec![Cell::of_runs(vec![Run::of(&weld.line.to_string())])];
            let words = welded::row(packet, weld).into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>();
            cells.push(Cell::of_runs(vec![Run::struck(&words.join("; "))]));
            cells.push(Cell::of_runs(vec![Run::of(&struck.describe(&second_of(struck.at)))]));
            Some(Row::of(cells))
        })
        .collect();
    if !rows.is_empty() {
        chapters.heading("Lines struck through", "");
        chapters.put(table(&["Line", "What it said", "Why it counts for nothing"], rows));
    }
}

fn table(headings: &[&str], rows: Vec<Row>) -> Block {
    let headings = headings.iter().map(|words| Heading { words: (*words).to_owned(), figures: false }).collect();
    Block::Table(Grid { headings, rows })
}

/// What was asked and answered.
pub(super) fn questions(chapters: &mut Chapters<'_>, packet: &Packet<'_>) {
    chapters.chapter("Questions", asked::PLACE);
    asked::add(chapters, packet);
}

/// What people wrote down, oldest first.
pub(super) fn notes(chapters: &mut Chapters<'_>, page: &CarPage<'_>) {
    chapters.chapter("Notes", "notes");
    if page.facts.notes.is_empty() {
        return chapters.said("Nothing was written down.");
    }
    let rows = page.facts.notes.iter().rev().map(|note| note_row(page, note)).collect();
    chapters.put(table(&["Day", "What", "Hours", "Cost", "By"], rows));
}

fn note_row(page: &CarPage<'_>, note: &Note) -> Row {
    let mut runs = match &note.struck {
        None => vec![Run::of(&note.text)],
        Some(struck) => {
            vec![Run::struck(&note.text), Run::of(&format!("\n{}", struck.describe(&second_of(struck.at))))]
        }
    };
    if let Some(wait) = &note.waits {
        let state = wait.ended.as_ref().map_or_else(
            || format!("\nWaiting on: {}", wait.on),
            |ended| {
                let how = if ended.how.is_empty() { String::new() } else { format!(": {}", ended.how) };
                format!("\nWaited for: {}; over, said {} on {}{how}", wait.on, ended.by, day_of(ended.at))
            },
        );
        runs.push(Run::of(&state));
    }
    let plain = |words: String| Cell::of_runs(vec![Run::of(&words)]);
    let hours = note.hours.map(|hours| hours.show(page.units)).unwrap_or_default();
    let cost = note.cost.map(|cost| cost.show(page.units)).unwrap_or_default();
    Row::of(vec![plain(note.day.to_string()), Cell::of_runs(runs), plain(hours), plain(cost), plain(note.by.clone())])
}

/// Every entry of the log.
pub(super) fn log(chapters: &mut Chapters<'_>, log: &[LogLine<'_>]) {
    chapters.chapter("The log in full", "log");
    if log.is_empty() {
        return chapters.said("The log is empty.");
    }
    chapters.soft("Every change, oldest first.");
    let row = |line: &LogLine<'_>| {
        let room = line.room.replace('_', " ");
        let cells = [line.number.to_string(), second_of(line.at), line.by.to_owned(), room, line.what.to_owned()];
        Row::of(cells.into_iter().map(|words| Cell::of_runs(vec![Run::of(&words)])).collect())
    };
    let rows = log.iter().map(row).collect();
    chapters.put(table(&["No.", "When, UTC", "By", "About", "What"], rows));
}
