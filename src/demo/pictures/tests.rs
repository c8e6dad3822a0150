//! Every kind of picture, looked at as the shop looks at photographs.

use uuid::Uuid;

use super::{Subject, of};
use crate::domain::builds::Build;
use crate::domain::cage::example::example_record;
use crate::domain::facts::{BookText, BuildFacts, CageText};
use crate::domain::findings::Findings;
use crate::domain::stock::Stick;
use crate::domain::tube::TubeSize;
use crate::domain::weigh_in::{Pads, Reading, WeighIn};
use crate::imaging::look;
use crate::quantity::{Length, Mass, Typed};

fn facts() -> BuildFacts {
    let id = Uuid::from_u128(1);
    let toml = include_str!("../book.toml").to_owned();
    let pounds = |value: f64| Typed { value: Mass::from_lb(value), text: format!("{value} lb") };
    let book = crate::domain::rule_books::read(&toml).unwrap();
    let conditions = book.weight.iter().flat_map(|weight| &weight.conditions).map(|condition| condition.key.clone());
    let pads = Pads {
        left_front: pounds(650.0),
        right_front: pounds(652.0),
        left_rear: pounds(641.0),
        right_rear: pounds(646.0),
    };
    let reading = Reading { pads, resolution: pounds(1.0), conditions: conditions.collect(), note: String::new() };
    let size = TubeSize::inch(1.5, 0.120);
    let stick = Stick {
        id: id.into(),
        number: 1,
        size: Typed { value: size, text: "1 1/2 x .120 in".to_owned() },
        grade: "DOM".to_owned(),
        heat: "48213".to_owned(),
        length: Typed { value: Length::from_inches(240.0), text: "20 ft".to_owned() },
        certificate: None,
        given_to: Some(id.into()),
        added: jiff::Timestamp::UNIX_EPOCH,
        by: "office".to_owned(),
    };
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
            reading,
            day: jiff::civil::date(2026, 5, 4),
            by: "office".to_owned(),
        }],
        cage: Some(CageText { json: serde_json::to_string(&example_record()).unwrap(), version: 1 }),
        photos: Vec::new(),
        sticks: vec![stick],
        cuts: Vec::new(),
        measured: Vec::new(),
        questions: Vec::new(),
        rounds: Vec::new(),
        replies: Vec::new(),
        notes: Vec::new(),
        as_of: 1,
    }
}

/// One shot of every key, and every tenth of the others.
#[test]
fn every_kind_of_picture_is_one_that_nothing_need_be_said_of() {
    let facts = facts();
    let found = Findings::of(&facts, jiff::civil::date(2026, 5, 4));
    let subject = Subject { facts: &facts, found: &found, paint: [150, 74, 58] };
    let mut keys: Vec<&str> = Vec::new();
    let mut bad = Vec::new();
    for (number, shot) in found.shots.iter().enumerate() {
        if keys.contains(&shot.key.as_str()) && number % 10 != 0 {
            continue;
        }
        keys.push(&shot.key);
        let begun = std::time::Instant::now();
        let jpeg = of(subject, shot).jpeg().unwrap();
        println!("{} {:?} {}", shot.name(), begun.elapsed(), jpeg.len());
        std::fs::write(format!("/tmp/demo/{}.jpg", shot.name().replace(['/', ' '], "_")), &jpeg).unwrap();
        let seen = look(&jpeg).unwrap();
        if !seen.remarks.is_empty() {
            bad.push(format!("{}: {seen:?}", shot.name()));
        }
    }
    assert!(bad.is_empty(), "{}", bad.join("\n"));
    let first = found.shots.first().unwrap();
    let missed = look(&of(subject, first).blurred().jpeg().unwrap()).unwrap();
    assert!(missed.remarks.iter().any(|remark| remark.contains("blurred")), "{missed:?}");
}
