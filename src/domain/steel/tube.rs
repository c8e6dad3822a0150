//! Tube sizes and what a section gives: area, stiffness, mass per length.

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use crate::domain::words::faults::Fault;
use crate::domain::words::limits;
use crate::quantity::{Area, FromTyped, Length, Mass, Units, Unreadable};

/// Density of steel, kg per mm³ (7850 kg/m³, EN 10219-2 Annex B).
pub(in crate::domain) const STEEL_KG_PER_MM3: f64 = 7.85e-6;

/// A round tube's size, as printed in a book or on a stick.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TubeSize {
    /// Outside diameter.
    pub outside: Length,
    /// Wall thickness.
    pub wall: Length,
    /// The unit it is printed in; inch and metric pairs are separate sizes, not conversions.
    pub printed: Units,
}

impl TubeSize {
    /// In words, with the grade of its steel where that was said.
    pub fn of_grade(&self, grade: Option<&String>) -> String {
        grade.map_or_else(|| self.to_string(), |grade| format!("{self}, {grade}"))
    }

    /// A size in inches: `TubeSize::inch(1.5, 0.120)`.
    pub const fn inch(outside: f64, wall: f64) -> Self {
        Self { outside: Length::from_inches(outside), wall: Length::from_inches(wall), printed: Units::Inch }
    }

    /// A size in millimetres.
    pub const fn metric(outside: f64, wall: f64) -> Self {
        Self { outside: Length::from_mm(outside), wall: Length::from_mm(wall), printed: Units::Metric }
    }

    /// What is wrong with it as a tube, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        let within = |value: Length, bounds: (Length, Length)| value >= bounds.0 && value <= bounds.1;
        if !within(self.outside, limits::OUTSIDE) {
            let fits = Length::between(limits::OUTSIDE.0, limits::OUTSIDE.1);
            faults.push(Fault::new("outside", format!("An outside diameter is {fits}.")));
        }
        if !within(self.wall, limits::WALL) {
            faults.push(Fault::new("wall", format!("A wall is {}.", Length::between(limits::WALL.0, limits::WALL.1))));
        }
        if faults.is_empty() && self.wall * 2.0 >= self.outside {
            faults.push(Fault::new("wall", "The wall is so thick that no bore is left."));
        }
        faults
    }

    /// The same, each at one field where the whole size is typed.
    pub fn faults_at(&self, at: &str) -> Vec<Fault> {
        self.faults().into_iter().map(|fault| Fault::new(at, fault.why)).collect()
    }

    /// True when both its figures reach the other's.
    pub fn reaches(&self, least: &Self) -> bool {
        self.outside >= least.outside && self.wall >= least.wall
    }

    /// Inside diameter.
    pub fn inside(&self) -> Length {
        self.outside - self.wall * 2.0
    }

    /// Area of the steel: π/4 (D² − d²).
    pub fn area(&self) -> Area {
        let (outer, inner) = (self.outside.mm(), self.inside().mm());
        Area::from_mm2(PI / 4.0 * (outer * outer - inner * inner))
    }

    /// Mass of a length of it.
    pub fn mass(&self, length: Length) -> Mass {
        Mass::from_kg(self.area().mm2() * length.mm() * STEEL_KG_PER_MM3)
    }
}

/// Longest text that is given back to who typed it, in characters.
const GIVEN_BACK: usize = 60;

impl FromTyped for TubeSize {
    /// Outside diameter and wall with an x between: `1 1/2 x .120`, `45 x 2.5 mm`. One unit stands for both figures;
    /// without one a fraction is inches, and else the reader's unit counts.
    fn from_typed_as(text: &str, units: Units) -> Result<Self, Unreadable> {
        let refused = |because: &str| Unreadable {
            typed: text.trim().chars().take(GIVEN_BACK).collect(),
            wanted: "a tube size",
            example: "1 1/2 x .120 in or 45 x 2.5 mm",
            because: Some(because.to_owned()),
        };
        let small = text.to_lowercase();
        let printed = match (says_mm(&small), says_inch(&small) || has_fraction(&small)) {
            (true, _) if says_inch(&small) => return Err(refused("both its figures are in inches or both in mm")),
            (true, _) => Units::Metric,
            (false, true) => Units::Inch,
            (false, false) => units,
        };
        let figures: Vec<&str> = small.split(['x', '×', '*']).collect();
        let [outside, wall] = figures.as_slice() else {
            return Err(refused("outside diameter and wall are wanted, with an x between"));
        };
        let read = |figure: &str| {
            Length::from_typed_as(figure, printed).map_err(|no| refused(&no.because.unwrap_or_default()))
        };
        Ok(Self { outside: read(outside)?, wall: read(wall)?, printed })
    }

    fn unit_meant(text: &str, units: Units) -> Result<&'static str, Unreadable> {
        let small = text.to_lowercase();
        Ok(match units {
            _ if says_mm(&small) || says_inch(&small) => "",
            Units::Metric if !has_fraction(&small) => " mm",
            _ => " in",
        })
    }

    fn written(&self) -> String {
        let tidy = |value: f64| format!("{value:.6}").trim_end_matches('0').trim_end_matches('.').to_owned();
        match self.printed {
            Units::Inch => format!("{} × {} in", tidy(self.outside.inches()), tidy(self.wall.inches())),
            Units::Metric => format!("{} × {} mm", tidy(self.outside.mm()), tidy(self.wall.mm())),
        }
    }
}

fn says_mm(small: &str) -> bool {
    small.contains("mm")
}

fn says_inch(small: &str) -> bool {
    small.contains(['"', '″']) || small.contains("in")
}

fn has_fraction(small: &str) -> bool {
    small.contains(['/', '¼', '½', '¾', '⅛', '⅜', '⅝', '⅞'])
}

impl std::fmt::Display for TubeSize {
    /// As a stick is called: `1.5 × .120 in`, `45 × 2.5 mm`.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let tidy = |value: f64| {
            let text = format!("{value:.4}");
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        };
        match self.printed {
            Units::Inch => {
                let wall = format!("{:.3}", self.wall.inches());
                write!(f, "{} × {} in", tidy(self.outside.inches()), wall.strip_prefix('0').unwrap_or(&wall))
            }
            Units::Metric => write!(f, "{} × {} mm", tidy(self.outside.mm()), tidy(self.wall.mm())),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_reads_as_it_is_printed_on_sticks() {
        let inch = TubeSize::inch(1.5, 0.120);
        for text in ["1.5 x .120 in", "1 1/2 x .120", "1½ × 0.120", "1.5\" X .120\"", "1.5 × .120 in"] {
            assert_eq!(TubeSize::from_typed(text), Ok(inch), "{text}");
        }
        assert_eq!(TubeSize::from_typed_as("1.5 x .12", Units::Inch), Ok(inch));
        for text in ["45 x 2.5", "45 mm x 2.5 mm", "45*2.5 mm", "4.5 cm x 2.5 mm"] {
            assert_eq!(TubeSize::from_typed(text), Ok(TubeSize::metric(45.0, 2.5)), "{text}");
        }
    }

    #[test]
    fn what_is_no_size_is_refused_in_words() {
        for text in ["", "45", "45 x", "45 x 2 x 6000", "1.5 in x 2.5 mm", "thick x thin"] {
            assert!(TubeSize::from_typed(text).is_err(), "{text}");
        }
        let long = TubeSize::from_typed(&"9".repeat(4_000)).unwrap_err().to_string();
        assert!(long.len() < 300, "{long}");
    }
}
