//! What differs between two records of a cage, thing by thing, in words.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value;

use super::basic_structure::BasicStructure;
use super::cage_record::CageRecord;
use super::fittings::{GussetRecord, PlateRecord};
use super::key_words::words;
use super::measures::ORDER_OF_MEASURING;
use crate::domain::words::wording::capital;

/// One thing that is not the same in two records. A text is empty where the thing is not there.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Changed {
    /// What it is.
    pub what: String,
    /// As it was.
    pub was: String,
    /// As it is.
    pub is: String,
}

/// What differs, in the order of the cage's sheet. The numbers given out are no difference: they only grow.
pub fn changed(was: &CageRecord, is: &CageRecord) -> Vec<Changed> {
    let (was, is) = (describe(was), describe(is));
    let find = |list: &[(String, String)], what: &str| {
        list.iter().find(|(name, _)| name == what).map(|(_, text)| text.clone()).unwrap_or_default()
    };
    let gone = was.iter().filter(|(what, _)| is.iter().all(|(there, _)| there != what));
    let names = is.iter().chain(gone).map(|(what, _)| what);
    let pair = |what: &String| Changed { what: what.clone(), was: find(&was, what), is: find(&is, what) };
    names.map(pair).filter(|pair| pair.was != pair.is).collect()
}

/// Bars and other parts whose number in a record is not the one that this build keeps for them: key, there, here.
pub fn renumbered(there: &CageRecord, here: &CageRecord) -> Vec<(String, String, String)> {
    let other = there.numbers.iter().filter_map(|(key, balloon)| {
        let kept = here.numbers.get(key).filter(|kept| *kept != balloon)?;
        Some((words(key), balloon.to_string(), kept.to_string()))
    });
    other.collect()
}

/// Everything of a record but its numbers, each with its text.
fn describe(record: &CageRecord) -> Vec<(String, String)> {
    let mut lines = vec![("Basic structure".to_owned(), record.structure.word().to_owned())];
    for measure in ORDER_OF_MEASURING {
        lines.extend(record.measures.get(measure).map(|typed| (capital(&measure.word()), typed.text.clone())));
    }
    for (role, radius) in &record.bend_radius {
        lines.push((format!("Die, {}", role.word()), radius.text.clone()));
    }
    for (foot, plate) in &record.plates {
        // One word for a foot on both sides of the comparison, whatever stands on it.
        lines.push((format!("Plate under the {}", foot.word(BasicStructure::default())), of_plate(plate)));
    }
    for bar in &record.hand_bars {
        lines.push((format!("Bar by hand, “{}”", bar.name), bar.describe()));
    }
    for place in &record.body {
        lines.push((format!("Place {} of the body, {}", place.number, place.part.word()), place.describe()));
    }
    lines.extend(
        record.torch_radius.as_ref().map(|torch| ("Radius of the torch's head".to_owned(), torch.text.clone())),
    );
    for seat in &record.seats {
        lines.push((format!("Seat, “{}”", seat.name), seat.describe()));
    }
    for gusset in &record.gussets {
        let [one, other] = gusset.between.each_ref().map(|arm| words(&arm.member));
        lines.push((format!("Gusset between {one} and {other}, {}", words(&gusset.joint)), of_gusset(gusset)));
    }
    for (key, own) in &record.tubes {
        lines.push((format!("Tube of the {}", words(key)), format!("{}: {}", own.describe(), own.reason)));
    }
    // What a record holds beside these is told as its JSON has it, so that nothing can change unseen.
    let apart = [
        "structure",
        "measures",
        "bend_radius",
        "plates",
        "hand_bars",
        "body",
        "torch_radius",
        "seats",
        "gussets",
        "tubes",
        "numbers",
    ];
    if let Ok(Value::Object(fields)) = serde_json::to_value(record) {
        for (name, value) in fields.into_iter().filter(|(name, _)| !apart.contains(&name.as_str())) {
            match value {
                Value::Object(parts) => lines.extend(parts.iter().map(|(part, value)| (spoken(part), plain(value)))),
                other => lines.push((spoken(&name), plain(&other))),
            }
        }
    }
    numbered_alike(lines)
}

fn of_plate(plate: &PlateRecord) -> String {
    let (along, across, thick) = (&plate.side_a.text, &plate.side_b.text, &plate.thickness.text);
    format!("{along} along, {across} across, {thick} thick, {}", plate.fixed.word())
}

fn of_gusset(gusset: &GussetRecord) -> String {
    let hole = gusset.hole.as_ref().clause(|hole| hole.text.clone());
    format!("{}, leg {}, {} thick, {hole}", gusset.kind.word(), gusset.leg.text, gusset.thickness.text)
}

fn spoken(name: &str) -> String {
    capital(&name.replace('_', " "))
}

fn plain(value: &Value) -> String {
    match value {
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        Value::String(text) => text.replace('_', " "),
        Value::Null => String::new(),
        Value::Array(list) if list.is_empty() => String::new(),
        other => other.to_string(),
    }
}

/// Names given to two things get a count, so that each is compared with its own.
fn numbered_alike(lines: Vec<(String, String)>) -> Vec<(String, String)> {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let number = |(name, text): (String, String)| {
        let count = seen.entry(name.clone()).or_insert(0);
        *count += 1;
        (if *count == 1 { name } else { format!("{name} ({count})") }, text)
    };
    lines.into_iter().map(number).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::body::{BodyPart, BodyPlace, Taken};
    use crate::domain::cage::record::by_hand::{At, HandBar, Stand};
    use crate::domain::cage::record::example::example_record;
    use crate::domain::cage::record::fittings::Toward;
    use crate::domain::cage::record::measures::{Hand, TapeMeasure};
    use crate::domain::cage::record::options::Diagonal;
    use crate::domain::words::roles::MemberRole;
    use crate::quantity::{Length, Typed};

    #[test]
    fn every_difference_is_told_and_nothing_else() {
        let was = example_record();
        assert_eq!(changed(&was, &was), []);
        let mut is = was.clone();
        let typed = Typed::<Length>::read("43 1/2 in").unwrap();
        is.measures.insert(TapeMeasure::HoopRoofHeight, typed.clone());
        is.measures.remove(&TapeMeasure::FrontFootForward(Hand::Right));
        is.options.backstay_diagonal = Diagonal::One;
        is.gussets.remove(1);
        let ends = [
            Stand::new("header", At::Middle),
            Stand::new("main-hoop", At::FromEnd { end: Toward::End, by: typed.clone() }),
        ];
        let (name, role) = ("stay".to_owned(), MemberRole::OtherBar);
        is.hand_bars.push(HandBar { number: 1, name, role, ends, cut_at_crossings: false });
        is.structure = BasicStructure::LateralHoops;
        is.numbers.clear();
        is.torch_radius = Some(typed.clone());
        let taken = Taken::Gap { on: "header".to_owned(), at: At::Middle, gap: typed.clone() };
        is.body.push(BodyPlace { number: 4, part: BodyPart::Roof, taken });
        let lines = changed(&was, &is);
        let lines = lines.iter().map(|line| format!("{}|{}|{}", line.what, line.was, line.is));
        let lines: Vec<String> = lines.collect();
        assert_eq!(lines.len(), 8, "{lines:?}");
        for line in [
            "Main hoop: height at the roof|43 5/8 in|43 1/2 in",
            "Basic structure|main hoop and two lateral half hoops|two lateral hoops",
            "Backstay diagonal|none|one",
            "Front foot: forward of the hoop, right|45 1/8 in|",
            "Place 4 of the body, roof||43 1/2 in from the header, its middle",
            "Radius of the torch's head||43 1/2 in",
            "Bar by hand, “stay”||other bar, from the header, its middle to the main hoop, 43 1/2 in along it from its last end",
        ] {
            assert!(lines.iter().any(|lines| lines == line), "{line}: {lines:?}");
        }
        assert!(lines.iter().any(|lines| lines.starts_with("Gusset between") && lines.ends_with('|')), "{lines:?}");
    }

    #[test]
    fn a_build_keeps_its_numbers_over_a_files() {
        let build = example_record();
        let mut file = example_record();
        let own = file.numbers.remove("dash-bar").unwrap();
        file.numbers.insert("dash-bar".to_owned(), "M70".parse().unwrap());
        file.numbers.insert("seat-cross-bar/9".to_owned(), own);
        file.numbers.insert("seat-cross-bar/8".to_owned(), "M71".parse().unwrap());
        let taken = file.with_numbers_of(&build);
        assert_eq!(taken.numbers.get("dash-bar"), Some(&own));
        assert_eq!(taken.numbers.get("seat-cross-bar/8"), Some(&"M71".parse().unwrap()));
        assert_eq!(taken.numbers.get("seat-cross-bar/9"), None);
        assert_eq!(renumbered(&file, &taken), [("dash bar".to_owned(), "M70".to_owned(), own.to_string())]);
        assert!(taken.faults().is_empty());
    }
}
