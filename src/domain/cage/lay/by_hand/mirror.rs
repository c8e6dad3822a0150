//! The same bar on the other side of the car.

use crate::domain::cage::lay::numbers::other_side;
use crate::domain::cage::parts::{Cage, Member};
use crate::domain::cage::record::by_hand::{At, Axis, HandBar, Stand};
use crate::domain::cage::record::fittings::Toward;
use crate::domain::cage::record::key_words::words;
use crate::quantity::{Length, Typed};

impl HandBar {
    /// The same bar on the other side, with the next number; none where the bar is its own mirror picture.
    ///
    /// # Errors
    /// A sentence, where the other side lacks a bar it would hang on.
    pub fn mirrored(&self, cage: &Cage) -> Result<Option<Self>, String> {
        let [first, last] = &self.ends;
        let ends = [mirrored(first, cage)?, mirrored(last, cage)?];
        let turned = [ends[1].clone(), ends[0].clone()];
        let own = ends == self.ends || turned == self.ends;
        Ok((!own).then(|| Self { number: self.number.saturating_add(1), ends, ..self.clone() }))
    }
}

/// The bar with this key's other side, or that there is none.
fn there<'c>(key: &str, cage: &'c Cage) -> Result<&'c Member, String> {
    let other = other_side(key);
    let missing = || format!("The other side has no {} for it; keep it on this side alone.", words(&other));
    cage.member_called(&other).ok_or_else(missing)
}

impl At {
    /// The same place on the other side of the car: the bar's key there, and where on it.
    pub(in crate::domain::cage) fn mirrored(&self, on: &str, cage: &Cage) -> Result<(String, Self), String> {
        let carrier = there(on, cage)?;
        // A bar that runs across the car is its own other side, run through the other way.
        let across = carrier.key == on;
        let end = |end: Toward| match (across, end) {
            (true, Toward::Start) => Toward::End,
            (true, Toward::End) => Toward::Start,
            (false, end) => end,
        };
        let at = match self.clone() {
            Self::Middle => Self::Middle,
            Self::FromEnd { end: from, by } => Self::FromEnd { end: end(from), by },
            Self::OverPlate { end: from, by } => Self::OverPlate { end: end(from), by },
            Self::Bend { bend, past } if across => {
                let bend = (carrier.line.bends().len() + 1).saturating_sub(usize::from(bend));
                Self::Bend { bend: u8::try_from(bend).unwrap_or_default(), past: past.as_ref().map(negated) }
            }
            bend @ Self::Bend { .. } => bend,
            Self::Passing { axis: Axis::Left, at, from } => {
                Self::Passing { axis: Axis::Left, at: negated(&at), from: end(from) }
            }
            Self::Passing { axis, at, from } => Self::Passing { axis, at, from: end(from) },
            Self::Meets { bar, from } => Self::Meets { bar: there(&bar, cage)?.key.clone(), from: from.map(end) },
        };
        Ok((carrier.key.clone(), at))
    }
}

fn mirrored(stand: &Stand, cage: &Cage) -> Result<Stand, String> {
    let (on, at) = stand.at.mirrored(&stand.on, cage)?;
    let corner_with = match &stand.corner_with {
        Some(with) => Some(there(with, cage)?.key.clone()),
        None => None,
    };
    Ok(Stand { on, at, corner_with, offset: stand.offset.clone() })
}

/// As it would have been typed on the other side.
pub(in crate::domain::cage) fn negated(typed: &Typed<Length>) -> Typed<Length> {
    let text = typed.text.strip_prefix('-').map_or_else(|| format!("-{}", typed.text), str::to_owned);
    Typed::of(-typed.value, text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;
    use crate::domain::words::roles::MemberRole;
    use glam::DVec3;

    /// On a car whose sides are alike the other bar is the mirror picture of the first, whatever it is hung on.
    #[test]
    fn the_other_side_is_the_mirror_picture() {
        let mut record = example_record();
        let right = |measure: &crate::domain::cage::TapeMeasure| measure.key().ends_with("_right");
        record.measures.retain(|measure, _| !right(measure));
        let inches = |value: f64| Typed::of(Length::from_inches(value), format!("{value} in"));
        let places = [
            ("main-hoop", At::Bend { bend: 2, past: Some(inches(2.0)) }),
            ("main-hoop", At::OverPlate { end: Toward::Start, by: inches(9.0) }),
            ("main-hoop", At::Passing { axis: Axis::Left, at: inches(7.0), from: Toward::Start }),
            ("header", At::FromEnd { end: Toward::Start, by: inches(8.0) }),
            ("half-hoop/left", At::Meets { bar: "header".to_owned(), from: None }),
            ("half-hoop/left", At::Passing { axis: Axis::Up, at: inches(20.0), from: Toward::End }),
        ];
        for (number, (on, at)) in (1..).zip(places) {
            let mut record = record.clone();
            let ends = [Stand::new("backstay/left", At::Middle), Stand::new(on, at)];
            let (name, role) = ("stay".to_owned(), MemberRole::OtherBar);
            let own = HandBar { number, name, role, ends, cut_at_crossings: false };
            record.hand_bars.push(own.clone());
            let twin = own.mirrored(&solve(&record, &TUBES)).unwrap().unwrap();
            assert_eq!(twin.mirrored(&solve(&record, &TUBES)).unwrap().unwrap().ends, own.ends);
            record.hand_bars.push(twin.clone());
            let cage = solve(&record.numbered_for(&TUBES), &TUBES);
            let points = |bar: &HandBar| cage.member_called(&bar.key()).unwrap().line.points().to_vec();
            for (left, right) in points(&own).iter().zip(points(&twin)) {
                assert!((*left * DVec3::new(1.0, -1.0, 1.0)).distance(right) < 0.01, "{on}: {left} {right}");
            }
        }
    }

    /// What lies across the car on its own middle needs no other; what hangs on one side's own bar has no other.
    #[test]
    fn a_bar_with_no_other_side_says_so() {
        let mut record = example_record();
        record.options.door_right = crate::domain::cage::DoorBars::None;
        let cage = solve(&record, &TUBES);
        let bar = |on: &str| {
            let ends = [Stand::new("header", At::Middle), Stand::new(on, At::Middle)];
            HandBar { number: 1, name: "stay".to_owned(), role: MemberRole::OtherBar, ends, cut_at_crossings: false }
        };
        assert_eq!(bar("main-hoop").mirrored(&cage), Ok(None));
        let why = bar("door-bar/left/high").mirrored(&cage).unwrap_err();
        assert!(why.contains("no door bar right high"), "{why}");
    }
}
