//! What is recorded of a lowering: whether it is wanted, with which figures, and what was looked at and done.

use serde::{Deserialize, Serialize};

use crate::domain::cage::TapeMeasure;
use crate::domain::words::faults::Fault;
use crate::domain::words::limits;
use crate::quantity::{Length, Typed};

/// The figures a plan is made with, as typed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Settings {
    /// Room over a joint that a torch and a hand want.
    pub room: Typed<Length>,
    /// How much a hole is larger than its tube.
    pub over: Typed<Length>,
    /// Height of the roof inside at the windscreen header; none where nobody measured it.
    pub roof_front: Option<Typed<Length>>,
    /// The car's floor over the shop's, as it stands or can be put on stands; none where nobody measured it.
    pub under: Option<Typed<Length>>,
}

impl Default for Settings {
    /// Six inches of room, and holes a quarter inch over the tube (own choice, both).
    fn default() -> Self {
        let inch = |text: &str, value: f64| Typed::of(Length::from_inches(value), text);
        Self { room: inch("6 in", 6.0), over: inch("1/4 in", 0.25), roof_front: None, under: None }
    }
}

impl Settings {
    /// What is wrong with them, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        let mut within = |at: &str, value: Length, (least, most): (Length, Length), why: &str| {
            if !(value >= least && value <= most) {
                faults.push(Fault::new(at, format!("{why} {}.", Length::between(least, most))));
            }
        };
        within("room", self.room.value, limits::TORCH_ROOM, "A torch's room is");
        within("over", self.over.value, limits::HOLE_OVER, "What a hole is over its tube lies within");
        if let Some(roof) = &self.roof_front {
            let why = "A roof's height over the floor inside is";
            within("roof_front", roof.value, TapeMeasure::RoofInside.bounds(), why);
        }
        if let Some(under) = &self.under {
            let why = "What a car's floor stands over the shop's lies within";
            within("under", under.value, limits::ON_STANDS, why);
        }
        faults
    }
}

/// What a shop said of lowering a cage.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Lowering {
    /// Whether this cage will be lowered.
    pub wanted: bool,
    /// With which figures.
    pub settings: Settings,
}

/// What a person looked at and ticked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Look {
    /// The plate over which the hole is, or the step that is ticked.
    pub place: String,
    /// The hole as it was planned then: forward and left of the origin, long, wide, mm; empty for a step.
    pub looked: Vec<f64>,
    /// What was ticked, by key.
    pub ticked: Vec<String>,
    /// The plan it was ticked for, by its mark; empty where that was not kept.
    #[serde(default)]
    pub plan: String,
    /// What there is to say.
    pub note: String,
    /// When.
    pub at: jiff::Timestamp,
    /// By whom.
    pub by: String,
}
