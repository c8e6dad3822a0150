//! What several of the demo's builds do alike: begin, weigh, lay out, buy and cut, measure.

use crate::actions;
use crate::demo::cages::Layout;
use crate::demo::house::{House, Past, typed};
use crate::demo::{DemoError, cages};
use crate::domain::cage::Cage;
use crate::domain::derived::findings::Findings;
use crate::domain::derived::measures::NewMeasured;
use crate::domain::derived::measures::ReadOff;
use crate::domain::judge::verdicts::Word;
use crate::domain::measure::measures::Measure;
use crate::domain::measure::tools::Tool;
use crate::domain::shop::builds::{Build, NewBuild};
use crate::domain::shop::people::Role;
use crate::domain::shop::stock::BarCut;
use crate::domain::shop::stock::NewStick;
use crate::domain::steel::tube::TubeSize;
use crate::domain::weight::carried::{Spread, SpreadIs, Thing, Way};
use crate::domain::weight::weigh_in::{Loads, Pads, Reading};
use crate::domain::words::car_dates::CarDates;
use crate::domain::words::ids::{Balloon, BuildId, Kind, StickId};
use crate::quantity::{Length, Typed, Units};

/// What each cut takes of a stick (own choice).
const KERF: Length = Length::from_mm(6.0);

pub(super) async fn begin(
    house: &House,
    past: Past,
    (name, about): (&str, &str),
    event_in_days: Option<i64>,
) -> Result<Build, DemoError> {
    let new = NewBuild {
        name: name.to_owned(),
        about: about.to_owned(),
        book: event_in_days.map(|_| house.book),
        event_day: event_in_days.map(|days| house.day(days)),
    };
    Ok(actions::shop::builds::begin(&house.at(Role::Office, past)?, new).await?)
}

/// Weighs a car: left front, right front, left rear, right rear as typed, by a scale that shows such steps.
pub(super) async fn weigh(
    house: &House,
    build: BuildId,
    past: Past,
    (pads, step): ([&str; 4], &str),
    note: &str,
) -> Result<(), DemoError> {
    let [left_front, right_front, left_rear, right_rear] = pads.map(typed);
    let (_, found) = house.found(build).await?;
    let weight = found.worked.rules.and_then(|rules| rules.weight);
    let conditions = weight.map(|weight| weight.conditions.into_iter().map(|condition| condition.key).collect());
    let loads = Loads::Pads(Pads {
        left_front: left_front?,
        right_front: right_front?,
        left_rear: left_rear?,
        right_rear: right_rear?,
    });
    let reading = Reading {
        scale: "Four pads, certificate LP-208".to_owned(),
        note: note.to_owned(),
        ..Reading::of(loads, typed(step)?, conditions.unwrap_or_default())
    };
    actions::weight::weigh_in::record(&house.at(Role::Office, past)?, build, reading).await?;
    Ok(())
}

/// Lists what goes in and comes out: which way, what, its mass, and how far that may be off.
pub(super) async fn foresee(
    house: &House,
    build: BuildId,
    past: Past,
    list: &[(Way, &str, &str, &str)],
) -> Result<(), DemoError> {
    let ctx = house.at(Role::Office, past)?;
    for (way, name, mass, spread) in list {
        let spread = Some(Spread { mass: typed(spread)?, is: SpreadIs::Limits });
        let thing = Thing { name: (*name).to_owned(), way: *way, mass: typed(mass)?, spread };
        actions::weight::foreseen::add(&ctx, build, thing).await?;
    }
    Ok(())
}

/// Lays out a cage with the tubes that the class asks for.
pub(super) async fn lay_out(house: &House, build: BuildId, past: Past, layout: Layout) -> Result<Findings, DemoError> {
    let (_, found) = house.found(build).await?;
    let book = found.worked.rules.as_ref().ok_or_else(|| DemoError::Unreadable("the rule book".to_owned()))?;
    let record = cages::cage(layout, &found.worked.tubes, book)?;
    actions::recorded::cage::save(&house.at(Role::Fabricator, past)?, build, 0, &record).await?;
    Ok(house.found(build).await?.1)
}

/// Buys the sticks that the cage needs, gives them to the build, and cuts its bars from them, but for those that wait.
pub(super) async fn buy_and_cut(
    house: &House,
    build: BuildId,
    (bought, cut): (Past, Past),
    (cage, waits): (&Cage, &[Balloon]),
    (heat, stick): (u32, &str),
) -> Result<(), DemoError> {
    let (office, floor) = (house.at(Role::Office, bought)?, house.at(Role::Fabricator, cut)?);
    let mut cuts = Vec::new();
    let mut sizes: Vec<TubeSize> = cage.members.iter().map(|bar| bar.tube).collect();
    sizes.dedup_by(|one, other| one == other);
    let mut done: Vec<TubeSize> = Vec::new();
    for size in sizes {
        if done.contains(&size) {
            continue;
        }
        done.push(size);
        let mut bars: Vec<_> = cage.members.iter().filter(|bar| bar.tube == size).collect();
        bars.sort_by(|one, other| other.cut_length.mm().total_cmp(&one.cut_length.mm()));
        let mut sticks: Vec<(StickId, Length)> = Vec::new();
        for bar in bars {
            let needs = bar.cut_length + KERF;
            if !sticks.iter().any(|stick| stick.1 >= needs) {
                let heat = heat + u32::try_from(done.len()).unwrap_or(0);
                sticks.push((buy(&office, build, size, (heat, stick)).await?, typed(stick)?.value));
            }
            if let Some(stick) = sticks.iter_mut().find(|stick| stick.1 >= needs) {
                stick.1 = stick.1 - needs;
                cuts.push((bar.balloon, stick.0));
            }
        }
    }
    let cuts = cuts.into_iter().filter(|(bar, _)| !waits.contains(bar));
    let cuts: Vec<BarCut> = cuts.map(|(member, stick)| BarCut { member, stick, again: false }).collect();
    actions::shop::stock::cut_bars(&floor, build, &cuts).await?;
    Ok(())
}

async fn buy(
    office: &actions::Context,
    build: BuildId,
    size: TubeSize,
    (heat, length): (u32, &str),
) -> Result<StickId, DemoError> {
    let new = NewStick {
        size: Typed::of(size, size.to_string()),
        grade: "seamless, E355".to_owned(),
        heat: format!("{heat}"),
        length: typed(length)?,
        certificate: None,
    };
    let stick = actions::shop::stock::add_stick(office, new).await?;
    Ok(actions::shop::stock::give(office, stick.id, Some(build)).await?.id)
}

/// Reads off the car what the book asks for, as far as it is wanted, but of no bar that is still to be cut.
pub(super) async fn measure(
    house: &House,
    build: BuildId,
    past: Past,
    (wanted, units): (fn(usize, Measure) -> bool, Units),
) -> Result<(), DemoError> {
    let (facts, found) = house.found(build).await?;
    let ctx = house.at(Role::Fabricator, past)?;
    let registered = "2006-10".parse().ok();
    actions::recorded::car_dates::record(&ctx, build, CarDates { registered, ..CarDates::default() }, None).await?;
    let open =
        found.worked.verdicts.iter().filter(|verdict| verdict.figure.is_none() && verdict.word == Word::NotMeasured);
    let mut asked: Vec<(Balloon, Measure)> = Vec::new();
    for verdict in open {
        let own = verdict.measure.zip(verdict.of);
        let all = own.into_iter().chain(verdict.also.iter().copied()).map(|(measure, of)| (of, measure));
        let there = |of: Balloon| of.kind != Kind::Member || facts.stick_of(of).is_some();
        asked.extend(all.filter(|(of, measure)| measure.measured() && there(*of)));
    }
    let mut all = Vec::new();
    for (number, (of, measure)) in
        asked.into_iter().enumerate().filter(|(number, (_, measure))| wanted(*number, *measure))
    {
        let step = u32::try_from(number % 4).unwrap_or(0);
        let Some(text) = reading(measure, step, units) else { continue };
        let text = if measure == Measure::Roundness { format!("0.{}", 94 + step) } else { text.to_owned() };
        let read = ReadOff::read(measure, &text, units).map_err(|error| DemoError::Unreadable(error.to_string()))?;
        let tool = Tool::of(measure, units).first().copied();
        all.push(NewMeasured { measure, of, read, tool });
    }
    actions::recorded::measures::record(&ctx, build, all).await?;
    Ok(())
}

/// What the tape or the gauge shows.
fn reading(measure: Measure, step: u32, units: Units) -> Option<&'static str> {
    let [inch, metric] = match (measure, step.is_multiple_of(2)) {
        (Measure::BodyGap, true) => ["1 1/16 in", "26 mm"],
        (Measure::BodyGap, false) => ["1 3/8 in", "34 mm"],
        (Measure::HeadGap, _) => ["3 3/8 in", "86 mm"],
        (Measure::InspectionHole, _) => ["5/32 in", "4 mm"],
        (Measure::Roundness, _) => [""; 2],
        (Measure::Carbon, true) => ["0.16"; 2],
        (Measure::Carbon, false) => ["0.19"; 2],
        (Measure::Manganese, _) => ["1.24"; 2],
        (Measure::OtherElement, _) => ["0.31"; 2],
        (Measure::Tensile, _) => ["73 ksi", "508 MPa"],
        (Measure::DoorBarHeight, true) => ["12 3/8 in", "318 mm"],
        (Measure::DoorBarHeight, false) => ["10 5/8 in", "274 mm"],
        _ => return None,
    };
    Some(if units == Units::Inch { inch } else { metric })
}
