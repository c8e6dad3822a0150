//! What a round freezes: whatever of a build's facts is altered or taken away, a change is told, or it stands on the list
//! of what is no change. The values are found in the facts themselves: none is listed here.

use jiff::civil::{Date, date};
use serde_json::{Value, json};
use tackbook::domain::derived::contents::{Apart, Contents, apart};
use tackbook::domain::derived::worked::Worked;
use tackbook::domain::measure::measures::Measure;
use tackbook::domain::recorded::facts::BuildFacts;

use crate::full_build;

const DAY: Date = date(2026, 5, 4);

fn contents(facts: &BuildFacts) -> Contents {
    Contents::of(facts, &Worked::of(facts, DAY), 1)
}

/// The facts as one value, the cage's text opened.
fn opened(facts: &BuildFacts) -> Value {
    let mut value = serde_json::to_value(facts).unwrap();
    let text = value["cage"]["json"].as_str().unwrap().to_owned();
    value["cage"]["json"] = serde_json::from_str(&text).unwrap();
    value
}

/// The facts of such a value; none where it is no build's.
fn closed(mut value: Value) -> Option<BuildFacts> {
    let text = value.get("cage")?.get("json")?.to_string();
    serde_json::from_str::<tackbook::domain::cage::CageRecord>(&text).ok()?;
    value["cage"]["json"] = Value::String(text);
    serde_json::from_value(value).ok()
}

/// Every value's pointer, the last values first, and whether a whole list entry or a value that may be missing.
pub(crate) fn pointers(at: &str, value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            for (name, value) in fields {
                pointers(&format!("{at}/{}", name.replace('~', "~0").replace('/', "~1")), value, found);
            }
        }
        Value::Array(list) => {
            for (place, value) in list.iter().enumerate() {
                pointers(&format!("{at}/{place}"), value, found);
            }
        }
        _ => {}
    }
    if !at.is_empty() {
        found.push(at.to_owned());
    }
}

/// Other values that may stand there.
fn others(value: &Value, pool: &[String]) -> Vec<Value> {
    let mut others = match value {
        Value::Bool(yes) => vec![Value::Bool(!yes)],
        Value::Number(number) if number.is_f64() => vec![json!(number.as_f64().unwrap() * 1.25 + 0.01)],
        Value::Number(number) => vec![json!(number.as_u64().unwrap() + 1)],
        Value::String(text) => {
            // The same with one figure another: dates, moments, ids, hashes, balloons.
            let turned = |place: usize, by: u32| {
                let mut letters: Vec<char> = text.chars().collect();
                let letter = letters.get_mut(place)?;
                *letter = char::from_digit((letter.to_digit(10)? + by) % 10, 10)?;
                Some(Value::String(letters.into_iter().collect()))
            };
            let figures =
                (0..text.chars().count()).rev().flat_map(|place| [turned(place, 1), turned(place, 2)]).flatten();
            let pool = pool.iter().filter(|other| *other != text).map(|other| Value::String(other.clone()));
            std::iter::once(Value::String(format!("{text}x"))).chain(figures).chain(pool).collect()
        }
        // What ends a thing: when, by whom, why.
        Value::Null => vec![
            json!(["2026-05-03", "sold"]),
            json!(["2026-05-03T10:00:00Z", "office"]),
            json!(["2026-05-03T10:00:00Z", "office", "wrong part"]),
            json!({"at": "2026-05-03T10:00:00Z", "by": "office", "why": "wrong part"}),
        ],
        _ => Vec::new(),
    };
    others.push(Value::Null);
    others
}

/// Whether a pointer lies under a path of the list.
fn lies_under(pointer: &str, path: &str) -> bool {
    let parts: Vec<&str> = pointer.trim_start_matches('/').split('/').collect();
    if !path.contains('/') && parts.len() > 1 {
        return parts.first() == Some(&path) || parts.last() == Some(&path);
    }
    let wanted: Vec<&str> = path.split('/').collect();
    wanted.len() <= parts.len()
        && wanted.iter().zip(&parts).all(|(wanted, part)| match *wanted {
            "*" => part.parse::<usize>().is_ok(),
            // The fixture's way has one stay before the one here.
            "here" => false,
            other => other == *part,
        })
        || path.contains("/here/") && lies_under(pointer, &path.replace("/here/", "/stays/1/"))
}

fn spared(pointer: &str) -> Option<Apart> {
    let listed: Vec<Apart> = apart().filter(|(path, _)| lies_under(pointer, path)).map(|(_, why)| why).collect();
    let told = listed.iter().find(|why| !matches!(why, Apart::Elsewhere(_)));
    told.or(listed.first()).copied()
}

/// Enum words and the like that stand for one another.
fn pool() -> Vec<String> {
    let measures = Measure::ALL.iter().map(|measure| measure.word().to_owned());
    let words = [
        "saddle",
        "flat",
        "tube",
        "welded",
        "bolted",
        "start",
        "end",
        "left",
        "right",
        "none",
        "one",
        "cross",
        "two",
        "main_hoop",
        "front_hoop",
        "half_hoops",
        "lateral_hoops",
        "in",
        "out",
        "limits",
        "deviation",
        "Arrow",
        "Circle",
        "Approved",
        "NotYet",
        "Refused",
        "telephone",
        "open",
        "caliper-0.05mm",
        "tape-1/16in",
        "high_at_hoop",
        "low_at_hoop",
        "v_forward",
        "roof",
        "sill",
        "main hoop",
        "backstay",
        "dash bar",
        "inch",
        "metric",
    ];
    measures.chain(words.map(str::to_owned)).collect()
}

#[test]
fn the_full_build_has_something_of_everything() {
    let value = opened(&full_build::facts());
    let mut all = Vec::new();
    pointers("", &value, &mut all);
    let open = |pointer: &&String| {
        let value = value.pointer(pointer).unwrap();
        value.is_null() || value.as_array().is_some_and(Vec::is_empty)
    };
    let open: Vec<&String> = all.iter().filter(open).collect();
    // What ends a thing: a photograph withdrawn, a mark rubbed out, a ruling taken back, an item gone on.
    let ends = [
        "/kit_ways/0/stays/1/went",
        "/mark_ups/0/rubbed_out",
        "/notes/0/struck",
        "/notes/0/waits",
        "/photos/0/withdrawn",
        "/photos/1/withdrawn",
        "/rulings/0/taken_back",
        "/welds/0/held",
        "/welds/0/struck",
        "/welds/1/held",
        "/welds/1/struck",
    ];
    assert_eq!(open, ends);
}

#[test]
fn whatever_is_altered_is_told_or_named_as_no_change() {
    let facts = full_build::facts();
    let (before, value, pool) = (contents(&facts), opened(&facts), pool());
    assert_eq!(contents(&facts).changes_since(&before), []);
    let mut all = Vec::new();
    pointers("", &value, &mut all);
    let (mut silent, mut unmoved, mut tried) = (Vec::new(), Vec::new(), 0);
    for pointer in &all {
        if pointer == "/cage/json" || matches!(spared(pointer), Some(Apart::NoChange(_) | Apart::Name(_))) {
            continue;
        }
        let was = value.pointer(pointer).unwrap().clone();
        let altered = others(&was, &pool).into_iter().filter(|other| *other != was).find_map(|other| {
            let mut value = value.clone();
            *value.pointer_mut(pointer).unwrap() = other.clone();
            closed(value).filter(|altered| *altered != facts).map(|altered| (other, altered))
        });
        let Some((other, altered)) = altered else {
            if !(was.is_object() || was.is_array()) {
                unmoved.push(pointer);
            }
            continue;
        };
        tried += 1;
        if contents(&altered).changes_since(&before).is_empty() {
            silent.push(format!("{pointer}: {was} to {other}"));
        }
    }
    assert!(silent.is_empty(), "changed and not told:\n{}", silent.join("\n"));
    assert!(unmoved.is_empty(), "no other value found for {unmoved:?}");
    assert!(tried > 300, "{tried}");
}

/// What is on the list of no changes is none; a list that names too much would hide nothing but hold everything.
#[test]
fn what_goes_on_between_rounds_is_no_change() {
    let facts = full_build::facts();
    let (before, value) = (contents(&facts), opened(&facts));
    let mut all = Vec::new();
    pointers("", &value, &mut all);
    for pointer in all.iter().filter(|pointer| matches!(spared(pointer), Some(Apart::NoChange(_)))) {
        let was = value.pointer(pointer).unwrap().clone();
        for other in others(&was, &[]).into_iter().filter(|other| *other != was).take(2) {
            let mut value = value.clone();
            *value.pointer_mut(pointer).unwrap() = other.clone();
            let Some(altered) = closed(value) else { continue };
            let told = contents(&altered).changes_since(&before);
            assert_eq!(told, [], "{pointer}: {was} to {other}");
        }
    }
}
