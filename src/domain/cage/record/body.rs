//! Where the body is, near the bars: gaps measured at stations along a bar, and points in space, as a fabricator takes them.

use std::collections::BTreeSet;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::by_hand::At;
use crate::domain::words::faults::Fault;
use crate::domain::words::limits;
use crate::quantity::{Length, Typed};

/// Most places of the body (own choice).
const MOST: usize = 200;
/// A gap wider than this is not the body beside a bar (own choice).
const WIDEST: Length = Length::from_mm(1_000.0);
/// Largest radius that is taken for a torch (own choice).
const TORCH_MOST: Length = Length::from_mm(300.0);

/// What of the body is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BodyPart {
    /// The skin of the roof and what stiffens it.
    Roof,
    /// Along the edge of the roof.
    RoofRail,
    /// Over the screen.
    ScreenTop,
    /// Beside the screen.
    ScreenPillar,
    /// Behind the door.
    CentrePillar,
    /// Under the door.
    Sill,
    /// Anything else.
    Other,
}

impl BodyPart {
    /// All of them.
    pub const ALL: [Self; 7] =
        [Self::Roof, Self::RoofRail, Self::ScreenTop, Self::ScreenPillar, Self::CentrePillar, Self::Sill, Self::Other];

    /// Its name in forms and files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Roof => "roof",
            Self::RoofRail => "roof_rail",
            Self::ScreenTop => "screen_top",
            Self::ScreenPillar => "screen_pillar",
            Self::CentrePillar => "centre_pillar",
            Self::Sill => "sill",
            Self::Other => "other",
        }
    }

    /// The words for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Roof => "roof",
            Self::RoofRail => "roof rail",
            Self::ScreenTop => "top of the screen",
            Self::ScreenPillar => "screen pillar",
            Self::CentrePillar => "centre pillar",
            Self::Sill => "sill",
            Self::Other => "other part of the body",
        }
    }

    /// Whether it lies over the bars rather than beside them.
    pub(in crate::domain::cage) const fn overhead(self) -> bool {
        matches!(self, Self::Roof | Self::ScreenTop)
    }
}

impl FromStr for BodyPart {
    type Err = String;
    fn from_str(key: &str) -> Result<Self, String> {
        let found = Self::ALL.into_iter().find(|part| part.key() == key);
        found.ok_or_else(|| format!("no part of the body is called “{key}”"))
    }
}

/// How a place of the body was taken. `L` is a length as it is kept.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Taken<L = Typed<Length>> {
    /// The gap between a bar and the body, somewhere along the bar.
    Gap {
        /// The bar's key.
        on: String,
        /// Where along it.
        at: At<L>,
        /// From the tube's outside to the body.
        gap: L,
    },
    /// A point of the body's inside, on the car's axes.
    Point {
        /// From the plane of the main hoop's feet; minus is behind it.
        forward: L,
        /// From the centre plane; minus is to the right.
        left: L,
        /// From the level of the floor.
        up: L,
    },
}

/// One place of the body.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BodyPlace<L = Typed<Length>> {
    /// Its own number among them; never given twice while it is there.
    pub number: u32,
    /// What of the body it is.
    pub part: BodyPart,
    /// How it was taken.
    pub taken: Taken<L>,
}

impl<L> BodyPlace<L> {
    /// Its key.
    pub fn key(&self) -> String {
        format!("body/{}", self.number)
    }

    /// The same with its lengths kept another way: `read` gets the field's name and the length; none as soon as it gives
    /// none.
    pub(in crate::domain::cage) fn with_lengths<M>(
        &self,
        mut read: impl FnMut(&str, &L) -> Option<M>,
    ) -> Option<BodyPlace<M>> {
        let taken = match &self.taken {
            Taken::Gap { on, at, gap } => {
                Taken::Gap { on: on.clone(), at: at.with_lengths("by", &mut read)?, gap: read("gap", gap)? }
            }
            Taken::Point { forward, left, up } => {
                Taken::Point { forward: read("forward", forward)?, left: read("left", left)?, up: read("up", up)? }
            }
        };
        Some(BodyPlace { number: self.number, part: self.part, taken })
    }
}

impl BodyPlace {
    /// What cannot be stored, by the form's field names.
    pub fn faults(&self) -> Vec<Fault> {
        let far = |at: &str, typed: &Typed<Length>, most: Length| {
            let within = typed.value.is_finite() && typed.value.abs() <= most;
            let why = || format!("“{}” is farther than a car is long.", typed.text);
            (!within).then(|| Fault::new(at, why()))
        };
        match &self.taken {
            Taken::Gap { at, gap, .. } => {
                let by = at.length().and_then(|by| far("by", by, limits::CAR));
                let within = gap.value >= Length::default() && gap.value <= WIDEST;
                let most = Length::at_most(WIDEST);
                let why = format!("“{}” is no gap beside a bar: from nothing to {most} fits.", gap.text);
                by.into_iter().chain((!within).then(|| Fault::new("gap", why))).collect()
            }
            Taken::Point { forward, left, up } => {
                let all = [("forward", forward), ("left", left), ("up", up)];
                all.into_iter().filter_map(|(at, typed)| far(at, typed, limits::CAR)).collect()
            }
        }
    }
}

/// What cannot be stored of all of them and of the torch, each field by its place's key.
pub(in crate::domain::cage) fn faults(places: &[BodyPlace], torch: Option<&Typed<Length>>) -> Vec<Fault> {
    if places.len() > MOST {
        return vec![Fault::new("body", format!("At most {MOST} places of the body."))];
    }
    let mut faults = Vec::new();
    let mut numbers = BTreeSet::new();
    for place in places {
        faults.extend(
            place.faults().into_iter().map(|fault| Fault::new(format!("{}/{}", place.key(), fault.at), fault.why)),
        );
        if !numbers.insert(place.number) {
            let why = format!("Two places of the body have the number {}; a number is given once.", place.number);
            faults.push(Fault::new(place.key(), why));
        }
    }
    let out = torch.filter(|torch| !(torch.value > Length::default() && torch.value <= TORCH_MOST));
    faults.extend(out.map(|torch| {
        let most = Length::at_most(TORCH_MOST);
        let why = format!("“{}” is no torch's radius: more than nothing and at most {most} fits.", torch.text);
        Fault::new("torch_radius", why)
    }));
    faults
}

/// The number for the next place.
pub fn next_number(places: &[BodyPlace]) -> u32 {
    places.iter().map(|place| place.number).max().unwrap_or(0).saturating_add(1)
}
