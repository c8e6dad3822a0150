//! How many parts a line of the list names, and of which rules.

use crate::domain::book::Force;
use crate::domain::words::ids::Balloon;

/// Of more parts than this, a rule's open things are one line: forty alike lines hide the one that differs.
pub(super) const ONE_BY_ONE: usize = 6;
/// So many numbers are named in a line; the sheet it leads to has the others.
const NAMED: usize = 8;

/// Balloons in a sentence, the first few of many.
pub(super) fn named(parts: &[Balloon]) -> String {
    let first: Vec<String> = parts.iter().take(NAMED).map(ToString::to_string).collect();
    let more = if parts.len() > NAMED { " …" } else { "" };
    format!("{}{more}", first.join(", "))
}

pub(super) fn asked(force: Force) -> bool {
    force != Force::May
}
