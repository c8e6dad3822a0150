//! What follows from the facts of a build, whole.

use jiff::Timestamp;
use uuid::Uuid;

use super::*;
use crate::domain::cage::TapeMeasure;
use crate::domain::cage::record::example::example_record;
use crate::domain::derived::worked::UNTIL_WEIGHED;
use crate::domain::judge::verdicts::Word;
use crate::domain::recorded::facts::{BookText, CageText};
use crate::domain::recorded::photos::{Photo, Received};
use crate::domain::shop::builds::Build;
use crate::domain::weight::weigh_in::{Loads, Pads, Reading, WeighIn};
use crate::domain::words::car_dates::CarDates;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::Kind;
use crate::quantity::{Mass, Typed};

fn pounds(value: f64) -> Typed<Mass> {
    Typed::of(Mass::from_lb(value), format!("{value} lb"))
}

fn reading(conditions: Vec<String>) -> Reading {
    let pads = Pads {
        left_front: pounds(650.0),
        right_front: pounds(650.0),
        left_rear: pounds(650.0),
        right_rear: pounds(646.0),
    };
    Reading::of(Loads::Pads(pads), pounds(1.0), conditions)
}

fn facts() -> BuildFacts {
    let id = Uuid::from_u128(1);
    let toml = include_str!("../../../demo/book.toml").to_owned();
    let book = crate::domain::book::read(&toml).unwrap();
    let own = book.weight.iter().flat_map(|weight| &weight.conditions).map(|condition| condition.key.clone());
    BuildFacts {
        build: Build {
            id: id.into(),
            slug: "pine-coupe".to_owned(),
            name: "Pine Coupe".to_owned(),
            about: String::new(),
            book: Some(id.into()),
            event_day: None,
            version: 1,
        },
        book: Some(BookText { id: id.into(), name: "Book".to_owned(), edition: "1".to_owned(), toml }),
        weigh_ins: vec![WeighIn {
            id: id.into(),
            number: 1,
            day: "2026-05-04".parse().unwrap(),
            by: "office".to_owned(),
            reading: reading(own.collect()),
        }],
        papers: Vec::new(),
        forecasts: Vec::new(),
        wheels: None,
        foreseen: Vec::new(),
        cage: Some(CageText { json: serde_json::to_string(&example_record()).unwrap(), version: 1 }),
        earlier_cages: Vec::new(),
        lowering: None,
        looks: Vec::new(),
        photos: Vec::new(),
        photos_said: Vec::new(),
        mark_ups: Vec::new(),
        sticks: Vec::new(),
        cuts: Vec::new(),
        kit: Vec::new(),
        kit_ways: Vec::new(),
        measured: Vec::new(),
        car: CarDates::default(),
        questions: Vec::new(),
        rounds: Vec::new(),
        replies: Vec::new(),
        rulings: Vec::new(),
        notes: Vec::new(),
        welds: Vec::new(),
        weld_order: None,
        as_of: 1,
        log_head: String::new(),
    }
}

fn photo(shot: &str) -> Photo {
    let received = Received { at: Timestamp::UNIX_EPOCH, entry: 1, dots: Some((1280, 960)), remarks: Vec::new() };
    Photo {
        capture: Uuid::from_u128(7).into(),
        build: Uuid::from_u128(1).into(),
        shot: shot.to_owned(),
        note: String::new(),
        sha256: Fingerprint::of(shot.as_bytes()),
        size: 1,
        camera_size: None,
        taken_claim: None,
        declared: Timestamp::UNIX_EPOCH,
        by: "fabricator".to_owned(),
        received: Some(received),
        withdrawn: None,
    }
}

const DAY: Date = jiff::civil::date(2026, 5, 4);

#[test]
fn the_example_is_asked_for_each_of_its_parts() {
    let found = Findings::of(&facts(), DAY);
    let of = |key: &str| found.worked.shots.iter().filter(|shot| shot.key.starts_with(key)).count();
    let parts = (found.worked.cage.joints.len(), found.worked.cage.gussets.len(), found.worked.cage.plates.len());
    assert_eq!(parts, (40, 6, 6));
    assert_eq!((of("joint-tacked/"), of("gusset-fitted/"), of("plate-fitted/")), (80, 6, 12));
    assert_eq!((of("weigh-in-read-out/"), of("whole-cage/")), (2, 5));
    assert_eq!(found.worked.taken(), 0);
    assert!(found.worked.tubes_asked);
    // Every area stands together: nobody walks round the car twice.
    let mut areas: Vec<_> = found.worked.shots.iter().map(|shot| shot.area).collect();
    areas.dedup();
    let turns = areas.len();
    areas.sort();
    areas.dedup();
    assert_eq!(turns, areas.len());
}

#[test]
fn a_weighing_without_its_ticks_leaves_the_cage_its_tube() {
    let mut facts = facts();
    let before = Findings::of(&facts, DAY);
    assert_ne!(before.worked.tubes, UNTIL_WEIGHED);
    let mut again = facts.weigh_ins.first().unwrap().clone();
    again.number = 2;
    again.reading.conditions.clear();
    facts.weigh_ins.insert(0, again);
    let found = Findings::of(&facts, DAY);
    assert!(found.worked.class.as_ref().is_some_and(Result::is_err) && !found.worked.tubes_asked);
    assert_eq!(found.worked.tubes, before.worked.tubes);
}

#[test]
fn a_photograph_answers_its_shot_until_it_is_withdrawn() {
    let word = |facts: &BuildFacts| {
        let found = Findings::of(facts, DAY);
        let of = found.worked.shots.iter().find(|shot| shot.key == "gusset-fitted/both legs").map(|shot| shot.of);
        found.worked.verdicts.iter().find(|v| v.rule_id == "gusset-fitted" && v.of == of).map(|verdict| verdict.word)
    };
    let mut facts = facts();
    assert_eq!(word(&facts), Some(Word::NoPhoto));
    let first = Findings::of(&facts, DAY).worked.shots.into_iter().find(|shot| shot.key == "gusset-fitted/both legs");
    facts.photos.push(photo(&first.unwrap().name()));
    assert_eq!(word(&facts), Some(Word::Meets));
    let withdrawn = crate::domain::recorded::photos::Withdrawn {
        at: Timestamp::UNIX_EPOCH,
        by: "office".to_owned(),
        why: "wrong gusset".to_owned(),
    };
    if let Some(photo) = facts.photos.first_mut() {
        photo.withdrawn = Some(withdrawn);
    }
    assert_eq!(word(&facts), Some(Word::NoPhoto));
}

#[test]
fn a_photograph_withdrawn_before_it_came_is_waited_for_no_longer() {
    let mut facts = facts();
    facts.photos.push(Photo { received: None, ..photo("J1 joint-tacked/wide") });
    let unsent = |facts: &BuildFacts| {
        let found = Findings::of(facts, DAY);
        let open = crate::domain::derived::open_items::of(facts, &found, crate::quantity::Units::Inch, &|_| DAY);
        open.iter().any(|item| item.what.contains("still on somebody's phone"))
    };
    assert!(unsent(&facts));
    if let Some(photo) = facts.photos.first_mut() {
        let (by, why) = ("office".to_owned(), "the phone is lost".to_owned());
        photo.withdrawn = Some(crate::domain::recorded::photos::Withdrawn { at: Timestamp::UNIX_EPOCH, by, why });
    }
    assert!(!unsent(&facts));
}

#[test]
fn without_book_or_cage_nothing_is_asked_and_nothing_breaks() {
    let bare = BuildFacts { book: None, cage: None, weigh_ins: Vec::new(), ..facts() };
    let found = Findings::of(&bare, DAY);
    assert!(found.worked.verdicts.is_empty() && found.worked.shots.is_empty() && found.worked.cage.members.is_empty());
    let later = BuildFacts { cage: Some(CageText { json: "{\"wings\": 2}".to_owned(), version: 3 }), ..facts() };
    assert!(!Findings::of(&later, DAY).worked.cage_reads);
}

#[test]
fn no_joint_is_asked_to_be_photographed_while_its_number_may_come_to_mean_another() {
    let joints = |facts: &BuildFacts| {
        let worked = Findings::of(facts, DAY).worked;
        (worked.cage.joints.len(), worked.every_shot().filter(|shot| shot.of.kind == Kind::Joint).count())
    };
    let mut open = facts();
    let (laid_out, asked) = joints(&open);
    assert!(laid_out > 20 && asked > 20, "{laid_out} {asked}");
    let mut record = example_record();
    record.measures.remove(&TapeMeasure::HarnessBarHeight);
    open.cage = Some(CageText { json: serde_json::to_string(&record).unwrap(), version: 1 });
    let (laid_out, asked) = joints(&open);
    assert!(laid_out > 10 && asked == 0, "{laid_out} {asked}");
    // Something that may name one is recorded: the numbers stay, and the joints are asked for.
    open.photos.push(photo("W1 weigh-in-read-out/read-out"));
    assert!(joints(&open).1 > 10);
}
