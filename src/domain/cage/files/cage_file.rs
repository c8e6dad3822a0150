//! The cage file as it is written, and what is wrong with it before anything is worked out.

use glam::DVec3;
use serde::{Deserialize, Serialize};

use crate::domain::cage::hole::GussetHole;
use crate::domain::cage::record::fittings::{Arm, GussetKind};
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::roles::MemberRole;
use crate::quantity::{Length, Units};

/// Most bars of a file.
const MOST: usize = 400;
/// Most gussets, and most plates, of a file.
const PARTS: usize = 200;
/// Most holes of a plate.
const HOLES: usize = 40;

/// A cage file as it is written.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::domain::cage) struct File {
    pub(in crate::domain::cage) tackbook_cage: u32,
    pub(in crate::domain::cage) unit: Unit,
    pub(in crate::domain::cage) members: Vec<FileMember>,
    #[serde(default)]
    pub(in crate::domain::cage) plates: Vec<FilePlate>,
    #[serde(default)]
    pub(in crate::domain::cage) gussets: Vec<FileGusset>,
}

/// The unit of a file's bare numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(in crate::domain::cage) enum Unit {
    #[serde(rename = "mm")]
    Millimetre,
    #[serde(rename = "in")]
    Inch,
}

impl Unit {
    /// The unit of readers of these units.
    pub(in crate::domain::cage) fn of(units: Units) -> Self {
        match units {
            Units::Metric => Self::Millimetre,
            Units::Inch => Self::Inch,
        }
    }

    /// The readers who mean it by a bare number.
    pub(in crate::domain::cage) fn units(self) -> Units {
        match self {
            Self::Millimetre => Units::Metric,
            Self::Inch => Units::Inch,
        }
    }

    /// As it is written behind a number.
    pub(in crate::domain::cage) const fn word(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Inch => "in",
        }
    }

    pub(in crate::domain::cage) fn length(self, value: f64) -> Length {
        match self {
            Self::Millimetre => Length::from_mm(value),
            Self::Inch => Length::from_inches(value),
        }
    }

    pub(in crate::domain::cage) fn point(self, point: [f64; 3]) -> DVec3 {
        DVec3::from_array(point.map(|value| self.length(value).mm()))
    }
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::domain::cage) struct FileMember {
    pub(in crate::domain::cage) balloon: Balloon,
    pub(in crate::domain::cage) role: MemberRole,
    pub(in crate::domain::cage) tube: FileTube,
    pub(in crate::domain::cage) points: Vec<[f64; 3]>,
    #[serde(default)]
    pub(in crate::domain::cage) bend_radius: f64,
    pub(in crate::domain::cage) ends: [FileEnd; 2],
}

#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::domain::cage) struct FileTube {
    pub(in crate::domain::cage) outside: f64,
    pub(in crate::domain::cage) wall: f64,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::domain::cage) struct FileEnd {
    #[serde(default)]
    pub(in crate::domain::cage) plate: Option<Balloon>,
    #[serde(default)]
    pub(in crate::domain::cage) onto: Option<Onto>,
    #[serde(default)]
    pub(in crate::domain::cage) offset: f64,
    #[serde(default)]
    pub(in crate::domain::cage) free: bool,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(untagged)]
pub(in crate::domain::cage) enum Onto {
    One(Balloon),
    Corner(Vec<Balloon>),
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::domain::cage) struct FilePlate {
    pub(in crate::domain::cage) balloon: Balloon,
    #[serde(default)]
    pub(in crate::domain::cage) sides: Option<[f64; 2]>,
    #[serde(default)]
    pub(in crate::domain::cage) thickness: Option<f64>,
    /// Out of the floor; straight up when not said.
    #[serde(default)]
    pub(in crate::domain::cage) normal: Option<[f64; 3]>,
    #[serde(default)]
    pub(in crate::domain::cage) holes: Vec<FileHole>,
}

/// A hole of a plate: its middle from the plate's, first along the car, then to the left.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::domain::cage) struct FileHole {
    pub(in crate::domain::cage) at: [f64; 2],
    pub(in crate::domain::cage) diameter: f64,
}

/// A gusset in the angle between two bars that meet at a joint.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::domain::cage) struct FileGusset {
    pub(in crate::domain::cage) balloon: Balloon,
    /// The two bars, each with the way it leaves the joint.
    pub(in crate::domain::cage) between: [Arm; 2],
    pub(in crate::domain::cage) kind: GussetKind,
    pub(in crate::domain::cage) leg: f64,
    pub(in crate::domain::cage) thickness: f64,
    #[serde(default)]
    pub(in crate::domain::cage) hole: GussetHole<f64>,
    /// Of a tube; the thinner bar's when not said.
    #[serde(default)]
    pub(in crate::domain::cage) outside: Option<f64>,
}

impl File {
    /// What is wrong with it, by line or balloon.
    pub(in crate::domain::cage) fn faults(&self) -> Vec<Fault> {
        let file = self;
        let mut faults = Vec::new();
        if file.tackbook_cage != 1 {
            let why = format!("This is version {} of the cage file; this program reads version 1.", file.tackbook_cage);
            faults.push(Fault::new("tackbook_cage", why));
        }
        if file.members.len() > MOST {
            faults.push(Fault::new("members", format!("At most {MOST} bars.")));
        }
        let mut seen: Vec<Balloon> = Vec::new();
        for member in &file.members {
            if member.balloon.kind != Kind::Member {
                faults.push(Fault::new(member.balloon.to_string(), "A bar's balloon begins with M, like M4."));
            }
            if seen.contains(&member.balloon) {
                faults.push(Fault::new(member.balloon.to_string(), "This number is given to two bars."));
            }
            seen.push(member.balloon);
        }
        for member in &file.members {
            for end in &member.ends {
                faults.extend(end_faults(member.balloon, end, &seen));
            }
        }
        faults.extend(file.plate_faults());
        faults.extend(file.gusset_faults(&seen));
        faults
    }
}

impl File {
    fn plate_faults(&self) -> Vec<Fault> {
        let mut faults = numbering(self.plates.iter().map(|plate| plate.balloon), Kind::Plate);
        for plate in &self.plates {
            let at = plate.balloon.to_string();
            if plate.sides.is_some() != plate.thickness.is_some() {
                faults.push(Fault::new(&at, "A plate has sides and a thickness: give both, or neither."));
            }
            for side in plate.sides.iter().flatten() {
                faults.extend(self.bounded(&at, "side", *side, 600.0));
            }
            faults.extend(plate.thickness.and_then(|thickness| self.bounded(&at, "thickness", thickness, 25.0)));
            if plate.normal.is_some_and(|normal| DVec3::from_array(normal).try_normalize().is_none()) {
                faults.push(Fault::new(&at, "Its normal has no direction. Leave it out for a level plate."));
            }
            if plate.holes.len() > HOLES {
                faults.push(Fault::new(&at, format!("At most {HOLES} holes.")));
            }
            for hole in plate.holes.iter().take(HOLES) {
                faults.extend(self.bounded(&at, "hole", hole.diameter, 300.0));
                let inside = |(at, side): (f64, f64)| at.abs() + hole.diameter / 2.0 < side / 2.0;
                if !hole.at.into_iter().zip(plate.sides.unwrap_or_default()).all(inside) {
                    faults.push(Fault::new(&at, "A hole does not lie inside the plate."));
                }
            }
        }
        faults
    }

    fn gusset_faults(&self, bars: &[Balloon]) -> Vec<Fault> {
        let mut faults = numbering(self.gussets.iter().map(|gusset| gusset.balloon), Kind::Gusset);
        for gusset in &self.gussets {
            let at = gusset.balloon.to_string();
            for arm in &gusset.between {
                if !bars.iter().any(|bar| bar.to_string() == arm.member) {
                    faults.push(Fault::new(&at, format!("It cannot sit on {}: there is no such bar.", arm.member)));
                }
            }
            faults.extend(self.bounded(&at, "leg", gusset.leg, 600.0));
            faults.extend(self.bounded(&at, "thickness", gusset.thickness, 10.0));
            faults.extend(gusset.hole.across().and_then(|hole| self.bounded(&at, "hole", hole, 300.0)));
            faults.extend(gusset.outside.and_then(|outside| self.bounded(&at, "outside", outside, 100.0)));
            if gusset.kind != GussetKind::Tube && gusset.outside.is_some() {
                faults.push(Fault::new(&at, "Only a gusset of tube has an outside diameter."));
            }
        }
        faults
    }

    fn bounded(&self, at: &str, what: &str, value: f64, most: f64) -> Option<Fault> {
        let (value, most) = (self.unit.length(value), Length::from_mm(most));
        let fits = value.is_finite() && value > Length::default() && value <= most;
        (!fits).then(|| {
            Fault::new(at, format!("Its {what}: more than nothing and at most {} fits.", Length::at_most(most)))
        })
    }
}

/// Parts of one kind: each begins with the kind's letter, and no number is given twice.
fn numbering(balloons: impl Iterator<Item = Balloon>, kind: Kind) -> Vec<Fault> {
    let mut seen: Vec<Balloon> = Vec::new();
    let mut faults = Vec::new();
    for balloon in balloons {
        if balloon.kind != kind {
            let first = Balloon::new(kind, 1);
            let why = format!("The balloon of a {} begins with another letter, like {first}.", kind.word());
            faults.push(Fault::new(balloon.to_string(), why));
        }
        if seen.contains(&balloon) {
            faults.push(Fault::new(balloon.to_string(), "This number is given twice."));
        }
        if seen.len() == PARTS {
            faults.push(Fault::new(kind.word(), format!("At most {PARTS} of them.")));
            break;
        }
        seen.push(balloon);
    }
    faults
}

fn end_faults(own: Balloon, end: &FileEnd, known: &[Balloon]) -> Vec<Fault> {
    let at = own.to_string();
    let said = usize::from(end.plate.is_some()) + usize::from(end.onto.is_some()) + usize::from(end.free);
    if said != 1 {
        return vec![Fault::new(at, "An end is on a plate, onto a bar, or free: say one of them.")];
    }
    let onto = match &end.onto {
        None => return Vec::new(),
        Some(Onto::One(carrier)) => vec![*carrier],
        Some(Onto::Corner(carriers)) => carriers.clone(),
    };
    if onto.is_empty() || onto.len() > 4 {
        return vec![Fault::new(at, "An end is coped onto one to four bars.")];
    }
    let wrong = onto.iter().filter(|carrier| **carrier == own || !known.contains(carrier));
    wrong
        .map(|carrier| Fault::new(own.to_string(), format!("It cannot end on {carrier}: no such other bar.")))
        .collect()
}
