//! The measurements of a walk round the car: their order, their words, and which of them are asked for.

use crate::domain::cage::{BasicStructure, CageRecord, Hand, ORDER_OF_MEASURING, TapeMeasure};
use crate::drawing::car::view::View;
use crate::web::cage::groups::Part;

/// A place of the car at which one measures.
pub(super) const AREAS: [Part; 5] = [Part::Hoop, Part::Pillars, Part::Doors, Part::Across, Part::Backstays];

/// All measurements that the bars chosen need, area by area, one on the right behind the same on the left.
pub(super) fn all(record: &CageRecord) -> Vec<TapeMeasure> {
    let needed = || ORDER_OF_MEASURING.iter().copied().filter(|measure| record.options.needs(*measure));
    let of = |area: Part| needed().filter(move |measure| Part::of(*measure) == area);
    let mut all = Vec::new();
    for area in AREAS {
        for measure in of(area).filter(|measure| measure.hand() != Some(Hand::Right)) {
            all.push(measure);
            all.extend(of(area).filter(|other| measure.hand().is_some() && *other == measure.mirrored()));
        }
    }
    all
}

/// Those that one walks to: a right one only where it is not as the left, or where one is sent to it.
pub(super) fn walked(record: &CageRecord, sent_to: Option<TapeMeasure>) -> Vec<TapeMeasure> {
    let own = |measure: &TapeMeasure| {
        measure.hand() != Some(Hand::Right) || record.measures.contains_key(measure) || sent_to == Some(*measure)
    };
    all(record).into_iter().filter(own).collect()
}

/// The walk's word for an area.
pub(super) const fn area_word(area: Part, on: BasicStructure) -> &'static str {
    match area {
        Part::Hoop if on.has_main_hoop() => "Hoop",
        Part::Hoop => "Rear legs",
        Part::Pillars => "Screen",
        Part::Doors => "Doors",
        Part::Across => "Bars",
        _ => "Back",
    }
}

/// What is measured and what of it: `("upper screen corner", "height")`.
fn words(measure: TapeMeasure, on: BasicStructure) -> (String, String) {
    let words = measure.word_in(on);
    let hand = measure.hand().map(|hand| format!(", {}", hand.word())).unwrap_or_default();
    let words = words.strip_suffix(&hand).unwrap_or(&words);
    let (thing, of_it) = words.split_once(": ").unwrap_or((words, ""));
    (thing.to_owned(), of_it.to_owned())
}

/// The name of a measurement, by itself: `Left pillar knee, height`.
pub(super) fn name(measure: TapeMeasure, on: BasicStructure) -> String {
    let (thing, of_it) = words(measure, on);
    let whole = match measure.hand() {
        Some(hand) => format!("{} {thing}, {of_it}", hand.word()),
        None => format!("{thing}, {of_it}"),
    };
    crate::domain::words::wording::capital(&whole)
}

/// The name of the one that follows another: what of it, where it is of the same thing on the same side; else which thing.
pub(super) fn short_after(measure: TapeMeasure, before: TapeMeasure, on: BasicStructure) -> String {
    let ((thing, of_it), (other, _)) = (words(measure, on), words(before, on));
    match (thing == other, measure.hand(), before.hand()) {
        (false, ..) => thing,
        (true, Some(hand), Some(other)) if hand != other => format!("{} side", hand.word()),
        _ => of_it,
    }
}

/// From where one sees it best: from its own side and end of the car, above.
pub(super) const fn seen_from(measure: TapeMeasure) -> View {
    let behind = matches!(
        measure,
        TapeMeasure::BackstayFootBack(_) | TapeMeasure::BackstayFootOut(_) | TapeMeasure::BackstayFootUp(_)
    );
    match (measure.hand(), behind) {
        (Some(Hand::Right), false) => View::Turned(90),
        (Some(Hand::Right), true) => View::Turned(180),
        (_, true) => View::Turned(270),
        _ => View::Isometric,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::example_record;

    #[test]
    fn every_measurement_that_is_needed_is_walked_to_once() {
        let mut record = example_record();
        let all = all(&record);
        for measure in ORDER_OF_MEASURING.iter().filter(|measure| record.options.needs(**measure)) {
            assert_eq!(all.iter().filter(|other| *other == measure).count(), 1, "{measure}");
        }
        record.measures.retain(|measure, _| measure.hand() != Some(Hand::Right));
        let left = walked(&record, None);
        assert!(left.iter().all(|measure| measure.hand() != Some(Hand::Right)));
        let right = TapeMeasure::KneeUp(Hand::Right);
        let sent = walked(&record, Some(right));
        let at = sent.iter().position(|measure| *measure == right).unwrap();
        assert_eq!(sent.get(at - 1), Some(&right.mirrored()));
        assert_eq!(sent.len(), left.len() + 1);
    }

    #[test]
    fn names_say_side_and_thing() {
        let on = BasicStructure::HalfHoops;
        let knee = TapeMeasure::KneeUp(Hand::Left);
        assert_eq!(name(knee, on), "Left pillar knee, height");
        assert_eq!(short_after(knee, TapeMeasure::KneeOut(Hand::Left), on), "height");
        assert_eq!(short_after(knee.mirrored(), knee, on), "right side");
        assert_eq!(short_after(knee, TapeMeasure::HoopLean, on), "pillar knee");
    }
}
