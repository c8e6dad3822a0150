//! What is known of a build when its rules are judged.

use std::cell::RefCell;
use std::collections::HashSet;

use jiff::civil::Date;

use crate::domain::cage::{Cage, Gusset, Joint, Member, Side};
use crate::domain::car_dates::CarDates;
use crate::domain::figures::{Figure, Measure};
use crate::domain::ids::{Balloon, Kind};
use crate::domain::kit::KitItem;
use crate::domain::roles::MemberRole;
use crate::domain::rule_books::ClassAnswer;
use crate::domain::tube::TubeSize;

/// A bar of the cage.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Its balloon.
    pub balloon: Balloon,
    /// What it is to the cage.
    pub role: MemberRole,
    /// On which side of the car it is; none when that is not known.
    pub side: Option<Side>,
    /// Its tube.
    pub tube: TubeSize,
}

impl From<&Member> for Bar {
    fn from(member: &Member) -> Self {
        Self { balloon: member.balloon, role: member.role, side: Some(member.side), tube: member.tube }
    }
}

/// A joint, and the roles of the bars that meet there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JointOf {
    /// Its balloon.
    pub balloon: Balloon,
    /// The roles; one for each bar.
    pub roles: Vec<MemberRole>,
}

impl JointOf {
    /// A joint of a cage: its carrier's role first, then those of the bars that end there.
    pub fn of(cage: &Cage, joint: &Joint) -> Self {
        let bars = std::iter::once(joint.carrier).chain(joint.incoming.iter().map(|incoming| incoming.0));
        let roles = bars.filter_map(|bar| cage.member(bar)).map(|bar| bar.role).collect();
        Self { balloon: joint.balloon, roles }
    }
}

/// A gusset, and the joint it stiffens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GussetAt {
    /// Its balloon.
    pub balloon: Balloon,
    /// The joint's balloon.
    pub joint: Balloon,
}

impl From<&Gusset> for GussetAt {
    fn from(gusset: &Gusset) -> Self {
        Self { balloon: gusset.balloon, joint: gusset.joint }
    }
}

/// What is known of a build. Nothing meets a rule by not being known.
pub struct Known<'a> {
    /// Figures from the model and from measuring.
    pub figures: &'a [Figure],
    /// The bars.
    pub members: &'a [Bar],
    /// The joints.
    pub joints: &'a [JointOf],
    /// The gussets.
    pub gussets: &'a [GussetAt],
    /// Everything else that has a balloon and can be photographed: plates, sticks, weigh-ins.
    pub parts: &'a [Balloon],
    /// The class of the newest weigh-in; none when there is none.
    pub class: Option<&'a ClassAnswer>,
    /// The plates that are welded, so that no bolts are asked of them.
    pub welded: &'a [Balloon],
    /// The car's own dates.
    pub car: &'a CarDates,
    /// The rules found met that stand in for others, by id; the judging fills it.
    pub met: RefCell<HashSet<String>>,
    /// The kit.
    pub kit: &'a [KitItem],
    /// The event's last day.
    pub event_day: Option<Date>,
    /// The day of the judging.
    pub today: Date,
    /// Whether a photograph is there, by the rule's id or the shot's key, of a part.
    pub photographed: &'a dyn Fn(&str, &Balloon) -> bool,
}

/// The car as a whole, for photographs that are of no one part.
pub(in crate::domain) const CAR: Balloon = Balloon::new(Kind::Car, 1);

impl Known<'_> {
    /// The figures of a measure, of one part.
    pub(super) fn of_part(&self, measure: Measure, part: Balloon) -> impl Iterator<Item = &Figure> {
        self.figures.iter().filter(move |figure| figure.measure == measure && figure.of == part)
    }

    /// Every balloon of a kind: from the lists and from the figures, each once, in order.
    pub(super) fn balloons(&self, kind: Kind) -> Vec<Balloon> {
        let lists = self.parts.iter().copied();
        let lists = lists.chain(self.gussets.iter().map(|gusset| gusset.balloon));
        let lists = lists.chain(self.joints.iter().map(|joint| joint.balloon));
        let lists = lists.chain(self.kit.iter().map(|item| Balloon::new(Kind::Kit, item.number)));
        let mut found: Vec<Balloon> = lists.chain(self.figures.iter().map(|figure| figure.of)).collect();
        found.retain(|balloon| balloon.kind == kind);
        found.sort();
        found.dedup();
        found
    }

    /// True when a bar is bent: it has a figure of its bends.
    pub(super) fn bent(&self, bar: Balloon) -> bool {
        self.of_part(Measure::BendRadius, bar).chain(self.of_part(Measure::BendAngle, bar)).next().is_some()
    }
}
