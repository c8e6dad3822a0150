//! The released build's weld log: coupon first, then feet and hoop, looked at, one of them repaired. Every figure is invented
//! for the demo.

use jiff::civil::Date;

use crate::actions::Context;
use crate::actions::recorded::welds::record;
use crate::demo::DemoError;
use crate::demo::house::{House, Past, typed};
use crate::domain::cage::Cage;
use crate::domain::recorded::welds::process::{Level, Outcome, Position, WeldProcess};
use crate::domain::recorded::welds::run::{Run, Welder};
use crate::domain::recorded::welds::{Did, Inspection, NewWeld, Weld, newest_of};
use crate::domain::shop::people::Role;
use crate::domain::words::ids::{Balloon, BuildId};
use crate::domain::words::roles::MemberRole;

/// Days from today through which the welder's qualification is good.
const QUALIFIED: i64 = 210;
/// How many joints of the hoop are welded by now.
const JOINTS: usize = 3;

pub(super) async fn log(house: &House, build: BuildId) -> Result<(), DemoError> {
    let (_, found) = house.found(build).await?;
    let cage = &found.worked.cage;
    let (floor, desk) =
        (house.at(Role::Fabricator, Past { days: 50, hour: 9 })?, house.at(Role::Office, Past { days: 49, hour: 9 })?);
    let hoop = on_the_hoop(cage);
    let feet: Vec<Balloon> = cage.plates.iter().map(|plate| plate.balloon).collect();
    let Some(first) = hoop.first().copied() else { return Ok(()) };
    let mut log = Log { build, kept: Vec::new() };
    let run = |positions: &[Position]| run(house.day(QUALIFIED), positions);
    let overhead = [Position::PB, Position::PF, Position::PD];
    log.write(&floor, first, Did::Coupon(run(&overhead)?), "Cut through and etched: fused to the root.").await?;
    for foot in &feet {
        log.write(&floor, *foot, Did::Welded(run(&[Position::PB])?), "").await?;
    }
    for joint in &hoop {
        log.write(&floor, *joint, Did::Welded(run(&overhead)?), "").await?;
    }
    for (place, at) in feet.iter().chain(&hoop).enumerate() {
        let outcome = if place == feet.len() { Outcome::Repair } else { Outcome::Accepted };
        let note = if outcome == Outcome::Repair { "Undercut at the lower side, 1 1/4 in long." } else { "" };
        log.write(&desk, *at, looked(outcome), note).await?;
    }
    let again = house.at(Role::Fabricator, Past { days: 49, hour: 11 })?;
    log.write(&again, first, Did::Repaired(run(&[Position::PD])?), "Ground back and filled.").await
}

/// The first joints at which bars end on the main hoop.
fn on_the_hoop(cage: &Cage) -> Vec<Balloon> {
    let hoop = |bar: Balloon| cage.member(bar).is_some_and(|bar| bar.role == MemberRole::MainHoop);
    let joints = cage.joints.iter().filter(|joint| hoop(joint.carrier));
    joints.map(|joint| joint.balloon).take(JOINTS).collect()
}

fn looked(outcome: Outcome) -> Did {
    Did::Inspected(Inspection { level: Level::C, outcome, inspector: "office".to_owned() })
}

fn run(expires: Date, positions: &[Position]) -> Result<Run, DemoError> {
    Ok(Run {
        welder: Welder {
            name: "fabricator".to_owned(),
            qualification: "tube, fillet, all positions but PG".to_owned(),
            expires: Some(expires),
        },
        process: WeldProcess::Gmaw,
        positions: positions.to_vec(),
        filler: "solid wire .030 in".to_owned(),
        batch: "W-2207".to_owned(),
        gas: "argon with 18 % carbon dioxide, 25 cfh".to_owned(),
        volts: Some(typed("17.5 V")?),
        amperes: Some(typed("115 A")?),
        wire_speed: Some(typed("230 in/min")?),
        travel: Some(typed("11 in/min")?),
        stick_out: Some(typed("3/8 in")?),
        preheat: Some(typed("68 °F")?),
        photo: None,
    })
}

/// The log as it is written.
struct Log {
    build: BuildId,
    kept: Vec<Weld>,
}

impl Log {
    async fn write(&mut self, ctx: &Context, joint: Balloon, did: Did, note: &str) -> Result<(), DemoError> {
        let seen = newest_of(&self.kept, joint);
        let new = NewWeld { joint, day: ctx.clock.today(), did, note: note.to_owned(), seen };
        self.kept.push(record(ctx, self.build, new).await?);
        Ok(())
    }
}
