//! The cut plan in words, for screen and paper.

use super::{CutStick, SizePlan};
use crate::domain::saw::Saw;
use crate::quantity::{Length, Units};

impl Saw {
    /// What is counted, in sentences.
    pub fn told(&self) -> String {
        format!(
            "Counted: {} of kerf for each cut; {} trimmed at each end of every stick; {} added to a blank for each cope, \
             {} to a bent one for the bender to hold. To buy are sticks of {}.",
            self.kerf.text, self.trim.text, self.cope.text, self.grip.text, self.buy.text
        )
    }
}

fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}

impl SizePlan {
    /// How much is cut into, bought and lost, with the sum shown.
    pub fn told(&self, units: Units) -> String {
        let bars = self.sticks.iter().map(|stick| stick.pieces.len()).sum();
        format!(
            "{} from {}, {} of them to buy. {} of tube is cut into, {} of it in the bars; {} is trims, kerf and offcuts.",
            counted(bars, "bar", "bars"),
            counted(self.sticks.len(), "stick", "sticks"),
            self.to_buy(),
            self.used().by_tape(units),
            self.cut().by_tape(units),
            self.waste().by_tape(units)
        )
    }

    /// Whether it can be bettered.
    pub fn proven_told(&self, units: Units) -> String {
        if self.proven {
            return "No plan buys less, and of those that buy as little none cuts into less of the tube: all were tried or \
                    ruled out."
                .to_owned();
        }
        format!(
            "Not all plans were tried: at least {} must be bought and {} cut into.",
            self.bound.0.by_tape(units),
            self.bound.1.by_tape(units)
        )
    }
}

impl CutStick {
    /// Its name, heat and length.
    pub fn named(&self, units: Units) -> String {
        let marks = match &self.stick {
            None => "to buy".to_owned(),
            Some(stick) if stick.heat.is_empty() => "no heat number".to_owned(),
            Some(stick) => format!("heat {}", stick.heat),
        };
        format!("{}, {marks}, {}", self.name, self.length.by_tape(units))
    }

    /// Its pieces in the order in which they are cut, and what is left.
    pub fn told(&self, units: Units) -> String {
        let piece = |piece: &super::Piece| {
            let loose = if piece.loose { " (not final)" } else { "" };
            format!("{} {}{loose}", piece.name, piece.length.by_tape_exactly(units))
        };
        let pieces: Vec<String> = self.pieces.iter().map(piece).collect();
        format!("{}. {}.", pieces.join("; "), self.left(units))
    }

    /// What is left of it.
    pub fn left(&self, units: Units) -> String {
        if self.offcut > Length::default() {
            format!("{} left", self.offcut.by_tape(units))
        } else {
            "Nothing left".to_owned()
        }
    }
}
