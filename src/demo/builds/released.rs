//! A build whose round is approved: full welding may go on. The shop measured this one in inches and pounds.

use super::{kit, rounds, steps, welds};
use crate::demo::DemoError;
use crate::demo::cages::Layout;
use crate::demo::house::{Focus, House, Past, Words};
use crate::domain::recorded::rounds::Decision;
use crate::quantity::Units;

/// The shell's paint: grey primer.
const PAINT: [u8; 3] = [122, 122, 118];
/// Days from today to the event.
const EVENT: i64 = 26;

pub(super) async fn make(house: &House) -> Result<(), DemoError> {
    let about = "Old estate, heavy class, kept in inches and pounds; released, the welding has begun.";
    let build = steps::begin(house, Past { days: 66, hour: 7 }, ("Campion Estate", about), Some(EVENT)).await?.id;
    let note = "Its owner's own pads, which read pounds.";
    let pads = ["803 lb", "795 lb", "764 lb", "757 lb"];
    steps::weigh(house, build, Past { days: 66, hour: 9 }, (pads, "1 lb"), note).await?;
    let layout = Layout { whole: false, units: Units::Inch };
    let found = steps::lay_out(house, build, Past { days: 64, hour: 10 }, layout).await?;
    let moments = (Past { days: 63, hour: 8 }, Past { days: 60, hour: 12 });
    steps::buy_and_cut(house, build, moments, (&found.worked.cage, &[]), (58_330, "20 ft")).await?;
    kit::bring(house, build, Past { days: 59, hour: 9 }, house.day(EVENT), false).await?;
    steps::measure(house, build, Past { days: 58, hour: 9 }, (|_, _| true, Units::Inch)).await?;
    house.photograph(build, Past { days: 57, hour: 8 }, PAINT, &|_, _| Some(Focus::Found)).await?;
    let round = rounds::issue(house, build, Past { days: 55, hour: 10 }, Units::Inch).await?;
    let words = "Go ahead as photographed. I see the finished seams at the last inspection.";
    rounds::reply(house, &round, Past { days: 52, hour: 15 }, (Decision::Approved, words), Vec::new()).await?;
    let welding = Words { text: "Feet and hoop welded out; the roof is next.", hours: 8.0, ..Words::default() };
    welds::log(house, build).await?;
    house.note(build, Past { days: 49, hour: 12 }, welding).await?;
    Ok(())
}
