//! How a shop cuts its tube: what the saw takes, what is added to a blank, and how long a stick is bought.

use serde::{Deserialize, Serialize};

use super::cage::{End, Member};
use super::faults::Fault;
use super::limits;
use crate::quantity::{Length, Typed};

/// What is counted beside the blanks, as the shop states it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Saw {
    /// What the saw takes with each cut.
    pub kerf: Typed<Length>,
    /// What is cut away at each end of every stick, that cut's kerf in it.
    pub trim: Typed<Length>,
    /// What is added to a blank at each end with a cope.
    pub cope: Typed<Length>,
    /// What is added to the blank of a bent bar, for the bender to hold.
    pub grip: Typed<Length>,
    /// How long a stick is that is bought.
    pub buy: Typed<Length>,
}

impl Default for Saw {
    /// What is taken until a shop states its own: 3 mm of kerf and sticks of 20 ft (*common practice*, both), and nothing
    /// trimmed or added.
    fn default() -> Self {
        let typed = |text: &str, value: Length| Typed { value, text: text.to_owned() };
        let nothing = || typed("0 mm", Length::default());
        Self {
            kerf: typed("3 mm", Length::from_mm(3.0)),
            trim: nothing(),
            cope: nothing(),
            grip: nothing(),
            buy: typed("20 ft", Length::from_inches(240.0)),
        }
    }
}

impl Saw {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let bounds = [
            ("kerf", &self.kerf, limits::KERF, "A saw takes between 0 and 10 mm with each cut (up to .400 in)."),
            ("trim", &self.trim, limits::TRIM, "Between 0 and 300 mm is trimmed at each end of a stick (up to 12 in)."),
            ("cope", &self.cope, limits::COPE_MORE, "Between 0 and 100 mm is added for each cope (up to 4 in)."),
            ("grip", &self.grip, limits::GRIP, "Between 0 and 1.5 m is added for the bender (up to 59 in)."),
            ("buy", &self.buy, limits::BOUGHT, "A stick is bought between 1 and 15 m long (40 in to 49 ft)."),
        ];
        let within = |value: Length, (least, most): (Length, Length)| value >= least && value <= most;
        let wrong = bounds.into_iter().filter(|(_, typed, bounds, _)| !within(typed.value, *bounds));
        wrong.map(|(at, _, _, why)| Fault::new(at, why)).collect()
    }

    /// What is added to a bar's blank.
    pub fn more(&self, bar: &Member) -> Length {
        let copes = bar.ends.iter().filter(|end| matches!(end, End::Onto { .. }));
        let coped: Length = copes.map(|_| self.cope.value).sum();
        if bar.line.bends().is_empty() { coped } else { coped + self.grip.value }
    }

    /// What a bar takes of a stick, the kerf apart: its blank and what is added.
    pub fn piece(&self, bar: &Member) -> Length {
        bar.cut_length + self.more(bar)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_out_of_bounds_are_named() {
        let mm = |value: f64| Typed { value: Length::from_mm(value), text: format!("{value} mm") };
        let saw = Saw { kerf: mm(12.0), trim: mm(-1.0), cope: mm(103.0), grip: mm(f64::NAN), buy: mm(999.0) };
        let at: Vec<String> = saw.faults().into_iter().map(|fault| fault.at).collect();
        assert_eq!(at, ["kerf", "trim", "cope", "grip", "buy"]);
        assert_eq!(Saw::default().faults(), []);
    }
}
