//! The seams: wire and time on screen, on paper and in the numbers, by the shop's own rates.

use axum::http::StatusCode;

use crate::cage::{save, typed};
use crate::house::House;
use crate::paper;

#[tokio::test]
async fn the_shops_own_rates_make_the_estimate_everywhere() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert!(browser.get("/builds/pine-coupe/seams").await.text.contains("Measure the cage first"));
    save(&browser, &typed("0")).await;
    let sheet = browser.get("/builds/pine-coupe/seams").await.text;
    for words in
        ["common practice until the shop states its own", "not a weld procedure", "value=\"1/8 in\"", "onto <a"]
    {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    let numbers = async || -> serde_json::Value {
        serde_json::from_slice(&browser.get("/builds/pine-coupe/numbers.json").await.bytes).unwrap()
    };
    let before = numbers().await;
    let wrong = [("leg", "thick"), ("wire", "40 mm"), ("efficiency", "95"), ("laid", "300 mm"), ("arc", "25 %")];
    let answer = browser.post("/builds/pine-coupe/seams", &wrong).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in
        ["value=\"thick\"", "value=\"40 mm\"", "does not read as a length", "a number over 1 wants its percent sign"]
    {
        assert!(answer.text.contains(words), "{words}: {}", answer.text);
    }
    // The same leg and wire, all of it deposited, laid half as fast: 5 % less wire, twice the time.
    let own = [("leg", "1/8 in"), ("wire", ".030 in"), ("efficiency", "100 %"), ("laid", "6 in"), ("arc", "0.25")];
    assert_eq!(browser.post("/builds/pine-coupe/seams", &own).await.status, StatusCode::SEE_OTHER);
    let after = numbers().await;
    let of = |numbers: &serde_json::Value, name: &str| numbers["welding"]["whole"][name].as_f64().unwrap();
    assert!((of(&after, "wire") / of(&before, "wire") - 0.95).abs() < 1e-9);
    assert!((of(&after, "time") / of(&before, "time") - 2.0).abs() < 1e-9);
    assert!((of(&after, "seam") - after["totals"]["seam"].as_f64().unwrap()).abs() < 1e-6);
    let masses = &after["masses"];
    let sum: f64 = masses["tubes"].as_array().unwrap().iter().map(|size| size["mass"].as_f64().unwrap()).sum();
    assert!((sum - after["totals"]["mass"].as_f64().unwrap()).abs() < 1e-9);
    assert!(!browser.get("/builds/pine-coupe/seams").await.text.contains("common practice until"));
    let pdf = browser.get("/builds/pine-coupe/sheets.pdf").await.bytes;
    let words = paper::words(&pdf);
    for word in ["Seams, wire and time", "not a weld procedure", "What the cage weighs", "Its centre of mass is"] {
        assert!(words.contains(word), "{word}");
    }
}
