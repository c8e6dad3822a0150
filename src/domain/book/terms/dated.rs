//! Of cars of which age a rule is asked, and whether this car is one of them.

use jiff::civil::Date;

use crate::domain::words::car_dates::{CarDate, CarDates};

use super::fields::Fields;

/// Of cars of which age a rule is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AppliesWhen {
    /// Which date of the car counts.
    pub car: CarDate,
    /// From this day on, the day itself among them.
    pub from: Option<Date>,
    /// Before this day.
    pub before: Option<Date>,
}

impl AppliesWhen {
    pub(in crate::domain::book) fn read(fields: &Fields<'_>) -> Option<Self> {
        let car = fields.word("car", &CarDate::ALL.map(|date| (date.word(), date)));
        let (from, before) = (fields.day_maybe("from"), fields.day_maybe("before"));
        if !fields.has("from") && !fields.has("before") {
            fields.slip("", "No day is given from or before which cars are meant.", "Give “from”, “before” or both.");
        }
        if let (Some(from), Some(before)) = (from, before)
            && from >= before
        {
            fields.slip("before", "No day lies between these two.", "Make “before” later than “from”.");
        }
        fields.finish();
        Some(Self { car: car?, from, before })
    }

    /// Whether a car of these dates is meant; none while its date is not known, or not to the day that decides.
    pub fn holds(&self, car: &CarDates) -> Option<bool> {
        let date = car.of(self.car)?;
        let inside =
            |day: Date| self.from.is_none_or(|from| day >= from) && self.before.is_none_or(|before| day < before);
        let (first, last) = (inside(date.first_day()), inside(date.last_day()));
        // A year or a month that lies on both sides of an edge does not say on which side the car is.
        let edges = [self.from, self.before].into_iter().flatten();
        let cut = edges.into_iter().any(|edge| date.first_day() < edge && edge <= date.last_day());
        (!cut).then_some(first && last)
    }

    /// In words: "homologated from 2005-01-01 on and before 2017-01-01".
    pub fn text(&self) -> String {
        let from = self.from.map(|from| format!("from {from} on"));
        let before = self.before.map(|before| format!("before {before}"));
        format!("{} {}", self.car.word(), from.into_iter().chain(before).collect::<Vec<_>>().join(" and "))
    }
}
