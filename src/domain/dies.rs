//! The shop's bending dies: the tube each is for, its radius, its mark, and what test bends showed of springback.

use serde::{Deserialize, Serialize};

use super::faults::Fault;
use super::ids::DieId;
use super::limits;
use crate::quantity::{Angle, Length, Typed};

/// Most test bends of one die.
pub const TESTS: usize = 20;
/// A die fits a tube and a radius that are its own within this (own choice: dies are made to a tenth).
const FITS: Length = Length::from_mm(0.1);
/// Two test bends nearer than this are one for the line (own choice).
const APART: Angle = Angle::from_degrees(5.0);
/// Slopes that a bender can have: less or more is a slip in what was typed (own choice).
const SLOPE: std::ops::RangeInclusive<f64> = 0.7..=1.1;

/// One test bend: what the bender was set to, and what the tube showed afterwards.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TestBend {
    /// What was set.
    pub set: Typed<Angle>,
    /// What was got.
    pub got: Typed<Angle>,
}

/// A bending die.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Die {
    /// The store's name for it.
    pub id: DieId,
    /// What it is called in the shop.
    pub name: String,
    /// The tube's outside diameter.
    pub outside: Typed<Length>,
    /// The centre-line radius.
    pub radius: Typed<Length>,
    /// From the die's mark to where the bend begins: a mark on the tube stands so much before the bend's start.
    pub offset: Typed<Length>,
    /// Its test bends, oldest first.
    pub tests: Vec<TestBend>,
    /// Counts up with each change, from 1.
    pub version: i64,
}

/// What a set angle rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Springback {
    /// A line through two or more test bends: got = a + b × set, least squares.
    Line {
        /// What is got for nothing set.
        a: Angle,
        /// How much more is got for each degree more.
        b: f64,
    },
    /// The share of one test bend: got / set. Wrong at angles far from it, as springback has a fixed part.
    Share(f64),
}

impl Springback {
    /// What to set for a wanted angle.
    pub fn set_for(self, want: Angle) -> Angle {
        match self {
            Self::Line { a, b } => Angle::from_radians((want - a).radians() / b),
            Self::Share(share) => Angle::from_radians(want.radians() / share),
        }
    }

    /// What it rests on, in a few words.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Line { .. } => "by a line through the test bends",
            Self::Share(_) => "by one test bend: test again near this angle",
        }
    }
}

impl Die {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("name", &self.name);
        let mut within = |at: &str, value: Length, least: f64, most: f64| {
            if !(value >= Length::from_mm(least) && value <= Length::from_mm(most)) {
                faults.push(Fault::new(
                    at,
                    format!("{} fits.", Length::between(Length::from_mm(least), Length::from_mm(most))),
                ));
            }
        };
        within("outside", self.outside.value, 10.0, 100.0);
        within("radius", self.radius.value, 15.0, 1_000.0);
        within("offset", self.offset.value, 0.0, 500.0);
        if self.tests.len() > TESTS {
            faults.push(Fault::new("set", format!("At most {TESTS} test bends of a die.")));
        }
        for test in &self.tests {
            faults.extend(test.faults());
        }
        faults
    }

    /// Whether a bar of this outside diameter, bent to this radius, is bent over it.
    pub fn fits(&self, outside: Length, radius: Length) -> bool {
        (self.outside.value - outside).abs() <= FITS && (self.radius.value - radius).abs() <= FITS
    }

    /// What its test bends show; none before the first.
    pub fn springback(&self) -> Option<Springback> {
        let first = self.tests.first()?;
        // At most twenty: the count is exact.
        let count = f64::from(u32::try_from(self.tests.len()).unwrap_or(u32::MAX));
        let spread = self.tests.iter().any(|test| (test.set.value - first.set.value).abs() >= APART);
        if !spread {
            let share = |test: &TestBend| test.got.value.radians() / test.set.value.radians();
            let mean = self.tests.iter().map(share).sum::<f64>() / count;
            return Some(Springback::Share(mean));
        }
        let mean = |of: &dyn Fn(&TestBend) -> f64| self.tests.iter().map(of).sum::<f64>() / count;
        let (set, got) = (mean(&|test| test.set.value.radians()), mean(&|test| test.got.value.radians()));
        let over = mean(&|test| (test.set.value.radians() - set) * (test.got.value.radians() - got));
        let under = mean(&|test| (test.set.value.radians() - set).powi(2));
        let b = over / under;
        SLOPE.contains(&b).then(|| Springback::Line { a: Angle::from_radians(got - b * set), b })
    }
}

impl TestBend {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let (set, got) = (self.set.value, self.got.value);
        if !(set > Angle::from_degrees(5.0) && set < Angle::from_degrees(175.0)) {
            return vec![Fault::new("set", "A test bend is set to more than 5 and less than 175 degrees.")];
        }
        if got > set {
            return vec![Fault::new(
                "got",
                "A tube springs back: it shows less than was set. Are the two the wrong way round?",
            )];
        }
        if got < set * 0.7 {
            return vec![Fault::new("got", "This is far less than was set. Give the deflection: straight on is 0.")];
        }
        Vec::new()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use uuid::Uuid;

    fn die(tests: &[(f64, f64)]) -> Die {
        let length = |mm: f64| Typed::of(Length::from_mm(mm), format!("{mm} mm"));
        let angle = |degrees: f64| Typed::of(Angle::from_degrees(degrees), degrees.to_string());
        Die {
            id: Uuid::nil().into(),
            name: "4 1/2".to_owned(),
            outside: length(38.1),
            radius: length(114.3),
            offset: length(0.0),
            tests: tests.iter().map(|(set, got)| TestBend { set: angle(*set), got: angle(*got) }).collect(),
            version: 1,
        }
    }

    /// Least squares by numpy polyfit 2.4 and mpmath's normal equations: got = -1.50654205607 + 0.976822429907 set.
    #[test]
    fn the_line_through_four_test_bends() {
        let die = die(&[(20.0, 18.1), (45.0, 42.4), (90.0, 86.3), (120.0, 115.8)]);
        let Some(springback @ Springback::Line { a, b }) = die.springback() else { panic!("a line") };
        assert!((a.degrees() + 1.506_542_056_07).abs() < 1e-9 && (b - 0.976_822_429_907).abs() < 1e-11);
        for (want, set) in [(15.0, 16.898_201_301_2), (60.0, 62.965_939_533_1), (90.0, 93.677_765_021)] {
            assert!((springback.set_for(Angle::from_degrees(want)).degrees() - set).abs() < 1e-8, "{want}");
        }
        assert!(die.faults().is_empty());
    }

    /// By a ratio (*common practice*): 90 set gave 87.3, K = 0.97; for 60 set 61.8556701031.
    #[test]
    fn one_test_bend_gives_its_share() {
        let springback = die(&[(90.0, 87.3)]).springback().unwrap();
        assert!((springback.set_for(Angle::from_degrees(60.0)).degrees() - 61.855_670_103_1).abs() < 1e-8);
        assert!(springback.word().contains("one test bend"));
        assert!(die(&[]).springback().is_none());
    }

    #[test]
    fn what_cannot_be_is_said_where_it_was_typed() {
        let at = |tests: &[(f64, f64)]| die(tests).faults().into_iter().map(|fault| fault.at).collect::<Vec<_>>();
        assert_eq!(at(&[(90.0, 95.0)]), ["got"]);
        assert_eq!(at(&[(90.0, 30.0)]), ["got"]);
        assert_eq!(at(&[(180.0, 170.0)]), ["set"]);
        // Two bends that would make a tube spring forward give no line.
        assert!(die(&[(30.0, 21.5), (90.0, 89.9)]).springback().is_none());
    }
}
