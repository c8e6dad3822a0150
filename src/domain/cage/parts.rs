//! The cage as it will stand: bars, joints, gussets and plates, all worked out from the record.

use glam::{DVec2, DVec3};

use super::hole::GussetHole;
use super::record::basic_structure::BasicStructure;
use super::record::fittings::{Fixing, Foot, GussetKind};
use super::record::measures::Hand;
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::Balloon;
use crate::domain::words::roles::MemberRole;
use crate::geometry::{CentreLine, Cope};
use crate::quantity::{Area, Length, Mass, Typed};

/// A part so near to the car's middle belongs to neither side, mm (*common practice*).
const MIDDLE: f64 = 100.0;

/// Where a bar belongs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// On the left.
    Left,
    /// On the right.
    Right,
    /// Across the car.
    Across,
}

impl Side {
    /// The side of a point of the car.
    pub fn at(point: DVec3) -> Self {
        match point.y {
            y if y > MIDDLE => Self::Left,
            y if y < -MIDDLE => Self::Right,
            _ => Self::Across,
        }
    }

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Across => "across",
        }
    }
}

impl From<Hand> for Side {
    fn from(hand: Hand) -> Self {
        match hand {
            Hand::Left => Self::Left,
            Hand::Right => Self::Right,
        }
    }
}

/// Where a bar's end stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum End {
    /// On a foot plate.
    OnPlate(Balloon),
    /// On another bar.
    Onto {
        /// The bar it is coped to.
        carrier: Balloon,
        /// Along the carrier's centre line, from its first point.
        along: Length,
        /// From the carrier's centre line.
        offset: Length,
    },
    /// Nowhere: an open item.
    Free,
}

/// A bar whose ends' cuts are known and not yet reckoned with.
pub(super) struct Uncut {
    pub(super) key: String,
    pub(super) balloon: Balloon,
    pub(super) role: MemberRole,
    pub(super) side: Side,
    pub(super) tube: TubeSize,
    pub(super) grade: Option<String>,
    pub(super) line: CentreLine,
    pub(super) ends: [End; 2],
    pub(super) copes: [Option<Cope>; 2],
    pub(super) round: [Vec<Balloon>; 2],
}

impl Uncut {
    /// The bar with its lengths, seams and mass: the blank runs from long point to long point, the metal ends on average
    /// at each cope's mean cut.
    pub(super) fn cut(self) -> Member {
        let Self { key, balloon, role, side, tube, grade, line, ends, copes, round } = self;
        let developed = line.developed_length();
        let taken = |of: &dyn Fn(&Cope) -> Length| copes.iter().flatten().map(of).sum::<Length>();
        let metal = developed - taken(&|cope| cope.mean_cut(tube.wall));
        let cut_length = developed - taken(&Cope::long_point);
        let seams = copes.each_ref().map(|cope| cope.as_ref().map_or(Length::default(), Cope::seam));
        let mass = if metal > Length::default() { tube.mass(metal) } else { Mass::default() };
        Member { key, balloon, role, side, tube, grade, line, ends, copes, round, seams, cut_length, developed, mass }
    }
}

/// One bar.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// Its stable key: `main-hoop`, `door-bar/left/high`.
    pub key: String,
    /// Its number.
    pub balloon: Balloon,
    /// What it is to the cage.
    pub role: MemberRole,
    /// Where it belongs.
    pub side: Side,
    /// Its tube.
    pub tube: TubeSize,
    /// The grade its steel has to be of, where that was said of this bar.
    pub grade: Option<String>,
    /// Its centre line, from node to node.
    pub line: CentreLine,
    /// Where its first and last point stand.
    pub ends: [End; 2],
    /// How both ends are cut: to the carrier, or to the level plate; none where the end is free or cannot be cut.
    pub copes: [Option<Cope>; 2],
    /// The bars besides its carrier that each end is coped round: fitted before it.
    pub round: [Vec<Balloon>; 2],
    /// The seam at both ends, on the outer wall.
    pub seams: [Length; 2],
    /// The blank: from long point to long point, round the bends, without allowances.
    pub cut_length: Length,
    /// Node to node, round the bends.
    pub developed: Length,
    /// As cut.
    pub mass: Mass,
}

impl Member {
    /// Its tube's size, and the grade where it has to be a certain one.
    pub fn describe_tube(&self) -> String {
        self.tube.of_grade(self.grade.as_ref())
    }

    /// Whether steel of this grade is another than it has to be of.
    pub fn is_other_grade(&self, grade: &str) -> bool {
        let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        self.grade.as_ref().is_some_and(|own| plain(own) != plain(grade))
    }
}

/// The weld to be laid where these ends meet, and the share of it that faces down, 0 to 1.
pub(super) fn weld<'m>(ends: impl Iterator<Item = (&'m Member, usize)>) -> (Length, f64) {
    let (mut seam, mut down) = (Length::default(), Length::default());
    for (member, end) in ends {
        let cope = member.copes.get(end).and_then(Option::as_ref);
        if let (Some(cope), Some(length)) = (cope, member.seams.get(end)) {
            seam = seam + *length;
            down = down + *length * cope.faces_down();
        }
    }
    (seam, if seam > Length::default() { down / seam } else { 0.0 })
}

/// Where bars meet.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// Its number.
    pub balloon: Balloon,
    /// Its stable key: the carrier and the end that made it.
    pub key: String,
    /// The bar that runs through.
    pub carrier: Balloon,
    /// The bars that end here, and with which end, 0 for the first point.
    pub incoming: Vec<(Balloon, usize)>,
    /// On the carrier's centre line, mm.
    pub at: DVec3,
    /// Along the carrier's centre line, from its first point.
    pub along: Length,
    /// Weld to be laid, all incoming ends together.
    pub seam: Length,
    /// Share of the seam whose weld faces down, 0 to 1.
    pub overhead: f64,
}

/// A gusset in the angle between two bars.
#[derive(Debug, Clone, PartialEq)]
pub struct Gusset {
    /// Its number.
    pub balloon: Balloon,
    /// The joint it belongs to.
    pub joint: Balloon,
    /// The two bars.
    pub between: (Balloon, Balloon),
    /// What it is made of.
    pub kind: GussetKind,
    /// From the corner to its end, along each tube.
    pub leg: Length,
    /// Of the sheet, or the tube's wall.
    pub thickness: Length,
    /// Outside diameter of one that is a tube.
    pub outside: Option<Length>,
    /// The hole in the flat side.
    pub hole: GussetHole<Length>,
    /// Where the tubes' surfaces meet in the angle, and the ends of both legs, mm.
    pub corners: [DVec3; 3],
    /// Its mass.
    pub mass: Mass,
}

/// A plate under a foot.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    /// Its number.
    pub balloon: Balloon,
    /// The kind of foot.
    pub foot: Foot,
    /// The side of the car.
    pub hand: Hand,
    /// The bar that stands on it.
    pub under: Balloon,
    /// The middle of its top, mm.
    pub centre: DVec3,
    /// Its sides, as typed; the first lies along the car.
    pub sides: (Typed<Length>, Typed<Length>),
    /// Its thickness, as typed.
    pub thickness: Typed<Length>,
    /// How it is held.
    pub fixed: Fixing,
    /// Square to its top, a unit direction out of the floor.
    pub normal: DVec3,
    /// Its holes: from the middle, first along the car, then to the left, mm; and the diameter.
    pub holes: Vec<(DVec2, Length)>,
    /// Its area, holes and all.
    pub area: Area,
    /// Its mass.
    pub mass: Mass,
}

/// A foot of the cage: where a bar stands on the floor, or will.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FootAt {
    /// The kind of foot.
    pub foot: Foot,
    /// The side of the car.
    pub hand: Hand,
    /// The bar that stands there; none while it is not laid out.
    pub bar: Option<Balloon>,
    /// The plate under it; none where none is recorded.
    pub plate: Option<Balloon>,
}

/// The whole cage, worked out. What could not be built is missing from the parts and named in the faults.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Cage {
    /// The bars, basic structure first.
    pub members: Vec<Member>,
    /// The bars' numbers in the order of fitting.
    pub order: Vec<Balloon>,
    /// The joints.
    pub joints: Vec<Joint>,
    /// The gussets.
    pub gussets: Vec<Gusset>,
    /// The plates.
    pub plates: Vec<Plate>,
    /// The feet, those without a plate among them.
    pub feet: Vec<FootAt>,
    /// Whether every bar that was chosen is laid out, so that one that is not there is not wanted.
    pub whole: bool,
    /// What cannot be built, by balloon or measurement, and why.
    pub faults: Vec<Fault>,
}

impl Cage {
    /// A bar by its number.
    pub fn member(&self, balloon: Balloon) -> Option<&Member> {
        self.members.iter().find(|member| member.balloon == balloon)
    }

    /// A bar by its key.
    pub fn member_called(&self, key: &str) -> Option<&Member> {
        self.members.iter().find(|member| member.key == key)
    }

    /// Whether a bar, joint, gusset or plate has this number.
    pub fn has(&self, balloon: Balloon) -> bool {
        self.member(balloon).is_some()
            || self.joint(balloon).is_some()
            || self.gusset(balloon).is_some()
            || self.plate(balloon).is_some()
    }

    /// A gusset by its number.
    pub fn gusset(&self, balloon: Balloon) -> Option<&Gusset> {
        self.gussets.iter().find(|gusset| gusset.balloon == balloon)
    }

    /// A plate by its number.
    pub fn plate(&self, balloon: Balloon) -> Option<&Plate> {
        self.plates.iter().find(|plate| plate.balloon == balloon)
    }

    /// A joint by its number.
    pub fn joint(&self, balloon: Balloon) -> Option<&Joint> {
        self.joints.iter().find(|joint| joint.balloon == balloon)
    }

    /// The basic structure that its hoops show; none while no bar that tells them apart is there.
    pub fn structure(&self) -> Option<BasicStructure> {
        let has = |role| self.members.iter().any(|member| member.role == role);
        BasicStructure::ALL.into_iter().find(|structure| has(structure.describe_by()))
    }

    /// All bars' length, node to node.
    pub fn tube_length(&self) -> Length {
        self.members.iter().map(|member| member.developed).sum()
    }

    /// All bars' mass, as cut.
    pub fn tube_mass(&self) -> Mass {
        self.members.iter().map(|member| member.mass).sum()
    }

    /// The mass of bars, gussets and plates.
    pub fn mass(&self) -> Mass {
        let gussets: Mass = self.gussets.iter().map(|gusset| gusset.mass).sum();
        let plates: Mass = self.plates.iter().map(|plate| plate.mass).sum();
        self.tube_mass() + gussets + plates
    }

    /// All seams' length, feet among them.
    pub fn seam(&self) -> Length {
        self.members.iter().flat_map(|member| member.seams).sum()
    }

    /// The tubes' centre of mass, mm; none without a bar.
    pub fn centre_of_mass(&self) -> Option<DVec3> {
        let mut weighed = DVec3::ZERO;
        for member in &self.members {
            let chords = member.line.chords(Length::from_mm(1.0));
            let whole = member.line.developed_length();
            for (from, to) in chords.iter().zip(chords.iter().skip(1)) {
                weighed += (*from + *to) / 2.0 * (from.distance(*to) / whole.mm() * member.mass.kg());
            }
        }
        let mass = self.tube_mass().kg();
        (mass > 0.0).then(|| weighed / mass)
    }
}
