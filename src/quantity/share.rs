//! Reading and printing a part of a whole: `95 %`, or `0.95`.

use super::kinds::short;
use super::{FromTyped, Share, Show, Units, Unreadable};

/// Longest text that is looked at.
const LONGEST: usize = 20;

impl FromTyped for Share {
    /// With a percent sign or as a number up to 1; a bare 95 could be either and is refused.
    fn from_typed_as(text: &str, _: Units) -> Result<Self, Unreadable> {
        let refused = |because: &str| Unreadable {
            typed: text.trim().chars().take(LONGEST).collect(),
            wanted: "a share",
            example: "95 % or 0.95",
            because: Some(because.to_owned()),
        };
        let text = text.trim();
        if text.is_empty() {
            return Err(refused("nothing was typed"));
        }
        let (number, whole) = text.strip_suffix('%').map_or((text, 1.0), |number| (number.trim_end(), 100.0));
        let plain =
            number.len() <= LONGEST && number.bytes().all(|byte| byte.is_ascii_digit() || b".,".contains(&byte));
        let read = number.replace(',', ".").parse::<f64>().ok().filter(|_| plain);
        let value = read.ok_or_else(|| refused("it is no number"))?;
        if whole < 100.0 && value > 1.0 {
            return Err(refused("a number over 1 wants its percent sign"));
        }
        Ok(Self::from_ratio(value / whole))
    }

    /// None: 0.95 is no less of a share than 95 %.
    fn unit_meant(_: &str, _: Units) -> Result<&'static str, Unreadable> {
        Ok("")
    }

    fn written(&self) -> String {
        format!("{} %", short(self.ratio() * 100.0, 7))
    }
}

impl Show for Share {
    /// In percent with one decimal at most.
    fn show(&self, _: Units) -> String {
        let text = format!("{:.1}", self.ratio() * 100.0);
        format!("{} %", text.strip_suffix(".0").unwrap_or(&text))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_reads_with_its_sign_or_up_to_one() {
        for (text, shown) in
            [("95 %", "95 %"), ("0.95", "95 %"), ("0,955", "95.5 %"), ("12.5%", "12.5 %"), ("1", "100 %")]
        {
            assert_eq!(Share::from_typed(text).map(|share| share.show(Units::Inch)), Ok(shown.to_owned()), "{text}");
        }
        for text in ["", "%", "95", "-1 %", "1e3 %", "1.2.3", "a quarter"] {
            assert!(Share::from_typed(text).is_err(), "{text}");
        }
    }
}
