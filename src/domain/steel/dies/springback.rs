//! What test bends show of springback, and what to set for a wanted angle.

use super::TestBend;
use crate::quantity::Angle;

/// Two test bends nearer than this are one for the line (own choice).
const APART: Angle = Angle::from_degrees(5.0);
/// Slopes that a bender can have: less or more is a slip in what was typed (own choice).
const SLOPE: std::ops::RangeInclusive<f64> = 0.7..=1.1;
/// How far beyond the angles got in test bends their line is followed (own choice).
const LINE_REACHES: Angle = Angle::from_degrees(5.0);
/// How far from the angle got in one test bend its share is taken (own choice).
const SHARE_REACHES: Angle = Angle::from_degrees(30.0);

/// What test bends of one wall show.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Springback {
    rests_on: RestsOn,
    /// The least and the greatest angle got.
    tested: (Angle, Angle),
}

/// What a set angle rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RestsOn {
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

/// What to set for one bend.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setting {
    /// What the bender is set to: never less than the angle wanted.
    pub angle: Angle,
    rests_on: RestsOn,
    /// The least and the greatest angle got in the test bends.
    tested: (Angle, Angle),
    /// Whether the wanted angle is outside of them.
    beyond: bool,
}

impl Springback {
    /// Of these test bends, all of one wall; none before the first, and none where they contradict each other.
    pub fn of(tests: &[&TestBend]) -> Option<Self> {
        let first = tests.first()?;
        let got = || tests.iter().map(|test| test.got.value);
        let least = got().fold(first.got.value, |least, one| if one < least { one } else { least });
        let most = got().fold(first.got.value, |most, one| if one > most { one } else { most });
        // At most twenty: the count is exact.
        let count = f64::from(u32::try_from(tests.len()).unwrap_or(u32::MAX));
        let mean = |of: &dyn Fn(&TestBend) -> f64| tests.iter().map(|test| of(test)).sum::<f64>() / count;
        let spread = tests.iter().any(|test| (test.set.value - first.set.value).abs() >= APART);
        let rests_on = if spread {
            let (set, got) = (mean(&|test| test.set.value.radians()), mean(&|test| test.got.value.radians()));
            let over = mean(&|test| (test.set.value.radians() - set) * (test.got.value.radians() - got));
            let under = mean(&|test| (test.set.value.radians() - set).powi(2));
            let b = over / under;
            SLOPE.contains(&b).then(|| RestsOn::Line { a: Angle::from_radians(got - b * set), b })?
        } else {
            RestsOn::Share(mean(&|test| test.got.value.radians() / test.set.value.radians()))
        };
        Some(Self { rests_on, tested: (least, most) })
    }

    /// What to set for a wanted angle. Near the angles tested by the line or the share; further away the springback found
    /// at the edge is kept, as neither says anything there. A tube springs back and never on: what is set is never less
    /// than what is wanted.
    pub fn set_for(&self, want: Angle) -> Setting {
        let reaches = match self.rests_on {
            RestsOn::Line { .. } => LINE_REACHES,
            RestsOn::Share(_) => SHARE_REACHES,
        };
        let (least, most) = (self.tested.0 - reaches, self.tested.1 + reaches);
        let near = if want < least {
            least
        } else if want > most {
            most
        } else {
            want
        };
        let set = match self.rests_on {
            RestsOn::Line { a, b } => Angle::from_radians((near - a).radians() / b),
            RestsOn::Share(share) => Angle::from_radians(near.radians() / share),
        };
        let back = if set > near { set - near } else { Angle::default() };
        let beyond = want < self.tested.0 || want > self.tested.1;
        Setting { angle: want + back, rests_on: self.rests_on, tested: self.tested, beyond }
    }

    /// What it rests on.
    pub const fn rests_on(&self) -> RestsOn {
        self.rests_on
    }

    /// What it rests on, and for which angles it was tested, in a few words.
    pub fn describe(&self) -> String {
        let (least, most) = (self.tested.0.to_the_tenth(), self.tested.1.to_the_tenth());
        match self.rests_on {
            RestsOn::Line { .. } => format!(
                "by a line through the test bends from {least} to {most}; outside of these the springback at their edge is kept"
            ),
            RestsOn::Share(_) => {
                format!("by one test bend that gave {most}: wrong far from it, test again near the angle you want")
            }
        }
    }
}

impl Setting {
    /// What it rests on, in a few words.
    pub fn describe(&self) -> String {
        let (least, most) = (self.tested.0.to_the_tenth(), self.tested.1.to_the_tenth());
        match (self.rests_on, self.beyond) {
            (RestsOn::Line { .. }, false) => format!("by a line through the test bends from {least} to {most}"),
            (RestsOn::Line { .. }, true) => {
                format!("outside the angles tested, {least} to {most}: bend a piece of the same tube first")
            }
            (RestsOn::Share(_), _) => format!("by one test bend that gave {most}: test again near this angle"),
        }
    }

    /// Whether the angle wanted lies outside of those that were tested.
    pub const fn is_beyond(&self) -> bool {
        self.beyond
    }
}
