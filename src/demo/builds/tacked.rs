//! The build to work on: tacked but for its last bars, half photographed, a belt that ends too early, a question open.

use super::{kit, steps};
use crate::actions;
use crate::demo::DemoError;
use crate::demo::house::{Focus, House, Past, Words};
use crate::domain::cage::{Cage, Member};
use crate::domain::carried::Way;
use crate::domain::figures::Measure;
use crate::domain::ids::Balloon;
use crate::domain::people::Role;
use crate::domain::roles::MemberRole;

/// The shell's paint: red primer.
const PAINT: [u8; 3] = [150, 74, 58];
/// Days from today to the event.
const EVENT: i64 = 58;

pub(super) async fn make(house: &House<'_>) -> Result<(), DemoError> {
    let about =
        "Small coupe for two, gravel trials; the cage is tacked but for its last bars and waits for its photographs.";
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
    let waits = still_to_cut(&found.cage);
    steps::buy_and_cut(house, build, (bought, cut), (&found.cage, &waits), 48_210).await?;
    let bent = "Hoop and half hoops bent, all bars coped but the dash bar and the struts at the pillars.";
    let bent = Words { text: bent, hours: 11.5, ..Words::default() };
    house.note(build, Past { days: 7, hour: 16 }, bent).await?;
    let tacked = Words {
        text: "Cage tacked in the shell but for the last three bars, plates under all feet.",
        hours: 9.0,
        ..Words::default()
    };
    house.note(build, Past { days: 4, hour: 16 }, tacked).await?;
    steps::measure(house, build, Past { days: 3, hour: 9 }, |number, measure| {
        measure != Measure::HeadGap && number % 3 != 2
    })
    .await?;
    kit::bring(house, build, Past { days: 3, hour: 14 }, house.day(EVENT), true).await?;
    let many = house.found(build).await?.1.shots.len();
    let blurred = many / 3;
    house
        .photograph(build, Past { days: 2, hour: 8 }, PAINT, &|number, shot| {
            let focus = if number == blurred { Focus::Missed } else { Focus::Found };
            (number < many / 2 && !of_one_still_to_cut(&found.cage, &waits, shot.of)).then_some(focus)
        })
        .await?;
    let text = "The harness bar meets the diagonals a hand over the shoulder. May it stay, or does it go lower?";
    let bar = found.cage.member_called("harness-bar").or_else(|| found.cage.member_called("harness-bar/1"));
    let about = bar.map(|bar| bar.balloon);
    actions::questions::ask(&house.at(Role::Fabricator, Past { days: 2, hour: 15 })?, build, about, text).await?;
    Ok(())
}

/// The bars that are cut last: the dash goes in and out until then.
fn still_to_cut(cage: &Cage) -> Vec<Balloon> {
    let last = |bar: &&Member| matches!(bar.role, MemberRole::DashBar | MemberRole::PillarStrut);
    cage.members.iter().filter(last).map(|bar| bar.balloon).collect()
}

/// Whether a part is such a bar, or a joint at which one ends, or a gusset beside one: nothing to photograph yet.
fn of_one_still_to_cut(cage: &Cage, waits: &[Balloon], part: Balloon) -> bool {
    let joint = cage.joint(part).is_some_and(|joint| joint.incoming.iter().any(|end| waits.contains(&end.0)));
    let beside = |bar: &Balloon| waits.contains(bar);
    let gusset = cage.gusset(part).is_some_and(|gusset| beside(&gusset.between.0) || beside(&gusset.between.1));
    waits.contains(&part) || joint || gusset
}
