//! What Health says of how the shop runs: the last check, the disk, phones, the clock, versions.

use std::collections::BTreeMap;

use jiff::Timestamp;

use crate::actions::Looked;
use crate::actions::shop::backup_due::{ahead, too_old};
use crate::actions::shop::running::Running;
use crate::clock::Clock;
use crate::domain::recorded::photos::bytes_in_words;
use crate::store::checked::{LastCheck, Read};
use crate::store::vault::Room;

/// A sentence, or a few.
pub(super) struct Line {
    pub(super) words: String,
    /// Whether somebody has to look.
    pub(super) look: bool,
}

impl Line {
    fn plain(words: impl Into<String>) -> Self {
        Self { words: words.into(), look: false }
    }

    fn look(words: impl Into<String>) -> Self {
        Self { words: words.into(), look: true }
    }
}

/// What is said, part by part.
pub(super) struct Parts {
    pub(super) check: Vec<Line>,
    pub(super) room: Vec<Line>,
    pub(super) phones: Vec<Line>,
    pub(super) clock: Vec<Line>,
    pub(super) versions: String,
}

/// All parts; `all` is what is recorded of each build.
pub(super) fn parts(runs: &Running, all: &[Looked], under_way: bool, clock: &Clock) -> Parts {
    let Running { program, form, engine, .. } = runs;
    Parts {
        check: check(runs.check.as_ref(), under_way, clock),
        room: vec![room(runs.room)],
        phones: phones(all, clock),
        clock: told_by_clock(runs, clock),
        versions: format!("Tackbook {program}, records in form {form}, SQLite {engine}."),
    }
}

fn check(last: Option<&LastCheck>, under_way: bool, clock: &Clock) -> Vec<Line> {
    let mut lines = Vec::new();
    if under_way {
        lines.push(Line::plain("A check is under way. Open this sheet again to see what it found."));
    }
    let Some(last) = last else {
        lines.push(Line::plain("No result is known yet: none was made by itself so far."));
        return lines;
    };
    let made = clock.minute_of(last.made);
    match &last.read {
        Some(read) if last.good() => {
            lines.push(Line::plain(format!("On {made}, {}: all were as they were kept.", were_read(read))));
        }
        Some(read) => lines.push(Line::look(format!(
            "On {made}, {}: not all were as they were kept. Stop working in the shop's folder, keep a copy of it, and \
             compare it with the last backup.",
            were_read(read)
        ))),
        None => lines.push(Line::look(format!("On {made} a check came to no end: nothing is known by it."))),
    }
    lines.extend(last.bad.iter().map(Line::look));
    if last.more > 0 {
        lines.push(Line::look(format!("{} more are not told here; tackbook verify tells all.", last.more)));
    }
    if ahead(last.made, clock.now()) {
        lines.push(Line::look("That is in the future: the machine's clock was ahead then, or is behind now."));
    } else if too_old(last.made, clock.now()) {
        lines.push(Line::look("That is more than three days ago: nothing is known of what became of it since."));
    }
    lines
}

fn were_read(read: &Read) -> String {
    let Read { entries, rows, photos, packets, mails, views } = read;
    format!(
        "{entries} log entries, {rows} records, {photos} photographs, {packets} packets, {mails} mails and {views} smaller \
         copies were checked"
    )
}

fn room(room: Option<Room>) -> Line {
    let Some(Room { free, whole, reserve }) = room else {
        return Line::plain("Not known: the system does not say.");
    };
    let [left, of, kept] = [free, whole, reserve].map(bytes_in_words);
    let words = format!("{left} of {of} are free. With less than {kept} no photographs are taken any more");
    if free < reserve {
        Line::look(format!("{words}, and that is so now: make room."))
    } else if free < reserve.saturating_mul(2) {
        Line::look(format!("{words}: make room soon."))
    } else {
        Line::plain(format!("{words}."))
    }
}

/// Who took photographs that phones told of and have not sent, and since when.
fn phones(all: &[Looked], clock: &Clock) -> Vec<Line> {
    let mut waiting: BTreeMap<&str, (usize, Timestamp)> = BTreeMap::new();
    for photo in all.iter().flat_map(|looked| &looked.facts.photos).filter(|photo| photo.waits()) {
        let (many, since) = waiting.entry(&photo.by).or_insert((0, photo.declared));
        *many += 1;
        *since = photo.declared.min(*since);
    }
    let mut lines: Vec<Line> = waiting
        .into_iter()
        .map(|(by, (many, since))| {
            let words = format!("{by}: {many} told of and not sent, the first since {}.", clock.minute_of(since));
            if too_old(since, clock.now()) { Line::look(words) } else { Line::plain(words) }
        })
        .collect();
    if lines.is_empty() {
        lines.push(Line::plain("No phone told of any that it has not sent."));
    }
    lines.push(Line::plain("What a phone has not yet told of is not known here: each sheet on that phone says it."));
    lines
}

fn told_by_clock(runs: &Running, clock: &Clock) -> Vec<Line> {
    let now = clock.now();
    let mut lines = vec![Line::plain(format!(
        "It is {} here, in the zone {}. Whether something keeps the machine's clock right is not known.",
        clock.minute_of(now),
        clock.zone()
    ))];
    if let Some(entry) = runs.last_entry.as_ref().filter(|entry| ahead(entry.at, now)) {
        lines.push(Line::look(format!(
            "The last log entry is of {}, which is in the future: the clock was ahead then, or is behind now. Set it right; \
             until it has caught up, each entry takes that moment.",
            clock.minute_of(entry.at)
        )));
    }
    lines
}
