//! A build that has just been weighed.

use super::steps;
use crate::demo::DemoError;
use crate::demo::house::{Focus, House, Past, Words};

/// The shell's paint: a faded blue.
const PAINT: [u8; 3] = [82, 104, 138];
/// Days from today to the event.
const EVENT: i64 = 112;

pub(super) async fn make(house: &House) -> Result<(), DemoError> {
    let about = "Three-box saloon, stripped yesterday; on the scale, no tube ordered.";
    let build = steps::begin(house, Past { days: 1, hour: 7 }, ("Burdock Saloon", about), Some(EVENT)).await?.id;
    let note = "Tank filled to half by the gauge, boot emptied.";
    let pads = ["322.5 kg", "318 kg", "297.5 kg", "301 kg"];
    steps::weigh(house, build, Past { days: 1, hour: 9 }, (pads, "0.5 kg"), note).await?;
    house
        .photograph(build, Past { days: 1, hour: 10 }, PAINT, &|_, shot| {
            (shot.view.as_deref() == Some("read-out")).then_some(Focus::Found)
        })
        .await?;
    let words = Words { text: "Interior out, car on the pads.", hours: 6.5, ..Words::default() };
    house.note(build, Past { days: 1, hour: 16 }, words).await?;
    Ok(())
}
