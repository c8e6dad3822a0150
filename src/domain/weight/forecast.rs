//! What was foreseen of the finished car, frozen when it was weighed with its cage in.

use serde::{Deserialize, Serialize};

use super::carried::{Listed, Thing};
use super::foreseen::{CagePart, Foreseen};
use super::weigh_in::WeighIn;
use crate::domain::book::{ClassAnswer, NoClass};
use crate::quantity::Mass;

/// A class by the id of its rule and its name.
pub type ClassNamed = [String; 2];

/// What was foreseen, as it stood then. Masses in kilograms.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Forecast {
    /// The number of the weigh-in of the finished car.
    pub weigh_in: u32,
    /// The number of the weigh-in it was foreseen from.
    pub before: u32,
    /// What was ticked at that one.
    pub conditions: Vec<String>,
    /// What the car weighed then.
    pub weighed: Mass,
    /// What was listed as going in and coming out.
    pub things: Vec<Thing>,
    /// The cage by the model; none when it was not laid out.
    pub cage: Option<Mass>,
    /// The finished car as foreseen.
    pub finished: Mass,
    /// One standard deviation of that.
    pub doubt: Mass,
    /// The class of the weighed car.
    pub class: Option<ClassNamed>,
    /// The class foreseen.
    pub class_foreseen: Option<ClassNamed>,
}

impl Forecast {
    /// From the weigh-in before, the list, and what was foreseen of them; none when the cage stood in the car already, or
    /// nothing was foreseen.
    pub fn of(newest: &WeighIn, listed: &[Listed], foreseen: &Foreseen) -> Option<Self> {
        let named = |class: &Option<Result<ClassAnswer, NoClass>>| {
            let answer = class.as_ref()?.as_ref().ok()?;
            Some([answer.rule_id.clone(), answer.class.clone()])
        };
        let cage = match foreseen.cage {
            CagePart::Weighed => return None,
            CagePart::Model(mass) => Some(mass),
            CagePart::NotLaidOut => None,
        };
        foreseen.tells().then(|| Self {
            weigh_in: newest.number + 1,
            before: newest.number,
            conditions: newest.reading.conditions.clone(),
            weighed: foreseen.weighed,
            things: listed.iter().map(|listed| listed.thing.clone()).collect(),
            cage,
            finished: foreseen.finished,
            doubt: foreseen.doubt,
            class: named(&foreseen.now),
            class_foreseen: named(&foreseen.then),
        })
    }
}
