//! Bolts: their grades by the two standards that shops meet, and their sizes as printed on them.

use std::cmp::Ordering;
use std::fmt;

use serde::{Deserialize, Serialize};

use crate::quantity::{FromTyped, Length, Units};

/// Property classes of ISO 898-1:2013, table 1, in tenths.
const ISO: [u16; 9] = [46, 48, 56, 58, 68, 88, 98, 109, 129];
/// Grades of SAE J429 that are marked on heads (*from memory*).
const INCH: [u16; 3] = [2, 5, 8];

/// A bolt's grade. Grades of two standards are not compared: which one stands in for which is the scrutineer's.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BoltGrade {
    /// A property class of ISO 898-1, in tenths: 88 is 8.8.
    Iso(u16),
    /// A grade of SAE J429.
    Inch(u16),
}

/// How a grade of SAE J429 stands as one number beside the property classes: so much is added.
const INCH_FROM: f64 = 100.0;

impl BoltGrade {
    /// Reads `8.8`, `10.9`, `grade 5`.
    pub fn read(text: &str) -> Option<Self> {
        let text = text.trim().to_lowercase();
        if let Some(number) = text.strip_prefix("grade") {
            return number.trim().parse().ok().filter(|grade| INCH.contains(grade)).map(Self::Inch);
        }
        let (whole, tenth) = text.split_once('.')?;
        let tenths = whole.parse::<u16>().ok()?.checked_mul(10)?.checked_add(tenth.parse().ok()?)?;
        ISO.contains(&tenths).then_some(Self::Iso(tenths))
    }

    /// Which of two grades of one standard is more; none when they are of two.
    pub fn compare(self, other: Self) -> Option<Ordering> {
        match (self, other) {
            (Self::Iso(one), Self::Iso(two)) | (Self::Inch(one), Self::Inch(two)) => Some(one.cmp(&two)),
            _ => None,
        }
    }

    /// As one number for a column of figures: 8.8, or 105 for grade 5.
    pub fn number(self) -> f64 {
        match self {
            Self::Iso(tenths) => f64::from(tenths) / 10.0,
            Self::Inch(grade) => INCH_FROM + f64::from(grade),
        }
    }

    /// The grade that stands as this number; the lowest there is for any other, so that a damaged row is never a strong bolt.
    pub fn of_number(number: f64) -> Self {
        let iso = ISO.map(Self::Iso);
        let all = iso.into_iter().chain(INCH.map(Self::Inch));
        all.into_iter().find(|grade| (grade.number() - number).abs() < 1e-6).unwrap_or(Self::Iso(46))
    }
}

impl fmt::Display for BoltGrade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Iso(tenths) => write!(f, "{}.{}", tenths / 10, tenths % 10),
            Self::Inch(grade) => write!(f, "grade {grade}"),
        }
    }
}

/// A bolt's nominal diameter, from `M8` or a length as typed.
pub fn size(text: &str, units: Units) -> Option<Length> {
    metric(text).or_else(|| Length::from_typed_as(text, units).ok())
}

/// The diameter that a metric thread is named by: `M8`.
pub fn metric(text: &str) -> Option<Length> {
    let number = text.trim().strip_prefix(['M', 'm'])?.parse::<u16>().ok()?;
    Some(Length::from_mm(f64::from(number)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grades_read_as_they_are_printed_and_two_standards_are_not_compared() {
        for (text, wanted) in [
            ("8.8", Some(BoltGrade::Iso(88))),
            ("10.9", Some(BoltGrade::Iso(109))),
            (" Grade 5 ", Some(BoltGrade::Inch(5))),
            ("8", None),
            ("8.88", None),
            ("7.7", None),
            ("grade 4", None),
        ] {
            assert_eq!(BoltGrade::read(text), wanted, "{text}");
        }
        for grade in ISO.map(BoltGrade::Iso).into_iter().chain(INCH.map(BoltGrade::Inch)) {
            assert_eq!(BoltGrade::of_number(grade.number()), grade);
            assert_eq!(BoltGrade::read(&grade.to_string()), Some(grade));
        }
        assert_eq!(BoltGrade::Iso(109).compare(BoltGrade::Iso(88)), Some(Ordering::Greater));
        assert_eq!(BoltGrade::Inch(5).compare(BoltGrade::Iso(88)), None);
        assert_eq!(size("M8", Units::Inch), Some(Length::from_mm(8.0)));
        assert_eq!(size("3/8", Units::Inch), Some(Length::from_inches(0.375)));
        assert_eq!(size("Mx", Units::Inch), None);
    }
}
