//! What a choice of bars does to the book's verdicts: told beside the choice, before it is saved and after; never of what is
//! not known.

use axum::http::StatusCode;

use crate::cage::{save, typed};
use crate::editions::shop;
use crate::house::{Browser, House};

/// The example's form with these fields otherwise.
fn with(version: &str, other: &[(&str, &str)]) -> Vec<(String, String)> {
    let mut pairs = typed(version);
    for (name, value) in other {
        pairs.retain(|(there, _)| there != name);
        pairs.push(((*name).to_owned(), (*value).to_owned()));
    }
    pairs
}

async fn as_typed(browser: &Browser<'_>, pairs: &[(String, String)]) -> String {
    let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    browser.post("/builds/pine-coupe/cage/drawn", &pairs).await.text
}

/// What stands beside a choice.
fn clause<'t>(sheet: &'t str, choice: &str) -> &'t str {
    let at = sheet.find(&format!("id=\"c-{choice}\"")).unwrap();
    let from = at + sheet[at..].find('>').unwrap() + 1;
    &sheet[from..from + sheet[from..].find("</small>").unwrap()]
}

/// What is said to turn.
fn turned(sheet: &str) -> &str {
    let at = sheet.find("id=\"cage-turned\"").unwrap();
    &sheet[at..at + sheet[at..].find("id=\"cage-faults\"").unwrap()]
}

/// The clauses in it, with the parts, in its order.
fn clauses(turned: &str) -> Vec<String> {
    turned.split("/verdicts?rule=").skip(1).map(|line| line[..line.find('"').unwrap()].to_owned()).collect()
}

#[tokio::test]
async fn a_choice_says_which_clause_asks_for_it() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert_eq!(save(&office, &typed("0")).await.status, StatusCode::SEE_OTHER);
    let without = office.get("/builds/pine-coupe/cage").await.text;
    assert_eq!(clause(&without, "roof_diagonal"), "no book chosen");
    let typed_without = as_typed(&office, &with("1", &[("roof_diagonal", "none")])).await;
    assert!(turned(&typed_without).contains("No book chosen: nothing is judged."), "{}", turned(&typed_without));

    let house = House::new().await;
    let office = house.browser("office").await;
    let (_, _) = shop(&house, &office).await;
    let sheet = office.get("/builds/pine-coupe/cage").await.text;
    for (choice, words) in [
        ("hoop_diagonal", "3.5 asks for at least one"),
        ("door_left", "3.7 asks for at least two on each side"),
        ("hoop_cross_bar", "3.6 advises at least one"),
        ("sill_bars", "3.8 allows it, and does not ask for it"),
        ("backstay_diagonal", "not asked"),
        ("through", "not asked"),
    ] {
        assert!(clause(&sheet, choice).starts_with(words), "{choice}: {}", clause(&sheet, choice));
    }
    // Whether two are asked for goes by a date that nobody recorded: nothing is claimed of it.
    assert!(clause(&sheet, "roof_diagonal").contains("3.9 asks for at least one"));
    assert!(
        clause(&sheet, "roof_diagonal").contains("3.10 may ask for at least two; what decides it is not known yet")
    );
    // The recommended bar is not there: the clause says so by the word that the verdicts say.
    assert!(clause(&sheet, "hoop_cross_bar").contains("3.6 is short by 1"), "{}", clause(&sheet, "hoop_cross_bar"));
}

#[tokio::test]
async fn what_a_choice_would_break_is_told_before_it_is_saved_and_what_it_broke_after() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let (build, _) = shop(&house, &office).await;
    let before = house.store.facts(build).await.unwrap().cage.unwrap();
    let pairs = with("1", &[("roof_diagonal", "none"), ("hoop_cross_bar", "yes")]);
    let would = as_typed(&office, &pairs).await;
    assert!(clause(&would, "roof_diagonal").contains("3.9 would be short by 1"), "{}", clause(&would, "roof_diagonal"));
    assert!(!clause(&would, "hoop_cross_bar").contains("short by"));
    let told = turned(&would);
    assert!(told.contains("would be short by 1") && told.contains("would meet"), "{told}");
    assert!(told.contains("was meets") && told.contains("was short by 1"), "{told}");
    assert!(told.contains("Would be new") && told.contains("Would go"), "{told}");
    assert_eq!(clauses(told).first().map(String::as_str), Some("need-roof"), "what breaks a clause stands first");
    assert_eq!(house.store.facts(build).await.unwrap().cage.unwrap(), before, "nothing of it was kept");
    // Nothing typed otherwise: nothing is said to turn.
    assert!(clauses(turned(&as_typed(&office, &typed("1")).await)).is_empty());

    let saved = save(&office, &pairs).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    assert!(saved.to.ends_with("saved=2"), "{}", saved.to);
    let after = office.get(&saved.to).await.text;
    let told_after = turned(&after);
    assert_eq!(clauses(told), clauses(told_after), "what was foretold is what came");
    assert!(told_after.contains("</svg>short by 1</b>") && told_after.contains("</svg>meets</b>"), "{told_after}");
    assert!(told_after.contains("New") && told_after.contains("Gone") && told_after.contains("class=\"no\" href="));
    // It is told of the newest save alone, and nowhere else.
    assert!(clauses(turned(&office.get("/builds/pine-coupe/cage").await.text)).is_empty());
    assert!(clauses(turned(&office.get("/builds/pine-coupe/cage?saved=1").await.text)).is_empty());
    // Who asks about the last change is told it at any time.
    let last = office.get("/builds/pine-coupe/cage/last").await.text;
    assert!(last.contains("Verdicts that turned: ") && clauses(&last) == clauses(told), "{last}");
    // Taken back, the same verdicts turn the other way.
    let back = office.post("/builds/pine-coupe/cage/take-back", &[("version", "2")]).await;
    let returned = office.get(&back.to).await.text;
    let (mut there, mut here) = (clauses(turned(&returned)), clauses(told));
    there.sort();
    here.sort();
    assert_eq!(there, here);
}

/// Before the cage is measured a chosen bar is a guess: no clause is said to be met by it, nor broken without it.
#[tokio::test]
async fn nothing_turns_by_a_guess() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let (_, _) = shop(&house, &office).await;
    let taken_away = with("1", &[("hoop_feet_width", ""), ("roof_diagonal", "none")]);
    let told = as_typed(&office, &taken_away).await;
    let told = turned(&told);
    assert!(!told.contains("would meet") && !told.contains("would be short"), "{told}");
    assert!(told.contains("would be not measured") && told.contains("Would not be laid out"), "{told}");
    assert!(!told.contains("Would go"), "a bar that only lacks a measurement is not gone: {told}");
    // A figure that does not read is judged no more than it is drawn.
    let unread = as_typed(&office, &with("1", &[("hoop_feet_width", "about so"), ("roof_diagonal", "none")])).await;
    assert!(clauses(turned(&unread)).is_empty());
}
