//! A mistake in a rule book's text: where it is, what is wrong, what was wanted.

use std::cell::RefCell;
use std::ops::Range;

/// Most mistakes told of one book; the last then says that there are more.
const MOST_TOLD: usize = 200;

/// One mistake in a book's text.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Mistake {
    /// The line, from 1.
    pub line: usize,
    /// The column in characters, from 1.
    pub column: usize,
    /// How many characters of the line it covers, at least 1.
    pub width: usize,
    /// What is wrong, as a sentence.
    pub what: String,
    /// What would have been right, as a sentence.
    pub wanted: String,
    /// The table and field it is about, from 0 where there are several: `limit.2.least`; empty of the text as a whole.
    pub at: String,
}

impl Mistake {
    /// Prints it for a person: file, line and column, the line itself with carets under the place, and what was wanted.
    pub fn show(&self, toml: &str, name: &str) -> String {
        let text = toml.split('\n').nth(self.line.saturating_sub(1)).unwrap_or("").trim_end_matches('\r');
        let number = self.line.to_string();
        let margin = " ".repeat(number.len());
        // a tab stays a tab, so that the carets stand under the text however wide the terminal draws it
        let lead: String =
            text.chars().take(self.column.saturating_sub(1)).map(|c| if c == '\t' { '\t' } else { ' ' }).collect();
        let carets = "^".repeat(self.width.max(1));
        let (line, column, what, wanted) = (self.line, self.column, &self.what, &self.wanted);
        format!(
            "{name}:{line}:{column}: {what}\n{margin} |\n{number} | {text}\n{margin} | {lead}{carets}\n{margin} = {wanted}\n"
        )
    }
}

/// A mistake by its place in bytes, as found while reading.
#[derive(Debug)]
struct Slip {
    span: Range<usize>,
    what: String,
    wanted: String,
    at: String,
}

/// The mistakes found so far; shared by all the tables that are being read.
#[derive(Debug, Default)]
pub(in crate::domain::book) struct Slips(RefCell<Vec<Slip>>);

impl Slips {
    /// Notes a mistake of the text as a whole.
    pub(in crate::domain::book) fn add(&self, span: Range<usize>, what: impl Into<String>, wanted: impl Into<String>) {
        self.add_at((span, String::new()), what, wanted);
    }

    /// Notes a mistake at a place in the text, which is that of a field: `limit.2.least`.
    pub(in crate::domain::book) fn add_at(
        &self,
        (span, at): (Range<usize>, String),
        what: impl Into<String>,
        wanted: impl Into<String>,
    ) {
        let mut slips = self.0.borrow_mut();
        // one beyond the limit is kept, so that the end knows there were more
        if slips.len() <= MOST_TOLD {
            slips.push(Slip { span, what: what.into(), wanted: wanted.into(), at });
        }
    }

    /// How many there are.
    pub(in crate::domain::book) fn count(&self) -> usize {
        self.0.borrow().len()
    }

    /// All of them by line and column, in the order of the text.
    pub(in crate::domain::book) fn describe(self, toml: &str) -> Vec<Mistake> {
        let lines = Lines::of(toml);
        let slips = self.0.into_inner();
        let more = slips.len() > MOST_TOLD;
        let mut found: Vec<Mistake> = slips.into_iter().take(MOST_TOLD).map(|slip| lines.mistake(slip)).collect();
        found.sort();
        if more && let Some(last) = found.last().cloned() {
            found.push(Mistake {
                what: format!("There are more than {MOST_TOLD} mistakes; the rest is not told."),
                wanted: "Mend these first, then read the book again.".to_owned(),
                ..last
            });
        }
        found
    }
}

/// Where each line of a text begins.
struct Lines<'t> {
    toml: &'t str,
    starts: Vec<usize>,
}

impl<'t> Lines<'t> {
    fn of(toml: &'t str) -> Self {
        let starts = std::iter::once(0).chain(toml.match_indices('\n').map(|(at, _)| at + 1)).collect();
        Self { toml, starts }
    }

    fn mistake(&self, slip: Slip) -> Mistake {
        let start = floor(self.toml, slip.span.start);
        let index = self.starts.partition_point(|begin| *begin <= start).saturating_sub(1);
        let begin = self.starts.get(index).copied().unwrap_or(0);
        let line_end = self.starts.get(index + 1).map_or(self.toml.len(), |next| next - 1);
        let end = floor(self.toml, slip.span.end).clamp(start, line_end.max(start));
        let count = |from, to| self.toml.get(from..to).map_or(0, |part| part.chars().count());
        Mistake {
            line: index + 1,
            column: count(begin, start) + 1,
            width: count(start, end).max(1),
            what: slip.what,
            wanted: slip.wanted,
            at: slip.at,
        }
    }
}

/// The place at or before `at` where a character begins.
fn floor(text: &str, at: usize) -> usize {
    let mut place = at.min(text.len());
    while !text.is_char_boundary(place) {
        place -= 1;
    }
    place
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_in_bytes_becomes_a_line_and_a_column_in_characters() {
        let toml = "a = 1\n“ü” = x\n\tlast";
        let slips = Slips::default();
        let at = toml.find('x').unwrap_or(0);
        slips.add(at..at + 1, "What?", "That.");
        slips.add(toml.len()..toml.len() + 9, "End?", "More.");
        let found = slips.describe(toml);
        let places: Vec<_> = found.iter().map(|found| (found.line, found.column, found.width)).collect();
        assert_eq!(places, [(2, 7, 1), (3, 6, 1)]);
    }

    #[test]
    fn it_shows_the_line_and_points_at_the_place() {
        let toml = "one = 1\nclaus = \"4.2\"\n";
        let mistake = Mistake {
            line: 2,
            column: 1,
            width: 5,
            what: "“claus” is not known here.".to_owned(),
            wanted: "Did you mean “clause”?".to_owned(),
            at: String::new(),
        };
        let wanted = "book.toml:2:1: “claus” is not known here.\n  |\n2 | claus = \"4.2\"\n  | ^^^^^\n  = Did you mean “clause”?\n";
        assert_eq!(mistake.show(toml, "book.toml"), wanted);
    }
}
