//! A rule book: its head, and its rules by kind.

use jiff::civil::Date;

use crate::quantity::Units;

use super::kinds::{
    GussetRule, HoldRule, KitRule, Limit, MemberNeeded, PlateRule, ShotRule, SteelRule, Weight, WeightClass,
};
use super::terms::fields::Fields;
use super::terms::rule::Rule;

/// What a book says of itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookHead {
    /// Its name.
    pub name: String,
    /// The body whose rules it restates.
    pub body: String,
    /// Which edition.
    pub edition: String,
    /// First day it is in force.
    pub valid_from: Option<Date>,
    /// Last day it is in force.
    pub valid_to: Option<Date>,
    /// The units it prints first.
    pub units: Units,
    /// Where its text was seen.
    pub source_note: String,
}

impl BookHead {
    /// What the shop calls it: the body, then the book's name.
    pub fn full_name(&self) -> String {
        format!("{} {}", self.body, self.name)
    }

    /// Body, book and edition as one says them.
    pub fn describe(&self) -> String {
        format!("{}, {}", self.full_name(), self.edition)
    }

    pub(super) fn read(fields: &Fields<'_>) -> Option<Self> {
        let (name, body, edition) = (fields.title("name"), fields.title("body"), fields.title("edition"));
        let (valid_from, valid_to) = (fields.day_maybe("valid_from"), fields.day_maybe("valid_to"));
        if let (Some(from), Some(to)) = (valid_from, valid_to)
            && from > to
        {
            fields.slip("valid_to", "The book ends before it begins.", "Make “valid_to” later than “valid_from”.");
        }
        let units = fields.word("units", &[("inch", Units::Inch), ("metric", Units::Metric)]);
        let source_note = fields.text_maybe("source_note").unwrap_or_default();
        fields.finish();
        Some(Self { name: name?, body: body?, edition: edition?, valid_from, valid_to, units: units?, source_note })
    }
}

/// One edition of one body's rule book.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleBook {
    /// What it says of itself.
    pub book: BookHead,
    /// How the car is weighed.
    pub weight: Option<Weight>,
    /// The weight classes, in the book's order.
    pub weight_classes: Vec<WeightClass>,
    /// What the tube's steel must be.
    pub steels: Vec<SteelRule>,
    /// Bars that must be there.
    pub members: Vec<MemberNeeded>,
    /// Limits on figures.
    pub limits: Vec<Limit>,
    /// Foot plates.
    pub plates: Vec<PlateRule>,
    /// Gussets.
    pub gussets: Vec<GussetRule>,
    /// Items of kit.
    pub kit: Vec<KitRule>,
    /// Photographs.
    pub shots: Vec<ShotRule>,
    /// The hold point.
    pub hold: Option<HoldRule>,
}

impl RuleBook {
    /// What every rule of the book carries, kind by kind.
    pub fn rules(&self) -> impl Iterator<Item = &Rule> {
        let weight = self.weight.iter().map(|kind| &kind.rule);
        weight
            .chain(self.weight_classes.iter().map(|kind| &kind.rule))
            .chain(self.steels.iter().map(|kind| &kind.rule))
            .chain(self.members.iter().map(|kind| &kind.rule))
            .chain(self.limits.iter().map(|kind| &kind.rule))
            .chain(self.plates.iter().map(|kind| &kind.rule))
            .chain(self.gussets.iter().map(|kind| &kind.rule))
            .chain(self.kit.iter().map(|kind| &kind.rule))
            .chain(self.shots.iter().map(|kind| &kind.rule))
            .chain(self.hold.iter().map(|kind| &kind.rule))
    }
}
