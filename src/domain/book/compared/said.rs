//! What each rule of a book says, one thing under one name, so that two editions can be laid side by side.

use crate::domain::book::kinds::{
    EdgeBelongs, GussetRule, KitRule, Limit, MemberNeeded, PlateRule, ShotRule, TubeRow, Weight, WeightClass,
};
use crate::domain::book::rule_book::{BookHead, RuleBook};
use crate::domain::book::terms::bound::{Check, edges_text};
use crate::domain::book::terms::rule::Rule;
use crate::domain::book::terms::rule_kinds::RuleKind;
use crate::domain::steel::tube::TubeSize;
use crate::quantity::Units;

/// Things that are said, each under its name.
pub type Sayings = Vec<(String, String)>;

fn said(sayings: &mut Sayings, what: &str, says: impl Into<String>) {
    let says = says.into();
    if !says.is_empty() {
        sayings.push((what.to_owned(), says));
    }
}

fn yes(flag: bool) -> &'static str {
    if flag { "yes" } else { "no" }
}

/// Of several figures of one name, the edges in one line.
fn figures(sayings: &mut Sayings, checks: &[Check], before: &str) {
    let mut names: Vec<&str> = checks.iter().map(|check| check.measure.word()).collect();
    names.dedup();
    for name in names {
        let of_it = checks.iter().filter(|check| check.measure.word() == name);
        let edges: Vec<String> = of_it.map(|check| edges_text(check.least.as_ref(), check.most.as_ref())).collect();
        said(sayings, &format!("{before}{name}"), edges.join("; "));
    }
}

impl BookHead {
    /// What a book says of itself, but for its edition's name.
    pub fn sayings(&self) -> Sayings {
        let mut sayings = Sayings::new();
        said(&mut sayings, "name", self.name.as_str());
        said(&mut sayings, "body", self.body.as_str());
        said(&mut sayings, "first day in force", self.valid_from.map(|day| day.to_string()).unwrap_or_default());
        said(&mut sayings, "last day in force", self.valid_to.map(|day| day.to_string()).unwrap_or_default());
        said(&mut sayings, "units", if self.units == Units::Inch { "inch" } else { "metric" });
        said(&mut sayings, "where its text was seen", self.source_note.as_str());
        sayings
    }
}

impl RuleBook {
    /// What every rule says, kind by kind in the order of the text.
    pub fn sayings(&self) -> Vec<(RuleKind, &Rule, Sayings)> {
        let mut all = Vec::new();
        let mut put = |kind, rule, own: Sayings| all.push((kind, rule, [common(rule), own].concat()));
        if let Some(weight) = &self.weight {
            put(RuleKind::Weight, &weight.rule, of_weight(weight));
        }
        for class in &self.weight_classes {
            put(RuleKind::WeightClass, &class.rule, of_class(class));
        }
        for steel in &self.steels {
            let mut own = Sayings::new();
            figures(&mut own, &steel.checks, "");
            put(RuleKind::Steel, &steel.rule, own);
        }
        for member in &self.members {
            put(RuleKind::Member, &member.rule, of_member(member));
        }
        for limit in &self.limits {
            put(RuleKind::Limit, &limit.rule, of_limit(limit));
        }
        for plate in &self.plates {
            put(RuleKind::Plate, &plate.rule, of_plate(plate));
        }
        for gusset in &self.gussets {
            put(RuleKind::Gusset, &gusset.rule, of_gusset(gusset));
        }
        for kit in &self.kit {
            put(RuleKind::Kit, &kit.rule, of_kit(kit));
        }
        for shot in &self.shots {
            put(RuleKind::Shot, &shot.rule, of_shot(shot));
        }
        if let Some(hold) = &self.hold {
            let mut own = Sayings::new();
            said(&mut own, "work that waits", hold.stops_work.join(", "));
            said(&mut own, "whose yes it waits for", hold.released_by.as_str());
            put(RuleKind::Hold, &hold.rule, own);
        }
        all
    }
}

fn common(rule: &Rule) -> Sayings {
    let mut sayings = Sayings::new();
    said(&mut sayings, "clause", rule.clause.as_str());
    said(&mut sayings, "in our words", rule.words.as_str());
    said(&mut sayings, "how hard it binds", rule.force.word());
    said(&mut sayings, "shown by", rule.evidence.word());
    said(&mut sayings, "how it is known", rule.sure.word());
    said(&mut sayings, "asked when", rule.asked_when());
    sayings
}

fn of_weight(weight: &Weight) -> Sayings {
    let mut own = Sayings::new();
    let edge = match weight.edge_belongs_to {
        EdgeBelongs::Lighter => "the lighter class",
        EdgeBelongs::Heavier => "the heavier class",
        EdgeBelongs::EachSays => "where each class says",
    };
    said(&mut own, "a weight on an edge belongs to", edge);
    said(&mut own, "the body's table has gaps", if weight.gaps_as_printed { "yes" } else { "" });
    let bars: Vec<&str> = weight.hoop_bars.iter().map(|role| role.word()).collect();
    said(&mut own, "bars with the tube for hoops", bars.join(", "));
    for condition in &weight.conditions {
        said(&mut own, &format!("ticked at the weigh-in: {}", condition.key), condition.words.as_str());
    }
    own
}

fn of_class(class: &WeightClass) -> Sayings {
    let mut own = Sayings::new();
    said(&mut own, "called", class.name.as_str());
    said(&mut own, "weight", class.edges());
    said(&mut own, "main bars", rows(&class.hoop));
    said(&mut own, "other bars", rows(&class.other));
    own
}

fn rows(rows: &[TubeRow]) -> String {
    let row = |row: &TubeRow| {
        let made: Vec<&str> = row.made.iter().map(|made| made.word()).collect();
        let made = if made.is_empty() { String::new() } else { format!(" {}", made.join(" or ")) };
        let bonus = row.bonus_outside.zip(row.bonus_wall).map(|(outside, wall)| {
            let enough = TubeSize { outside, wall, ..row.size };
            format!(" (or {enough})")
        });
        format!("{}{made}{}", row.size, bonus.unwrap_or_default())
    };
    rows.iter().map(row).collect::<Vec<_>>().join(", or ")
}

fn of_member(member: &MemberNeeded) -> Sayings {
    let mut own = Sayings::new();
    said(&mut own, "bar", member.bars());
    said(&mut own, "at least", member.count.to_string());
    said(&mut own, "on each side", yes(member.each_side));
    own
}

fn of_limit(limit: &Limit) -> Sayings {
    let mut own = Sayings::new();
    said(&mut own, "figure", format!("{} of {}", limit.measure.word(), limit.of_words()));
    said(&mut own, "limit", limit.text());
    own
}

fn of_plate(plate: &PlateRule) -> Sayings {
    let mut own = Sayings::new();
    said(&mut own, "under", plate.under.map_or("every foot", |role| role.word()));
    figures(&mut own, &plate.checks, "");
    figures(&mut own, &plate.bolts, "if bolted, ");
    if let Some(section) = &plate.section {
        let twice = if section.double_shear_counts_twice { ", twice where sheared in two planes" } else { "" };
        let share = format!("at least {} of a {} foot's{twice}", section.printed, section.of.word());
        said(&mut own, "if bolted, bolt section", share);
    }
    own
}

fn of_gusset(gusset: &GussetRule) -> Sayings {
    let mut own = Sayings::new();
    let bars: Vec<&str> = gusset.at.iter().map(|role| role.word()).collect();
    let either: Vec<&str> = gusset.either.iter().map(|stiffener| stiffener.word()).collect();
    said(&mut own, "where these meet", bars.join(" and "));
    said(&mut own, "at least", gusset.count_least.to_string());
    said(&mut own, "at most", gusset.count_most.map(|most| most.to_string()).unwrap_or_default());
    said(&mut own, "what does", either.join(" or "));
    own
}

fn of_kit(kit: &KitRule) -> Sayings {
    let mut own = Sayings::new();
    said(&mut own, "item", kit.item.as_str());
    said(&mut own, "standards", if kit.standards.is_empty() { "any".to_owned() } else { kit.standards.join(", ") });
    said(&mut own, "life counts from when it was", kit.counts_from.map_or("", |from| from.word()));
    said(&mut own, "life in years", kit.life_years.to_string());
    said(&mut own, "years that the body adds", kit.extend_years.to_string());
    said(&mut own, "it ends on the", kit.ends.word());
    said(&mut own, "the last day is good", yes(kit.included));
    let label: Vec<&str> = kit.label_fields.iter().map(|field| field.word()).collect();
    said(&mut own, "the label shows", label.join(", "));
    said(&mut own, "of two labels counts", kit.two_labels.map_or("", |labels| labels.word()));
    own
}

fn of_shot(shot: &ShotRule) -> Sayings {
    let mut own = Sayings::new();
    said(&mut own, "what it is of", shot.what.as_str());
    said(&mut own, "of each", shot.per.word());
    said(&mut own, "views", shot.views.join(", "));
    said(&mut own, "what must be seen", shot.must_show.join(", "));
    said(&mut own, "before", shot.before.word());
    own
}
