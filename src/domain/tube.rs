//! Tube sizes and what a section gives: area, stiffness, mass per length.

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use super::faults::Fault;
use crate::quantity::{Area, Length, Mass, Units};

/// Density of steel, kg per mm³ (7850 kg/m³, EN 10219-2 Annex B).
const STEEL_KG_PER_MM3: f64 = 7.85e-6;
/// Thinnest and thickest tube and wall a cage shop handles (*common practice*).
const OUTSIDE: (Length, Length) = (Length::from_mm(10.0), Length::from_mm(100.0));
const WALL: (Length, Length) = (Length::from_mm(0.5), Length::from_mm(10.0));

/// A round tube's size, as printed in a book or on a stick.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TubeSize {
    /// Outside diameter.
    pub outside: Length,
    /// Wall thickness.
    pub wall: Length,
    /// The unit it is printed in; inch and metric pairs are separate sizes, not conversions.
    pub printed: Units,
}

impl TubeSize {
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
        if !within(self.outside, OUTSIDE) {
            faults.push(Fault::new("outside", "An outside diameter is between 10 and 100 mm (3/8 to 4 in)."));
        }
        if !within(self.wall, WALL) {
            faults.push(Fault::new("wall", "A wall is between 0.5 and 10 mm (.020 to .394 in)."));
        }
        if faults.is_empty() && self.wall * 2.0 >= self.outside {
            faults.push(Fault::new("wall", "The wall is so thick that no bore is left."));
        }
        faults
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
