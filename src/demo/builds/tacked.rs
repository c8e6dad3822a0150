//! The build to work on: three bars still to cut, half photographed, a belt too old for the event, a question open.

use super::{kit, steps};
use crate::actions;
use crate::demo::DemoError;
use crate::demo::cages::Layout;
use crate::demo::house::{Focus, House, Past, Words};
use crate::domain::cage::{Cage, Member};
use crate::domain::measure::measures::Measure;
use crate::domain::shop::people::Role;
use crate::domain::weight::carried::Way;
use crate::domain::words::ids::Balloon;
use crate::domain::words::roles::MemberRole;
use crate::quantity::Units;

/// The shell's paint: red primer.
const PAINT: [u8; 3] = [150, 74, 58];
/// Days from today to the event.
const EVENT: i64 = 61;

pub(super) async fn make(house: &House) -> Result<(), DemoError> {
    let about = "Two-door for the stage league; all bars but three are tacked in, half the shots are taken.";
    let build = steps::begin(house, Past { days: 13, hour: 7 }, ("Teasel Coupe", about), Some(EVENT)).await?.id;
    let note = "Zeroed empty, then tried with two marked 20 kg blocks.";
    let pads = ["280.5 kg", "277 kg", "269.5 kg", "273 kg"];
    steps::weigh(house, build, Past { days: 13, hour: 9 }, (pads, "0.5 kg"), note).await?;
    let list = [
        (Way::Out, "rear seat, carpets, felt", "38 kg", "3 kg"),
        (Way::Out, "front seats as they came", "33 kg", "1 kg"),
        (Way::Out, "door trim, glass and winders", "21 kg", "2 kg"),
        (Way::In, "one-piece seats on brackets", "26 kg", "1 kg"),
        (Way::In, "belts, extinguisher, padding", "12 kg", "1.5 kg"),
    ];
    steps::foresee(house, build, Past { days: 12, hour: 9 }, &list).await?;
    let layout = Layout { whole: true, units: Units::Metric };
    let found = steps::lay_out(house, build, Past { days: 11, hour: 10 }, layout).await?;
    let moments = (Past { days: 10, hour: 8 }, Past { days: 8, hour: 12 });
    let waits = still_to_cut(&found.worked.cage);
    steps::buy_and_cut(house, build, moments, (&found.worked.cage, &waits), (64_520, "6 m")).await?;
    let bent = "All bends made; every end coped but those of the dash bar and the two struts.";
    let bent = Words { text: bent, hours: 11.5, ..Words::default() };
    house.note(build, Past { days: 7, hour: 16 }, bent).await?;
    let tacked = Words {
        text: "Tacked in on six plates. Dash bar and struts wait for the heater's pipes.",
        hours: 9.0,
        ..Words::default()
    };
    house.note(build, Past { days: 4, hour: 16 }, tacked).await?;
    let some: fn(usize, Measure) -> bool = |number, measure| measure != Measure::HeadGap && number % 3 != 2;
    steps::measure(house, build, Past { days: 3, hour: 9 }, (some, Units::Metric)).await?;
    kit::bring(house, build, Past { days: 3, hour: 14 }, house.day(EVENT), true).await?;
    let many = house.found(build).await?.1.worked.shots.len();
    let blurred = many / 3;
    house
        .photograph(build, Past { days: 2, hour: 8 }, PAINT, &|number, shot| {
            let focus = if number == blurred { Focus::Missed } else { Focus::Found };
            (number < many / 2 && !of_one_still_to_cut(&found.worked.cage, &waits, shot.of)).then_some(focus)
        })
        .await?;
    let text =
        "The harness bar crosses the diagonals above the seats' belt slots. Leave it there, or drop it below them?";
    let bar =
        found.worked.cage.member_called("harness-bar").or_else(|| found.worked.cage.member_called("harness-bar/1"));
    let about = bar.map(|bar| bar.balloon);
    actions::recorded::questions::ask(&house.at(Role::Fabricator, Past { days: 2, hour: 15 })?, build, about, text)
        .await?;
    Ok(())
}

/// The bars left for last.
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
