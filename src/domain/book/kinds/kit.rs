//! An item of kit: accepted standards, what its label must show, and how long it lasts.

use crate::domain::book::Rule;
use crate::domain::book::terms::fields::Fields;
use crate::domain::book::terms::words::words;

/// Longest life that a book may give, in years.
const LONGEST: u32 = 50;

words!(
    /// From when a life counts.
    CountsFrom {
        /// From when it was made.
        Made = "made",
        /// The end is printed on it.
        Printed = "printed",
        /// From when it was last filled or checked.
        Checked = "checked",
    }
);

words!(
    /// When in its last year a life ends.
    Ends {
        /// On the very day.
        Day = "day",
        /// On the last day of that month.
        MonthEnd = "month end",
        /// On 31 December.
        YearEnd = "year end",
        /// On the last day of what the label shows: of its month, or of its year where it shows only a year.
        LabelEnd = "label end",
    }
);

words!(
    /// Something a label shows.
    LabelField {
        /// The standard.
        Standard = "standard",
        /// The serial number.
        Serial = "serial",
        /// When it was made.
        Made = "made",
        /// The printed end.
        Printed = "printed",
        /// When it was last filled or checked.
        Checked = "checked",
    }
);

words!(
    /// What two labels on one item mean.
    TwoLabels {
        /// The later end counts.
        Later = "later",
        /// Each must be in date.
        Each = "each",
    }
);

/// What an item of kit must be.
#[derive(Debug, Clone, PartialEq)]
pub struct KitRule {
    /// What every rule carries.
    pub rule: Rule,
    /// Which item: `belts`, `seat`.
    pub item: String,
    /// The standards this rule speaks of; any, when empty.
    pub standards: Vec<String>,
    /// How long it lasts, in years, beside an end that is printed on it; the printed end alone counts, when none.
    pub life_years: u32,
    /// From when the life counts; only an end that is printed on it ends it, when none.
    pub counts_from: Option<CountsFrom>,
    /// When in its last year it ends. A date that shows less than this counts from its first day.
    pub ends: Ends,
    /// Whether the last day itself is good.
    pub included: bool,
    /// Years that the body adds.
    pub extend_years: u32,
    /// What the label must show.
    pub label_fields: Vec<LabelField>,
    /// What two labels mean; the book does not say, when none.
    pub two_labels: Option<TwoLabels>,
}

impl KitRule {
    /// True when an item of this name is one that it speaks of.
    pub fn speaks_of(&self, item: &str) -> bool {
        item.trim().to_lowercase() == self.item.to_lowercase()
    }

    pub(in crate::domain::book) fn read(fields: &Fields<'_>) -> Option<Self> {
        let rule = Rule::read(fields);
        let item = fields.title("item");
        let standards = fields.texts("standards");
        let life_years = fields.whole_maybe("life_years", LONGEST);
        let counts_from = fields.word_maybe("counts_from", CountsFrom::WORDS);
        let ends = fields.word_maybe("ends", Ends::WORDS).unwrap_or(Ends::Day);
        let included = fields.flag("included", true);
        let extend_years = fields.whole_maybe("extend_years", LONGEST).unwrap_or(0);
        let label_fields = fields.words("label_fields", LabelField::WORDS);
        let two_labels = fields.word_maybe("two_labels", TwoLabels::WORDS);
        match counts_from {
            Some(CountsFrom::Made | CountsFrom::Checked) if life_years.is_none() && !fields.has("life_years") => {
                fields.slip("counts_from", "A life is counted, but not said.", "Give “life_years”.");
            }
            Some(CountsFrom::Printed) if life_years.is_some() => {
                let wanted = "Leave “life_years” out, or write counts_from = \"made\".";
                fields.slip("life_years", "The end is printed, so no life is counted.", wanted);
            }
            None if life_years.is_some() && !fields.has("counts_from") => {
                let wanted = "Write counts_from = \"made\" or \"checked\".";
                fields.slip("life_years", "A life is given, but not from when it counts.", wanted);
            }
            _ => {}
        }
        fields.finish();
        Some(Self {
            rule: rule?,
            item: item?,
            standards,
            life_years: life_years.unwrap_or(0),
            counts_from,
            ends,
            included,
            extend_years,
            label_fields,
            two_labels,
        })
    }
}
