//! The cut plan in words, for screen and paper.

use super::{CutPlan, CutStick, SizePlan};
use crate::domain::shop::saw::Saw;
use crate::quantity::{Length, Units};

impl Saw {
    /// What is counted, in sentences.
    pub fn describe(&self) -> String {
        format!(
            "Counted: {} of kerf for each cut; {} trimmed at each end of a stick that is not sawn yet; {} added to a blank for each cope; \
             {} of straight tube beyond a bend for the bender to hold, what a blank lacks of it added. To buy are sticks \
             of {}. Offcuts of {} and more are kept.",
            self.kerf.text, self.trim.text, self.cope.text, self.grip.text, self.buy.text, self.keep.text
        )
    }
}

fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}

impl SizePlan {
    /// How much is cut into, bought and lost, with the sum shown.
    pub fn describe(&self, units: Units) -> String {
        let bars = self.sticks.iter().map(|stick| stick.pieces.len()).sum();
        format!(
            "{} from {}, {} of them to buy. {} of tube is cut into, {} of it in the bars; {} is offcuts worth keeping, {} \
             is lost to trims, kerf and short ends.",
            counted(bars, "bar", "bars"),
            counted(self.sticks.len(), "stick", "sticks"),
            self.to_buy(),
            self.used().by_tape(units),
            self.cut().by_tape(units),
            self.kept().by_tape(units),
            (self.waste() - self.kept()).by_tape(units)
        )
    }

    /// Whether it can be bettered, and by how much at most where that is not known.
    pub fn describe_proven(&self, units: Units) -> String {
        let standing = &self.standing;
        if standing.is_proven() {
            return "Proven: no plan buys less, and of those that buy as little none cuts into less of the tube. All were \
                    tried or ruled out."
                .to_owned();
        }
        let bought = self.sticks.iter().filter(|stick| stick.stick.is_none()).map(|stick| stick.length).sum::<Length>();
        format!(
            "Not proven: the search ended before all plans were tried or ruled out. At least {} must be bought and {} cut \
             into; this plan buys {} and cuts into {}.",
            standing.least_to_buy().by_tape_at_most(units),
            standing.least_cut_into().by_tape_at_most(units),
            bought.by_tape_at_least(units),
            self.used().by_tape_at_least(units)
        )
    }

    /// Which pieces get no stick, and why.
    pub fn describe_without(&self, units: Units) -> Vec<(String, String)> {
        let describe = |piece: &super::Piece, why: &str| {
            (piece.name.clone(), format!("takes {}: {why}", piece.length.by_tape_at_least(units)))
        };
        let long = self
            .too_long
            .iter()
            .map(|piece| describe(piece, "longer than every stick there is, and than those you buy."));
        let least = if self.standing.is_proven() {
            "longer than a stick you buy, and the shop's longer sticks cannot hold all such pieces."
        } else {
            "longer than a stick you buy, and no way was found to cut it from the shop's longer sticks; whether there is one is \
             not known."
        };
        long.chain(self.no_stick.iter().map(|piece| describe(piece, least))).collect()
    }
}

impl super::Piece {
    /// Its name, its length, and where A is marked on it.
    fn describe(&self, units: Units) -> String {
        let [before, _] = self.more;
        let a = if before > Length::default() {
            format!(", A at {}", before.by_tape_exactly(units))
        } else {
            String::new()
        };
        let loose = if self.loose { " (not final)" } else { "" };
        format!("{} {}{a}{loose}", self.name, self.length.by_saw(units))
    }
}

impl CutPlan {
    /// What is said of the plan wherever it is shown.
    pub const SAID: &str = "A blank is from long point to long point round the bends, from the model. Bends are marked from A, \
the long point of its first end: where A stands in from the end of a piece it is said, and marked first. Write the heat number on every piece \
and every offcut before the saw parts it from the stick's marking. Measure before you cut: the plan follows the model, not the \
car.";

    /// Which sticks were left out, and why; empty where none was.
    pub fn describe_unsure(&self) -> String {
        if self.unsure.is_empty() {
            return String::new();
        }
        format!(
            "Left out: {}. How long a bar was that was cut from it is not recorded, so nobody knows what is left of it.",
            self.unsure.join(", ")
        )
    }
}

impl SizePlan {
    /// That the sticks cut into are of several grades; empty where they are not.
    pub fn describe_grades(&self) -> String {
        let grades = self.grades();
        if grades.len() < 2 {
            return String::new();
        }
        format!("These sticks are of several grades: {}. Ask whether the book allows that.", grades.join(", "))
    }
}

impl CutStick {
    /// Its name, heat and length.
    pub fn named(&self, units: Units) -> String {
        let marks = match &self.stick {
            None => "to buy".to_owned(),
            Some(stick) => {
                let heat =
                    if stick.heat.is_empty() { "no heat number".to_owned() } else { format!("heat {}", stick.heat) };
                if stick.grade.is_empty() { heat } else { format!("{}, {heat}", stick.grade) }
            }
        };
        format!("{}, {marks}, {}", self.name, self.length.by_tape(units))
    }

    /// Its pieces, in the order in which they are cut.
    pub fn describe_pieces(&self, units: Units) -> Vec<String> {
        self.pieces.iter().map(|piece| piece.describe(units)).collect()
    }

    /// What is left of it.
    pub fn left(&self, units: Units) -> String {
        if self.offcut > Length::default() {
            let keep = if self.keep { ", keep it" } else { "" };
            format!("{} left{keep}", self.offcut.by_tape_at_most(units))
        } else {
            "Nothing left".to_owned()
        }
    }
}
