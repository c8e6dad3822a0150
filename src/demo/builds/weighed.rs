//! A build that has just been weighed.

use super::steps;
use crate::demo::DemoError;
use crate::demo::house::{Focus, House, Past, Words};

/// The shell's paint: a faded blue.
const PAINT: [u8; 3] = [82, 104, 138];

pub(super) async fn make(house: &House<'_>) -> Result<(), DemoError> {
    let about = "Four-door saloon, bare inside; weighed, nothing bought yet.";
    let build = steps::begin(house, Past { days: 1, hour: 7 }, ("Alder Saloon", about), Some(120)).await?.id;
    let note = "Full tank, spare wheel and jack aboard.";
    steps::weigh(house, build, Past { days: 1, hour: 9 }, [742, 731, 688, 697], note).await?;
    house
        .photograph(build, Past { days: 1, hour: 10 }, PAINT, &|_, shot| {
            (shot.view.as_deref() == Some("read-out")).then_some(Focus::Found)
        })
        .await?;
    let words = Words { text: "Stripped and weighed.", hours: 6.5, ..Words::default() };
    house.note(build, Past { days: 1, hour: 16 }, words).await?;
    Ok(())
}
