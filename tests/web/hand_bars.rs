//! Bars by hand: hung where they are measured, on both sides, refused in words, taken out with their number kept.

use axum::http::StatusCode;
use tackbook::domain::cage::Cage;
use tackbook::domain::derived::findings::Findings;

use crate::cage::{save, typed};
use crate::house::{Browser, House, encoded};

const BARS: &str = "/builds/pine-coupe/bars";

/// What the form sends for a long stay, so high over the plate of its last bar.
fn whole(by: &str) -> [(String, String); 12] {
    let pairs = [
        ("first", "M5"),
        ("first_place", "middle"),
        ("first_by", ""),
        ("first_corner", "no"),
        ("last", "M2"),
        ("last_place", "plate end"),
        ("last_by", by),
        ("last_corner", "no"),
        ("last_offset", "1/8"),
        ("name", "long stay"),
        ("role", "other bar"),
        ("mirror", "yes"),
    ];
    pairs.map(|(name, text)| (name.to_owned(), text.to_owned()))
}

#[tokio::test]
async fn a_bar_is_hung_between_two_bars_on_both_sides_and_taken_out() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert!(browser.get(BARS).await.text.contains("Measure the cage first"));
    save(&browser, &typed("0")).await;
    // The left backstay to the left half hoop.
    let sheet = browser.get(&format!("{BARS}?first=M5&last=M2")).await.text;
    for words in
        ["First end: on M5 backstay", "Last end: on M2 lateral half hoop", "so high over its plate", "meets it"]
    {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    let post = async |pairs: &[(String, String)]| {
        let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        browser.post(BARS, &pairs).await
    };
    let wrong = post(&whole("a hand")).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in
        ["value=\"a hand\"", "does not read as a length", "value=\"long stay\"", "value=\"plate end\" selected"]
    {
        assert!(wrong.text.contains(words), "{words}: {}", wrong.text);
    }
    // Drawn first, it is not added, and what was typed stays.
    let look = async |by: &str| {
        let typed = whole(by);
        let typed = typed.iter().map(|(name, text)| (name.as_str(), text.as_str()));
        let asked: Vec<(&str, &str)> = typed.chain([("drawn", "yes")]).collect();
        browser.get(&format!("{BARS}?{}", encoded(&asked))).await
    };
    let drawn = look("9 in").await;
    assert_eq!(drawn.status, StatusCode::OK);
    for words in ["As typed it would lie so; it is not added yet", "left, ", "right, ", "value=\"9 in\""] {
        assert!(drawn.text.contains(words), "{words}: {}", drawn.text);
    }
    assert!(look("80 in").await.text.contains("does not reach"));
    assert!(browser.get(BARS).await.text.contains("Added by hand: 0"));
    let added = post(&whole("9 in")).await;
    assert_eq!((added.status, added.to.as_str()), (StatusCode::SEE_OTHER, BARS), "{}", added.text);
    let sheet = browser.get(BARS).await.text;
    assert!(sheet.contains("Added by hand: 2"), "{sheet}");
    assert!(sheet.contains("from M5 to M2") && sheet.contains("from M6 to M3"), "{sheet}");
    let at = sheet.find("/members/M").unwrap();
    let bar = sheet[at..].split('"').next().unwrap();
    let page = browser.get(&format!("/builds/pine-coupe{bar}")).await.text;
    assert!(page.contains("other bar"), "{page}");
    // Too high for the bar it lands on: kept, and told why it is not laid out.
    post(&whole("80 in")).await;
    assert!(browser.get(BARS).await.text.contains("does not reach"));
    assert_eq!(browser.post(&format!("{BARS}/1/remove"), &[]).await.status, StatusCode::SEE_OTHER);
    assert!(browser.get(BARS).await.text.contains("Added by hand: 3"));
    assert_eq!(browser.post(&format!("{BARS}/1/remove"), &[]).await.status, StatusCode::NOT_FOUND);
    let scrutineer = house.browser("scrutineer").await;
    assert_eq!(scrutineer.post(&format!("{BARS}/2/remove"), &[]).await.status, StatusCode::NOT_FOUND);
}

/// A bar from the left backstay to a place on the main hoop, or as `pairs` say otherwise.
fn asked(pairs: &[(&'static str, &str)]) -> Vec<(String, String)> {
    let plain = [
        ("first", "M5"),
        ("first_place", "middle"),
        ("first_by", ""),
        ("first_corner", "no"),
        ("last", "M1"),
        ("last_place", ""),
        ("last_by", ""),
        ("last_corner", "no"),
        ("name", "stay"),
        ("role", "other bar"),
    ];
    let said = |name: &str| pairs.iter().find(|pair| pair.0 == name).map(|pair| pair.1);
    plain.map(|(name, text)| (name.to_owned(), said(name).unwrap_or(text).to_owned())).to_vec()
}

/// The sheet with a bar drawn before it is added.
async fn drawn(browser: &Browser<'_>, pairs: &[(String, String)]) -> String {
    let typed = pairs.iter().map(|(name, text)| (name.as_str(), text.as_str()));
    let all: Vec<(&str, &str)> = typed.chain([("drawn", "yes")]).collect();
    let answer = browser.get(&format!("{BARS}?{}", encoded(&all))).await;
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.text);
    answer.text
}

/// What stands under the head of a bar that is drawn first.
fn tried(sheet: &str) -> &str {
    let from = sheet.find("As typed it would lie so").unwrap();
    let to = sheet[from..].find("Draw it first").unwrap();
    &sheet[from..from + to]
}

#[tokio::test]
async fn a_bar_that_meets_its_carrier_twice_is_two_choices_each_drawn_where_it_is() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let mut measured = typed("0");
    measured.iter_mut().filter(|pair| pair.0 == "hoop_diagonal").for_each(|pair| pair.1 = "none".to_owned());
    assert_eq!(save(&browser, &measured).await.status, StatusCode::SEE_OTHER);
    let sheet = browser.get(&format!("{BARS}?first=M5&last=M1")).await.text;
    let sheet = &sheet[sheet.find("id=\"f-last_place\"").unwrap()..];
    // The hoop's two legs: every bar that lands on both is there once as the first and once as the last.
    let places: Vec<&str> = sheet.split("<option value=\"first ").skip(1).collect();
    assert!(!places.is_empty(), "{sheet}");
    // One that is its own other side, so that there is one for the twin.
    let mut keys = places.iter().map(|place| place.split('"').next().unwrap());
    let key = keys.find(|key| !key.contains('/')).unwrap().to_owned();
    assert!(!sheet.contains(&format!("value=\"meets {key}\"")), "{key} is offered a third time");
    let words = |way: &str| {
        let from = sheet.find(&format!("<option value=\"{way} {key}\"")).unwrap();
        sheet[from..].split('>').nth(1).unwrap().split('<').next().unwrap().to_owned()
    };
    let (first, last) = (words("first"), words("last"));
    assert!(
        first != last && first.contains("left of the centre") && last.contains("right of the centre"),
        "{first} {last}"
    );
    // Each is drawn where it is.
    let (first, last) = (format!("first {key}"), format!("last {key}"));
    let one = drawn(&browser, &asked(&[("last_place", &first)])).await;
    let other = drawn(&browser, &asked(&[("last_place", &last)])).await;
    assert!(tried(&one).contains("<svg") && tried(&other).contains("<svg"), "{other}");
    assert_ne!(tried(&one), tried(&other));
    assert!(other.contains(&format!("value=\"{last}\" selected")), "{other}");
    // And added where it was drawn: on the right leg, its twin on the left.
    let mut pairs = asked(&[("last_place", &last)]);
    pairs.push(("mirror".to_owned(), "yes".to_owned()));
    let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    assert_eq!(browser.post(BARS, &pairs).await.status, StatusCode::SEE_OTHER);
    let cage = found(&house).await;
    let end = |key: &str| *cage.member_called(key).unwrap().line.points().last().unwrap();
    assert!(end("by-hand/1").y < -100.0 && end("by-hand/2").y > 100.0, "{} {}", end("by-hand/1"), end("by-hand/2"));
    assert!((end("by-hand/1").z - end("by-hand/2").z).abs() < 20.0);
}

async fn found(house: &House) -> Cage {
    let build = house.store.builds().await.unwrap().remove(0).id;
    Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today()).worked.cage
}

#[tokio::test]
async fn a_bar_that_runs_into_another_says_which_way_it_clears_and_the_drawing_follows() {
    let house = House::new().await;
    let browser = house.browser_reading("fabricator", Some("metric")).await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert_eq!(save(&browser, &typed("0")).await.status, StatusCode::SEE_OTHER);
    // From low on the hoop's left leg across to the right half hoop's leg, past the hoop's own diagonal.
    let bar = |more: f64| {
        let height = format!("{:.1}", 100.0 + more);
        let ends = [("first", "M1"), ("first_place", "up start"), ("first_by", height.as_str()), ("last", "M3")];
        let mut pairs = asked(&[ends.as_slice(), &[("last_place", "up end"), ("last_by", &height)]].concat());
        pairs.push(("shown_in".to_owned(), "metric".to_owned()));
        pairs
    };
    let sheet = drawn(&browser, &bar(0.0)).await;
    let told = tried(&sheet).to_owned();
    assert!(told.contains("It runs into the hoop diagonal right") && told.contains("and it clears."), "{told}");
    // The figures in both units, and what is typed comes back with its unit.
    let way = told.split("up by ").nth(1).unwrap();
    let by: f64 = way.split(' ').next().unwrap().parse().unwrap();
    assert!(way.starts_with(&format!("{by} mm (")) && (2.0..=75.0).contains(&by), "{way}");
    assert!(sheet.contains("value=\"100.0 mm\""), "{sheet}");
    // Moved so far, the drawing shows it clear; moved no more than half, it does not.
    let clear = drawn(&browser, &bar(by)).await;
    assert!(!tried(&clear).contains("runs into the hoop diagonal"), "{}", tried(&clear));
    assert!(tried(&drawn(&browser, &bar(by / 2.0)).await).contains("runs into the hoop diagonal right"));
    assert_ne!(tried(&clear), told);
    // The twin on the other side is told its own way.
    let mut both = bar(0.0);
    both.push(("mirror".to_owned(), "yes".to_owned()));
    let both = drawn(&browser, &both).await;
    assert!(tried(&both).matches("and it clears.").count() >= 2, "{}", tried(&both));
}
