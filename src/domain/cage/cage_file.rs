//! The cage file as it is written, and what is wrong with it before anything is worked out.

use glam::DVec3;
use serde::Deserialize;

use crate::domain::faults::Fault;
use crate::domain::ids::{Balloon, Kind};
use crate::domain::roles::MemberRole;
use crate::quantity::Length;

/// Most bars of a file.
const MOST: usize = 400;

/// A cage file as it is written.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct File {
    pub(super) tackbook_cage: u32,
    pub(super) unit: Unit,
    pub(super) members: Vec<FileMember>,
    #[serde(default)]
    pub(super) plates: Vec<FilePlate>,
    #[serde(default)]
    pub(super) gussets: Vec<serde_json::Value>,
}

#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
pub(super) enum Unit {
    #[serde(rename = "mm")]
    Millimetre,
    #[serde(rename = "in")]
    Inch,
}

impl Unit {
    pub(super) fn length(self, value: f64) -> Length {
        match self {
            Self::Millimetre => Length::from_mm(value),
            Self::Inch => Length::from_inches(value),
        }
    }

    pub(super) fn point(self, point: [f64; 3]) -> DVec3 {
        DVec3::from_array(point.map(|value| self.length(value).mm()))
    }
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FileMember {
    pub(super) balloon: Balloon,
    pub(super) role: MemberRole,
    pub(super) tube: FileTube,
    pub(super) points: Vec<[f64; 3]>,
    #[serde(default)]
    pub(super) bend_radius: f64,
    pub(super) ends: [FileEnd; 2],
}

#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FileTube {
    pub(super) outside: f64,
    pub(super) wall: f64,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FileEnd {
    #[serde(default)]
    pub(super) plate: Option<Balloon>,
    #[serde(default)]
    pub(super) onto: Option<Onto>,
    #[serde(default)]
    pub(super) offset: f64,
    #[serde(default)]
    pub(super) free: bool,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(untagged)]
pub(super) enum Onto {
    One(Balloon),
    Corner(Vec<Balloon>),
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FilePlate {
    pub(super) balloon: Balloon,
    #[serde(default)]
    pub(super) sides: Option<[f64; 2]>,
    #[serde(default)]
    pub(super) thickness: Option<f64>,
}

impl File {
    /// What is wrong with it, by line or balloon.
    pub(super) fn faults(&self) -> Vec<Fault> {
        let file = self;
        let mut faults = Vec::new();
        if file.tackbook_cage != 1 {
            let why = format!("This is version {} of the cage file; this program reads version 1.", file.tackbook_cage);
            faults.push(Fault::new("tackbook_cage", why));
        }
        if file.members.len() > MOST {
            faults.push(Fault::new("members", format!("At most {MOST} bars.")));
        }
        if !file.gussets.is_empty() {
            faults.push(Fault::new("gussets", "Gussets in a cage file are not read yet. Leave them out."));
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
        faults
    }
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
