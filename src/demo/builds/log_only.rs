//! A vehicle with no rule book: only a log.

use super::steps;
use crate::demo::DemoError;
use crate::demo::house::{House, Past, Words};

pub(super) async fn make(house: &House<'_>) -> Result<(), DemoError> {
    let about = "The shop's own van: gearbox out, bulkhead repair.";
    let build = steps::begin(house, Past { days: 20, hour: 8 }, ("Sloe Van", about), None).await?.id;
    let out = Words { text: "Gearbox out; two teeth of third gone.", hours: 4.0, ..Words::default() };
    house.note(build, Past { days: 18, hour: 15 }, out).await?;
    let bulkhead =
        Words { text: "Rust cut out of the bulkhead, patch let in.", hours: 5.5, cost: 38, ..Words::default() };
    house.note(build, Past { days: 16, hour: 15 }, bulkhead).await?;
    let waits = Words {
        text: "Gears ordered.",
        cost: 265,
        waiting_on: "third gear pair from the gearbox breaker",
        ..Words::default()
    };
    house.note(build, Past { days: 14, hour: 11 }, waits).await?;
    Ok(())
}
