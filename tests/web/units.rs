//! A figure keeps the unit it was typed in: two people who read different units open, save and argue over the same sheets.

use axum::http::StatusCode;
use serde_json::Value;
use sqlx::Connection as _;

use crate::cage::typed;
use crate::forms::sent_back;
use crate::house::{Answer, Browser, House};
use crate::main_job::{begun, weigh};
use crate::measures::laid_out;

const BUILD: &str = "/builds/pine-coupe";

/// Opens a form, changes some of its fields, and sends all of it as a browser does.
async fn change(browser: &Browser<'_>, page: &str, to: &str, fields: &[(&str, &str)]) -> Answer {
    let sheet = browser.get(page).await;
    assert_eq!(sheet.status, StatusCode::OK, "{page}: {}", sheet.text);
    // Some forms name their own address.
    let action = if sent_back(&sheet.text, to).is_empty() { "" } else { to };
    send(browser, &sheet.text, (action, to), fields).await
}

/// The same with a sheet that is open already; `action` is what its form's tag says.
async fn send(browser: &Browser<'_>, html: &str, (action, to): (&str, &str), fields: &[(&str, &str)]) -> Answer {
    let mut pairs = sent_back(html, action);
    for (name, value) in fields {
        let pair = pairs.iter_mut().find(|pair| pair.0 == *name);
        assert!(pair.is_some(), "{to} has no field {name}");
        (*value).clone_into(&mut pair.unwrap().1);
    }
    let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    browser.post(to, &pairs).await
}

/// Saves by somebody reading millimetres, then a change of another field by somebody reading inches.
async fn one_after_another(house: &House, page: &str, to: &str, first: &[(&str, &str)], then: (&str, &str)) {
    let metric = house.browser_reading("office", Some("metric")).await;
    let saved = change(&metric, page, to, first).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{to}: {}", saved.text);
    let inch = house.browser_reading("office", Some("inch")).await;
    let saved = change(&inch, page, to, &[then]).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{to}: {}", saved.text);
}

/// A value of the stored record, by its path.
fn says(record: &Value, path: &str, mm: f64, text: &str) {
    let typed = record.pointer(path).unwrap_or(&Value::Null);
    let value = typed["value"].as_f64().unwrap_or(f64::NAN);
    assert!((value - mm).abs() < 1e-9 && typed["text"] == text, "{path}: {typed}, and not {text}");
}

async fn record(house: &House) -> Value {
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    serde_json::from_str(&house.store.facts(build).await.unwrap().cage.unwrap().json).unwrap()
}

#[tokio::test]
async fn a_cage_measured_in_millimetres_stays_so_when_a_reader_of_inches_saves() {
    let house = House::new().await;
    laid_out(&house).await;
    let page = format!("{BUILD}/cage");
    let first = [
        ("hoop_roof_height", "1105"),
        ("hoop_lean", "1.5"),
        ("bend_radius_hoop", "114.3"),
        ("plate_main_hoop_side_a", "150"),
        ("plate_main_hoop_side_b", "100"),
        ("plate_main_hoop_thickness", "3"),
    ];
    one_after_another(&house, &page, &page, &first, ("hoop_shoulder_height", "19 1/2")).await;
    let now = record(&house).await;
    says(&now, "/measures/hoop_roof_height", 1105.0, "1105 mm");
    says(&now, "/measures/hoop_lean", 1.5, "1.5 mm");
    says(&now, "/bend_radius/hoop", 114.3, "114.3 mm");
    says(&now, "/plates/main_hoop/side_a", 150.0, "150 mm");
    says(&now, "/plates/main_hoop/thickness", 3.0, "3 mm");
    says(&now, "/measures/hoop_shoulder_height", 19.5 * 25.4, "19 1/2 in");
    // And the other way round.
    let metric = house.browser_reading("office", Some("metric")).await;
    assert_eq!(change(&metric, &page, &page, &[("hoop_lean", "2")]).await.status, StatusCode::SEE_OTHER);
    let now = record(&house).await;
    says(&now, "/measures/hoop_shoulder_height", 19.5 * 25.4, "19 1/2 in");
    says(&now, "/measures/hoop_lean", 2.0, "2 mm");
    // Nobody reads a bare number.
    let sheet = metric.get(&page).await.text;
    for words in ["value=\"1105 mm\"", "value=\"19 1/2 in\"", "value=\"150 mm\""] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    let last = metric.get(&format!("{BUILD}/cage/last")).await.text;
    assert!(last.contains("1.5 mm") && last.contains("2 mm"), "{last}");
}

#[tokio::test]
async fn every_other_form_that_holds_a_figure_sends_it_back_with_its_unit() {
    let house = House::new().await;
    laid_out(&house).await;
    let page = |last: &str| format!("{BUILD}/{last}");
    let metric = house.browser_reading("office", Some("metric")).await;
    // The lowering, how the shop cuts and welds, where the wheels stand.
    one_after_another(&house, &page("lowering"), &page("lowering"), &[("room", "44"), ("over", "12")], ("over", "1/2"))
        .await;
    one_after_another(&house, &page("cuts"), &page("cuts"), &[("kerf", "1.5"), ("keep", "310")], ("trim", "1/2")).await;
    one_after_another(&house, &page("seams"), &page("seams"), &[("leg", "5"), ("wire", "0.8")], ("laid", "12")).await;
    let wheels = [("wheelbase", "2500"), ("track_front", "1450"), ("track_rear", "1460"), ("hoop_behind", "1780")];
    weigh(&house.browser("office").await, "740", "").await;
    let to = page("weigh-in/wheels");
    one_after_another(&house, &page("weigh-in"), &to, &wheels, ("track_rear", "57 1/2")).await;
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let facts = house.store.facts(build).await.unwrap();
    let lowering = serde_json::to_value(facts.lowering.as_ref().unwrap()).unwrap();
    says(&lowering, "/settings/room", 44.0, "44 mm");
    says(&lowering, "/settings/over", 12.7, "1/2 in");
    let wheels = serde_json::to_value(facts.wheels.as_ref().unwrap()).unwrap();
    says(&wheels, "/wheelbase", 2500.0, "2500 mm");
    says(&wheels, "/track_rear", 57.5 * 25.4, "57 1/2 in");
    let saw = serde_json::to_value(house.store.saw().await.unwrap().unwrap()).unwrap();
    says(&saw, "/kerf", 1.5, "1.5 mm");
    says(&saw, "/keep", 310.0, "310 mm");
    says(&saw, "/trim", 12.7, "1/2 in");
    let rates = serde_json::to_value(house.store.weld_rates().await.unwrap().unwrap()).unwrap();
    says(&rates, "/leg", 5.0, "5 mm");
    says(&rates, "/wire", 0.8, "0.8 mm");
    // A seat.
    let seat = [
        ("name", "driver"),
        ("left", "340"),
        ("hips_forward", "300"),
        ("hips_up", "130"),
        ("shoulder_forward", "130"),
        ("shoulder_up", "610"),
        ("helmet_forward", "180"),
        ("helmet_up", "870"),
        ("helmet_radius", "140"),
    ];
    assert_eq!(change(&metric, &page("seats"), &page("seats"), &seat).await.status, StatusCode::SEE_OTHER);
    let inch = house.browser_reading("office", Some("inch")).await;
    let (seats, one) = (page("seats"), page("seats?number=1"));
    assert_eq!(change(&inch, &one, &seats, &[("hips_up", "5")]).await.status, StatusCode::SEE_OTHER);
    let now = record(&house).await;
    says(&now, "/seats/0/left", 340.0, "340 mm");
    says(&now, "/seats/0/helmet_radius", 140.0, "140 mm");
    says(&now, "/seats/0/hips_up", 127.0, "5 in");
    // A die and a stick say their unit to whoever reads them.
    let die = [("name", "hoop"), ("outside", "38.1"), ("radius", "114.3"), ("offset", "12")];
    assert_eq!(metric.post("/dies", &die).await.status, StatusCode::SEE_OTHER);
    let shown = inch.get("/dies").await.text;
    assert!(shown.contains("tube 38.1 mm outside, centre-line radius 114.3 mm, mark 12 mm before"), "{shown}");
    let stick = [("size", "38.1 x 2.5"), ("grade", "DOM"), ("length", "6000"), ("heat", "7")];
    let answer = metric.post("/stock", &stick).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
    let stick = house.store.sticks().await.unwrap().remove(0);
    assert_eq!((stick.size.text.as_str(), stick.length.text.as_str()), ("38.1 x 2.5 mm", "6000 mm"));
}

#[tokio::test]
async fn a_refused_form_keeps_its_units_for_whoever_sends_it_again() {
    let house = House::new().await;
    begun(&house).await;
    let page = format!("{BUILD}/weigh-in");
    let metric = house.browser_reading("office", Some("metric")).await;
    let pads = [
        ("left_front", "300"),
        ("right_front", "29.5"),
        ("left_rear", "290"),
        ("right_rear", "292"),
        ("resolution", "0.5"),
    ];
    let asked = change(&metric, &page, &page, &pads).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(asked.text.contains("value=\"300 kg\"") && asked.text.contains("value=\"29.5 kg\""), "{}", asked.text);
    let inch = house.browser_reading("office", Some("inch")).await;
    let sent = send(&inch, &asked.text, (&page, &page), &[("right_front", "296 kg")]).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let reading = house.store.weigh_ins(build).await.unwrap().remove(0).reading;
    assert!((reading.total().kg() - 1178.0).abs() < 1e-9, "{}", reading.total().kg());
    assert_eq!(reading.resolution.text, "0.5 kg");
    // A thing to be carried.
    let list = format!("{BUILD}/weigh-in/foreseen");
    let thing = [("thing", ""), ("way", "in"), ("mass", "21"), ("spread", "1"), ("spread_is", "at_most")];
    let refused = metric.post(&list, &thing).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("value=\"21 kg\"") && refused.text.contains("value=\"1 kg\""), "{}", refused.text);
    // A figure read off the car, and its table.
    laid_out_again(&house).await;
    let figure = [("helmet-to-the-nearest-bar-M1", "86"), ("roundness-at-the-bend-M1", "36.1 / 38")];
    assert_eq!(metric.post(&format!("{BUILD}/measures"), &figure).await.status, StatusCode::SEE_OTHER);
    let table = inch.get(&format!("{BUILD}/measures.csv")).await.text;
    assert!(table.contains(",86.0000,mm,86 mm,") && table.contains(",36.1 mm / 38 mm,"), "{table}");
}

async fn laid_out_again(house: &House) {
    let build = house.store.builds().await.unwrap().remove(0).id;
    let cage = tackbook::domain::cage::record::example::example_record();
    tackbook::actions::recorded::cage::save(&house.office, build, 0, &cage).await.unwrap();
}

#[tokio::test]
async fn a_sheet_that_was_shown_in_inches_is_read_in_inches_whatever_was_chosen_since() {
    let house = House::new().await;
    laid_out(&house).await;
    let page = format!("{BUILD}/cage");
    let inch = house.browser_reading("office", Some("inch")).await;
    let open = inch.get(&page).await.text;
    // The same person turns to metric in another window, then saves what was open.
    let turned = house.browser_reading("office", Some("metric")).await;
    let saved = send(&turned, &open, ("", &page), &[("hoop_lean", "1.5"), ("hoop_roof_height", "43")]).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let now = record(&house).await;
    says(&now, "/measures/hoop_lean", 38.1, "1.5 in");
    says(&now, "/measures/hoop_roof_height", 43.0 * 25.4, "43 in");
}

#[tokio::test]
async fn two_who_disagree_see_in_which_unit_each_reads() {
    let house = House::new().await;
    laid_out(&house).await;
    let page = format!("{BUILD}/cage");
    let inch = house.browser_reading("office", Some("inch")).await;
    let metric = house.browser_reading("fabricator", Some("metric")).await;
    let (mine, theirs) = (inch.get(&page).await.text, metric.get(&page).await.text);
    let saved = send(&metric, &theirs, ("", &page), &[("hoop_roof_height", "1105")]).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let told = send(&inch, &mine, ("", &page), &[("hoop_roof_height", "43")]).await;
    assert_eq!(told.status, StatusCode::CONFLICT);
    for words in [
        "value=\"43 in\" checked><span><small>yours</small>43 in<",
        "value=\"1105 mm\"><span><small>theirs</small>1105 mm<",
    ] {
        assert!(told.text.contains(words), "{words}: {}", told.text);
    }
    assert_eq!(told.text.matches("<small>theirs</small>").count(), 1);
    let settled = sent_back(&told.text, "");
    let theirs: Vec<(&str, &str)> = settled
        .iter()
        .map(|(name, value)| (name.as_str(), if name == "hoop_roof_height" { "1105 mm" } else { value.as_str() }))
        .collect();
    assert_eq!(inch.post(&page, &theirs).await.status, StatusCode::SEE_OTHER);
    says(&record(&house).await, "/measures/hoop_roof_height", 1105.0, "1105 mm");
}

#[tokio::test]
async fn a_build_is_shown_in_its_books_units_until_its_reader_chooses() {
    let house = House::new().await;
    laid_out(&house).await;
    let page = format!("{BUILD}/cage");
    let metric = |text: &str| text.contains("#units\">metric</a>");
    let unchosen = house.browser_reading("office", None).await;
    // The demo's book is metric; the shop reads inches.
    assert!(metric(&unchosen.get(&page).await.text));
    assert!(!metric(&unchosen.get("/stock").await.text));
    let saved = change(&unchosen, &page, &page, &[("hoop_lean", "38")]).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    says(&record(&house).await, "/measures/hoop_lean", 38.0, "38 mm");
    for (chosen, is) in [("inch", false), ("metric", true)] {
        let browser = house.browser_reading("office", Some(chosen)).await;
        assert_eq!(metric(&browser.get(&page).await.text), is);
        assert_eq!(metric(&browser.get("/stock").await.text), is);
    }
    // A build without a book is shown as the shop is.
    unchosen.post("/builds/new", &[("name", "Elm Saloon")]).await;
    assert!(!metric(&unchosen.get("/builds/elm-saloon").await.text));
}

#[tokio::test]
async fn what_was_stored_bare_is_shown_in_the_unit_in_which_it_reads_as_its_value() {
    let house = House::new().await;
    begun(&house).await;
    let build = house.store.builds().await.unwrap().remove(0).id;
    let mut cage = serde_json::to_value(tackbook::domain::cage::record::example::example_record()).unwrap();
    // As rows were before texts kept their unit.
    for (measure, value, text) in [("hoop_lean", 38.1, "1.5"), ("hoop_roof_height", 1105.0, "1105")] {
        cage["measures"][measure] = serde_json::json!({ "value": value, "text": text });
    }
    tackbook::actions::recorded::cage::save(&house.office, build, 0, &serde_json::from_value(cage).unwrap())
        .await
        .unwrap();
    let mut behind =
        sqlx::SqliteConnection::connect(&format!("sqlite://{}/tackbook.db", house.folder.0.display())).await.unwrap();
    sqlx::query(
        "INSERT INTO measured (build, measure, of_balloon, value, text, at, by)
         VALUES ($1, 'helmet to the nearest bar', 'M1', 86.0, '86', '2026-05-04T09:00:00Z', 'x')",
    )
    .bind(build.to_string())
    .execute(&mut behind)
    .await
    .unwrap();
    for units in ["inch", "metric"] {
        let browser = house.browser_reading("office", Some(units)).await;
        let page = format!("{BUILD}/cage");
        let sheet = browser.get(&page).await.text;
        assert!(sheet.contains("value=\"1.5 in\"") && sheet.contains("value=\"1105 mm\""), "{sheet}");
        let saved = change(&browser, &page, &page, &[("hoop_shoulder_height", "19.5 in")]).await;
        assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
        let now = record(&house).await;
        says(&now, "/measures/hoop_lean", 38.1, "1.5 in");
        says(&now, "/measures/hoop_roof_height", 1105.0, "1105 mm");
        assert!(browser.get(&format!("{BUILD}/measures")).await.text.contains("typed “86 mm”"));
    }
    assert!(typed("0").iter().all(|(name, text)| name != "hoop_lean" || text.ends_with("in")));
}
