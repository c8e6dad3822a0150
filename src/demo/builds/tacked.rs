//! The build to work on: tacked, half photographed, a belt that ends too early, a question open.

use super::{kit, steps};
use crate::actions;
use crate::demo::DemoError;
use crate::demo::house::{Focus, House, Past, Words};
use crate::domain::carried::Way;
use crate::domain::figures::Measure;
use crate::domain::people::Role;

/// The shell's paint: red primer.
const PAINT: [u8; 3] = [150, 74, 58];
/// Days from today to the event.
const EVENT: i64 = 58;

pub(super) async fn make(house: &House<'_>) -> Result<(), DemoError> {
    let about = "Small coupe for two, gravel trials; the cage is tacked and waits for its photographs.";
    let build = steps::begin(house, Past { days: 13, hour: 7 }, ("Pine Coupe", about), Some(EVENT)).await?.id;
    let note = "Pads zeroed before and after; scale checked with a known weight.";
    steps::weigh(house, build, Past { days: 13, hour: 9 }, [668, 659, 639, 646], note).await?;
    let list = [
        (Way::Out, "rear bench, carpets, sound deadening", "96 lb", "6 lb"),
        (Way::Out, "both front seats", "74 lb", "2 lb"),
        (Way::Out, "door cards and window lifts", "42 lb", "4 lb"),
        (Way::In, "two seats with rails", "62 lb", "2 lb"),
        (Way::In, "belts, nets, bottle, padding", "32 lb", "3 lb"),
    ];
    steps::foresee(house, build, Past { days: 12, hour: 9 }, &list).await?;
    let found = steps::lay_out(house, build, Past { days: 11, hour: 10 }, steps::whole).await?;
    let (bought, cut) = (Past { days: 10, hour: 8 }, Past { days: 8, hour: 12 });
    steps::buy_and_cut(house, build, (bought, cut), &found.cage, 48_210).await?;
    let bent = Words { text: "Hoop and half hoops bent, all bars coped.", hours: 11.5, ..Words::default() };
    house.note(build, Past { days: 7, hour: 16 }, bent).await?;
    let tacked = Words { text: "Cage tacked in the shell, plates under all feet.", hours: 9.0, ..Words::default() };
    house.note(build, Past { days: 4, hour: 16 }, tacked).await?;
    steps::measure(house, build, Past { days: 3, hour: 9 }, |number, measure| {
        measure != Measure::HeadGap && number % 3 != 2
    })
    .await?;
    kit::bring(house, build, Past { days: 3, hour: 14 }, house.day(EVENT), true).await?;
    let many = house.found(build).await?.1.shots.len();
    let blurred = many / 3;
    house
        .photograph(build, Past { days: 2, hour: 8 }, PAINT, &|number, _| {
            let focus = if number == blurred { Focus::Missed } else { Focus::Found };
            (number < many / 2).then_some(focus)
        })
        .await?;
    let text = "The harness bar meets the diagonals a hand over the shoulder. May it stay, or does it go lower?";
    let bar = found.cage.member_called("harness-bar").or_else(|| found.cage.member_called("harness-bar/1"));
    let about = bar.map(|bar| bar.balloon);
    actions::questions::ask(&house.at(Role::Fabricator, Past { days: 2, hour: 15 })?, build, about, text).await?;
    Ok(())
}
