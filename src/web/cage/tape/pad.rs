//! A figure as the pad has it: whole inches and sixteenths, or millimetres.

use crate::quantity::{Length, Typed, Units};
use crate::web::form::Form;

/// What stands on the pad.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Pad {
    /// What stands in the field.
    pub(super) text: String,
    /// The sixteenths chosen beside it; none where the field says it all.
    pub(super) sixteenths: Option<u8>,
}

impl Pad {
    /// A figure taken apart for somebody who reads in these units; as it was typed where the pad could not write it.
    pub(super) fn of(typed: Option<&Typed<Length>>, units: Units) -> Self {
        let Some(typed) = typed else { return Self { text: String::new(), sixteenths: None } };
        if units == Units::Inch && typed.text.ends_with(" in") {
            let parts = typed.value.inches() * 16.0;
            let near = parts.round();
            if (parts - near).abs() < 1e-6 && near.abs() < 1e6 && near >= 0.0 {
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "whole, small, not negative"
                )]
                let near = near as u32;
                let sixteenths = u8::try_from(near % 16).unwrap_or_default();
                return Self { text: (near / 16).to_string(), sixteenths: Some(sixteenths) };
            }
        }
        let unit = if units == Units::Inch { " in" } else { " mm" };
        Self { text: typed.text.strip_suffix(unit).unwrap_or(&typed.text).to_owned(), sixteenths: None }
    }

    /// What a form sent.
    pub(super) fn sent(form: &Form) -> Self {
        let sixteenths = form.text("sixteenths").parse().ok().filter(|parts| *parts < 16);
        Self { text: form.text("value").to_owned(), sixteenths }
    }

    /// The whole figure as it would be typed; empty where there is none.
    ///
    /// # Errors
    /// A sentence where a fraction is both typed and chosen.
    pub(super) fn typed(&self, units: Units) -> Result<String, &'static str> {
        let text = self.text.trim();
        let parts = match self.sixteenths {
            Some(parts) if parts > 0 && units == Units::Inch => parts,
            _ => return Ok(text.to_owned()),
        };
        let by = [8, 4, 2, 1].into_iter().find(|by| parts % by == 0).unwrap_or(1);
        let fraction = format!("{}/{} in", parts / by, 16 / by);
        if text.is_empty() || text == "-" {
            return Ok(format!("{text}{fraction}"));
        }
        let whole = text.trim_start_matches('-');
        if whole.is_empty() || !whole.chars().all(|letter| letter.is_ascii_digit()) {
            return Err("The fraction is typed and chosen: choose “even”, or type whole inches alone.");
        }
        Ok(format!("{text} {fraction}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn pad(text: &str, sixteenths: Option<u8>) -> Pad {
        Pad { text: text.to_owned(), sixteenths }
    }

    #[test]
    fn a_fraction_is_chosen_or_typed_and_not_both() {
        assert_eq!(pad("26", Some(2)).typed(Units::Inch).unwrap(), "26 1/8 in");
        assert_eq!(pad("", Some(12)).typed(Units::Inch).unwrap(), "3/4 in");
        assert_eq!(pad("26 1/8", None).typed(Units::Inch).unwrap(), "26 1/8");
        assert_eq!(pad("26 1/8", Some(0)).typed(Units::Inch).unwrap(), "26 1/8");
        assert_eq!(pad("663", Some(3)).typed(Units::Metric).unwrap(), "663");
        assert!(pad("26 1/8", Some(4)).typed(Units::Inch).is_err());
        assert!(pad("663 mm", Some(4)).typed(Units::Inch).is_err());
    }

    #[test]
    fn what_the_pad_cannot_write_stays_as_typed() {
        let typed = |text, units| Typed::<Length>::read_as(text, units).unwrap();
        assert_eq!(Pad::of(Some(&typed("26 1/8", Units::Inch)), Units::Inch), pad("26", Some(2)));
        assert_eq!(Pad::of(Some(&typed("26.3", Units::Inch)), Units::Inch), pad("26.3", None));
        assert_eq!(Pad::of(Some(&typed("663", Units::Metric)), Units::Inch), pad("663 mm", None));
        assert_eq!(Pad::of(Some(&typed("-1/2", Units::Inch)), Units::Inch), pad("-1/2", None));
        assert_eq!(Pad::of(Some(&typed("663", Units::Metric)), Units::Metric), pad("663", None));
    }

    proptest! {
        /// Whole sixteenths, also below zero, are typed as what they are.
        #[test]
        fn sixteenths_read_as_they_are_chosen(whole in 0..200_u32, parts in 0..16_u8, minus in any::<bool>()) {
            let sign = if minus { "-" } else { "" };
            let text = pad(&format!("{sign}{whole}"), Some(parts)).typed(Units::Inch).unwrap();
            let read = Typed::<Length>::read_as(&text, Units::Inch).unwrap();
            let wanted = f64::from(whole) + f64::from(parts) / 16.0;
            let wanted = if minus { -wanted } else { wanted };
            prop_assert!((read.value.inches() - wanted).abs() < 1e-9, "{text}");
            if !minus {
                prop_assert_eq!(Pad::of(Some(&read), Units::Inch), pad(&whole.to_string(), Some(parts)));
            }
        }
    }
}
