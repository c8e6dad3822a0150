//! Bars added by hand: straight ones between any two places on other bars, named the way a fabricator measures them.

use std::collections::BTreeSet;

use glam::DVec3;
use serde::{Deserialize, Serialize};

use super::fittings::Toward;
use crate::domain::words::faults::Fault;
use crate::domain::words::limits;
use crate::domain::words::roles::MemberRole;
use crate::quantity::{Length, Typed};

/// Most bars of one cage that are added by hand (own choice).
const MOST: usize = 60;

/// A direction of the car, as in ISO 8855.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Axis {
    /// From the main hoop's feet toward the nose.
    Forward,
    /// From the centre plane to the left; minus is to the right.
    Left,
    /// From the floor.
    Up,
}

impl Axis {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Forward, Self::Left, Self::Up];

    pub(in crate::domain::cage) fn of(self, point: DVec3) -> f64 {
        match self {
            Self::Forward => point.x,
            Self::Left => point.y,
            Self::Up => point.z,
        }
    }
}

/// Where on a bar. Ends and bends are counted from the bar's first point. `L` is a length as it is kept.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum At<L = Typed<Length>> {
    /// Halfway along it.
    Middle,
    /// So far along it from one of its ends.
    FromEnd {
        /// Which end.
        end: Toward,
        /// How far.
        by: L,
    },
    /// So high over the plate that one of its ends stands on.
    OverPlate {
        /// Which end.
        end: Toward,
        /// How high.
        by: L,
    },
    /// At the middle of a bend, or so far past it toward the last end; minus toward the first.
    Bend {
        /// Which bend, from 1.
        bend: u8,
        /// How far past.
        #[serde(skip_serializing_if = "Option::is_none")]
        past: Option<L>,
    },
    /// Where it first passes a plane of the car, coming from one of its ends.
    Passing {
        /// Square to which direction the plane stands.
        axis: Axis,
        /// Where the plane is.
        at: L,
        /// From which end one looks.
        from: Toward,
    },
    /// Where another bar comes nearest, such as the joint where it lands.
    Meets {
        /// The other bar's key.
        bar: String,
        /// From which end of this bar one looks, where the two meet at more places than one; the first seen is meant.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        from: Option<Toward>,
    },
}

impl<L> At<L> {
    /// The same with its length kept another way: `read` gets the field's name and the length.
    pub(in crate::domain::cage) fn with_lengths<M>(
        &self,
        by: &str,
        read: &mut impl FnMut(&str, &L) -> Option<M>,
    ) -> Option<At<M>> {
        Some(match self {
            Self::Middle => At::Middle,
            Self::FromEnd { end, by: length } => At::FromEnd { end: *end, by: read(by, length)? },
            Self::OverPlate { end, by: length } => At::OverPlate { end: *end, by: read(by, length)? },
            Self::Bend { bend, past: None } => At::Bend { bend: *bend, past: None },
            Self::Bend { bend, past: Some(past) } => At::Bend { bend: *bend, past: Some(read(by, past)?) },
            Self::Passing { axis, at, from } => At::Passing { axis: *axis, at: read(by, at)?, from: *from },
            Self::Meets { bar, from } => At::Meets { bar: bar.clone(), from: *from },
        })
    }

    pub(in crate::domain::cage) fn length(&self) -> Option<&L> {
        match self {
            Self::Middle | Self::Meets { .. } => None,
            Self::FromEnd { by, .. } | Self::OverPlate { by, .. } => Some(by),
            Self::Bend { past, .. } => past.as_ref(),
            Self::Passing { at, .. } => Some(at),
        }
    }
}

/// Where one end of such a bar stands.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stand<L = Typed<Length>> {
    /// The key of the bar it lands on.
    pub on: String,
    /// Where on it.
    pub at: At<L>,
    /// The key of a second bar that meets the first there, when the end is coped over both.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_with: Option<String>,
    /// How far its axis passes beside the carrier's: plus is upward, or forward where it would be level.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub offset: Option<L>,
}

impl Stand {
    /// An end at a place, on the carrier's axis.
    pub fn new(on: impl Into<String>, at: At) -> Self {
        Self { on: on.into(), at, corner_with: None, offset: None }
    }
}

/// A bar that a person adds between two places.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HandBar<L = Typed<Length>> {
    /// Its own number among the bars added by hand; never given twice.
    pub number: u32,
    /// What the shop calls it.
    pub name: String,
    /// What it is to the cage.
    pub role: MemberRole,
    /// Where both its ends stand.
    pub ends: [Stand<L>; 2],
    /// Whether it is cut where straight bars stand in its way, and ends on them.
    #[serde(default)]
    pub cut_at_crossings: bool,
}

impl HandBar {
    /// What cannot be stored, by the field names `name` and `first_…`, `last_…`.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("name", &self.name);
        for (end, stand) in ["first", "last"].into_iter().zip(&self.ends) {
            let far = |typed: &Typed<Length>| !(typed.value.is_finite() && typed.value.abs() <= limits::CAR);
            let why = |typed: &Typed<Length>| format!("“{}” is farther than a car is long.", typed.text);
            faults
                .extend(stand.at.length().filter(|typed| far(typed)).map(|t| Fault::new(format!("{end}_by"), why(t))));
            let offset = stand.offset.as_ref();
            faults.extend(offset.filter(|typed| far(typed)).map(|t| Fault::new(format!("{end}_offset"), why(t))));
            if offset.is_some() && stand.corner_with.is_some() {
                let why = "In a corner the bar points at both axes; leave the offset empty.";
                faults.push(Fault::new(format!("{end}_offset"), why));
            }
        }
        faults
    }
}

impl<L> HandBar<L> {
    /// Its key.
    pub fn key(&self) -> String {
        format!("by-hand/{}", self.number)
    }

    /// The same bar with its lengths kept another way: `read` gets the field's name and the length; none as soon as it
    /// gives none.
    pub(in crate::domain::cage) fn with_lengths<M>(
        &self,
        mut read: impl FnMut(&str, &L) -> Option<M>,
    ) -> Option<HandBar<M>> {
        let [first, last] = &self.ends;
        let ends = [first.with_lengths("first", &mut read)?, last.with_lengths("last", &mut read)?];
        let (number, role, cut_at_crossings) = (self.number, self.role, self.cut_at_crossings);
        Some(HandBar { number, name: self.name.clone(), role, ends, cut_at_crossings })
    }
}

impl<L> Stand<L> {
    fn with_lengths<M>(&self, end: &str, read: &mut impl FnMut(&str, &L) -> Option<M>) -> Option<Stand<M>> {
        let at = self.at.with_lengths(&format!("{end}_by"), read)?;
        let offset = match &self.offset {
            None => None,
            Some(offset) => Some(read(&format!("{end}_offset"), offset)?),
        };
        Some(Stand { on: self.on.clone(), at, corner_with: self.corner_with.clone(), offset })
    }
}

/// What cannot be stored of all of them together, each field by its bar's key.
pub(in crate::domain::cage) fn faults(bars: &[HandBar]) -> Vec<Fault> {
    if bars.len() > MOST {
        return vec![Fault::new("bars_by_hand", format!("At most {MOST} bars are added by hand."))];
    }
    let mut faults = Vec::new();
    let mut numbers = BTreeSet::new();
    for bar in bars {
        let at = |fault: Fault| Fault::new(format!("{}/{}", bar.key(), fault.at), fault.why);
        faults.extend(bar.faults().into_iter().map(at));
        if !numbers.insert(bar.number) {
            let why = format!("Two bars by hand have the number {}; a number is given once.", bar.number);
            faults.push(Fault::new(bar.key(), why));
        }
    }
    faults
}

/// The number for the next bar added by hand: one more than any that was ever given.
pub fn next_number<'k>(bars: &[HandBar], keys: impl Iterator<Item = &'k String>) -> u32 {
    let given = keys.filter_map(|key| key.strip_prefix("by-hand/")?.split('/').next()?.parse().ok());
    bars.iter().map(|bar| bar.number).chain(given).max().unwrap_or(0).saturating_add(1)
}
