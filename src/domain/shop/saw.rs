//! How a shop cuts its tube: what the saw takes, what is added to a blank, and how long a stick is bought.

use serde::{Deserialize, Serialize};

use crate::domain::cage::{End, Member};
use crate::domain::words::faults::Fault;
use crate::domain::words::limits;
use crate::geometry::Cope;
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
    /// The straight tube that the bender must hold beyond a bend: where a blank has less, so much is added there.
    pub grip: Typed<Length>,
    /// How long a stick is that is bought.
    pub buy: Typed<Length>,
    /// An offcut at least so long is worth keeping.
    pub keep: Typed<Length>,
}

impl Default for Saw {
    /// What is taken until a shop states its own: 3 mm of kerf, sticks of 20 ft and offcuts of a foot kept (*common
    /// practice*, all three), and nothing trimmed or added.
    fn default() -> Self {
        let typed = |text: &str, value: Length| Typed::of(value, text);
        let nothing = || typed("0 mm", Length::default());
        Self {
            kerf: typed("3 mm", Length::from_mm(3.0)),
            trim: nothing(),
            cope: nothing(),
            grip: nothing(),
            buy: typed("20 ft", Length::from_inches(240.0)),
            keep: typed("12 in", Length::from_inches(12.0)),
        }
    }
}

impl Saw {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let bounds = [
            ("kerf", &self.kerf, limits::KERF, "A saw takes with each cut"),
            ("trim", &self.trim, limits::TRIM, "What is trimmed at each end of a stick is"),
            ("cope", &self.cope, limits::COPE_MORE, "What is added for each cope is"),
            ("grip", &self.grip, limits::GRIP, "The tube that a bender holds is"),
            ("buy", &self.buy, limits::BOUGHT, "The length of a stick that is bought is"),
            ("keep", &self.keep, limits::KEPT, "The shortest offcut kept is"),
        ];
        let within = |value: Length, (least, most): (Length, Length)| value >= least && value <= most;
        let wrong = bounds.into_iter().filter(|(_, typed, bounds, _)| !within(typed.value, *bounds));
        let describe = |(least, most)| Length::between(least, most);
        wrong.map(|(at, _, bounds, why)| Fault::new(at, format!("{why} {}.", describe(bounds)))).collect()
    }

    /// What is added to a bar's blank before its first long point and after its last: for a cope, and where the straight
    /// beyond a bend is less than the bender holds.
    pub fn more(&self, bar: &Member) -> [Length; 2] {
        let (straights, bent) = (bar.line.straights(), !bar.line.bends().is_empty());
        let at = |end: Option<&End>, cope: Option<&Option<Cope>>, straight: Option<&Length>| {
            let coped = if matches!(end, Some(End::Onto { .. })) { self.cope.value } else { Length::default() };
            let cut = cope.and_then(Option::as_ref).map_or(Length::default(), Cope::long_point);
            let there = straight.copied().unwrap_or_default() - cut;
            let short = if bent { self.grip.value - there } else { Length::default() };
            if short > coped { short } else { coped }
        };
        [
            at(bar.ends.first(), bar.copes.first(), straights.first()),
            at(bar.ends.last(), bar.copes.last(), straights.last()),
        ]
    }

    /// What a bar takes of a stick, the kerf apart: its blank and what is added.
    pub fn piece(&self, bar: &Member) -> Length {
        bar.cut_length + self.more(bar).into_iter().sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::files::solved;
    use crate::domain::work::fabrication::{BarSheet, Bench};

    #[test]
    fn figures_out_of_bounds_are_named() {
        let mm = |value: f64| Typed::of(Length::from_mm(value), format!("{value} mm"));
        let saw = Saw {
            kerf: mm(12.0),
            trim: mm(-1.0),
            cope: mm(103.0),
            grip: mm(f64::NAN),
            buy: mm(999.0),
            keep: mm(3100.0),
        };
        let at: Vec<String> = saw.faults().into_iter().map(|fault| fault.at).collect();
        assert_eq!(at, ["kerf", "trim", "cope", "grip", "buy", "keep"]);
        assert_eq!(Saw::default().faults(), []);
    }

    /// The bend sheet's mark, without a die, is the straight from the cut end to the first bend.
    #[test]
    fn the_bender_gets_the_straight_that_a_blank_lacks_at_each_end() {
        let mm = |value: f64| Typed::of(Length::from_mm(value), format!("{value} mm"));
        let cage = solved(include_str!("../../../static/cage-file-measured.json")).unwrap();
        let (mut added, mut enough) = (0, 0);
        for (grip, bar) in [400.0, 800.0].into_iter().flat_map(|grip| cage.members.iter().map(move |bar| (grip, bar))) {
            let saw = Saw { cope: mm(5.0), grip: mm(grip), ..Saw::default() };
            let sheet = BarSheet::of(&cage, bar, &Bench::default());
            let coped = bar.ends.map(|end| if matches!(end, End::Onto { .. }) { 5.0 } else { 0.0 });
            let [before, after] = saw.more(bar).map(Length::mm);
            let (Some(first), Some(last)) = (sheet.bends.first(), sheet.bends.last()) else {
                assert!(before.total_cmp(&coped[0]).is_eq() && after.total_cmp(&coped[1]).is_eq(), "{}", bar.key);
                continue;
            };
            let tail = bar.cut_length.mm() - (last.mark + last.arc).mm();
            for (more, straight, coped) in [(before, first.mark.mm(), coped[0]), (after, tail, coped[1])] {
                assert!((more - (grip - straight).max(coped)).abs() < 1e-6, "{}: {more} {straight}", bar.key);
                if more > coped { added += 1 } else { enough += 1 }
            }
        }
        assert!(added > 0 && enough > 0, "{added} {enough}");
    }
}
