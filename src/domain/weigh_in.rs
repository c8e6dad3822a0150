//! Weigh-in: four pads, what was ticked, the shares, and the doubt of the scale.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::faults::Fault;
use super::ids::WeighInId;
use super::limits;
use crate::quantity::{Mass, Typed};

/// One weighing of the car on four pads.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WeighIn {
    /// The store's name for it.
    pub id: WeighInId,
    /// W1, W2 … in the build.
    pub number: u32,
    /// What was read and ticked.
    pub reading: Reading,
    /// The day it was done, in the shop's zone.
    pub day: Date,
    /// Who did it.
    pub by: String,
}

/// What the pads said and under which conditions.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// The four pads.
    pub pads: Pads,
    /// The step of the scale's display.
    pub resolution: Typed<Mass>,
    /// The conditions that were ticked, by the book's own key.
    pub conditions: Vec<String>,
    /// What else there is to say: scale, certificate, place.
    pub note: String,
}

/// The loads under the four wheels.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Pads {
    /// Left front.
    pub left_front: Typed<Mass>,
    /// Right front.
    pub right_front: Typed<Mass>,
    /// Left rear.
    pub left_rear: Typed<Mass>,
    /// Right rear.
    pub right_rear: Typed<Mass>,
}

/// What is ticked before a weighing counts where no book says so, by key (*common practice*).
pub const USUAL_CONDITIONS: [(&str, &str); 4] = [
    ("fuel", "Fuel tank full"),
    ("nobody", "Nobody aboard"),
    ("level", "Pads level, one under each wheel"),
    ("settled", "Suspension rolled and settled, brakes off"),
];

impl Pads {
    fn all(&self) -> [(&'static str, Mass); 4] {
        [
            ("left_front", self.left_front.value),
            ("right_front", self.right_front.value),
            ("left_rear", self.left_rear.value),
            ("right_rear", self.right_rear.value),
        ]
    }

    /// The whole car.
    pub fn total(&self) -> Mass {
        self.all().into_iter().map(|pad| pad.1).sum()
    }

    /// Share of the front axle, (LF + RF) / total.
    pub fn front(&self) -> f64 {
        (self.left_front.value + self.right_front.value) / self.total()
    }

    /// Share of the left side, (LF + LR) / total.
    pub fn left(&self) -> f64 {
        (self.left_front.value + self.left_rear.value) / self.total()
    }

    /// Share of one diagonal, (RF + LR) / total; the other is what is left to 1. Two conventions are in use, so print the wheels with it.
    pub fn diagonal(&self) -> f64 {
        (self.right_front.value + self.left_rear.value) / self.total()
    }

    /// What is wrong with them, if anything. A pad typed in the wrong unit stands out by a factor of 2.2.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        for (at, load) in self.all() {
            if load <= Mass::from_kg(0.0) || load > limits::PAD {
                faults.push(Fault::new(at, "A pad reads more than nothing and at most 2,500 kg (5,500 lb)."));
            }
        }
        if faults.is_empty() {
            faults.extend(self.unlike_faults());
        }
        faults
    }

    fn unlike_faults(&self) -> Vec<Fault> {
        let loads = self.all();
        let mut sorted = loads.map(|pad| pad.1.kg());
        sorted.sort_by(f64::total_cmp);
        let [_, low, high, _] = sorted;
        let middle = f64::midpoint(low, high);
        loads
            .into_iter()
            .filter(|pad| !(middle / 4.0..=middle * 4.0).contains(&pad.1.kg()))
            .map(|pad| {
                Fault::new(pad.0, "This pad is far from the other three. Was it read in another unit (1 kg is 2.2 lb), or is a digit missing?")
            })
            .collect()
    }
}

impl Reading {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = self.pads.faults();
        if self.resolution.value <= Mass::from_kg(0.0) || self.resolution.value > Mass::from_kg(10.0) {
            faults.push(Fault::new("resolution", "A scale's step is more than nothing and at most 10 kg (22 lb)."));
        }
        faults.extend(limits::text_faults("note", &self.note));
        faults
    }

    /// Doubt of the total (one standard deviation): four displays, each a rectangle of one step, and each pad zeroed once
    /// (GUM 4.3.7; reading and zero give twice the variance).
    pub fn doubt(&self) -> Mass {
        let step = self.resolution.value;
        step * (8.0_f64 / 12.0).sqrt()
    }
}
