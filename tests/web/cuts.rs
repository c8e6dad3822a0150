//! The cut plan on screen, on paper, as a table and in the numbers, by what the shop states of its saw.

use axum::http::StatusCode;
use serde_json::Value;

use crate::cage::{save, typed};
use crate::house::{Browser, House};
use crate::paper;

const SHEET: &str = "/builds/pine-coupe/cuts";

async fn cuts(browser: &Browser<'_>) -> Value {
    let numbers = browser.get("/builds/pine-coupe/numbers.json").await.bytes;
    serde_json::from_slice::<Value>(&numbers).unwrap().get("cuts").cloned().unwrap()
}

fn pieces(cuts: &Value) -> Vec<(String, f64)> {
    let sticks = cuts["sticks"].as_array().unwrap().iter();
    let pieces = sticks.flat_map(|stick| stick["pieces"].as_array().unwrap());
    let mut pieces: Vec<(String, f64)> =
        pieces.map(|piece| (piece["name"].as_str().unwrap().to_owned(), piece["length"].as_f64().unwrap())).collect();
    pieces.sort_by(|one, two| one.0.cmp(&two.0));
    pieces
}

#[expect(clippy::too_many_lines, reason = "one story from its beginning to its end")]
#[tokio::test]
async fn bars_are_planned_onto_the_shops_sticks_and_new_ones_by_its_own_saw() {
    let house = House::new().await;
    let floor = house.browser("fabricator").await;
    floor.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert!(floor.get(SHEET).await.text.contains("Measure the cage first"));
    save(&floor, &typed("0")).await;
    let sheet = floor.get(SHEET).await.text;
    for words in ["Nobody stated these yet", "3 mm of kerf", "To buy: ", "Buy and cut nothing by it"] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    let before = cuts(&floor).await;
    // Two sticks of the rack: one of them is as long as what is bought, the other takes nothing.
    for length in ["20 ft", "2 in"] {
        let stick = [("size", "1 1/2 x .095"), ("grade", "grade A"), ("length", length), ("heat", "48211")];
        assert_eq!(floor.post("/stock", &stick).await.status, StatusCode::SEE_OTHER);
    }
    let own =
        [("kerf", "2 mm"), ("trim", "1/2 in"), ("cope", "5 mm"), ("grip", "0"), ("buy", "6 m"), ("keep", "20 mm")];
    assert_eq!(floor.post(SHEET, &own).await.status, StatusCode::SEE_OTHER);
    let after = cuts(&floor).await;
    assert_eq!((&after["saw"]["kerf"], &after["saw"]["buy"]), (&2.0.into(), &6000.0.into()));
    let named = |cuts: &Value| pieces(cuts).into_iter().map(|piece| piece.0).collect::<Vec<_>>();
    assert_eq!(named(&before), named(&after));
    // Each bar gets 5 mm for each of its copes: none, one or two of them.
    let copes: Vec<f64> = pieces(&before).iter().zip(pieces(&after)).map(|(one, two)| two.1 - one.1).collect();
    assert!(copes.iter().all(|more| [0.0, 5.0, 10.0].iter().any(|want| (more - want).abs() < 2e-3)), "{copes:?}");
    assert!(copes.iter().any(|more| (more - 10.0).abs() < 2e-3), "{copes:?}");
    for stick in after["sticks"].as_array().unwrap() {
        let sum: f64 = stick["pieces"].as_array().unwrap().iter().map(|piece| piece["length"].as_f64().unwrap()).sum();
        let rest: f64 = ["trims", "kerf", "offcut"].iter().map(|part| stick[part].as_f64().unwrap()).sum();
        assert!((sum + rest - stick["length"].as_f64().unwrap()).abs() < 1e-6, "{stick}");
    }
    let own_stick = |stick: &&Value| stick["stick"] == "S1";
    let first = after["sticks"].as_array().unwrap().iter().find(own_stick).unwrap();
    assert_eq!((&first["heat"], &first["bought"], &first["trims"]), (&"48211".into(), &false.into(), &25.4.into()));
    assert_eq!(after["whole"][0]["stick"], "S2");
    let sheet = floor.get(SHEET).await.text;
    for words in [
        "S1, grade A, heat 48211, 20 ft",
        "Not cut into: S2, 2 in",
        "<svg",
        "1/2 in trimmed",
        "Proven: no plan buys less",
    ] {
        let words = words.replace("20 ft", "240 in");
        assert!(sheet.contains(&words), "{words}: {sheet}");
    }
    let table = floor.get("/builds/pine-coupe/cuts.csv").await.text;
    assert_eq!(table.lines().count(), pieces(&after).len() + 1);
    assert!(table.starts_with("stick,bought,heat,tube,stick_mm,piece,from_mm,length_mm"), "{table}");
    let pdf = floor.get("/builds/pine-coupe/sheets.pdf").await.bytes;
    let words = paper::words(&pdf);
    for word in ["Cut plan", "S1, grade A, heat 48211", "Not cut into: S2", "none cuts into less of the tube"] {
        assert!(words.contains(word), "{word}");
    }
    // What is said to be cut is not planned again, and its stick, one end of it trimmed, has so much less.
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let long = house.store.sticks().await.unwrap()[0].id.to_string();
    assert_eq!(floor.post("/builds/pine-coupe/tube/give", &[("stick", &long)]).await.status, StatusCode::SEE_OTHER);
    assert_eq!(floor.post("/builds/pine-coupe/tube", &[("M1", &long)]).await.status, StatusCode::SEE_OTHER);
    assert_eq!(house.store.cuts(build).await.unwrap().len(), 1);
    let left = cuts(&floor).await;
    assert_eq!(named(&left).len(), named(&after).len() - 1);
    let mut of_shop = ["sticks", "whole"].into_iter().flat_map(|list| left[list].as_array().unwrap());
    let first = of_shop.find(own_stick).unwrap();
    let hoop = pieces(&after).iter().find(|piece| piece.0 == "M1").unwrap().1;
    assert!((first["length"].as_f64().unwrap() - (6096.0 - 12.7 - hoop - 2.0)).abs() < 2e-3, "{first}");
}

#[tokio::test]
async fn figures_that_no_saw_has_are_refused_and_kept_as_typed() {
    let house = House::new().await;
    let floor = house.browser("fabricator").await;
    floor.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let wrong = [("kerf", "2 in"), ("trim", "a bit"), ("cope", "0"), ("grip", "0"), ("buy", "20 ft"), ("keep", "0")];
    let answer = floor.post(SHEET, &wrong).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text.contains("value=\"a bit\"") && answer.text.contains("does not read as a length"));
    let large = [("kerf", "2 in"), ("trim", "0"), ("cope", "0"), ("grip", "0"), ("buy", "20 ft"), ("keep", "0")];
    assert!(floor.post(SHEET, &large).await.text.contains("A saw takes with each cut 0 to 10.2 mm (0 to 0.401 in)."));
    assert_eq!(house.store.saw().await.unwrap(), None);
}
