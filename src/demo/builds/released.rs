//! A build whose round is approved: full welding may go on.

use super::{kit, rounds, steps};
use crate::demo::DemoError;
use crate::demo::house::{Focus, House, Past, Words};
use crate::domain::rounds::Decision;

/// The shell's paint: grey primer.
const PAINT: [u8; 3] = [122, 122, 118];
/// Days from today to the event.
const EVENT: i64 = 30;

pub(super) async fn make(house: &House<'_>) -> Result<(), DemoError> {
    let about = "Estate car, heavy class; released, being welded.";
    let build = steps::begin(house, Past { days: 66, hour: 7 }, ("Rowan Estate", about), Some(EVENT)).await?.id;
    let note = "Full tank, both spare wheels aboard.";
    steps::weigh(house, build, Past { days: 66, hour: 9 }, [751, 744, 708, 702], note).await?;
    let found = steps::lay_out(house, build, Past { days: 64, hour: 10 }, steps::plain).await?;
    steps::buy_and_cut(
        house,
        build,
        (Past { days: 63, hour: 8 }, Past { days: 60, hour: 12 }),
        (&found.cage, &[]),
        47_100,
    )
    .await?;
    kit::bring(house, build, Past { days: 59, hour: 9 }, house.day(EVENT), false).await?;
    steps::measure(house, build, Past { days: 58, hour: 9 }, |_, _| true).await?;
    house.photograph(build, Past { days: 57, hour: 8 }, PAINT, &|_, _| Some(Focus::Found)).await?;
    let round = rounds::issue(house, build, Past { days: 55, hour: 10 }).await?;
    let words = "Approved as shown. Weld as tacked; I look at the seams at final inspection.";
    rounds::reply(house, &round, Past { days: 52, hour: 15 }, (Decision::Approved, words), Vec::new()).await?;
    let welding =
        Words { text: "Hoop and half hoops welded; overhead seams tomorrow.", hours: 8.0, ..Words::default() };
    house.note(build, Past { days: 50, hour: 16 }, welding).await?;
    Ok(())
}
