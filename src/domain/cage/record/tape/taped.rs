//! One measurement as somebody takes it at the car, while others may take others.

use crate::domain::cage::record::cage_record::CageRecord;
use crate::domain::cage::record::measures::{Hand, TapeMeasure};
use crate::quantity::{Length, Typed};

/// A measurement taken, and what stood there when it was.
#[derive(Debug, Clone, PartialEq)]
pub struct Taped {
    /// What was measured.
    pub measure: TapeMeasure,
    /// What the tape said.
    pub value: Typed<Length>,
    /// The text that stood there; empty where nobody had measured it.
    pub before: String,
    /// Of one on the left: the right side is said to be the same, so that a measurement of its own there goes.
    pub right_the_same: bool,
}

/// Somebody else wrote another figure there meanwhile: this one, in the words it was typed in; empty where they took theirs away.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Overtaken(pub String);

impl Taped {
    /// The record with it; none where the record says it already.
    ///
    /// # Errors
    /// [`Overtaken`] where neither what stood there nor this figure stands there now.
    pub fn set_in(&self, record: &CageRecord) -> Result<Option<CageRecord>, Overtaken> {
        let now = record.measures.get(&self.measure);
        let same = now.is_some_and(|now| now.value == self.value.value);
        let text = now.map_or("", |now| &now.text);
        if !same && text != self.before {
            return Err(Overtaken(text.to_owned()));
        }
        let mut with = record.clone();
        if !same {
            with.measures.insert(self.measure, self.value.clone());
        }
        if self.right_the_same && self.measure.hand() == Some(Hand::Left) {
            with.measures.remove(&self.measure.mirrored());
        }
        Ok((with != *record).then_some(with))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn taped(text: &str, before: &str) -> Taped {
        Taped {
            measure: TapeMeasure::KneeUp(Hand::Left),
            value: Typed::read(text).unwrap(),
            before: before.to_owned(),
            right_the_same: false,
        }
    }

    #[test]
    fn a_figure_is_set_once_and_not_over_anothers() {
        let empty = CageRecord::default();
        let with = taped("650", "").set_in(&empty).unwrap().unwrap();
        assert_eq!(with.measure(TapeMeasure::KneeUp(Hand::Left)), Some(Length::from_mm(650.0)));
        // Sent twice, it is there already, whatever the phone knew.
        assert_eq!(taped("650", "").set_in(&with), Ok(None));
        assert_eq!(taped("660", "").set_in(&with), Err(Overtaken("650 mm".to_owned())));
        assert!(taped("660", "650 mm").set_in(&with).unwrap().is_some());
        assert_eq!(taped("660", "650 mm").set_in(&empty), Err(Overtaken(String::new())));
    }

    #[test]
    fn the_right_side_is_the_same_only_when_it_is_said() {
        let own = TapeMeasure::KneeUp(Hand::Right);
        let mut record = CageRecord::default();
        record.measures.insert(own, Typed::read("655").unwrap());
        let apart = taped("650", "").set_in(&record).unwrap().unwrap();
        assert_eq!(apart.measure(own), Some(Length::from_mm(655.0)));
        let alike = Taped { right_the_same: true, ..taped("650", "") }.set_in(&record).unwrap().unwrap();
        assert_eq!(alike.measure(own), Some(Length::from_mm(650.0)));
    }
}
