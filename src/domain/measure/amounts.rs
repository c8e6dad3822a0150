//! A quantity of some kind, and which kinds there are.

use std::cmp::Ordering;

use serde::{Deserialize, Serialize};

use super::bolts::BoltGrade;
use crate::quantity::{Angle, Area, Length, Mass, Show, Stress, Units};

/// A quantity of some kind.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Amount {
    /// A length.
    Length(Length),
    /// A mass.
    Mass(Mass),
    /// An angle.
    Angle(Angle),
    /// An area.
    Area(Area),
    /// A share or a ratio, without a unit.
    Ratio(f64),
    /// How many.
    Count(u32),
    /// A share of the mass, in hundredths, as certificates print it.
    Percent(f64),
    /// A strength.
    Stress(Stress),
    /// A bolt's grade.
    Grade(BoltGrade),
}

/// Ratios are compared after rounding to this many steps, as the quantities are.
const RATIO_STEPS: f64 = 1e9;

impl Amount {
    /// What kind of quantity it is.
    pub const fn dimension(self) -> Dimension {
        match self {
            Self::Length(_) => Dimension::Length,
            Self::Mass(_) => Dimension::Mass,
            Self::Angle(_) => Dimension::Angle,
            Self::Area(_) => Dimension::Area,
            Self::Ratio(_) => Dimension::Ratio,
            Self::Count(_) => Dimension::Count,
            Self::Percent(_) => Dimension::Percent,
            Self::Stress(_) => Dimension::Stress,
            Self::Grade(_) => Dimension::Grade,
        }
    }

    /// The number of base units (mm, kg, radian, mm², N/mm², hundredths, or none).
    pub fn in_base_unit(self) -> f64 {
        match self {
            Self::Length(length) => length.mm(),
            Self::Mass(mass) => mass.kg(),
            Self::Angle(angle) => angle.radians(),
            Self::Area(area) => area.mm2(),
            Self::Ratio(ratio) => ratio,
            Self::Count(count) => f64::from(count),
            Self::Percent(share) => share,
            Self::Stress(stress) => stress.mpa(),
            Self::Grade(grade) => grade.number(),
        }
    }

    /// Which of two amounts is more; none when they are not of a kind, or no numbers.
    pub fn compare(self, other: Self) -> Option<Ordering> {
        match (self, other) {
            (Self::Length(one), Self::Length(two)) => one.partial_cmp(&two),
            (Self::Mass(one), Self::Mass(two)) => one.partial_cmp(&two),
            (Self::Angle(one), Self::Angle(two)) => one.partial_cmp(&two),
            (Self::Area(one), Self::Area(two)) => one.partial_cmp(&two),
            (Self::Ratio(one), Self::Ratio(two)) | (Self::Percent(one), Self::Percent(two)) => {
                (one * RATIO_STEPS).round().partial_cmp(&(two * RATIO_STEPS).round())
            }
            (Self::Count(one), Self::Count(two)) => Some(one.cmp(&two)),
            (Self::Stress(one), Self::Stress(two)) => one.partial_cmp(&two),
            (Self::Grade(one), Self::Grade(two)) => one.compare(two),
            _ => None,
        }
    }

    /// How far one amount is from another, without a sign; none when they are not of a kind.
    pub fn apart(self, other: Self) -> Option<Self> {
        match (self, other) {
            (Self::Length(one), Self::Length(two)) => Some(Self::Length((one - two).abs())),
            (Self::Mass(one), Self::Mass(two)) => Some(Self::Mass((one - two).abs())),
            (Self::Angle(one), Self::Angle(two)) => Some(Self::Angle((one - two).abs())),
            (Self::Area(one), Self::Area(two)) => Some(Self::Area((one - two).abs())),
            (Self::Ratio(one), Self::Ratio(two)) => Some(Self::Ratio((one - two).abs())),
            (Self::Count(one), Self::Count(two)) => Some(Self::Count(one.abs_diff(two))),
            (Self::Percent(one), Self::Percent(two)) => Some(Self::Percent((one - two).abs())),
            (Self::Stress(one), Self::Stress(two)) => Some(Self::Stress((one - two).abs())),
            _ => None,
        }
    }

    /// True when it is a number at all.
    pub fn is_finite(self) -> bool {
        match self {
            Self::Length(length) => length.is_finite(),
            Self::Mass(mass) => mass.is_finite(),
            Self::Angle(angle) => angle.is_finite(),
            Self::Area(area) => area.is_finite(),
            Self::Ratio(ratio) | Self::Percent(ratio) => ratio.is_finite(),
            Self::Stress(stress) => stress.is_finite(),
            Self::Count(_) | Self::Grade(_) => true,
        }
    }
}

/// A limit as the book prints it, and as an amount where it is one.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LimitText {
    /// "at least 12 in²".
    pub text: String,
    /// The edge that the figure was compared with.
    pub amount: Option<Amount>,
    /// The least allowed of this part, where it is an amount: it goes into a drawing, the text says it.
    #[serde(skip)]
    pub least: Option<Amount>,
    /// The most allowed, likewise.
    #[serde(skip)]
    pub most: Option<Amount>,
}

impl LimitText {
    /// A limit that is no single amount.
    pub(in crate::domain) fn words(text: impl Into<String>) -> Self {
        Self { text: text.into(), amount: None, least: None, most: None }
    }
}

impl Show for Amount {
    /// A length as a tape shows it, where it does: `3/16 in`.
    fn show(&self, units: Units) -> String {
        match self {
            Self::Length(length) => length.show(units),
            other => other.show_finer(units, 0),
        }
    }

    fn show_finer(&self, units: Units, more: u32) -> String {
        match self {
            Self::Length(length) => length.show_finer(units, more),
            Self::Mass(mass) => mass.show_finer(units, more),
            Self::Angle(angle) => angle.show_finer(units, more),
            Self::Area(area) => area.show_finer(units, more),
            Self::Ratio(ratio) => format!("{ratio:.*}", 3 + more as usize),
            Self::Count(count) => count.to_string(),
            Self::Percent(share) => format!("{share:.*} %", 2 + more as usize),
            Self::Stress(stress) => stress.show_finer(units, more),
            Self::Grade(grade) => grade.to_string(),
        }
    }
}

/// What kind of quantity a measure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dimension {
    /// A length.
    Length,
    /// A mass.
    Mass,
    /// An angle.
    Angle,
    /// An area.
    Area,
    /// No unit.
    Ratio,
    /// How many.
    Count,
    /// A share of the mass, in hundredths.
    Percent,
    /// A strength.
    Stress,
    /// A bolt's grade.
    Grade,
}

impl Dimension {
    /// The unit of a figure in base units; empty for what is counted, a quotient or a grade.
    pub const fn base_unit(self) -> &'static str {
        match self {
            Self::Length => "mm",
            Self::Mass => "kg",
            Self::Angle => "rad",
            Self::Area => "mm²",
            Self::Stress => "N/mm²",
            Self::Percent => "%",
            Self::Ratio | Self::Count | Self::Grade => "",
        }
    }

    /// So many base units of it (mm, kg, radian, mm², N/mm², hundredths, or none).
    pub fn of_base_unit(self, value: f64) -> Amount {
        match self {
            Self::Length => Amount::Length(Length::from_mm(value)),
            Self::Mass => Amount::Mass(Mass::from_kg(value)),
            Self::Angle => Amount::Angle(Angle::from_radians(value)),
            Self::Area => Amount::Area(Area::from_mm2(value)),
            Self::Ratio => Amount::Ratio(value),
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to what fits")]
            Self::Count => Amount::Count(value.clamp(0.0, f64::from(u32::MAX)) as u32),
            Self::Percent => Amount::Percent(value),
            Self::Stress => Amount::Stress(Stress::from_mpa(value)),
            Self::Grade => Amount::Grade(BoltGrade::of_number(value)),
        }
    }
}
