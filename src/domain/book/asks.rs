//! A book as it is read by people: its rules by kind, each with what it asks in a few words.

use super::kinds::{CountsFrom, Ends, Per};
use super::kinds::{GussetRule, KitRule, MemberNeeded, PlateRule, ShotRule, TubeRow, WeightClass};
use super::rule_book::RuleBook;
use super::terms::bound::Check;
use super::terms::rule::{NeededIf, Rule, Sure};

/// The rules of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct Chapter<'b> {
    /// What they are about.
    pub title: &'static str,
    /// Each rule, and what it asks.
    pub rules: Vec<(&'b Rule, String)>,
}

impl Rule {
    /// Whether somebody must compare it with the body's own text before a shop relies on it.
    pub const fn unconfirmed(&self) -> bool {
        matches!(self.sure, Sure::SecondHand | Sure::FromMemory)
    }

    /// When it is asked, in words; empty when always.
    pub fn asked_when(&self) -> String {
        let condition = self.needed_if.as_ref().map(|needed| match needed {
            NeededIf::Fitted(role) => format!("asked where a {} is fitted", role.word()),
            NeededIf::Figure { measure, of, compare, printed, .. } => {
                format!("asked where the {} of {} is {} {printed}", measure.word(), of.word(), compare.word())
            }
        });
        let cars = self.applies_when.map(|when| format!("asked of cars {}", when.text()));
        let exempt = (!self.exempt_with.is_empty())
            .then(|| format!("not asked where “{}” is met", self.exempt_with.join("” or “")));
        condition.into_iter().chain(cars).chain(exempt).collect::<Vec<_>>().join("; ")
    }
}

impl RuleBook {
    /// The rules by kind, in the book's order; kinds without a rule are left out.
    pub fn chapters(&self) -> Vec<Chapter<'_>> {
        let weight = self.weight.iter().map(|weight| {
            let words: Vec<&str> = weight.conditions.iter().map(|condition| condition.words.as_str()).collect();
            (&weight.rule, if words.is_empty() { "no condition is ticked".to_owned() } else { words.join(" ") })
        });
        let classes = self.weight_classes.iter().map(|class| (&class.rule, of_class(class)));
        let limits = self
            .limits
            .iter()
            .map(|limit| (&limit.rule, format!("{} of {}: {}", limit.measure.word(), limit.of_words(), limit.text())));
        let hold = self
            .hold
            .iter()
            .map(|hold| (&hold.rule, format!("{} waits for {}", hold.stops_work.join(", "), hold.released_by)));
        let chapters = [
            Chapter { title: "Weight and tube", rules: weight.chain(classes).collect() },
            Chapter {
                title: "Steel",
                rules: self.steels.iter().map(|steel| (&steel.rule, checks_text(&steel.checks))).collect(),
            },
            Chapter {
                title: "Bars that must be there",
                rules: self.members.iter().map(|needed| (&needed.rule, of_member(needed))).collect(),
            },
            Chapter { title: "Limits on figures", rules: limits.collect() },
            Chapter {
                title: "Plates",
                rules: self.plates.iter().map(|plate| (&plate.rule, of_plate(plate))).collect(),
            },
            Chapter {
                title: "Gussets",
                rules: self.gussets.iter().map(|gusset| (&gusset.rule, of_gusset(gusset))).collect(),
            },
            Chapter { title: "Kit", rules: self.kit.iter().map(|kit| (&kit.rule, of_kit(kit))).collect() },
            Chapter {
                title: "Photographs",
                rules: self.shots.iter().map(|shot| (&shot.rule, of_shot(shot))).collect(),
            },
            Chapter { title: "The hold", rules: hold.collect() },
        ];
        chapters.into_iter().filter(|chapter| !chapter.rules.is_empty()).collect()
    }
}

fn of_class(class: &WeightClass) -> String {
    let (hoop, other) = (TubeRow::sizes(&class.hoop), TubeRow::sizes(&class.other));
    format!("{}: {}. Main bars {hoop}; other bars {other}", class.name, class.edges())
}

fn of_member(needed: &MemberNeeded) -> String {
    let side = if needed.each_side { " on each side" } else { "" };
    format!("at least {} {}{side}", needed.count, needed.bars())
}

fn of_plate(plate: &PlateRule) -> String {
    let under = plate.under.map_or_else(|| "every foot".to_owned(), |role| format!("{} feet", role.word()));
    let section = plate
        .section
        .as_ref()
        .map(|share| format!("if bolted: bolt section at least {} of a {} foot's", share.printed, share.of.word()));
    let bolts = (!plate.bolts.is_empty()).then(|| format!("if bolted: {}", checks_text(&plate.bolts)));
    let own = (!plate.checks.is_empty()).then(|| checks_text(&plate.checks));
    format!("under {under}: {}", own.into_iter().chain(bolts).chain(section).collect::<Vec<_>>().join("; "))
}

/// Each asked figure with its edges.
fn checks_text(checks: &[Check]) -> String {
    checks.iter().map(Check::text).collect::<Vec<_>>().join("; ")
}

fn of_gusset(gusset: &GussetRule) -> String {
    let bars: Vec<&str> = gusset.at.iter().map(|role| role.word()).collect();
    let most = gusset.count_most.map(|most| format!(", at most {most}")).unwrap_or_default();
    let either: Vec<&str> = gusset.either.iter().map(|stiffener| stiffener.word()).collect();
    format!("where {} meet: at least {}{most}, {}", bars.join(" and "), gusset.count_least, either.join(" or "))
}

fn of_kit(kit: &KitRule) -> String {
    let standards = if kit.standards.is_empty() { "any standard".to_owned() } else { kit.standards.join(" or ") };
    let years = kit.life_years.saturating_add(kit.extend_years);
    let end = match kit.ends {
        Ends::Day => "",
        Ends::MonthEnd => ", to the month's end",
        Ends::YearEnd => ", to the year's end",
        Ends::LabelEnd => ", to the end of what the label shows",
    };
    let life = match kit.counts_from {
        None => "no end but a printed one".to_owned(),
        Some(CountsFrom::Printed) => format!("as printed{end}"),
        Some(from) => {
            format!("{years} years from when it was {}{end}, or as printed where that is earlier", from.word())
        }
    };
    format!("{}: {standards}; {life}", kit.item)
}

fn of_shot(shot: &ShotRule) -> String {
    let views = if shot.views.is_empty() { String::new() } else { format!(": {}", shot.views.join(", ")) };
    let each = if shot.per == Per::Car { "the" } else { "each" };
    format!("of {each} {}{views}; before {}", shot.per.word(), shot.before.word())
}
