//! Kit: seats, belts, bottles; what their labels show, and which of their dates cannot all be true.

pub mod life;
pub mod moves;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::domain::book::kinds::{KitRule, LabelField};
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::KitId;
use crate::domain::words::label_dates::LabelDate;
use crate::domain::words::limits;

/// What a label on an item shows.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Label {
    /// The standard, as printed.
    pub standard: String,
    /// The serial number, as printed.
    pub serial: String,
    /// When it was made.
    pub made: Option<LabelDate>,
    /// The end printed on it, itself still good.
    pub ends_printed: Option<LabelDate>,
    /// When it was last filled, checked or certified again.
    pub checked: Option<LabelDate>,
}

impl Label {
    /// The fields a book asks for that this label does not show.
    pub fn missing(&self, asked: &[LabelField]) -> Vec<LabelField> {
        let shows = |field: &LabelField| match field {
            LabelField::Standard => !self.standard.trim().is_empty(),
            LabelField::Serial => !self.serial.trim().is_empty(),
            LabelField::Made => self.made.is_some(),
            LabelField::Printed => self.ends_printed.is_some(),
            LabelField::Checked => self.checked.is_some(),
        };
        asked.iter().copied().filter(|field| !shows(field)).collect()
    }

    /// Its dates in words, those it shows: "made 2025-06", "ends 2027".
    pub fn dates(&self) -> Vec<String> {
        let dates = [("made", self.made), ("ends", self.ends_printed), ("checked", self.checked)];
        dates.into_iter().filter_map(|(word, date)| Some(format!("{word} {}", date?))).collect()
    }

    /// What its dates contradict, each under the field to look at again: a making or a check after the last day on which
    /// it can have been, a check before the making, a printed end before the making.
    pub fn contradictions(&self, last: Date) -> Vec<Contradiction> {
        let mut found = Vec::new();
        for (field, date, done) in
            [(LabelField::Made, self.made, "made"), (LabelField::Checked, self.checked, "checked")]
        {
            if let Some(date) = date.filter(|date| date.surely_after(last)) {
                found.push(Contradiction { field, why: format!("It says {done} {date}, which is after {last}.") });
            }
        }
        if let (Some(made), Some(checked)) = (self.made, self.checked)
            && made.surely_after(checked.last_day())
        {
            let why = format!("It says checked {checked}, before it was made, {made}.");
            found.push(Contradiction { field: LabelField::Checked, why });
        }
        if let (Some(made), Some(ends)) = (self.made, self.ends_printed)
            && made.surely_after(ends.last_day())
        {
            let why = format!("It says that it ends {ends}, before it was made, {made}.");
            found.push(Contradiction { field: LabelField::Printed, why });
        }
        found
    }

    /// True when its standard is among those a rule speaks of; the writing's case and spaces do not matter.
    pub fn accepted(&self, rule: &KitRule) -> bool {
        let plain = |text: &str| text.to_lowercase().split_whitespace().collect::<String>();
        let mine = plain(&self.standard);
        rule.standards.is_empty() || rule.standards.iter().any(|standard| plain(standard) == mine)
    }
}

/// Two dates of a label that cannot both be true, or one that cannot have been yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Contradiction {
    /// The date to look at again.
    pub field: LabelField,
    /// What it says, in a sentence.
    pub why: String,
}

/// An item of kit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KitItem {
    /// The store's name for it.
    pub id: KitId,
    /// K1, K2 … in the build.
    pub number: u32,
    /// What it is, in the book's word: `belts`, `seat`.
    pub item: String,
    /// Its label.
    pub label: Label,
    /// Its second label, where it has two.
    pub second_label: Option<Label>,
    /// What else there is to say.
    pub note: String,
    /// Counts up with each change, from 1.
    pub version: i64,
}

impl KitItem {
    /// What is wrong with it as it is typed on a day, if anything.
    pub fn faults(&self, today: Date) -> Vec<Fault> {
        let mut faults = limits::title_faults("item", &self.item);
        faults.extend(limits::text_faults("note", &self.note));
        for (begins, label) in ["", "second_"].iter().zip(std::iter::once(&self.label).chain(&self.second_label)) {
            faults.extend(limits::text_faults(&format!("{begins}standard"), &label.standard));
            faults.extend(limits::text_faults(&format!("{begins}serial"), &label.serial));
            faults.extend(label.contradictions(today).into_iter().map(|found| {
                let field = match found.field {
                    LabelField::Printed => "ends_printed",
                    other => other.word(),
                };
                Fault::new(format!("{begins}{field}"), format!("{} Look at the label again.", found.why))
            }));
        }
        faults
    }
}

/// An item as it is entered.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct NewItem {
    /// What it is, in the book's word.
    pub item: String,
    /// Its label.
    pub label: Label,
    /// Its second label, where it has two.
    pub second_label: Option<Label>,
    /// What else there is to say.
    pub note: String,
}

impl NewItem {
    /// The item with its number, as it is recorded.
    pub fn numbered(self, id: KitId, number: u32, version: i64) -> KitItem {
        let Self { item, label, second_label, note } = self;
        KitItem { id, number, item: item.trim().to_owned(), label, second_label, note: note.trim().to_owned(), version }
    }
}
