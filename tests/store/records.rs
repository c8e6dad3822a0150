//! Builds, weigh-ins, cages, sticks, cuts, measures and questions; and all of them read at once.

use std::collections::HashMap;

use sqlx::{Connection as _, SqliteConnection};
use tackbook::actions::{self, ActionError, Context};
use tackbook::domain::cage::record::example::example_record;
use tackbook::domain::cage::{CageRecord, TapeMeasure};
use tackbook::domain::derived::measures::NewMeasured;
use tackbook::domain::derived::measures::ReadOff;
use tackbook::domain::measure::amounts::Amount;
use tackbook::domain::measure::measures::Measure;
use tackbook::domain::recorded::rounds::Decision;
use tackbook::domain::shop::builds::NewBuild;
use tackbook::domain::shop::stock::{BarCut, NewStick};
use tackbook::domain::shop::stock::{Cut, Stick};
use tackbook::domain::steel::tube::TubeSize;
use tackbook::domain::weight::carried::{Listed, Spread, SpreadIs, Thing, Way};
use tackbook::domain::weight::weigh_in::{Loads, Pads, Reading};
use tackbook::domain::words::ids::{BuildId, StickId};
use tackbook::quantity::{Length, Mass, Typed};

use crate::house::{House, approved, jpeg, reply_to};

/// Weighs a car.
pub(crate) async fn weigh(ctx: &Context, build: BuildId) {
    let pad = |kg: f64| Typed::of(Mass::from_kg(kg), format!("{kg} kg"));
    let pads = Pads { left_front: pad(301.5), right_front: pad(299.0), left_rear: pad(250.0), right_rear: pad(247.5) };
    let reading = Reading {
        scale: "Pads 1 to 4".to_owned(),
        ..Reading::of(Loads::Pads(pads), pad(0.5), vec!["full fuel".to_owned()])
    };
    actions::weight::weigh_in::record(ctx, build, reading).await.unwrap();
}

/// Lists something that goes into a car.
pub(crate) async fn foresee(ctx: &Context, build: BuildId, name: &str) -> Listed {
    let mass = |kg: f64| Typed::of(Mass::from_kg(kg), format!("{kg} kg"));
    let spread = Some(Spread { mass: mass(0.5), is: SpreadIs::Deviation });
    let thing = Thing { name: name.to_owned(), way: Way::In, mass: mass(21.5), spread };
    actions::weight::foreseen::add(ctx, build, thing).await.unwrap()
}

/// Puts a stick on the rack.
pub(crate) async fn stick(ctx: &Context) -> Stick {
    let new = NewStick {
        size: Typed::of(TubeSize::inch(1.5, 0.120), "1 1/2 x .120"),
        grade: "cold drawn".to_owned(),
        heat: "H 4711".to_owned(),
        length: Typed::of(Length::from_mm(6_000.0), "6 m"),
        certificate: None,
    };
    actions::shop::stock::add_stick(ctx, new).await.unwrap()
}

/// Cuts a bar from a new stick.
pub(crate) async fn cut(ctx: &Context, build: BuildId, member: &str) -> Cut {
    let stick = stick(ctx).await.id;
    cut_from(ctx, build, member, stick).await.unwrap()
}

/// Cuts a bar from a stick.
async fn cut_from(ctx: &Context, build: BuildId, member: &str, stick: StickId) -> Result<Cut, ActionError> {
    let bar = BarCut { member: member.parse().unwrap(), stick, again: false };
    Ok(actions::shop::stock::cut_bars(ctx, build, &[bar]).await?.remove(0))
}

/// The example's cage, with a hoop so high under the roof.
pub(crate) fn cage(inches: f64) -> CageRecord {
    let mut record = example_record();
    let roof = Typed::of(Length::from_inches(inches), format!("{inches} in"));
    record.measures.insert(TapeMeasure::HoopRoofHeight, roof);
    record
}

/// Measures the gap of a bar to the body.
pub(crate) async fn gap(ctx: &Context, build: BuildId, member: &str, mm: f64) {
    let amount = Amount::Length(Length::from_mm(mm));
    let read = ReadOff::of(Measure::BodyGap, amount, &format!("{mm} mm"));
    let new = NewMeasured { measure: Measure::BodyGap, of: member.parse().unwrap(), read, tool: None };
    actions::recorded::measures::record(ctx, build, vec![new]).await.unwrap();
}

#[tokio::test]
async fn an_edit_over_somebody_elses_is_told_so() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await;
    let named = |name: &str| NewBuild { name: name.to_owned(), about: String::new(), book: None, event_day: None };
    let edited =
        actions::shop::builds::edit(&house.office, build.id, build.version, named("Pine Coupé")).await.unwrap();
    assert_eq!((edited.version, edited.slug.as_str()), (2, "pine-coupe"));
    let said = actions::shop::builds::edit(&house.office, build.id, build.version, named("Pine Car")).await;
    assert!(matches!(said, Err(ActionError::Stale { now: 2 })), "{said:?}");
    assert_eq!(house.office.store.build(build.id).await.unwrap().unwrap(), edited);
}

#[tokio::test]
async fn promise_5_of_two_people_saving_one_cage_neither_loses_an_edit_silently() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let save =
        async |version: i64, roof: f64| actions::recorded::cage::save(&house.office, build, version, &cage(roof)).await;
    assert_eq!(save(0, 43.5).await.unwrap(), 1);
    let (mine, yours) = tokio::join!(save(1, 43.0), save(1, 42.5));
    let kept = cage(if mine.is_ok() { 43.0 } else { 42.5 });
    let (done, told) = if mine.is_ok() { (mine, yours) } else { (yours, mine) };
    assert_eq!(done.unwrap(), 2);
    assert!(matches!(told, Err(ActionError::Stale { now: 2 })), "{told:?}");
    assert_eq!(house.office.store.cage(build).await.unwrap().unwrap().record().unwrap(), kept);
}

#[tokio::test]
async fn a_released_build_can_change_and_the_change_is_logged_after_the_round() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    actions::recorded::cage::save(&house.office, build, 0, &cage(43.5)).await.unwrap();
    let round = house.round(build, 1, &[]).await;
    actions::recorded::rounds::reply(&house.office, build, reply_to(&round, Decision::Approved)).await.unwrap();
    actions::recorded::cage::save(&house.office, build, 1, &cage(43.0)).await.unwrap();
    let newest = house.office.store.log_of_build(build, 1).await.unwrap().pop().unwrap();
    assert_eq!((newest.room.as_str(), newest.what.as_str()), ("cage", "The cage was changed."));
    assert!(newest.number > round.as_of);
}

#[tokio::test]
async fn two_builds_of_one_name_get_two_addresses() {
    let house = House::open().await;
    assert_eq!(house.build("Pine Coupe").await.slug, "pine-coupe");
    let again = || NewBuild { name: "Pine  coupe!".to_owned(), about: String::new(), book: None, event_day: None };
    let asked = actions::shop::builds::begin(&house.office, again()).await;
    assert!(matches!(asked, Err(ActionError::Refused(_))), "whether it is another car is asked");
    assert_eq!(actions::shop::builds::begin_another(&house.office, again()).await.unwrap().slug, "pine-coupe-2");
}

#[tokio::test]
async fn the_newest_cut_of_a_bar_counts_and_saying_it_twice_is_saying_it_once() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let (one, two) = (stick(&house.office).await, stick(&house.office).await);
    assert_eq!((one.number, two.number), (1, 2));
    for from in [one.id, two.id, two.id] {
        cut_from(&house.office, build, "M3", from).await.unwrap();
    }
    cut(&house.office, build, "M4").await;
    let cuts = house.office.store.cuts(build).await.unwrap();
    let from: HashMap<String, _> = cuts.iter().map(|cut| (cut.member.to_string(), cut.stick)).collect();
    assert_eq!((cuts.len(), from.len(), from.get("M3")), (3, 2, Some(&two.id)));
    // No cage is there: nobody knows what they took, and nothing is made up.
    assert!(cuts.iter().all(|cut| cut.taken.is_none()));
    let log = house.office.store.log_of_build(build, 100).await.unwrap();
    assert_eq!(log.iter().filter(|entry| entry.what.starts_with("M3 was cut from S")).count(), 2);
    // a stick that is on the rack: the bar cut from it keeps its heat
    let sticks = house.office.store.sticks_of_build(build).await.unwrap();
    assert!(sticks.iter().any(|stick| stick.id == two.id && stick.heat == "H 4711" && stick.given_to.is_none()));
    assert!(!sticks.iter().any(|stick| stick.id == one.id));
}

#[tokio::test]
async fn a_cut_needs_a_bar_a_stick_and_a_build() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let stick = stick(&house.office).await.id;
    let cut = |build: BuildId, of, stick| cut_from(&house.office, build, of, stick);
    let no_bar = cut(build, "J3", stick).await;
    assert!(matches!(&no_bar, Err(ActionError::Refused(faults)) if faults.len() == 1), "{no_bar:?}");
    let no_stick = cut(build, "M3", uuid::Uuid::now_v7().into()).await;
    assert!(matches!(no_stick, Err(ActionError::NotFound("stick"))), "{no_stick:?}");
    let no_build = cut(uuid::Uuid::now_v7().into(), "M3", stick).await;
    assert!(matches!(no_build, Err(ActionError::NotFound("build"))), "{no_build:?}");
    assert!(house.office.store.cuts(build).await.unwrap().is_empty());
}

#[tokio::test]
async fn a_stick_is_one_builds_at_a_time() {
    let house = House::open().await;
    let (build, other) = (house.build("Pine Coupe").await.id, house.build("Elm Saloon").await.id);
    let stick = stick(&house.office).await.id;
    actions::shop::stock::give(&house.office, stick, Some(build)).await.unwrap();
    let said = actions::shop::stock::give(&house.office, stick, Some(other)).await;
    assert!(matches!(said, Err(ActionError::Held(_))), "{said:?}");
    actions::shop::stock::give(&house.office, stick, None).await.unwrap();
    actions::shop::stock::give(&house.office, stick, Some(other)).await.unwrap();
    assert_eq!(house.office.store.sticks_of_build(other).await.unwrap().len(), 1);
    assert!(house.office.store.sticks_of_build(build).await.unwrap().is_empty());
}

#[tokio::test]
async fn the_newest_figure_of_a_part_counts() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    for (member, mm) in [("M1", 12.0), ("M2", 30.0), ("M1", 9.5)] {
        gap(&house.office, build, member, mm).await;
    }
    let measured = house.office.store.measured(build).await.unwrap();
    let read: Vec<_> = measured.iter().map(|one| (one.of.to_string(), one.amount, one.text.as_str())).collect();
    let mm = |mm: f64| Amount::Length(Length::from_mm(mm));
    assert_eq!(read, [("M2".to_owned(), mm(30.0), "30 mm"), ("M1".to_owned(), mm(9.5), "9.5 mm")]);
}

#[tokio::test]
async fn a_figure_that_cannot_be_is_refused() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let length = |mm: f64| Amount::Length(Length::from_mm(mm));
    for (measure, amount, at) in [
        (Measure::BendRadius, length(114.3), "measure"),
        (Measure::BodyGap, Amount::Mass(Mass::from_kg(1.0)), "amount"),
        (Measure::BodyGap, Amount::Count(3), "amount"),
        (Measure::BodyGap, length(-1.0), "amount"),
        (Measure::BodyGap, length(f64::NAN), "amount"),
        (Measure::BodyGap, length(8_001.0), "amount"),
        (Measure::WallMeasured, length(0.0), "amount"),
        (Measure::Roundness, Amount::Ratio(1.05), "amount"),
    ] {
        let read = ReadOff::of(measure, amount, "as typed");
        let new = NewMeasured { measure, of: "M1".parse().unwrap(), read, tool: None };
        let said = actions::recorded::measures::record(&house.office, build, vec![new]).await;
        assert!(
            matches!(&said, Err(ActionError::Refused(f)) if f.len() == 1 && f.iter().all(|f| f.at == at)),
            "{said:?}"
        );
    }
    gap(&house.office, build, "M1", 0.0).await;
    let no_build = NewMeasured {
        measure: Measure::Roundness,
        of: "M1".parse().unwrap(),
        read: ReadOff::of(Measure::Roundness, Amount::Ratio(0.97), "0.97"),
        tool: None,
    };
    let said = actions::recorded::measures::record(&house.office, uuid::Uuid::now_v7().into(), vec![no_build]).await;
    assert!(matches!(said, Err(ActionError::NotFound("build"))), "{said:?}");
}

#[tokio::test]
async fn everything_recorded_of_a_build_is_read_at_once_and_nothing_of_another() {
    let house = House::open().await;
    let (build, other) = (house.build("Pine Coupe").await.id, house.build("Elm Saloon").await.id);
    for (of, roof) in [(other, 43.0), (build, 43.5)] {
        weigh(&house.office, of).await;
        weigh(&house.office, of).await;
        actions::recorded::cage::save(&house.office, of, 0, &cage(roof)).await.unwrap();
        house.photo(of, &jpeg(1, 100)).await;
        cut(&house.office, of, "M1").await;
        foresee(&house.office, of, "taken back").await;
        actions::weight::foreseen::take_back(&house.office, of, 1).await.unwrap();
        foresee(&house.office, of, "seats").await;
        gap(&house.office, of, "M1", 12.0).await;
        let asked =
            actions::recorded::questions::ask(&house.office, of, Some("J7".parse().unwrap()), "Why?").await.unwrap();
        actions::recorded::questions::answer(&house.office, of, asked.id, "So.", None).await.unwrap();
        let round = house.round(of, 1, &[]).await;
        let yes = approved(&house.office, of, &round).await;
        actions::recorded::rounds::reply(&house.office, of, yes).await.unwrap();
    }
    let (facts, store) = (house.office.store.facts(build).await.unwrap(), &house.office.store);
    assert_eq!(facts.weigh_ins.iter().map(|weigh_in| weigh_in.number).collect::<Vec<_>>(), [2, 1]);
    assert_eq!(facts.weigh_ins, store.weigh_ins(build).await.unwrap());
    let [seats] = facts.foreseen.as_slice() else { panic!("{:?}", facts.foreseen) };
    assert_eq!((seats.place, seats.weigh_in, seats.thing.mass.text.as_str()), (2, Some(2), "21.5 kg"));
    assert_eq!(seats.thing.spread.as_ref().map(|spread| spread.is), Some(SpreadIs::Deviation));
    assert_eq!(facts.cage.unwrap().record().unwrap(), cage(43.5));
    assert_eq!((facts.photos.len(), facts.sticks.len(), facts.cuts.len(), facts.measured.len()), (1, 1, 1, 1));
    assert_eq!(facts.questions.first().unwrap().answers.first().unwrap().text, "So.");
    assert_eq!((facts.rounds.len(), facts.replies.len(), facts.book), (1, 1, None));
    let last = store.log_of_build(build, 1).await.unwrap().pop().unwrap().number;
    assert_eq!(facts.as_of, last);
    let seen: Vec<_> = store.seen_of_all().await.unwrap().into_iter().map(|entry| entry.0).collect();
    assert_eq!(seen, [build, other]);
    let nobody = store.facts(uuid::Uuid::now_v7().into()).await;
    assert!(matches!(nobody, Err(tackbook::store::StoreError::NotFound("build"))), "{nobody:?}");
}

#[tokio::test]
async fn every_change_of_a_build_moves_its_number_so_that_remembered_facts_cannot_be_old() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let before = house.office.store.facts(build).await.unwrap();
    let mut reading = tokio::task::JoinSet::new();
    for _ in 0..4 {
        let store = house.office.store.clone();
        reading.spawn(async move {
            let mut seen = HashMap::new();
            for _ in 0..40 {
                let facts = store.facts(build).await.unwrap();
                let there = seen.entry(facts.as_of).or_insert_with(|| facts.clone());
                assert_eq!(*there, facts, "one number stood for two different facts");
            }
        });
    }
    for number in 0..30 {
        gap(&house.office, build, "M1", f64::from(number)).await;
        weigh(&house.office, build).await;
    }
    reading.join_all().await;
    assert!(house.office.store.facts(build).await.unwrap().as_of >= before.as_of + 60);
}

/// The rows of a shop that cut before it was kept what a cut takes: they stay, and what they lack is unknown.
#[tokio::test]
async fn cuts_of_before_their_lengths_were_kept_stay_and_lack_them() {
    let mut old = SqliteConnection::connect("sqlite::memory:").await.unwrap();
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("migrations");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|file| file.extension().is_some_and(|ending| ending == "sql"));
    files.sort();
    let last = files.iter().position(|file| file.to_string_lossy().contains("cut_lengths")).unwrap();
    sqlx::query("PRAGMA foreign_keys = OFF").execute(&mut old).await.unwrap();
    for file in &files[..last] {
        run(&mut old, &std::fs::read_to_string(file).unwrap()).await;
    }
    run(
        &mut old,
        "INSERT INTO cuts (build, member, stick, at, by) VALUES ('b', 'M1', 's', '2031-01-02T03:04:05Z', 'Floor')",
    )
    .await;
    run(&mut old, &std::fs::read_to_string(&files[last]).unwrap()).await;
    let row: (String, Option<f64>, Option<f64>) =
        sqlx::query_as("SELECT member, blank_mm, kerf_mm FROM cuts").fetch_one(&mut old).await.unwrap();
    assert_eq!(row, ("M1".to_owned(), None, None));
    // Half of what a cut takes is refused.
    let half = "INSERT INTO cuts (build, member, stick, at, by, blank_mm) VALUES ('b', 'M2', 's', 'x', 'y', 7.0)";
    assert!(sqlx::query(half).execute(&mut old).await.is_err());
}

async fn run(on: &mut SqliteConnection, text: &str) {
    sqlx::raw_sql(sqlx::AssertSqlSafe(text.to_owned())).execute(on).await.unwrap();
}
