//! What a figure is read with, and the doubt that its step leaves.

use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::amounts::{Amount, Dimension};
use super::measures::Measure;
use crate::quantity::{Angle, Length, Typed, Units};

macro_rules! tools {
    ($($(#[$doc:meta])* $name:ident = $key:literal, $words:literal, $step:expr;)+) => {
        /// A tool with its step. The steps are those that such tools usually have (*common practice*).
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
        #[serde(try_from = "String", into = "String")]
        pub enum Tool {
            $($(#[$doc])* $name,)+
        }

        impl Tool {
            /// All of them.
            pub const ALL: &[Self] = &[$(Self::$name,)+];

            /// Its name in forms, tables and files.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$name => $key,)+ }
            }

            /// The words for it, with its step.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$name => $words,)+ }
            }

            /// Its step; none for what is counted or read off print.
            pub const fn step(self) -> Option<Amount> {
                match self { $(Self::$name => $step,)+ }
            }
        }
    };
}

tools! {
    /// A steel tape in millimetres.
    Tape = "tape-1mm", "tape, 1 mm", Some(Amount::Length(Length::from_mm(1.0)));
    /// A steel tape in sixteenths.
    InchTape = "tape-1/16in", "tape, 1/16 in", Some(Amount::Length(Length::from_inches(0.062_5)));
    /// A caliper to the twentieth of a millimetre.
    Caliper = "caliper-0.05mm", "caliper, 0.05 mm", Some(Amount::Length(Length::from_mm(0.05)));
    /// A caliper to the thousandth of an inch.
    InchCaliper = "caliper-.001in", "caliper, .001 in", Some(Amount::Length(Length::from_inches(0.001)));
    /// An ultrasonic thickness gauge.
    Gauge = "gauge-0.1mm", "ultrasonic gauge, 0.1 mm", Some(Amount::Length(Length::from_mm(0.1)));
    /// The same that shows thousandths of an inch.
    InchGauge = "gauge-.001in", "ultrasonic gauge, .001 in", Some(Amount::Length(Length::from_inches(0.001)));
    /// A digital inclinometer.
    Inclinometer = "inclinometer-0.1deg", "inclinometer, 0.1°", Some(Amount::Angle(Angle::from_degrees(0.1)));
    /// A protractor.
    Protractor = "protractor-1deg", "protractor, 1°", Some(Amount::Angle(Angle::from_degrees(1.0)));
    /// Counted, or read off a paper, a head, a label.
    Print = "print", "counted, or read off print", None;
}

impl FromStr for Tool {
    type Err = String;
    fn from_str(key: &str) -> Result<Self, String> {
        let found = Self::ALL.iter().find(|tool| tool.key() == key);
        found.copied().ok_or_else(|| format!("nothing to measure with is called “{key}”"))
    }
}

impl TryFrom<String> for Tool {
    type Error = String;
    fn try_from(key: String) -> Result<Self, String> {
        key.parse()
    }
}

impl From<Tool> for String {
    fn from(tool: Tool) -> Self {
        tool.key().to_owned()
    }
}

impl Tool {
    /// The tools that a measure can be read with, the usual one first.
    pub fn of(measure: Measure, units: Units) -> Vec<Self> {
        let inch = units == Units::Inch;
        let (tape, caliper, gauge) = if inch {
            (Self::InchTape, Self::InchCaliper, Self::InchGauge)
        } else {
            (Self::Tape, Self::Caliper, Self::Gauge)
        };
        let usual = match (measure, measure.dimension()) {
            (Measure::Roundness | Measure::InspectionHole, _) => caliper,
            (Measure::WallMeasured, _) => gauge,
            (Measure::BoltSize, _) => Self::Print,
            (_, Dimension::Length) => tape,
            (_, Dimension::Angle) => Self::Protractor,
            _ => return vec![Self::Print],
        };
        let of_kind = |tool: &&Self| match tool.step() {
            Some(Amount::Angle(_)) => measure.dimension() == Dimension::Angle,
            Some(_) => measure.dimension() != Dimension::Angle,
            None => measure == Measure::BoltSize,
        };
        let others = Self::ALL.iter().filter(of_kind).copied().filter(|tool| *tool != usual);
        std::iter::once(usual).chain(others).collect()
    }

    /// The tape that a length was read with, by the unit that it was typed in.
    pub(in crate::domain) fn tape_of(typed: &Typed<Length>) -> Self {
        if typed.units() == Units::Inch { Self::InchTape } else { Self::Tape }
    }

    /// One standard deviation of a reading, in the base unit of its step: a rectangle of one step for the reading and one
    /// for where the tool stands at nothing (GUM 4.3.7), as at the weigh-in.
    pub(in crate::domain) fn deviation(self) -> f64 {
        self.step().map_or(0.0, |step| step.in_base_unit() * (2.0_f64 / 12.0).sqrt())
    }
}
