//! What was cut stays cut: a stick counts every cut as it was made, and a bar whose model changed is told of.

use axum::http::StatusCode;
use tackbook::domain::derived::build_file::BuildFile;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::open_items;
use tackbook::domain::recorded::facts::BuildFacts;
use tackbook::domain::shop::stock::Taken;
use tackbook::domain::words::ids::{Balloon, BuildId, Kind};
use tackbook::domain::work::cut_list::{Balance, balance};
use tackbook::quantity::Units;

use crate::cage::{save, typed};
use crate::house::{Browser, House};

const TUBE: &str = "/builds/pine-coupe/tube";
const HOOP: Balloon = Balloon::new(Kind::Member, 1);

/// A measured cage, two sticks of 20 ft given to it, and a saw of 2 mm with 1/2 in trimmed at each end.
async fn begun(house: &House) -> (Browser<'_>, BuildId, [String; 2]) {
    let floor = house.browser("fabricator").await;
    floor.post("/builds/new", &[("name", "Pine Coupe")]).await;
    save(&floor, &typed("0")).await;
    for heat in ["one", "two"] {
        let stick = [("size", "1 1/2 x .095"), ("grade", "grade A"), ("length", "20 ft"), ("heat", heat)];
        assert_eq!(floor.post("/stock", &stick).await.status, StatusCode::SEE_OTHER);
    }
    saw(&floor, "2 mm", "1/2 in", "5 mm").await;
    let ids: Vec<String> = house.store.sticks().await.unwrap().iter().map(|stick| stick.id.to_string()).collect();
    for id in &ids {
        floor.post(&format!("{TUBE}/give"), &[("stick", id)]).await;
    }
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    (floor, build, ids.try_into().unwrap())
}

async fn saw(floor: &Browser<'_>, kerf: &str, trim: &str, cope: &str) {
    let own = [("kerf", kerf), ("trim", trim), ("cope", cope), ("grip", "0"), ("buy", "6 m"), ("keep", "20 mm")];
    assert_eq!(floor.post("/builds/pine-coupe/cuts", &own).await.status, StatusCode::SEE_OTHER);
}

async fn facts(house: &House, build: BuildId) -> (BuildFacts, Findings) {
    let facts = house.store.facts(build).await.unwrap();
    let found = Findings::of(&facts, house.clock.today());
    (facts, found)
}

/// What is open on the build.
async fn open(house: &House, build: BuildId) -> Vec<String> {
    let (facts, found) = facts(house, build).await;
    let items = open_items::of(&facts, &found, Units::Inch, &|at| house.clock.day_of(at));
    items.into_iter().map(|item| item.what).collect()
}

/// What is left of each of the two sticks.
async fn left(house: &House, build: BuildId) -> [Balance; 2] {
    let (facts, _) = facts(house, build).await;
    let all: Vec<Balance> = facts.sticks.iter().map(|stick| balance(stick, [&facts])).collect();
    all.try_into().unwrap()
}

fn near(left: &Balance, mm: f64) {
    assert!((left.left.mm() - mm).abs() < 2e-3, "{left:?} {mm}");
}

/// The hoop's feet stand so far apart from now on.
async fn feet(floor: &Browser<'_>, version: &str, text: &str) {
    let mut pairs = typed(version);
    let feet = pairs.iter_mut().find(|pair| pair.0 == "hoop_feet_width").unwrap();
    text.clone_into(&mut feet.1);
    let saved = save(floor, &pairs).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
}

#[tokio::test]
async fn a_stick_counts_every_cut_as_it_was_made_and_a_bar_that_does_not_fit_is_told() {
    let house = House::new().await;
    let (floor, build, [one, two]) = begun(&house).await;
    let (_, found) = facts(&house, build).await;
    let first = found.worked.cage.member(HOOP).unwrap().cut_length.mm();
    let cut = floor.post(TUBE, &[("M1", one.as_str()), ("was_M1", "")]).await;
    assert_eq!(cut.status, StatusCode::SEE_OTHER, "{}", cut.text);
    // By hand: 20 ft are 6096 mm; trimmed 12.7, the blank, nothing more for a hoop that stands on plates, kerf 2.
    let taken = facts(&house, build).await.0.cut_of(HOOP).unwrap().taken.unwrap();
    let [before, after] = [taken.before.mm(), taken.after.mm()];
    let of_s1 = 6_096.0 - 12.7 - first - before - after - 2.0;
    let now = left(&house, build).await;
    near(&now[0], of_s1);
    near(&now[1], 6_096.0);
    // A new saw and a changed model move nothing that is cut.
    saw(&floor, "5 mm", "0", "20 mm").await;
    feet(&floor, "1", "50 in").await;
    near(&left(&house, build).await[0], of_s1);
    let (_, found) = facts(&house, build).await;
    let second = found.worked.cage.member(HOOP).unwrap().cut_length;
    let by = (second.mm() - first).abs();
    assert!(by > 2.0, "{by}");
    let way = if second.mm() > first { "longer" } else { "shorter" };
    let words = format!(
        "M1 does not fit any more: its blank is now {:.3} in, {:.3} in {way} than it was cut",
        second.inches(),
        (second - taken.blank).abs().inches()
    );
    let found = open(&house, build).await;
    assert!(found.iter().any(|what| what.contains(&words)), "{words}: {found:?}");
    let sheet = floor.get(TUBE).await.text;
    assert!(sheet.contains(&words.replacen("M1 does", "Does", 1)), "{words}: {sheet}");
    // Cut again from the other stick: the first gets nothing back, the second gives by the saw of today.
    let again = [("M1", two.as_str()), ("was_M1", one.as_str())];
    assert_eq!(floor.post(TUBE, &again).await.status, StatusCode::SEE_OTHER);
    let piece = second.mm() + 5.0;
    let (recut, _) = facts(&house, build).await;
    assert_eq!((recut.cuts.len(), recut.newest_cuts().count(), recut.stick_of(HOOP).unwrap().number), (2, 1, 2));
    let all = house.store.sticks().await.unwrap();
    let of: Vec<Balance> = all.iter().map(|stick| balance(stick, [&recut])).collect();
    near(&of[0], of_s1);
    near(&of[1], 6_096.0 - piece);
    assert!(!open(&house, build).await.iter().any(|what| what.contains("does not fit any more")));
    // A spoiled piece: cut again from the same stick, once, however often the sheet is sent.
    let spoiled = [("M1", two.as_str()), ("was_M1", two.as_str()), ("again_M1", "1"), ("times_M1", "2")];
    assert_eq!(floor.post(TUBE, &spoiled).await.status, StatusCode::SEE_OTHER);
    assert_eq!(floor.post(TUBE, &spoiled).await.status, StatusCode::CONFLICT);
    let (twice, _) = facts(&house, build).await;
    near(&balance(&all[1], [&twice]), 6_096.0 - 2.0 * piece);
    assert!(floor.get("/stock").await.text.contains("2 pieces cut"));
    is_in_the_file(&twice, house.clock.today());
    // A bar that leaves its cage: what was cut for it stays cut.
    let mut none = twice.clone();
    none.cage = None;
    assert_eq!(balance(&all[1], [&none]), balance(&all[1], [&twice]));
}

/// The build file has every cut, and reads without what older files lack.
fn is_in_the_file(facts: &BuildFacts, day: jiff::civil::Date) {
    let text = BuildFile::of(facts, Findings::of(facts, day).worked.standing(facts)).text();
    let read = |text: &str| BuildFile::read(text).map(|file| file.facts(""));
    let back = read(&text).unwrap();
    let of = |facts: &BuildFacts| facts.cuts.iter().map(|cut| cut.taken).collect::<Vec<Option<Taken>>>();
    assert_eq!((of(&back), back.stick_of(HOOP).unwrap().number), (of(facts), 2));
    let mut old: serde_json::Value = serde_json::from_str(&text).unwrap();
    for stick in old.get_mut("sticks").and_then(serde_json::Value::as_array_mut).unwrap() {
        for later in ["taken", "earlier"] {
            stick.as_object_mut().unwrap().remove(later);
        }
    }
    let old = read(&old.to_string()).unwrap();
    assert_eq!((of(&old), old.stick_of(HOOP).unwrap().number), (vec![None], 2));
    let far = text.replacen("\"kerf\": 5.0", "\"kerf\": -5.0", 1);
    let faults = read(&far).unwrap_err();
    assert!(far != text && faults.iter().any(|fault| fault.why.contains("A cut's kerf is between 0 and 15 m")));
}
