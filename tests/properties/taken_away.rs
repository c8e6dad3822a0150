//! From a build of which every rule is met, any one recorded thing is altered, then taken away: a rule that is no longer met
//! when it is another thing is not met either when it is gone. The things are found in the build file itself: none is
//! listed here.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::{Date, date};
use serde_json::{Value, json};
use tackbook::domain::cage::TubeRole;
use tackbook::domain::derived::build_file::BuildFile;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::judge::verdicts::{Verdict, Word};
use tackbook::domain::measure::measures::Measure;
use tackbook::domain::recorded::facts::BuildFacts;
use tackbook::domain::words::ids::{Balloon, Kind};

use crate::frozen::pointers;
use crate::full_build;

const DAY: Date = date(2026, 5, 4);

/// A book of our own with a rule of every kind.
const BOOK: &str = include_str!("every_kind.toml");

/// What somebody reads off the car, well inside every limit of that book.
fn read_off(measure: Measure) -> Option<(f64, &'static str)> {
    Some(match measure {
        Measure::Roundness => (0.97, "caliper-0.05mm"),
        Measure::WallMeasured => (3.0, "gauge-0.1mm"),
        Measure::InspectionHole => (6.0, "caliper-0.05mm"),
        Measure::PillarDimension | Measure::DoorBarHeight => (250.0, "tape-1mm"),
        Measure::OpeningHeight => (700.0, "tape-1mm"),
        Measure::Carbon => (0.15, "print"),
        Measure::Manganese => (1.2, "print"),
        Measure::OtherElement => (0.2, "print"),
        Measure::Tensile => (500.0, "print"),
        Measure::BoltCount => (4.0, "print"),
        Measure::BoltSize => (10.0, "print"),
        Measure::BoltGrade => (8.8, "print"),
        _ => return None,
    })
}

/// The full build with everything that the book asks for.
fn full() -> Value {
    let mut facts = full_build::facts();
    facts.rulings.clear();
    facts.photos.clear();
    facts.measured.clear();
    if let Some(newest) = facts.weigh_ins.first_mut() {
        newest.reading.again.clear();
    }
    facts.weigh_ins.truncate(1);
    facts.foreseen.clear();
    BOOK.clone_into(&mut facts.book.as_mut().unwrap().toml);
    let mut value: Value =
        serde_json::from_str(&BuildFile::of(&facts, Findings::of(&facts, DAY).worked.standing(&facts)).text()).unwrap();
    let cage = Findings::of(&facts, DAY).worked.cage;
    let main = |role| TubeRole::of(role) == TubeRole::Hoop;
    let bars = |hoop: bool| -> Vec<String> {
        cage.members.iter().filter(|bar| main(bar.role) == hoop).map(|bar| bar.balloon.to_string()).collect()
    };
    let first = value["sticks"][0].clone();
    let stick = |number: u32, outside: f64, bars: Vec<String>| {
        let mut stick = first.clone();
        stick["number"] = json!(number);
        // Two of one heat would answer for each other.
        stick["heat"] = json!(format!("H{number}"));
        stick["size"] =
            json!({"value": {"outside": outside, "wall": 3.0, "printed": "metric"}, "text": format!("{outside} x 3")});
        stick["bars"] = json!(bars);
        stick.as_object_mut().unwrap().retain(|field, _| !["taken", "earlier"].contains(&field.as_str()));
        stick
    };
    // A right side that is not measured follows the left, and a measurement gone there leaves the left's.
    value["cage"]["measures"].as_object_mut().unwrap().retain(|measure, _| !measure.ends_with("_right"));
    value["cage"]["plates"]["front"]["fixed"] = json!("bolted");
    // What the book does not ask for would stand in for what it does.
    value["weigh_in"]["reading"]["conditions"] = json!(["fuel full"]);
    value["weigh_in"]["reading"]["paper"] = Value::Null;
    value["kit"][0]["second_label"] = Value::Null;
    for field in ["ends_printed", "checked"] {
        value["kit"][0]["label"][field] = Value::Null;
    }
    for field in ["helmet_radius", "reach"] {
        value["cage"]["seats"][0].as_object_mut().unwrap().remove(field);
    }
    value["sticks"] = json!([stick(1, 40.0, bars(true)), stick(2, 38.0, bars(false))]);
    answer(&mut value);
    value
}

/// What is asked for is measured and photographed, until nothing more is asked for.
fn answer(value: &mut Value) {
    for _ in 0..4 {
        assert_eq!(BuildFile::read(&value.to_string()).err(), None);
        let found = judged(value).unwrap();
        let missing: BTreeSet<(String, Balloon)> = found.worked.verdicts.iter().flat_map(asked_for).collect();
        let measured = value["measured"].as_array_mut().unwrap();
        for (measure, of) in missing {
            // the tape's own figure answers for the door opening; a second one would stand in for it
            if measure.parse() == Ok(Measure::OpeningHeight) {
                continue;
            }
            let Some((amount, tool)) = read_off(measure.parse().unwrap()) else { continue };
            let there = |read: &Value| read["measure"] == json!(measure) && read["of"] == json!(of);
            if !measured.iter().any(there) {
                let text = amount.to_string();
                measured.push(json!({"measure": measure, "of": of, "value": amount, "text": text, "tool": tool, "by": "fabricator"}));
            }
        }
        let shots: Vec<Value> = found
            .worked.every_shot()
            .zip(1_u32..)
            .map(|(shot, number)| json!({"shot": shot.name(), "sha256": tackbook::domain::words::fingerprint::Fingerprint::of(&number.to_le_bytes())}))
            .collect();
        value["photos"] = json!(shots);
    }
}

fn asked_for(verdict: &Verdict) -> Vec<(String, Balloon)> {
    let own = verdict.measure.zip(verdict.of).filter(|_| verdict.word == Word::NotMeasured);
    let also = verdict.also.iter().copied().filter(|_| verdict.word == Word::NotMeasured);
    own.into_iter().chain(also).map(|(measure, of)| (measure.word().to_owned(), of)).collect()
}

fn judged(value: &Value) -> Option<Findings> {
    let facts = BuildFile::read(&value.to_string()).ok()?.facts(BOOK);
    Some(Findings::of(&facts, DAY))
}

/// What is said, by rule, part and measure.
type Said = BTreeMap<String, Word>;

fn said(found: &Findings) -> Said {
    let line = |verdict: &Verdict| {
        let of = verdict.of.map(|of| of.to_string()).unwrap_or_default();
        let measure = verdict.measure.map(Measure::word).unwrap_or_default();
        (format!("{} {of} {measure}", verdict.rule_id), verdict.word)
    };
    found.worked.verdicts.iter().map(line).collect()
}

/// Other values that may stand there.
fn others(value: &Value, bars: &[String]) -> Vec<Value> {
    match value {
        Value::Bool(yes) => vec![json!(!yes)],
        Value::Number(number) if number.is_f64() => {
            let number = number.as_f64().unwrap();
            vec![json!(number * 1.25 + 0.01), json!(number * 0.02), json!(number * 50.0)]
        }
        Value::Number(number) => vec![json!(number.as_u64().unwrap() + 1)],
        Value::String(text) if bars.contains(text) => vec![json!("M98"), json!("J98")],
        Value::String(text) => {
            let date = text.parse::<Date>().is_ok() || text.parse::<u16>().is_ok();
            let earlier = date.then(|| json!(format!("20{:02}{}", 9, text.get(4..).unwrap_or_default())));
            let words = ["flat", "tube", "bolted", "welded", "left", "right", "caliper-.001in", "norm 2"]
                .map(|word| json!(word));
            std::iter::once(json!(format!("{text}x")))
                .chain(earlier)
                .chain(words.into_iter().take(if date { 0 } else { 8 }))
                .collect()
        }
        _ => Vec::new(),
    }
}

/// The build without what stands at a pointer; none where nothing can be taken away there.
fn without(whole: &Value, pointer: &str) -> Option<Value> {
    let mut value = whole.clone();
    let (parent, last) = pointer.rsplit_once('/')?;
    match value.pointer_mut(parent)? {
        Value::Object(fields) => drop(fields.remove(&last.replace("~1", "/").replace("~0", "~"))?),
        Value::Array(list) => drop(list.remove(last.parse().ok()?)),
        _ => return None,
    }
    // What is left out and then read, or numbered anew, as it stood was not taken away.
    let read = |value: &Value| {
        let facts = BuildFile::read(&value.to_string()).ok()?.facts(BOOK);
        let record = Findings::of(&facts, DAY).worked.record;
        Some((BuildFacts { cage: None, ..facts }, record))
    };
    (read(&value)? != read(whole)?).then_some(value)
}

#[test]
fn what_a_verdict_rests_on_cannot_be_taken_away_and_the_rule_still_be_met() {
    let full = full();
    let to_begin_with = judged(&full).unwrap();
    let (base, bars_there) = (said(&to_begin_with), to_begin_with.worked.cage.members.len());
    let unmet: Vec<_> = base.iter().filter(|(_, said)| !matches!(said, Word::Meets | Word::NotAsked)).collect();
    assert!(unmet.is_empty(), "the build to begin with: {unmet:#?}");
    let rules: BTreeSet<&str> =
        base.iter().filter(|(_, said)| **said == Word::Meets).filter_map(|(key, _)| key.split(' ').next()).collect();
    assert!(rules.len() >= 16, "{rules:?}");
    let mut all = Vec::new();
    pointers("", &full, &mut all);
    let bars: Vec<String> = (1..60).map(|number| Balloon::new(Kind::Member, number).to_string()).collect();
    // What is no longer met when the thing at a pointer is another; of a thing with parts, when any of its parts is.
    let mut moved: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let (mut telling, mut survivors) = (0, Vec::new());
    for pointer in &all {
        let mut here: BTreeSet<String> = BTreeSet::new();
        for other in others(full.pointer(pointer).unwrap(), &bars) {
            let mut altered = full.clone();
            *altered.pointer_mut(pointer).unwrap() = other;
            // What the program itself refuses to keep is no other thing.
            let Some(found) = judged(&altered).filter(|found| found.worked.record.faults().is_empty()) else {
                continue;
            };
            let now = said(&found);
            let met = base.iter().filter(|entry| *entry.1 == Word::Meets).map(|entry| entry.0);
            here.extend(met.filter(|key| now.get(*key) != Some(&Word::Meets)).cloned());
        }
        let parts = moved.range(format!("{pointer}/")..format!("{pointer}0")).flat_map(|entry| entry.1.clone());
        here.extend(parts.collect::<Vec<_>>());
        if !here.is_empty()
            && let Some(found) = without(&full, pointer).as_ref().and_then(judged)
        {
            // Where a bar itself is gone and nothing is left out, it is another cage, judged as that.
            if found.worked.cage.whole && found.worked.cage.members.len() < bars_there {
                continue;
            }
            telling += 1;
            let now = said(&found);
            let stays = here.iter().filter(|key| now.get(*key) == Some(&Word::Meets));
            survivors.extend(stays.map(|key| format!("{pointer} is gone and “{key}” still meets")));
        }
        moved.insert(pointer.clone(), here);
    }
    assert!(telling > 60, "only {telling} things decide anything");
    assert!(survivors.is_empty(), "{} of {telling}: {survivors:#?}", survivors.len());
}
