//! Pieces and sticks as tables of values (RFC 4180): `name,length,tube,count` and `stick,length,tube,count,price,grade,heat`.
//!
//! The first line names the columns, in any order; one that is not known is refused. Lengths and tubes as typed anywhere,
//! a bare number in mm. A quote within a cell that does not begin with one stands for itself: `72 3/8"`.

use super::{Free, Piece};
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::faults::Fault;
use crate::domain::words::limits;
use crate::quantity::{FromTyped, Length};

/// What may be wrong, at most so many of them are told.
const TOLD: usize = 20;

/// A line of a table: its number and its cells by column.
struct Line<'h> {
    number: usize,
    head: &'h [String],
    cells: Vec<String>,
}

impl Line<'_> {
    fn cell(&self, column: &str) -> &str {
        let at = self.head.iter().position(|name| name == column);
        at.and_then(|at| self.cells.get(at)).map_or("", |cell| cell.trim())
    }

    fn at(&self, column: &str) -> String {
        format!("line {}, {column}", self.number)
    }

    fn read<T: FromTyped>(&self, column: &str, faults: &mut Vec<Fault>) -> Option<T> {
        T::from_typed(self.cell(column)).map_err(|no| faults.push(Fault::new(self.at(column), no.to_string()))).ok()
    }

    /// How many, one where the cell is empty.
    fn count(&self, faults: &mut Vec<Fault>) -> usize {
        match self.cell("count") {
            "" => 1,
            text => match text.parse() {
                Ok(count) if (1..=limits::CUT_PIECES).contains(&count) => count,
                _ => {
                    let why = format!("“{text}” is no count between 1 and {}.", limits::CUT_PIECES);
                    faults.push(Fault::new(self.at("count"), why));
                    0
                }
            },
        }
    }

    /// What it is called, its length and its tube.
    fn named(&self, name: &str, faults: &mut Vec<Fault>) -> Option<(String, Length, TubeSize)> {
        let called = self.cell(name).to_owned();
        faults.extend(limits::title_faults(&self.at(name), &called));
        let length: Option<Length> = self.read("length", faults);
        let tube: Option<TubeSize> = self.read("tube", faults);
        let (length, tube) = (length?, tube?);
        if length <= Length::default() || length > limits::STICK {
            faults.push(Fault::new(self.at("length"), "This is longer than nothing and at most 15 m (49 ft)."));
        }
        faults.extend(tube.faults_at(&self.at("tube")));
        Some((called, length, tube))
    }
}

/// The pieces of a table, or all that is wrong with it.
pub fn pieces_of(text: &str) -> Result<Vec<Piece>, Vec<Fault>> {
    let piece = |line: &Line<'_>, faults: &mut Vec<Fault>| {
        let (name, length, tube) = line.named("name", faults)?;
        Some(Piece { name, tube, length, more: Default::default(), loose: false })
    };
    table(text, (&["name", "length", "tube", "count"], &["name", "length", "tube"]), piece)
}

/// The sticks of a table, or all that is wrong with it. What a stick cost is no part of the plan.
pub fn stock_of(text: &str) -> Result<Vec<Free>, Vec<Fault>> {
    let stick = |line: &Line<'_>, faults: &mut Vec<Fault>| {
        let (name, length, tube) = line.named("stick", faults)?;
        let [grade, heat] = ["grade", "heat"].map(|column| line.cell(column).to_owned());
        Some(Free { name, grade, heat, tube, length, begun: false })
    };
    let known = ["stick", "length", "tube", "count", "price", "grade", "heat"];
    table(text, (&known, &["stick", "length", "tube"]), stick)
}

fn table<T: Clone>(
    text: &str,
    (known, wanted): (&[&str], &[&str]),
    read: impl Fn(&Line<'_>, &mut Vec<Fault>) -> Option<T>,
) -> Result<Vec<T>, Vec<Fault>> {
    let text = text.trim_start_matches('\u{feff}');
    let mut lines = (1..).zip(text.lines()).filter(|(_, line)| !line.trim().is_empty());
    let head: Vec<String> = lines.next().map(|(_, line)| cells(line)).unwrap_or_default();
    let head: Vec<String> = head.iter().map(|name| name.trim().to_lowercase()).collect();
    let mut faults: Vec<Fault> = Vec::new();
    for name in head.iter().filter(|name| !known.contains(&name.as_str())) {
        faults.push(Fault::new("line 1", format!("The column “{name}” is not known; there are {}.", known.join(", "))));
    }
    for name in wanted.iter().filter(|name| !head.iter().any(|there| there == *name)) {
        faults.push(Fault::new("line 1", format!("The column “{name}” is missing.")));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut all = Vec::new();
    for (number, line) in lines {
        let line = Line { number, head: &head, cells: cells(line) };
        if line.cells.len() > head.len() {
            faults.push(Fault::new(format!("line {number}"), "This line has more cells than the first has names."));
        }
        let count = line.count(&mut faults);
        all.extend(read(&line, &mut faults).into_iter().flat_map(|one| std::iter::repeat_n(one, count)));
        if all.len() > limits::CUT_PIECES {
            faults.push(Fault::new(format!("line {number}"), format!("At most {} fit.", limits::CUT_PIECES)));
        }
        if faults.len() >= TOLD || all.len() > limits::CUT_PIECES {
            break;
        }
    }
    if faults.is_empty() { Ok(all) } else { Err(faults) }
}

/// The cells of a line.
fn cells(line: &str) -> Vec<String> {
    let mut cells = Vec::new();
    let (mut cell, mut quoted, mut begun) = (String::new(), false, false);
    let mut letters = line.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '"' if quoted && letters.peek() == Some(&'"') => {
                letters.next();
                cell.push('"');
            }
            '"' if quoted => quoted = false,
            '"' if !begun => (quoted, begun) = (true, true),
            ',' if !quoted => {
                cells.push(std::mem::take(&mut cell));
                begun = false;
            }
            other => {
                begun = begun || !other.is_whitespace();
                cell.push(other);
            }
        }
    }
    cells.push(cell);
    cells
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_read_as_typed_and_counts_repeat() {
        let text = "name,length,tube,count\nM1,72 3/8\",1.5 x .120 in,2\n\"M2, left\",\"72 3/8\"\"\",1.5 x .120 in,\n\
                    M3,1840,45 x 2.5,1\n";
        let pieces = pieces_of(text).unwrap();
        let description: Vec<(&str, f64)> =
            pieces.iter().map(|piece| (piece.name.as_str(), piece.length.mm())).collect();
        let inch = 1838.325;
        assert_eq!(description, [("M1", inch), ("M1", inch), ("M2, left", inch), ("M3", 1840.0)]);
        assert_eq!(pieces[3].tube, TubeSize::metric(45.0, 2.5));
        let sticks = stock_of("heat,stick,tube,length,price\n48211,S1,45 x 2.5,6 m,70.00").unwrap();
        assert_eq!((sticks[0].heat.as_str(), sticks[0].length.mm()), ("48211", 6000.0));
    }

    #[test]
    fn all_that_is_wrong_is_told_by_line() {
        let wrong = pieces_of("name,length,tube,count\n,0,45 x 2.5,0\nM2,long,45,1,9").unwrap_err();
        let at: Vec<&str> = wrong.iter().map(|fault| fault.at.as_str()).collect();
        let want = ["line 2, count", "line 2, name", "line 2, length", "line 3", "line 3, length", "line 3, tube"];
        assert_eq!(at, want);
        let head = pieces_of("name,colour\n").unwrap_err();
        assert!(head[0].why.contains("“colour” is not known") && head[1].why.contains("“length” is missing"));
        assert!(stock_of("stick,length,tube\nS1,16 m,45 x 2.5").is_err());
    }
}
