//! Recording what was measured on the car.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::derived::measures::NewMeasured;
use crate::domain::measure::figures::Measured;
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::BuildId;
use crate::domain::words::wording::capital;
use crate::store::Entry;

/// Records figures that were read off the car, all of them or none; the newest of a measure and a part counts, and the older
/// ones stay.
pub async fn record(ctx: &Context, build: BuildId, new: Vec<NewMeasured>) -> Result<Vec<Measured>, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(new.iter().flat_map(NewMeasured::faults).collect())?;
    let description: Vec<(Measured, Entry)> = new.iter().map(|new| one(ctx, build, new)).collect();
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                let mut all = Vec::new();
                for (measured, entry) in description {
                    write.add_measured(build, &measured).await?;
                    write.log(entry).await?;
                    all.push(measured);
                }
                Ok((all, None))
            })
        })
        .await
}

fn one(ctx: &Context, build: BuildId, new: &NewMeasured) -> (Measured, Entry) {
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
    (measured, entry)
}
