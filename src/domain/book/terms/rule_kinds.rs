//! The kinds of table a book's text has, and where one of them stands in it.

use std::fmt;
use std::str::FromStr;

/// A kind of table in a book's text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum RuleKind {
    /// What the book says of itself.
    Head,
    /// How the car is weighed.
    Weight,
    /// A weight class and its tubes.
    WeightClass,
    /// What the tube's steel must be.
    Steel,
    /// A bar that must be there.
    Member,
    /// A limit on a figure.
    Limit,
    /// A foot's plate.
    Plate,
    /// Where gussets must be.
    Gusset,
    /// An item of kit.
    Kit,
    /// A photograph.
    Shot,
    /// The hold point.
    Hold,
}

impl RuleKind {
    /// All of them, in the order in which a book is read.
    pub const ALL: [Self; 11] = [
        Self::Head,
        Self::Weight,
        Self::WeightClass,
        Self::Steel,
        Self::Member,
        Self::Limit,
        Self::Plate,
        Self::Gusset,
        Self::Kit,
        Self::Shot,
        Self::Hold,
    ];

    /// The table's name in the text.
    pub const fn table(self) -> &'static str {
        match self {
            Self::Head => "book",
            Self::Weight => "weight",
            Self::WeightClass => "weight_class",
            Self::Steel => "steel",
            Self::Member => "member_needed",
            Self::Limit => "limit",
            Self::Plate => "plate",
            Self::Gusset => "gusset",
            Self::Kit => "kit",
            Self::Shot => "shot",
            Self::Hold => "hold",
        }
    }

    /// What one of them is, in words.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Head => "the book's head",
            Self::Weight => "how the car is weighed",
            Self::WeightClass => "a weight class",
            Self::Steel => "a rule on steel",
            Self::Member => "a bar that must be there",
            Self::Limit => "a limit on a figure",
            Self::Plate => "a rule on foot plates",
            Self::Gusset => "a rule on gussets",
            Self::Kit => "an item of kit",
            Self::Shot => "a photograph",
            Self::Hold => "the hold point",
        }
    }

    /// Whether a book has at most one of them.
    pub const fn single(self) -> bool {
        matches!(self, Self::Head | Self::Weight | Self::Hold)
    }
}

/// Where a table of a kind stands in a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Place {
    /// Its kind.
    pub kind: RuleKind,
    /// Which of that kind, from 0.
    pub at: usize,
}

impl Place {
    /// The place of a field's mistake: `limit.2.least` is in the third limit. None for what is in no table of a known kind.
    pub fn of_field(at: &str) -> Option<Self> {
        let mut words = at.split('.');
        let table = words.next()?;
        let kind = RuleKind::ALL.into_iter().find(|kind| kind.table() == table)?;
        let at = if kind.single() { 0 } else { words.next()?.parse().ok()? };
        Some(Self { kind, at })
    }

    /// The field's own name, where a mistake's field is in this table: `least`; empty for the table as a whole.
    pub fn field_of<'f>(&self, at: &'f str) -> Option<&'f str> {
        let table = self.kind.table();
        let path = if self.kind.single() { table.to_owned() } else { format!("{table}.{}", self.at) };
        let rest = at.strip_prefix(&path)?;
        if rest.is_empty() { Some("") } else { rest.strip_prefix('.') }
    }
}

/// As it stands in an address: `limit-3`, from 1.
impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}", self.kind.table(), self.at + 1)
    }
}

/// The text is no place in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoPlace;

impl FromStr for Place {
    type Err = NoPlace;
    fn from_str(text: &str) -> Result<Self, NoPlace> {
        let (table, number) = text.rsplit_once('-').ok_or(NoPlace)?;
        let kind = RuleKind::ALL.into_iter().find(|kind| kind.table() == table).ok_or(NoPlace)?;
        let at = number.parse::<usize>().ok().and_then(|number| number.checked_sub(1)).ok_or(NoPlace)?;
        if kind.single() && at > 0 { Err(NoPlace) } else { Ok(Self { kind, at }) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_reads_as_it_prints_and_knows_its_fields() {
        for kind in RuleKind::ALL {
            let place = Place { kind, at: 0 };
            assert_eq!(place.to_string().parse(), Ok(place));
        }
        let third = Place { kind: RuleKind::Limit, at: 2 };
        assert_eq!(Place::of_field("limit.2.needed_if.of"), Some(third));
        assert_eq!(third.field_of("limit.2.needed_if.of"), Some("needed_if.of"));
        assert_eq!((third.field_of("limit.2"), third.field_of("limit.21.of")), (Some(""), None));
        for text in ["", "limit", "limit-0", "limit-x", "brake-1", "hold-2"] {
            assert_eq!(text.parse::<Place>(), Err(NoPlace), "{text}");
        }
    }
}
