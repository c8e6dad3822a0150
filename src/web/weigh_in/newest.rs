//! What the weigh-in sheet shows of a recorded weighing beside its figures.

use crate::domain::weight::scale_class::{Looked, ScaleClass};
use crate::domain::weight::scale_paper::Paper;
use crate::domain::weight::weigh_in::{Reading, WeighIn};
use crate::quantity::{Show as _, Units};

/// A recorded weighing.
pub(super) struct Weighed {
    pub(super) number: u32,
    pub(super) day: String,
    pub(super) by: String,
    pub(super) total: String,
    /// Every total, where it was weighed again.
    pub(super) totals: String,
    pub(super) aboard: String,
    pub(super) heights: String,
    /// None when the car was weighed as a whole.
    pub(super) pads: Option<[String; 4]>,
    pub(super) cage_in: bool,
    pub(super) scale: String,
    /// The paper that its doubt goes by.
    pub(super) paper: Option<String>,
    /// What a scale of each class may be off: its class, when verified, in service.
    pub(super) allowed: Vec<(&'static str, String, String)>,
    pub(super) note: String,
}

/// The totals of a car that was weighed again, with their spread; empty of one weighed once.
fn totals(reading: &Reading, units: Units) -> String {
    let describe = |(each, spread)| format!("{each}: their mean, with a spread of {spread} (one standard deviation)");
    reading.describe_totals(units).map(describe).unwrap_or_default()
}

impl Weighed {
    pub(super) fn of(weigh_in: &WeighIn, units: Units) -> Self {
        let reading = &weigh_in.reading;
        let pads = reading.loads.pads();
        Self {
            number: weigh_in.number,
            day: weigh_in.day.to_string(),
            by: weigh_in.by.clone(),
            total: reading.total().show(units),
            totals: totals(reading, units),
            aboard: reading.stood.aboard.clone(),
            heights: reading.stood.heights.clone(),
            pads: pads.map(|pads| {
                [&pads.left_front, &pads.right_front, &pads.left_rear, &pads.right_rear]
                    .map(|pad| pad.value.show(units))
            }),
            cage_in: reading.cage_in,
            scale: reading.scale.clone(),
            paper: reading.paper.as_ref().map(Paper::describe),
            allowed: ScaleClass::ALL
                .into_iter()
                .filter_map(|class| {
                    let [first, service] = [Looked::First, Looked::InService].map(|when| reading.allowed(class, when));
                    Some((class.word(), first?.show(units), service?.show(units)))
                })
                .collect(),
            note: reading.note.clone(),
        }
    }
}
