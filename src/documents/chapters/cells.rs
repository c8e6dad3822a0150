//! Tables of a page: cells whose parts' numbers lead to the parts.

use std::fmt::Write as _;

use super::Leads;
use crate::domain::judge::verdicts::Word;
use crate::domain::words::ids::{Balloon, Kind};

/// A table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Grid {
    /// What stands over each column.
    pub headings: Vec<Heading>,
    /// Its rows.
    pub rows: Vec<Row>,
}

impl Grid {
    /// The cells of one of its rows, each with what stands over it.
    pub fn cells<'g>(&'g self, row: &'g Row) -> impl Iterator<Item = (&'g Cell, &'g Heading)> {
        row.cells.iter().zip(&self.headings)
    }
}

/// What stands over a column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Heading {
    /// The words.
    pub words: String,
    /// Whether figures stand under it.
    pub figures: bool,
}

impl Heading {
    /// Over a column of words.
    pub(super) fn of(words: &str) -> Self {
        Self { words: plain(words), figures: false }
    }
}

/// A row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The place that links lead to; empty where none does.
    pub place: String,
    /// A cell for each column.
    pub cells: Vec<Cell>,
}

impl Row {
    /// To which no link leads.
    pub(in crate::documents) const fn of(cells: Vec<Cell>) -> Self {
        Self { place: String::new(), cells }
    }
}

/// A cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    /// The shape of a verdict's word, before the words.
    pub sign: Option<Word>,
    /// Its words, run by run.
    pub runs: Vec<Run>,
}

/// Words that lead somewhere, or nowhere.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// The words.
    pub words: String,
    /// Where they lead; empty where they lead nowhere.
    pub to: String,
    /// Whether they are struck through.
    pub struck: bool,
}

impl Run {
    /// Words that lead nowhere.
    pub(in crate::documents) fn of(words: &str) -> Self {
        Self { words: plain(words), to: String::new(), struck: false }
    }

    /// Words that lead to an address.
    pub(in crate::documents) fn to(words: &str, to: &str) -> Self {
        Self { to: to.to_owned(), ..Self::of(words) }
    }

    /// Words that are struck through.
    pub(in crate::documents) fn struck(words: &str) -> Self {
        Self { struck: true, ..Self::of(words) }
    }
}

impl Cell {
    /// Of these runs.
    pub(in crate::documents) const fn of_runs(runs: Vec<Run>) -> Self {
        Self { sign: None, runs }
    }

    /// With a verdict's word before it.
    pub(in crate::documents) fn signed(self, word: Word) -> Self {
        Self { sign: Some(word), runs: self.runs }
    }

    /// Of words that are numbers of parts, commas between them, each leads to its part; other words lead nowhere.
    pub(super) fn of(words: &str, leads: Leads<'_>) -> Self {
        let parts: Option<Vec<Balloon>> = words.split(", ").map(|one| one.parse().ok()).collect();
        let Some(parts) = parts else { return Self::of_runs(vec![Run::of(words)]) };
        let mut runs = Vec::new();
        for (number, part) in parts.into_iter().enumerate() {
            if number > 0 {
                runs.push(Run::of(", "));
            }
            runs.push(Run::to(&part.to_string(), &leads(part).unwrap_or_default()));
        }
        Self::of_runs(runs)
    }
}

/// The place that a row has by its first cell: sticks and items of kit are told of in a row each.
pub(super) fn row_place(first: &str) -> Option<String> {
    let part: Balloon = first.parse().ok()?;
    matches!(part.kind, Kind::Stick | Kind::Kit).then(|| part.to_string())
}

/// Text of the record as it may stand in a page: signs that would turn the letters around them, or that no page holds, are
/// spelled out.
pub fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\u{200e}' | '\u{200f}' | '\u{061c}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => {
                // writing into a text cannot fail
                let _ = write!(out, "[U+{:04X}]", u32::from(letter));
            }
            '\n' | '\t' => out.push(letter),
            control if control.is_control() => out.push(' '),
            '\u{fdd0}'..='\u{fdef}' => out.push('\u{fffd}'),
            odd if u32::from(odd) & 0xfffe == 0xfffe => out.push('\u{fffd}'),
            usual => out.push(usual),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_turns_letters_round_is_spelled_out_and_lines_stay() {
        assert_eq!(plain("a\u{202e}b\u{0}\u{7f}\nc"), "a[U+202E]b  \nc");
        assert_eq!(plain("\u{2066}\u{fdd0}\u{1ffff}é"), "[U+2066]\u{fffd}\u{fffd}é");
    }

    #[test]
    fn only_numbers_of_parts_lead_to_parts() {
        let leads = |part: Balloon| Some(format!("#{part}"));
        let to = |words: &str| Cell::of(words, &leads).runs.into_iter().map(|run| run.to).collect::<Vec<_>>();
        assert_eq!(to("J7, M3"), ["#J7", "", "#M3"]);
        assert_eq!(to("J7 and more"), [""]);
        assert_eq!(to(""), [""]);
    }
}
