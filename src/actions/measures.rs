//! Recording what was measured on the car.

use serde_json::json;

use super::context::{Context, refuse};
use super::error::ActionError;
use crate::domain::derived::measuring::ReadOff;
use crate::domain::measure::amounts::{Amount, Dimension};
use crate::domain::measure::figures::Measured;
use crate::domain::measure::measures::Measure;
use crate::domain::measure::tools::Tool;
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{Balloon, BuildId};
use crate::domain::words::limits;
use crate::domain::words::wording::capital;
use crate::quantity::{Angle, Units};

/// A figure as it is entered.
#[derive(Debug, Clone, PartialEq)]
pub struct NewMeasured {
    /// What was measured.
    pub measure: Measure,
    /// Of which part.
    pub of: Balloon,
    /// The figure, and as it was typed.
    pub read: ReadOff,
    /// What it was read with; none when nobody said.
    pub tool: Option<Tool>,
}

impl NewMeasured {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("text", self.read.text());
        if !self.measure.measured() {
            let why = format!("The {} follows from the model; it is not read off the car.", self.measure.word());
            faults.push(Fault::new("measure", why));
        }
        if self.read.amount().dimension() != self.measure.dimension() {
            faults.push(Fault::new("amount", "This figure is of another kind than what was measured."));
        } else if self.tool.is_some_and(|tool| !Tool::of(self.measure, Units::Inch).contains(&tool)) {
            faults.push(Fault::new("tool", "This is not read with such a tool."));
        } else if let Some(why) = self.out_of_bounds() {
            faults.push(Fault::new("amount", why));
        }
        faults
    }

    /// A gap may be nothing; a wall, a hole and a share may not.
    fn out_of_bounds(&self) -> Option<&'static str> {
        let value = self.read.amount().in_base_unit();
        let gap = matches!(self.measure, Measure::BodyGap | Measure::HeadGap);
        if self.measure.dimension() == Dimension::Percent && value == 0.0 {
            return None;
        }
        if !value.is_finite() || value < 0.0 || (value == 0.0 && !gap) {
            return Some(if gap { "A gap is not less than nothing." } else { "This is more than nothing." });
        }
        match self.read.amount() {
            Amount::Length(length) if length > limits::CAR => Some("A length on a car is at most 8 m (26 ft)."),
            Amount::Ratio(ratio) if ratio > 1.0 => {
                Some("The smaller diameter over the larger is at most 1. Are the two the wrong way round?")
            }
            Amount::Percent(share) if share > 100.0 => Some("A share of the steel is at most 100 %."),
            Amount::Stress(stress) if stress > limits::STRENGTH => {
                Some("A tube's steel has at most 3000 N/mm² (435 ksi).")
            }
            Amount::Angle(angle) if angle > Angle::from_degrees(360.0) => Some("An angle is at most 360°."),
            Amount::Count(3..) if self.measure == Measure::BoltShear => {
                Some("A bolt is sheared in 1 plane, or in 2 with a welded bush.")
            }
            Amount::Count(101..) => Some("A plate has at most 100 bolts."),
            _ => None,
        }
    }
}

/// Records a figure that was read off the car; the newest of a measure and a part counts, and the older ones stay.
pub async fn record(ctx: &Context, build: BuildId, new: NewMeasured) -> Result<Measured, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(new.faults())?;
    let measured = Measured {
        measure: new.measure,
        of: new.of,
        amount: new.read.amount(),
        text: new.read.text().to_owned(),
        at: ctx.clock.now(),
        by: ctx.by.name.clone(),
        tool: new.tool,
    };
    let detail = json!({
        "measure": measured.measure, "of": measured.of, "value": measured.amount.in_base_unit(), "text": measured.text,
        "tool": measured.tool,
    });
    let what = format!("{} of {} was measured: {}.", capital(measured.measure.word()), measured.of, measured.text);
    let entry = ctx.entry("measures", build, what, detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                write.add_measured(build, &measured).await?;
                Ok((measured, Some(entry)))
            })
        })
        .await
}
