//! Reading a stress as certificates print it: a decimal number and its unit.

use super::kinds::short;
use super::{FromTyped, Stress, Units, Unreadable};

/// The units of a stress with their size in newtons per square millimetre, longest name first.
const UNITS: [(&[&str], f64); 3] = [
    (&["N/mm²", "N/mm2", "MPa"], 1.0),
    (&["ksi"], super::base::MPA_PER_KSI),
    (&["psi"], super::base::MPA_PER_KSI / 1000.0),
];

impl FromTyped for Stress {
    /// A bare number is newtons per square millimetre; for a reader in inches it is ksi.
    fn from_typed_as(text: &str, units: Units) -> Result<Self, Unreadable> {
        let text = text.trim();
        let lower = text.to_lowercase();
        let with = UNITS.iter().find_map(|(names, size)| {
            let number = names.iter().find_map(|name| lower.strip_suffix(&name.to_lowercase()))?;
            Some((number.trim_end().to_owned(), *size))
        });
        let bare = if units == Units::Inch { super::base::MPA_PER_KSI } else { 1.0 };
        let (number, size) = with.unwrap_or((lower, bare));
        let number = if between_thousands(&number) { number.replace(',', "") } else { number.replace(',', ".") };
        let plain = !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
        let value = number.parse::<f64>().ok().filter(|value| plain && value.is_finite());
        value.map(|value| Self::from_mpa(value * size)).ok_or_else(|| Unreadable {
            typed: text.chars().take(40).collect(),
            wanted: "a strength",
            example: "60 ksi or 415 MPa",
            because: None,
        })
    }

    fn unit_meant(text: &str, units: Units) -> Result<&'static str, Unreadable> {
        let bare = text.trim().bytes().all(|byte| byte.is_ascii_digit() || b".,".contains(&byte));
        Ok(match (bare, units) {
            (false, _) => "",
            (true, Units::Inch) => " ksi",
            (true, Units::Metric) => " N/mm²",
        })
    }

    fn written(&self) -> String {
        format!("{} N/mm²", short(self.mpa(), 6))
    }
}

/// True when every comma has three digits behind it, as certificates print 60,000 psi; any other stands for the point.
fn between_thousands(number: &str) -> bool {
    let whole = number.split_once('.').map_or(number, |(whole, _)| whole);
    whole.split(',').skip(1).all(|group| group.len() == 3)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Show;

    #[test]
    fn strengths_read_in_the_units_of_certificates() {
        // 1 psi = 6 894.757 Pa: NIST Special Publication 811, appendix B.8
        for (text, units, wanted) in [
            ("420 N/mm²", Units::Inch, Some(420.0)),
            ("420 MPa", Units::Inch, Some(420.0)),
            ("420", Units::Metric, Some(420.0)),
            ("60 ksi", Units::Metric, Some(413.685_4)),
            ("60", Units::Inch, Some(413.685_4)),
            ("60,000 psi", Units::Metric, Some(413.685_4)),
            ("62,5 ksi", Units::Metric, Some(430.922_3)),
            ("62,5,1 ksi", Units::Metric, None),
            ("-5", Units::Metric, None),
            ("1e3", Units::Metric, None),
            ("", Units::Metric, None),
        ] {
            let read = Stress::from_typed_as(text, units).ok().map(Stress::mpa);
            match (read, wanted) {
                (Some(read), Some(wanted)) => assert!((read - wanted).abs() < 1e-3, "{text}: {read}"),
                (read, wanted) => assert_eq!(read, wanted, "{text}"),
            }
        }
        assert_eq!(Stress::from_mpa(350.0).show(Units::Metric), "350 N/mm²");
        assert_eq!(Stress::from_ksi(60.0).show(Units::Inch), "60 ksi");
    }
}
