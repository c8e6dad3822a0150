//! A build whose round came back with the scrutineer's questions; its weight lies close to the class edge.

use super::{kit, rounds, steps};
use crate::demo::DemoError;
use crate::demo::house::{Focus, House, Past, Words};
use crate::domain::carried::Way;
use crate::domain::rounds::Decision;

/// The shell's paint: pale green.
const PAINT: [u8; 3] = [112, 132, 104];
/// Days from today to the event.
const EVENT: i64 = 45;

pub(super) async fn make(house: &House<'_>) -> Result<(), DemoError> {
    let about = "Hatchback, six pounds under the class edge; the scrutineer has two questions.";
    let build = steps::begin(house, Past { days: 40, hour: 7 }, ("Hazel Hatch", about), Some(EVENT)).await?.id;
    let note = "Weighed twice, the second reading taken; full tank.";
    steps::weigh(house, build, Past { days: 40, hour: 9 }, [676, 671, 645, 652], note).await?;
    let list = [
        (Way::Out, "rear bench, trim, sound deadening", "88 lb", "5 lb"),
        (Way::Out, "both front seats", "70 lb", "2 lb"),
        (Way::Out, "air conditioning, all of it", "46 lb", "3 lb"),
        (Way::In, "two seats with rails", "58 lb", "2 lb"),
    ];
    steps::foresee(house, build, Past { days: 39, hour: 9 }, &list).await?;
    let found = steps::lay_out(house, build, Past { days: 38, hour: 10 }, steps::plain).await?;
    steps::buy_and_cut(
        house,
        build,
        (Past { days: 37, hour: 8 }, Past { days: 34, hour: 12 }),
        (&found.cage, &[]),
        51_730,
    )
    .await?;
    kit::bring(house, build, Past { days: 33, hour: 9 }, house.day(EVENT), false).await?;
    steps::measure(house, build, Past { days: 32, hour: 9 }, |_, _| true).await?;
    house.photograph(build, Past { days: 31, hour: 8 }, PAINT, &|_, _| Some(Focus::Found)).await?;
    let tacked = Words { text: "All tacked and photographed.", hours: 7.5, ..Words::default() };
    house.note(build, Past { days: 30, hour: 16 }, tacked).await?;
    let round = rounds::issue(house, build, Past { days: 29, hour: 10 }).await?;
    let strut = found.cage.member_called("pillar-strut/left").map(|bar| bar.balloon);
    let joint =
        found.cage.joints.iter().find(|joint| strut.is_some_and(|bar| joint.incoming.iter().any(|end| end.0 == bar)));
    let items = vec![
        (joint.map(|joint| joint.balloon), "Show the fit of the cope from below; the seam is in shadow.".to_owned()),
        (strut, "How far is the strut's upper end from the joint? I read it as more than the book allows.".to_owned()),
    ];
    let words = "Good work; two things before I can say yes.";
    rounds::reply(house, &round, Past { days: 27, hour: 14 }, (Decision::NotYet, words), items).await
}
