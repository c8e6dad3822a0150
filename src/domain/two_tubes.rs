//! Two tubes side by side: what each section gives, how strong and how stiff the one is against the other.
//!
//! Information for who asks a body or an engineer. It decides nothing: most books fix the sizes and allow no other.

use std::f64::consts::PI;

use super::faults::Fault;
use super::tube::TubeSize;
use crate::quantity::{Length, Units};

/// Newtons per mm² in a thousand pounds on a square inch (pound and inch exact, standard gravity 9.80665 m/s²).
const MPA_PER_KSI: f64 = 6.894_757_293_168_361;
/// The yield strengths that a steel's certificate may say (own choice: beyond them a figure is a slip), N/mm².
const YIELDS: (f64, f64) = (100.0, 1_500.0);
/// Up to this wall the first figure of a steel holds; over it the second.
const THICK: Length = Length::from_inches(0.188);

/// A yield strength.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Yield(f64);

impl Yield {
    /// From N/mm².
    pub const fn from_mpa(value: f64) -> Self {
        Self(value)
    }

    /// From thousands of pounds on a square inch.
    pub const fn from_ksi(value: f64) -> Self {
        Self(value * MPA_PER_KSI)
    }

    /// As N/mm².
    pub const fn mpa(self) -> f64 {
        self.0
    }

    /// As thousands of pounds on a square inch.
    pub const fn ksi(self) -> f64 {
        self.0 / MPA_PER_KSI
    }

    /// Reads what a certificate says: `60 ksi`, `415 MPa`, `415 N/mm²`; a bare number in the reader's unit.
    pub fn read(text: &str, units: Units) -> Result<Self, String> {
        let small = text.trim().to_lowercase().replace(',', ".");
        let refused = || format!("“{}” does not read as a strength. Try 60 ksi or 415 MPa.", short(text));
        let cut = |word: &str| small.strip_suffix(word).map(str::trim_end);
        let metric = cut("mpa").or_else(|| cut("n/mm2")).or_else(|| cut("n/mm²"));
        let (number, inch) = match (metric, cut("ksi")) {
            (Some(number), _) => (number, false),
            (None, Some(number)) => (number, true),
            (None, None) => (small.as_str(), units == Units::Inch),
        };
        let plain = number.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
        let value: f64 = number.parse().ok().filter(|_| plain && number.len() <= 12).ok_or_else(refused)?;
        let read = if inch { Self::from_ksi(value) } else { Self::from_mpa(value) };
        if read.mpa() < YIELDS.0 || read.mpa() > YIELDS.1 {
            let (least, most) = (Self(YIELDS.0), Self(YIELDS.1));
            return Err(format!("A yield strength is between {} and {}.", least.both(), most.both()));
        }
        Ok(read)
    }

    fn both(self) -> String {
        format!("{:.0} MPa ({:.0} ksi)", self.mpa(), self.ksi())
    }

    /// In the reader's unit.
    pub fn show(self, units: Units) -> String {
        match units {
            Units::Inch => format!("{:.1} ksi", self.ksi()),
            Units::Metric => format!("{:.0} MPa", self.mpa()),
        }
    }
}

fn short(text: &str) -> String {
    text.trim().chars().take(40).collect()
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
    least: Yield,
    /// At least this, over it.
    thick: Yield,
}

const A513: &str = "ASTM A513, least tensile properties of round tubing, as reproduced by a distributor";
const AIRCRAFT: &str = "AMS 6360, condition N; from memory";

const fn steel(key: &'static str, words: &'static str, ksi: f64) -> Steel {
    Steel { key, words, source: A513, least: Yield::from_ksi(ksi), thick: Yield::from_ksi(ksi) }
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
        least: Yield::from_ksi(75.0),
        thick: Yield::from_ksi(70.0),
    },
];

impl Steel {
    /// The steel of a name.
    pub fn called(key: &str) -> Option<&'static Self> {
        STEELS.iter().find(|steel| steel.key == key)
    }

    /// Its least yield strength in a tube of this wall.
    pub fn least(&self, wall: Length) -> Yield {
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
    pub strength: Yield,
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
pub fn ratio_told(ratio: f64) -> String {
    let digits = (2..=6).find(|digits| {
        let shown: f64 = format!("{ratio:.digits$}").parse().unwrap_or(ratio);
        (ratio - 1.0).abs() < 1e-9 || (shown < 1.0) == (ratio < 1.0) && (shown > 1.0) == (ratio > 1.0)
    });
    let digits = digits.unwrap_or(6);
    format!("{ratio:.digits$}")
}

/// What is wrong with a tube size that was typed in this field.
pub fn size_faults(at: &str, tube: &TubeSize) -> Vec<Fault> {
    tube.faults().into_iter().map(|fault| Fault::new(at, fault.why)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_strength_reads_as_certificates_print_it() {
        for (text, mpa) in
            [("60 ksi", 413.685), ("60", 413.685), ("415 MPa", 415.0), ("355 N/mm²", 355.0), ("62,5ksi", 430.922)]
        {
            let read = Yield::read(text, Units::Inch).unwrap();
            assert!((read.mpa() - mpa).abs() < 0.001, "{text}: {}", read.mpa());
        }
        assert_eq!(Yield::read("415", Units::Metric), Ok(Yield::from_mpa(415.0)));
        for text in ["", "strong", "-60 ksi", "6e1", "5 ksi", "60000 MPa", "60 kg", &"9".repeat(4_000)] {
            let why = Yield::read(text, Units::Inch).unwrap_err();
            assert!(why.len() < 200, "{text}");
        }
    }

    #[test]
    fn a_ratio_never_looks_like_as_much_when_it_is_not() {
        assert_eq!(ratio_told(0.992), "0.99");
        assert_eq!(ratio_told(0.998), "0.998");
        assert_eq!(ratio_told(1.0004), "1.0004");
        assert_eq!(ratio_told(1.0), "1.00");
    }
}
