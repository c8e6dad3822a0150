//! The schemas of the JSON texts in a car's file: each is one, a saved file keeps to them, and they say yes and no to the same
//! texts as the program's own reader.
#![expect(clippy::panic, reason = "a test may stop")]

use std::process::Command;

use jsonschema::Validator;
use serde_json::{Value, json};
use tackbook::domain::cage::ORDER_OF_MEASURING;
use tackbook::domain::derived::build_file::BuildFile;
use tackbook::domain::derived::contents::Contents;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::recorded::car_file::{Log, Manifest, Records};
use tackbook::store::car_file::tables;

use crate::car_file::{ZIP, saved, thing, things, two_shops};
use crate::full_build;

const NAMES: [&str; 5] = ["manifest", "build", "records", "log", "contents"];

/// A schema as the program prints it.
fn schema(name: &str) -> Value {
    let call = Command::new(env!("CARGO_BIN_EXE_tackbook")).args(["schema", name]).output().unwrap();
    assert!(call.status.success(), "{name}");
    serde_json::from_slice(&call.stdout).unwrap()
}

fn checked_by(name: &str) -> Validator {
    jsonschema::draft202012::options().build(&schema(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// Whether the program's own reader takes a text.
fn is_read(name: &str, text: &Value) -> bool {
    let text = text.to_string();
    match name {
        "manifest" => serde_json::from_str::<Manifest>(&text).is_ok(),
        "build" => serde_json::from_str::<BuildFile>(&text).is_ok(),
        "records" => serde_json::from_str::<Records>(&text).is_ok(),
        "log" => serde_json::from_str::<Log>(&text).is_ok(),
        _ => serde_json::from_str::<Contents>(&text).is_ok(),
    }
}

/// The build file of a build of which everything is recorded that can be.
fn full() -> Value {
    let facts = full_build::facts();
    let found = Findings::of(&facts, jiff::civil::date(2026, 5, 4));
    serde_json::from_str(&BuildFile::of(&facts, found.worked.standing(&facts)).text()).unwrap()
}

/// A file's texts, by the names of their schemas.
fn texts(file: &[u8]) -> Vec<(&'static str, Value)> {
    let things = things(file);
    let path = |name: &str| match name {
        "contents" => "rounds/1/contents.json".to_owned(),
        other => format!("{other}.json"),
    };
    NAMES.map(|name| (name, serde_json::from_slice(thing(&things, &path(name))).unwrap())).into()
}

#[test]
fn each_schema_is_one_and_names_what_the_program_names() {
    for name in NAMES {
        let schema = schema(name);
        assert!(jsonschema::meta::is_valid(&schema), "{name}");
        assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema", "{name}");
    }
    let listed = |schema: &Value, at: &str| -> Vec<String> {
        serde_json::from_value(schema.pointer(at).unwrap_or_else(|| panic!("{at}")).clone()).unwrap()
    };
    let named: Vec<String> = tables().map(str::to_owned).chain(["kit_ways".to_owned()]).collect();
    assert_eq!(listed(&schema("records"), "/$defs/table/properties/table/enum"), named);
    let mut measures: Vec<String> = ORDER_OF_MEASURING.iter().map(|measure| measure.key()).collect();
    let mut said = listed(&schema("build"), "/$defs/cage/properties/measures/propertyNames/enum");
    measures.sort();
    said.sort();
    assert_eq!(said, measures);
    let none = Command::new(env!("CARGO_BIN_EXE_tackbook")).args(["schema", "people"]).output().unwrap();
    assert!(!none.status.success() && String::from_utf8_lossy(&none.stderr).contains("There is no schema"));
}

#[tokio::test]
async fn a_saved_file_keeps_to_the_schemas_and_planted_changes_do_not() {
    let (from, _, _) = two_shops().await;
    let mut all = texts(&saved(&from, ZIP).await);
    all.push(("build", full()));
    for (name, text) in all {
        let validator = checked_by(name);
        let wrong: Vec<String> =
            validator.iter_errors(&text).map(|error| format!("{}: {error}", error.instance_path())).collect();
        assert_eq!(wrong, Vec::<String>::new(), "{name}");
        let first = format!(
            "tackbook_{}",
            match name {
                "manifest" => "car",
                "contents" => "round",
                other => other,
            }
        );
        let mut without = text.clone();
        without.as_object_mut().unwrap().remove(&first).unwrap();
        let (mut typed, mut unknown) = (text.clone(), text.clone());
        typed[&first] = json!(["1"]);
        unknown["planted"] = json!(true);
        for planted in [without, typed, unknown] {
            assert!(!validator.is_valid(&planted), "{name}: {planted}");
        }
    }
}

/// A text with each field taken away, each value of another type, and a field nobody knows in each object.
fn altered(text: &Value) -> Vec<(String, Value)> {
    let mut all = Vec::new();
    let mut places = vec![String::new()];
    while let Some(at) = places.pop() {
        let mut put = |what: &str, change: &dyn Fn(&mut Value)| {
            let mut other = text.clone();
            change(other.pointer_mut(&at).unwrap());
            all.push((format!("{at} {what}"), other));
        };
        put("as a number with decimals", &|value| *value = json!(0.5));
        put("as yes", &|value| *value = json!(true));
        put("as nothing", &|value| *value = Value::Null);
        put("as an object", &|value| *value = json!({ "planted": { "planted": true } }));
        match text.pointer(&at).unwrap() {
            Value::Object(fields) => {
                put("with a field nobody knows", &|value| value["planted"] = json!({ "planted": true }));
                for name in fields.keys() {
                    put(&format!("without {name}"), &|value| drop(value.as_object_mut().unwrap().remove(name)));
                    places.push(format!("{at}/{}", name.replace('~', "~0").replace('/', "~1")));
                }
            }
            // the first of a list stands for all of them
            Value::Array(list) if !list.is_empty() => places.push(format!("{at}/0")),
            _ => {}
        }
    }
    all
}

/// The rows of the records are refused by the tables they are put into, not by the reader of their text: the schema says of both.
fn by_the_tables(name: &str, what: &str) -> bool {
    name == "records" && what.starts_with("/tables/0/rows/0")
}

/// Whatever is altered, reader and schema say the same of it: neither can drift from the other.
#[tokio::test]
async fn reader_and_schema_say_the_same_of_every_altered_text() {
    let (from, _, _) = two_shops().await;
    let mut all: Vec<_> = texts(&saved(&from, ZIP).await).into_iter().filter(|(name, _)| *name != "build").collect();
    all.push(("build", full()));
    let mut differ = Vec::new();
    for (name, mut text) in all {
        if name == "contents" || name == "records" {
            shorten(&mut text);
        }
        let validator = checked_by(name);
        let altered = altered(&text);
        assert!(altered.len() > 20, "{name}");
        for (what, other) in altered {
            let (read, valid) = (is_read(name, &other), validator.is_valid(&other));
            if read != valid && (valid || !by_the_tables(name, &what)) {
                differ.push(format!("{name}: {what}: the reader says {read}, the schema {valid}"));
            }
        }
    }
    assert!(differ.is_empty(), "{}\n{}", differ.len(), differ.join("\n"));
}

/// Of maps with many things of one sort two are enough.
fn shorten(text: &mut Value) {
    let Value::Object(fields) = text else { return };
    for value in fields.values_mut() {
        if let Value::Object(map) = value {
            let names: Vec<String> = map.keys().skip(2).cloned().collect();
            for name in names {
                map.remove(&name);
            }
            shorten(value);
        }
    }
}
