//! A vehicle with no rule book: only a log.

use super::steps;
use crate::demo::DemoError;
use crate::demo::house::{House, Past, Words};

pub(super) async fn make(house: &House) -> Result<(), DemoError> {
    let about = "Tow car of the shop: rear axle apart, a cross member to mend.";
    let build = steps::begin(house, Past { days: 20, hour: 8 }, ("Tansy Pickup", about), None).await?.id;
    let out =
        Words { text: "Axle down; the left half shaft's splines are worn through.", hours: 4.0, ..Words::default() };
    house.note(build, Past { days: 18, hour: 15 }, out).await?;
    let member = Words {
        text: "Cross member cut back to sound metal, new piece tacked.",
        hours: 5.5,
        cost: 44,
        ..Words::default()
    };
    house.note(build, Past { days: 16, hour: 15 }, member).await?;
    let waits = Words {
        text: "A shaft is on its way.",
        cost: 190,
        waiting_on: "half shaft, left, from the axle works",
        ..Words::default()
    };
    house.note(build, Past { days: 14, hour: 11 }, waits).await?;
    Ok(())
}
