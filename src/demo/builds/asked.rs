//! A build whose round came back with the scrutineer's questions; its weight lies close to a class edge.

use super::{kit, rounds, steps};
use crate::demo::DemoError;
use crate::demo::cages::Layout;
use crate::demo::house::{Focus, House, Past, Words};
use crate::domain::recorded::rounds::Decision;
use crate::domain::weight::carried::Way;
use crate::quantity::Units;

/// The shell's paint: pale green.
const PAINT: [u8; 3] = [112, 132, 104];
/// Days from today to the event.
const EVENT: i64 = 47;

pub(super) async fn make(house: &House) -> Result<(), DemoError> {
    let about = "Five-door hatch for the stage league; 2.5 kg inside the middle class, two questions out.";
    let build = steps::begin(house, Past { days: 40, hour: 7 }, ("Yarrow Hatch", about), Some(EVENT)).await?.id;
    let note = "Read three times, pads moved in between; the same each time.";
    let pads = ["346.5 kg", "343 kg", "331.5 kg", "336.5 kg"];
    steps::weigh(house, build, Past { days: 40, hour: 9 }, (pads, "0.5 kg"), note).await?;
    let list = [
        (Way::Out, "rear seat and all trim behind the hoop", "46 kg", "2 kg"),
        (Way::Out, "front seats as they came", "37 kg", "1 kg"),
        (Way::Out, "heater box and its pipes", "24 kg", "1.5 kg"),
        (Way::In, "one-piece seats on brackets", "27 kg", "1 kg"),
    ];
    steps::foresee(house, build, Past { days: 39, hour: 9 }, &list).await?;
    let layout = Layout { whole: false, units: Units::Metric };
    let found = steps::lay_out(house, build, Past { days: 38, hour: 10 }, layout).await?;
    let moments = (Past { days: 37, hour: 8 }, Past { days: 34, hour: 12 });
    steps::buy_and_cut(house, build, moments, (&found.worked.cage, &[]), (61_740, "6 m")).await?;
    kit::bring(house, build, Past { days: 33, hour: 9 }, house.day(EVENT), false).await?;
    steps::measure(house, build, Past { days: 32, hour: 9 }, (|_, _| true, Units::Metric)).await?;
    house.photograph(build, Past { days: 31, hour: 8 }, PAINT, &|_, _| Some(Focus::Found)).await?;
    let tacked = Words { text: "Every bar tacked, every shot taken.", hours: 7.5, ..Words::default() };
    house.note(build, Past { days: 30, hour: 16 }, tacked).await?;
    let round = rounds::issue(house, build, Past { days: 29, hour: 10 }, Units::Metric).await?;
    let strut = found.worked.cage.member_called("pillar-strut/left").map(|bar| bar.balloon);
    let joint = found
        .worked
        .cage
        .joints
        .iter()
        .find(|joint| strut.is_some_and(|bar| joint.incoming.iter().any(|end| end.0 == bar)));
    let items = vec![
        (
            joint.map(|joint| joint.balloon),
            "The lower half of this gap is dark. One more picture, with a lamp.".to_owned(),
        ),
        (strut, "Put a tape on the strut's upper end: the picture does not let me read the distance.".to_owned()),
    ];
    let words = "Tidy. Two pictures are missing, then I look again.";
    rounds::reply(house, &round, Past { days: 27, hour: 14 }, (Decision::NotYet, words), items).await
}
