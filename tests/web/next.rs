//! What to do next: the first steps of a new build, the groups of one under way, and the shop's list.

use axum::http::StatusCode;
use tackbook::actions;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::open_items::{self, Group, OpenItem, When};
use tackbook::domain::shop::builds::NewBuild;
use tackbook::quantity::Units;

use crate::house::{Browser, House};
use crate::main_job::{begun, weigh};
use crate::measures::laid_out;

const NEXT: &str = "/builds/pine-coupe";

/// What is open on the shop's only build.
async fn open(house: &House) -> Vec<OpenItem> {
    let build = house.store.builds().await.unwrap().remove(0).id;
    let facts = house.store.facts(build).await.unwrap();
    let found = Findings::of(&facts, house.clock.today());
    open_items::of(&facts, &found, Units::Inch, &|at| house.clock.day_of(at))
}

/// The verbs of the steps, in order, and how many of them are in the frame with the only ink button.
async fn steps(browser: &Browser<'_>) -> (Vec<String>, usize) {
    let sheet = browser.get(NEXT).await.text;
    let verbs = sheet.split("<h3>").skip(1).map(|part| part.split(" <").next().unwrap().to_owned()).collect();
    assert_eq!(sheet.matches("class=\"button main\"").count(), 1, "{sheet}");
    (verbs, sheet.matches("<li class=\"at\"").count())
}

#[tokio::test]
async fn a_new_build_shows_its_first_steps_and_each_goes_when_it_is_done() {
    let house = House::new().await;
    begun(&house).await;
    let floor = house.browser("fabricator").await;
    let all = [
        "Weigh the car",
        "Say what goes in and comes out",
        "Choose shape and bars",
        "Measure with the tape",
        "Lay the bars on sticks",
    ];
    assert_eq!(steps(&floor).await, (all.map(str::to_owned).to_vec(), 1));
    let sheet = floor.get(NEXT).await.text;
    let count = open(&house).await.len();
    assert!(sheet.contains(&format!("href=\"{NEXT}?see=all\">See all {count}<")), "{sheet}");
    weigh(&floor, "740", "").await;
    assert_eq!(steps(&floor).await.0, &all[1..]);
    let seats = [("thing", "seats"), ("way", "in"), ("mass", "46 lb"), ("spread_is", "limits")];
    let listed = floor.post("/builds/pine-coupe/weigh-in/foreseen", &seats).await;
    assert_eq!(listed.status, StatusCode::SEE_OTHER, "{}", listed.text);
    assert_eq!(steps(&floor).await.0, &all[2..]);
}

/// What fails stands under the first steps, in the open.
#[tokio::test]
async fn what_is_over_or_short_is_never_folded_under_the_first_steps() {
    let house = House::new().await;
    begun(&house).await;
    let floor = house.browser("fabricator").await;
    let seats = [("thing", "ballast"), ("way", "in"), ("mass", "900 lb"), ("spread_is", "limits")];
    weigh(&floor, "740", "").await;
    floor.post("/builds/pine-coupe/weigh-in/foreseen", &seats).await;
    let fails = open(&house).await.into_iter().filter(|item| item.sort == open_items::Sort::Fails);
    // Of a cage of which nothing is entered the steps speak, and nothing is wrong with it yet.
    let (cage, others): (Vec<OpenItem>, Vec<OpenItem>) = fails.partition(|item| item.place == open_items::Place::Cage);
    assert!(others.len() == 2 && !cage.is_empty(), "{others:?} {cage:?}");
    let sheet = floor.get(NEXT).await.text.replace("&#39;", "'");
    for item in &others {
        assert!(sheet.contains(&item.what), "{}: {sheet}", item.what);
    }
    assert!(!sheet.contains(&cage[0].what), "{sheet}");
    let list = sheet.split("next-list").nth(1).unwrap();
    assert!(!list.contains("<details"), "{list}");
}

#[tokio::test]
async fn a_build_under_way_shows_its_open_things_by_who_can_do_them_and_when() {
    let house = House::new().await;
    laid_out(&house).await;
    let office = house.browser("office").await;
    let open = open(&house).await;
    let sheet = office.get(NEXT).await.text;
    let of = |group: Group| open.iter().filter(|item| item.group() == group).count();
    let groups: Vec<Group> = Group::ALL.into_iter().filter(|group| of(*group) > 0).collect();
    assert!(groups.len() > 1 && of(groups[0]) > 5, "{groups:?}");
    assert_eq!(sheet.matches("<details class=\"next-group\" name=\"group\"").count(), groups.len());
    assert_eq!(sheet.matches("name=\"group\" open").count(), 1, "the first alone");
    for group in &groups {
        let head = sheet.split("<summary>").find(|part| part.contains(&format!("<b>{}</b>", group.name()))).unwrap();
        assert!(head.contains(&format!("<span class=\"next-count\">{}</span>", of(*group))), "{head}");
        assert!(head.matches("class=\"next-line\"").count() <= 6, "five lines and the way to the rest: {head}");
        let whole = office.get(&format!("{NEXT}?see={}", group.key())).await.text;
        assert!(whole.contains(&format!("Open here: {} thing", of(*group))), "{whole}");
    }
    // Filters are links with counts, and the addresses keep what was chosen.
    let now = open.iter().filter(|item| item.group().when() == When::Now).count();
    let floor = open.iter().filter(|item| item.waits_on.word() == "fabricator").count();
    for (to, words) in [("?who=fabricator", format!("fabricator {floor}")), ("?when=now", format!("now {now}"))] {
        assert!(sheet.contains(&format!("href=\"{NEXT}{to}\">{words}<")), "{words}: {sheet}");
    }
    let filtered = office.get(&format!("{NEXT}?who=fabricator&when=now")).await.text;
    assert!(filtered.contains("aria-current=\"true\">fabricator"), "{filtered}");
    let desk = format!("<b>{}</b>", Group::Desk.name());
    assert!(of(Group::Desk) > 0 && sheet.contains(&desk) && !filtered.contains(&desk), "{filtered}");
    let see = |what: &str| format!("{NEXT}?see={what}");
    assert_eq!(office.get(&see("nothing")).await.status, StatusCode::NOT_FOUND);
    assert_eq!(office.get(&format!("{}&page=0", see("all"))).await.status, StatusCode::NOT_FOUND);
}

/// Only the numbers of the lines in the open stand on the drawing; the first stands out.
#[tokio::test]
async fn the_drawing_beside_the_list_carries_its_numbers_alone() {
    let house = House::new().await;
    laid_out(&house).await;
    let sheet = house.browser("office").await.get(NEXT).await.text;
    let drawing = sheet.split("class=\"next-drawing\"").nth(1).unwrap();
    // A number on a balloon is the only text in the drawing but for its caption.
    let numbers = drawing.split("</figure>").next().unwrap().matches("</text>").count() - 1;
    assert!((1..=8).contains(&numbers), "{numbers} balloons: {drawing}");
    assert!(drawing.contains("fill-ink-accent"), "the first stands out: {drawing}");
}

#[tokio::test]
async fn the_shops_list_is_folded_by_build_and_comes_a_hundred_builds_at_a_time() {
    let house = House::new().await;
    begun(&house).await;
    let book = house.store.books().await.unwrap().remove(0).id;
    for number in 1..=100 {
        let new = NewBuild { name: format!("Car {number}"), about: String::new(), book: Some(book), event_day: None };
        actions::shop::builds::begin(&house.office, new).await.unwrap();
    }
    let office = house.browser("office").await;
    let first = office.get("/open").await.text;
    assert_eq!(first.matches("<details class=\"next-group\" name=\"build\"").count(), 100);
    assert_eq!(first.matches("name=\"build\" open").count(), 1);
    assert!(first.contains("Builds 1 to 100 of 101") && first.contains("/open?page=2"), "the way to the next page");
    let second = office.get("/open?page=2").await.text;
    assert_eq!(second.matches("<details class=\"next-group\" name=\"build\"").count(), 1);
    assert!(second.contains("to Car 100</a>"), "{second}");
    assert_eq!(office.get("/open?page=0").await.status, StatusCode::NOT_FOUND);
}
