//! What is known of a build when its rules are judged.

use std::collections::BTreeSet;

use jiff::civil::Date;

use crate::domain::cage::{Cage, Foot, FootAt, Gusset, GussetHole, GussetKind, Joint, Member, Side};
use crate::domain::measure::figures::Figure;
use crate::domain::measure::measures::Measure;
use crate::domain::recorded::kit::KitItem;
use crate::domain::shop::stock::Stick;
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::car_dates::CarDates;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::roles::MemberRole;

use super::weighed::Weighed;

/// The tube of a bar. The one it is drawn in is not the one it is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BarTube {
    /// Nobody is known to have cut it: the tube it is drawn in.
    Planned(TubeSize),
    /// The size of the stick that it was cut from, and that stick.
    OfStick(TubeSize, Balloon),
}

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
    pub tube: BarTube,
    /// How often it is bent; none when its line is not known.
    pub bends: Option<usize>,
    /// The straight run it is a piece of, by its first piece: a bar that was cut where another crosses it is still one bar.
    pub run: Balloon,
}

impl Bar {
    /// The bars of a cage, each with the stick it was cut from where that is recorded.
    pub fn all<'a>(cage: &'a Cage, stick_of: impl Fn(Balloon) -> Option<&'a Stick>) -> Vec<Self> {
        let runs = cage.runs();
        let of = |member: &Member| {
            let tube = stick_of(member.balloon).map_or(BarTube::Planned(member.tube), |stick| {
                BarTube::OfStick(stick.size.value, Balloon::new(Kind::Stick, stick.number))
            });
            let run = runs.get(&member.balloon).copied().unwrap_or(member.balloon);
            let bends = Some(member.line.bends().len());
            Self { balloon: member.balloon, role: member.role, side: Some(member.side), tube, bends, run }
        };
        cage.members.iter().map(of).collect()
    }
}

/// A joint, and the roles of the bars that meet there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JointOf {
    /// Its balloon.
    pub balloon: Balloon,
    /// The roles; one for each bar, the pieces of one bar counted once.
    pub roles: Vec<MemberRole>,
}

impl JointOf {
    /// A joint of a cage: its carrier's role first, then those of the bars that end there.
    pub fn of(joint: &Joint, bars: &[Bar]) -> Self {
        let here = std::iter::once(joint.carrier).chain(joint.incoming.iter().map(|incoming| incoming.0));
        let mut runs = BTreeSet::new();
        let here = here.filter_map(|balloon| bars.iter().find(|bar| bar.balloon == balloon));
        let roles = here.filter(|bar| runs.insert(bar.run)).map(|bar| bar.role).collect();
        Self { balloon: joint.balloon, roles }
    }
}

/// A gusset: the joint it stiffens, the bars it stands between, and what it is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GussetAt {
    /// Its balloon.
    pub balloon: Balloon,
    /// The joint's balloon.
    pub joint: Balloon,
    /// The roles of the two bars.
    pub between: [MemberRole; 2],
    /// What it is made of.
    pub kind: GussetKind,
    /// Whether somebody said that it has no hole in its flat side; false also while nobody said anything of it.
    pub no_hole: bool,
}

impl GussetAt {
    /// A gusset of a cage; none while one of its bars is not there.
    pub fn of(cage: &Cage, gusset: &Gusset) -> Option<Self> {
        let role = |bar| cage.member(bar).map(|bar| bar.role);
        let between = [role(gusset.between.0)?, role(gusset.between.1)?];
        Some(Self {
            balloon: gusset.balloon,
            joint: gusset.joint,
            between,
            kind: gusset.kind,
            no_hole: gusset.hole == GussetHole::NoHole,
        })
    }
}

/// A foot of the cage, and the plate under it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FootOf {
    /// The bar that stands there; none while it is not laid out.
    pub bar: Option<Balloon>,
    /// Its role.
    pub role: Option<MemberRole>,
    /// Which foot it is, in words: "left front foot".
    pub name: String,
    /// The plate under it; none where none is recorded.
    pub plate: Option<Balloon>,
}

impl FootOf {
    /// The feet of a cage; `words` says what a kind of foot is called in its structure.
    pub fn all(cage: &Cage, words: impl Fn(Foot) -> &'static str) -> Vec<Self> {
        let of = |foot: &FootAt| {
            let role = foot.bar.and_then(|bar| cage.member(bar)).map(|bar| bar.role);
            let name = format!("{} {}", foot.hand.word(), words(foot.foot));
            Self { bar: foot.bar, role, name, plate: foot.plate }
        };
        cage.feet.iter().map(of).collect()
    }
}

/// What is known of a build. Nothing meets a rule by not being known.
pub struct Known<'a> {
    /// Figures from the model and from measuring.
    pub figures: &'a [Figure],
    /// The bars.
    pub members: &'a [Bar],
    /// Whether every bar that was chosen could be laid out: only then is a bar that is not there known to be absent.
    pub whole: bool,
    /// The joints.
    pub joints: &'a [JointOf],
    /// The gussets.
    pub gussets: &'a [GussetAt],
    /// The feet, those without a plate among them.
    pub feet: &'a [FootOf],
    /// Everything else that has a balloon and can be photographed: plates, sticks, weigh-ins.
    pub parts: &'a [Balloon],
    /// The class that the tube goes by, and how it is known; none when there is none.
    pub class: Option<&'a Weighed>,
    /// The plates that are welded, so that no bolts are asked of them.
    pub welded: &'a [Balloon],
    /// The car's own dates.
    pub car: &'a CarDates,
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

    /// Whether a bar that is not there is known to be absent: the cage was laid out, and nothing chosen is left out of it.
    pub(super) fn laid_out(&self) -> bool {
        self.whole && !self.members.is_empty()
    }

    /// True when the figure is that of a gusset's hole and the gusset is known to have none.
    pub(super) fn no_hole(&self, measure: Measure, part: Balloon) -> bool {
        measure == Measure::GussetHole && self.gussets.iter().any(|gusset| gusset.balloon == part && gusset.no_hole)
    }

    /// What is said of the tube of a part that no stick is recorded for.
    pub(super) fn uncut(&self, part: Balloon) -> String {
        match self.members.iter().find(|bar| bar.balloon == part).map(|bar| bar.tube) {
            Some(BarTube::Planned(planned)) => {
                format!("{part} is planned in {planned}; no stick is recorded that it is cut from.")
            }
            _ => "No stick is recorded that its tube is cut from.".to_owned(),
        }
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

    /// True when a bar is bent.
    pub(super) fn bent(&self, bar: Balloon) -> bool {
        self.bends(bar).is_some_and(|bends| bends > 0)
    }

    /// True when a bar is known to have no bend.
    pub(super) fn straight(&self, bar: Balloon) -> bool {
        self.bends(bar) == Some(0)
    }

    fn bends(&self, bar: Balloon) -> Option<usize> {
        self.members.iter().find(|known| known.balloon == bar)?.bends
    }
}
