//! Dates as labels and papers show them: to the day, the month or only the year.

use std::fmt;
use std::str::FromStr;

use jiff::ToSpan;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// Years that a label can show; anything else is a slip.
const YEARS: std::ops::RangeInclusive<i16> = 1950..=2150;

/// A date as a label shows it: to the day, the month or only the year. Its precision is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub enum LabelDate {
    /// A day.
    Day(Date),
    /// A month of a year: its first day stands for it.
    Month(Date),
    /// A year: its first day stands for it.
    Year(Date),
}

impl LabelDate {
    /// The first day that it means: the day, the month's first, 1 January.
    pub const fn first_day(self) -> Date {
        match self {
            Self::Day(day) | Self::Month(day) | Self::Year(day) => day,
        }
    }

    /// The last day that it means: the day, the month's last, 31 December.
    pub fn last_day(self) -> Date {
        match self {
            Self::Day(day) => day,
            Self::Month(first) => first.last_of_month(),
            Self::Year(first) => first.last_of_year(),
        }
    }

    /// True when it can only mean days after this one.
    pub fn surely_after(self, day: Date) -> bool {
        self.first_day() > day
    }

    /// So many years later, with the same precision; 29 February becomes 28 February in a year without one.
    pub(in crate::domain) fn later(self, years: u32) -> Option<Self> {
        let span = i64::from(years).years();
        match self {
            Self::Day(day) => day.checked_add(span).ok().map(Self::Day),
            Self::Month(first) => first.checked_add(span).ok().map(Self::Month),
            Self::Year(first) => first.checked_add(span).ok().map(Self::Year),
        }
    }
}

impl fmt::Display for LabelDate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Day(day) => write!(f, "{day}"),
            Self::Month(first) => write!(f, "{:04}-{:02}", first.year(), first.month()),
            Self::Year(first) => write!(f, "{:04}", first.year()),
        }
    }
}

impl FromStr for LabelDate {
    type Err = String;

    /// Reads `2026`, `2026-06`, `06/2026`, `JUN 2026`, `2026-06-15`. What could be read two ways is asked about.
    fn from_str(text: &str) -> Result<Self, String> {
        let wanted = "Write the year, the month or the day as 2026, 2026-06 or 2026-06-15.";
        let refuse = |why: &str| Err(format!("“{}” {why} {wanted}", text.trim().chars().take(40).collect::<String>()));
        let parts: Vec<&str> = text.trim().split(['-', '/', '.', ' ']).filter(|part| !part.is_empty()).collect();
        let number = |part: &str| part.bytes().all(|b| b.is_ascii_digit()).then(|| part.parse::<i16>().ok()).flatten();
        let year = |part: &str| number(part).filter(|year| part.len() == 4 && YEARS.contains(year));
        let month = |part: &str| number(part).filter(|_| part.len() <= 2).or_else(|| named_month(part));
        let read = match parts.as_slice() {
            [only] => year(only).and_then(|year| Date::new(year, 1, 1).ok()).map(Self::Year),
            [one, two] => {
                let (year, month) = match (year(one), year(two)) {
                    (Some(year), None) => (year, month(two)),
                    (None, Some(year)) => (year, month(one)),
                    _ => return refuse("may be a month and a year, or a day and a month."),
                };
                let month = month.and_then(|month| i8::try_from(month).ok());
                month.and_then(|month| Date::new(year, month, 1).ok()).map(Self::Month)
            }
            [one, two, three] => {
                if year(one).is_none() && named_month(two).is_none() {
                    return refuse("may be read as day and month or as month and day.");
                }
                let (year, day) = if let Some(year) = year(one) { (Some(year), *three) } else { (year(three), *one) };
                read_day(year, month(two), number(day)).map(Self::Day)
            }
            _ => None,
        };
        read.map_or_else(|| refuse("is no date."), Ok)
    }
}

fn read_day(year: Option<i16>, month: Option<i16>, day: Option<i16>) -> Option<Date> {
    Date::new(year?, i8::try_from(month?).ok()?, i8::try_from(day?).ok()?).ok()
}

/// The months by their names, small.
pub(in crate::domain) const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

fn named_month(part: &str) -> Option<i16> {
    let part = part.to_lowercase();
    let found = MONTHS.iter().position(|month| part.len() >= 3 && month.starts_with(&part));
    found.and_then(|at| i16::try_from(at + 1).ok())
}

impl TryFrom<String> for LabelDate {
    type Error = String;
    fn try_from(text: String) -> Result<Self, String> {
        text.parse()
    }
}

impl From<LabelDate> for String {
    fn from(date: LabelDate) -> Self {
        date.to_string()
    }
}
