//! The shot list: every photograph that the book asks for of this cage, in the order of walking round the car.

use glam::DVec3;

use super::pieces::{Since, Standing};
use crate::domain::book::kinds::Before;
use crate::domain::book::{Evidence, Force, RuleBook};
use crate::domain::cage::{Cage, Side};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, Kind};

/// Above this share of the cage's height a part belongs to the roof (*common practice*: what one photographs standing up).
const ROOF: f64 = 0.85;
/// A part so far behind the main hoop's feet belongs to the rear, mm (*common practice*).
const REAR: f64 = -100.0;

/// Where on the car one stands for a shot, in walking order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Area {
    /// On the scale, before anything is cut.
    Scale,
    /// At the tube rack.
    Rack,
    /// At the left door.
    LeftSide,
    /// Behind the main hoop.
    Rear,
    /// At the right door.
    RightSide,
    /// Between the sides.
    Middle,
    /// Under the roof.
    Roof,
    /// Round the whole car.
    WholeCar,
    /// At the bench, with seat and belts.
    Bench,
}

impl Area {
    /// The words for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Scale => "scale",
            Self::Rack => "tube rack",
            Self::LeftSide => "left side",
            Self::Rear => "rear",
            Self::RightSide => "right side",
            Self::Middle => "middle",
            Self::Roof => "roof",
            Self::WholeCar => "whole car",
            Self::Bench => "bench",
        }
    }

    /// One word for it, where a row has room for no more.
    pub const fn short(self) -> &'static str {
        match self {
            Self::Scale => "Scale",
            Self::Rack => "Rack",
            Self::LeftSide => "Left",
            Self::Rear => "Rear",
            Self::RightSide => "Right",
            Self::Middle => "Middle",
            Self::Roof => "Roof",
            Self::WholeCar => "Car",
            Self::Bench => "Bench",
        }
    }
}

/// One photograph that is asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Shot {
    /// What it is asked under: the rule's id, and the view where the rule names views.
    pub key: String,
    /// The part it is of.
    pub of: Balloon,
    /// The part in words: "backstay onto main hoop, left".
    pub part: String,
    /// Where one stands.
    pub area: Area,
    /// The rule's clause.
    pub clause: String,
    /// What the picture is of, in a sentence.
    pub what: String,
    /// The view, where the rule names views.
    pub view: Option<String>,
    /// What must be seen in it.
    pub must_show: Vec<String>,
    /// Before which work, where the rule says so.
    pub before: Option<Before>,
    /// How hard the rule binds.
    pub force: Force,
    /// Whether it is only taken where something stands in for what the rule asks.
    pub stand_in: bool,
    /// The photographs that answer it, newest first.
    pub photos: Vec<Fingerprint>,
    /// What became of the part since its newest photograph that is of the earlier piece; none where there is no such one.
    pub earlier: Option<Since>,
}

impl Shot {
    /// How a photograph names the shot it answers: `J7 joint-tacked/wide`.
    pub fn name(&self) -> String {
        name(&self.key, self.of)
    }

    /// What it is of in words: `J7 backstay onto main hoop, left: joint tacked, wide`.
    pub fn words(&self) -> String {
        let view = self.view.as_ref().map(|view| format!(", {view}")).unwrap_or_default();
        let id = self.key.split('/').next().unwrap_or_default().replace('-', " ");
        format!("{} {}: {id}{view}", self.of, self.part)
    }

    /// Whether a photograph is there.
    pub fn taken(&self) -> bool {
        !self.photos.is_empty()
    }
}

/// How a photograph names the shot it answers.
pub fn name(key: &str, of: Balloon) -> String {
    format!("{of} {key}")
}

/// The part and the key that a photograph names; none for one that nobody asked for.
pub fn of_name(name: &str) -> Option<(Balloon, &str)> {
    let (of, key) = name.split_once(' ')?;
    Some((of.parse().ok()?, key))
}

/// The photographs that answer a shot, newest first: received, readable, not withdrawn, and of the piece that is there.
pub fn answers(standing: Standing<'_>, key: &str, of: Balloon) -> Vec<Fingerprint> {
    let name = name(key, of);
    let counts = |photo: &&crate::domain::recorded::photos::Photo| photo.shows() && photo.shot == name;
    standing.photos().rev().filter(counts).map(|photo| photo.sha256.clone()).collect()
}

/// The shots that were asked for while judging, in walking order. `asked` are the keys and parts.
pub(in crate::domain) fn list(
    book: &RuleBook,
    cage: &Cage,
    (facts, standing): (&BuildFacts, Standing<'_>),
    asked: &[(String, Balloon)],
) -> Vec<Shot> {
    let shot = |(key, of): &(String, Balloon)| {
        let there = (answers(standing, key, *of), standing.earlier_photo(&name(key, *of)).cloned());
        shot(book, (key, *of), (part(cage, facts, *of), area(cage, *of)), there)
    };
    let mut shots: Vec<Shot> = asked.iter().filter_map(shot).collect();
    let middle = cage.centre_of_mass().unwrap_or(DVec3::ZERO);
    // Round each area the way one walks: the sides from front to rear or back, then from the top down.
    let along = |shot: &Shot| {
        let at = place(cage, shot.of).unwrap_or(middle);
        let forward = if shot.area == Area::RightSide { at.x } else { -at.x };
        (forward * 10.0).round() + 0.0
    };
    shots.sort_by(|one, other| {
        let walked = one.area.cmp(&other.area).then(along(one).total_cmp(&along(other)));
        walked.then(one.of.cmp(&other.of))
    });
    shots
}

fn shot(
    book: &RuleBook,
    (key, of): (&str, Balloon),
    (part, area): (String, Area),
    (photos, earlier): (Vec<Fingerprint>, Option<Since>),
) -> Option<Shot> {
    let (id, view) = key.split_once('/').map_or((key, None), |(id, view)| (id, Some(view.to_owned())));
    if let Some(asked) = book.shots.iter().find(|asked| asked.rule.id == id) {
        return Some(Shot {
            key: key.to_owned(),
            of,
            part,
            area,
            clause: asked.rule.clause.clone(),
            what: asked.what.clone(),
            view,
            must_show: asked.must_show.clone(),
            before: Some(asked.before),
            force: asked.rule.force,
            stand_in: false,
            photos,
            earlier,
        });
    }
    let rule = book.rules().find(|rule| rule.id == id)?;
    let certificate = view.as_deref() == Some(super::verdicts::MADE);
    let what = if certificate { "The certificate or mark that says how the tube was made." } else { &rule.words };
    Some(Shot {
        key: key.to_owned(),
        of,
        part,
        area: if certificate { Area::Rack } else { area },
        clause: rule.clause.clone(),
        what: what.to_owned(),
        view: None,
        must_show: Vec::new(),
        before: None,
        force: rule.force,
        stand_in: rule.evidence == Evidence::Figure && !certificate,
        photos,
        earlier,
    })
}

/// Where a part is, mm; none for what is not on the cage.
pub fn place(cage: &Cage, of: Balloon) -> Option<DVec3> {
    match of.kind {
        Kind::Joint => cage.joint(of).map(|joint| joint.at),
        Kind::Member => cage.member(of).map(|member| member.line.point_at(member.developed / 2.0).0),
        Kind::Gusset => cage.gusset(of).map(|gusset| gusset.corners[0]),
        Kind::Plate => cage.plate(of).map(|plate| plate.centre),
        _ => None,
    }
}

/// Where one stands to photograph a part.
pub fn area(cage: &Cage, of: Balloon) -> Area {
    let fixed = match of.kind {
        Kind::WeighIn => Area::Scale,
        Kind::Stick => Area::Rack,
        Kind::Kit => Area::Bench,
        _ => Area::WholeCar,
    };
    let Some(at) = place(cage, of) else { return fixed };
    let top = cage.joints.iter().map(|joint| joint.at.z).fold(0.0, f64::max);
    if at.z > top * ROOF {
        Area::Roof
    } else if at.x < REAR {
        Area::Rear
    } else {
        match Side::at(at) {
            Side::Left => Area::LeftSide,
            Side::Right => Area::RightSide,
            Side::Across => Area::Middle,
        }
    }
}

/// A part in words: "backstay onto main hoop, left".
pub fn part(cage: &Cage, facts: &BuildFacts, of: Balloon) -> String {
    let role = |bar: Balloon| cage.member(bar).map_or("bar", |bar| bar.role.word());
    let side = match place(cage, of).map(Side::at) {
        Some(Side::Left) => ", left",
        Some(Side::Right) => ", right",
        Some(Side::Across) | None => "",
    };
    match of.kind {
        Kind::Joint => cage.joint(of).map(|joint| {
            let mut onto: Vec<&str> = joint.incoming.iter().map(|end| role(end.0)).collect();
            onto.dedup();
            format!("{} onto {}{side}", onto.join(" and "), role(joint.carrier))
        }),
        Kind::Member => cage.member(of).map(|bar| format!("{}{side}", bar.role.word())),
        Kind::Gusset => cage.gusset(of).map(|gusset| {
            format!("gusset at {}, {} and {}{side}", gusset.joint, role(gusset.between.0), role(gusset.between.1))
        }),
        Kind::Plate => cage
            .plate(of)
            .map(|plate| format!("plate under the {}{side}", plate.foot.word(cage.structure().unwrap_or_default()))),
        Kind::Stick => facts.sticks.iter().find(|stick| stick.number == of.number).map(|stick| {
            let heat = if stick.heat.is_empty() { String::new() } else { format!(", heat {}", stick.heat) };
            format!("stick of {}{heat}", stick.size.value)
        }),
        Kind::WeighIn => Some("weigh-in".to_owned()),
        Kind::Kit => facts.kit.iter().find(|item| item.number == of.number).map(|item| item.item.clone()),
        Kind::Car | Kind::Question => None,
    }
    .unwrap_or_else(|| if of.kind == Kind::Car { "the car".to_owned() } else { of.kind.word().to_owned() })
}
