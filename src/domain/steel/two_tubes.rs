//! Two tubes side by side: what each section gives, how strong and how stiff the one is against the other.
//!
//! Information for who asks a body or an engineer. It decides nothing: most books fix the sizes and allow no other.

use std::f64::consts::PI;

use super::tube::TubeSize;
use crate::domain::words::faults::Fault;
use crate::quantity::{Length, Stress};

/// The yield strengths that a steel's certificate may say (own choice: beyond them a figure is a slip).
const YIELDS: (Stress, Stress) = (Stress::from_mpa(100.0), Stress::from_mpa(1_500.0));
/// Up to this wall the first figure of a steel holds; over it the second.
const THICK: Length = Length::from_inches(0.188);

/// What is wrong with a yield strength that was typed in this field.
pub fn yield_fault(at: &str, strength: Stress) -> Option<Fault> {
    let (least, most) = YIELDS;
    let describe = |bound: Stress| format!("{:.0} MPa ({:.0} ksi)", bound.mpa(), bound.ksi());
    let why = || format!("A yield strength is between {} and {}.", describe(least), describe(most));
    (strength < least || strength > most).then(|| Fault::new(at, why()))
}

/// A steel whose least yield strength a standard prints.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Steel {
    /// Its name in addresses.
    pub key: &'static str,
    /// What it is.
    pub words: &'static str,
    /// Where the figure stands.
    pub source: &'static str,
    /// At least this, up to a wall of .188 in.
    least: Stress,
    /// At least this, over it.
    thick: Stress,
}

const A513: &str = "ASTM A513, least tensile properties of round tubing, as reproduced by a distributor";
const AIRCRAFT: &str = "AMS 6360, condition N; from memory";

const fn steel(key: &'static str, words: &'static str, ksi: f64) -> Steel {
    Steel { key, words, source: A513, least: Stress::from_ksi(ksi), thick: Stress::from_ksi(ksi) }
}

/// The steels offered. A typical value is not among them: a good tube is stronger than its standard's least.
pub const STEELS: [Steel; 10] = [
    steel("1020-drawn", "1020, drawn over a mandrel", 60.0),
    steel("1020-relieved", "1020, drawn over a mandrel, stress relieved", 55.0),
    steel("1026-drawn", "1026, drawn over a mandrel", 70.0),
    steel("1026-relieved", "1026, drawn over a mandrel, stress relieved", 65.0),
    steel("1015-drawn", "1015, drawn over a mandrel", 55.0),
    steel("1020-welded", "1020, as welded", 38.0),
    steel("1010-welded", "1010, as welded", 32.0),
    steel("4130-normalized", "4130, welded and normalized", 50.0),
    steel("4130-drawn", "4130, welded, drawn over a mandrel", 85.0),
    Steel {
        key: "4130-aircraft",
        words: "4130, seamless, normalized (condition N)",
        source: AIRCRAFT,
        least: Stress::from_ksi(75.0),
        thick: Stress::from_ksi(70.0),
    },
];

impl Steel {
    /// The steel of a name.
    pub fn called(key: &str) -> Option<&'static Self> {
        STEELS.iter().find(|steel| steel.key == key)
    }

    /// Its least yield strength in a tube of this wall.
    pub fn least(&self, wall: Length) -> Stress {
        if wall > THICK { self.thick } else { self.least }
    }
}

/// What a round section gives against bending (EN 10219-2 Annex B, circular sections).
impl TubeSize {
    /// Second moment of area, π/64 (D⁴ − d⁴), mm⁴.
    pub fn second_moment(&self) -> f64 {
        let (outer, inner) = (self.outside.mm(), self.inside().mm());
        PI / 64.0 * (outer.powi(4) - inner.powi(4))
    }

    /// Elastic section modulus, 2 I / D, mm³.
    pub fn section_modulus(&self) -> f64 {
        2.0 * self.second_moment() / self.outside.mm()
    }

    /// Radius of gyration, √(D² + d²) / 4.
    pub fn gyration(&self) -> Length {
        Length::from_mm(self.outside.mm().hypot(self.inside().mm()) / 4.0)
    }
}

/// A tube and its steel's yield strength.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rated {
    /// The size.
    pub tube: TubeSize,
    /// What its steel yields at.
    pub strength: Stress,
}

/// What the second tube has of what the first has: 1 is as much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Against {
    /// Bending strength: yield times section modulus.
    pub strength: f64,
    /// Stiffness: E times second moment; E is the same for all steels, so that the second moments alone count.
    pub stiffness: f64,
    /// Mass of the same length.
    pub mass: f64,
}

/// The second tube against the first.
pub fn against(first: &Rated, second: &Rated) -> Against {
    let bends_at = |rated: &Rated| rated.strength.mpa() * rated.tube.section_modulus();
    Against {
        strength: bends_at(second) / bends_at(first),
        stiffness: second.tube.second_moment() / first.tube.second_moment(),
        mass: second.tube.area() / first.tube.area(),
    }
}

/// A ratio in figures: one more digit for as long as rounding would make less look like as much, or more.
pub fn describe_ratio(ratio: f64) -> String {
    let digits = (2..=6).find(|digits| {
        let shown: f64 = format!("{ratio:.digits$}").parse().unwrap_or(ratio);
        (ratio - 1.0).abs() < 1e-9 || (shown < 1.0) == (ratio < 1.0) && (shown > 1.0) == (ratio > 1.0)
    });
    let digits = digits.unwrap_or(6);
    format!("{ratio:.digits$}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{FromTyped as _, Units};

    #[test]
    fn a_strength_reads_as_certificates_print_it() {
        let read = |text: &str, units| {
            let read = Stress::from_typed_as(text, units).map_err(|unreadable| unreadable.to_string())?;
            yield_fault("yield", read).map_or(Ok(read), |fault| Err(fault.why))
        };
        for (text, mpa) in
            [("60 ksi", 413.685), ("60", 413.685), ("415 MPa", 415.0), ("355 N/mm²", 355.0), ("62,5ksi", 430.922)]
        {
            let read = read(text, Units::Inch).unwrap();
            assert!((read.mpa() - mpa).abs() < 0.001, "{text}: {}", read.mpa());
        }
        assert_eq!(read("415", Units::Metric), Ok(Stress::from_mpa(415.0)));
        for text in ["", "strong", "-60 ksi", "6e1", "5 ksi", "60000 MPa", "60 kg", &"9".repeat(4_000)] {
            let why = read(text, Units::Inch).unwrap_err();
            assert!(why.len() < 200, "{text}");
        }
    }

    #[test]
    fn a_ratio_never_looks_like_as_much_when_it_is_not() {
        assert_eq!(describe_ratio(0.992), "0.99");
        assert_eq!(describe_ratio(0.998), "0.998");
        assert_eq!(describe_ratio(1.0004), "1.0004");
        assert_eq!(describe_ratio(1.0), "1.00");
    }
}
