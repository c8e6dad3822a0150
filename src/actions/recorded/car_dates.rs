//! Recording the car's own dates.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::shop::people::Deed;
use crate::domain::words::car_dates::{CarDate, CarDates};
use crate::domain::words::ids::BuildId;
use crate::store::Stated;

/// Records what the car's papers say; the newest counts, the older ones stay. The same again is recorded once. `Stale` where
/// somebody recorded others than those that were before the writer, the statement `over`.
pub async fn record(
    ctx: &Context,
    build: BuildId,
    dates: CarDates,
    over: Option<i64>,
) -> Result<CarDates, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(dates.faults(ctx.clock.today()))?;
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    let dates = CarDates { at: Some(at), ..dates };
    let description = CarDate::ALL.map(|date| {
        let said = dates.of(date).map_or_else(|| "not known".to_owned(), |date| date.to_string());
        format!("{}: {said}", date.asked())
    });
    let detail = json!({
        "registered": dates.registered, "homologated": dates.homologated, "log_book": dates.log_book,
    });
    let entry = ctx.entry("car", build, format!("The car's dates were recorded. {}.", description.join(". ")), detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                let before = write.car_dates(build).await?;
                if (CarDates { at: dates.at, ..before }) == dates {
                    return Ok((before, None));
                }
                write.states_over(Stated::CarDates(build), over).await?;
                write.add_car_dates(build, &dates, at, &by).await?;
                Ok((dates, Some(entry)))
            })
        })
        .await
}
