//! A stick of the cut plan taken down as cut by one button: all its bars, once, or none.

use axum::http::StatusCode;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::recorded::facts::BuildFacts;
use tackbook::domain::words::ids::{Balloon, BuildId};

use crate::cage::{save, typed};
use crate::house::{Browser, House};
use crate::main_job::{begun, weigh};

const PLAN: &str = "/builds/pine-coupe/cuts";
const TUBE: &str = "/builds/pine-coupe/tube";
const CHANGED: &str = "The plan has changed since it was shown:";

/// What one button of the plan sends.
type Sent = Vec<(String, String)>;

/// A weighed car, its cage, and five sticks of each size of it on the rack.
async fn with_plan(house: &House) -> (Browser<'_>, BuildId) {
    begun(house).await;
    let floor = house.browser("fabricator").await;
    weigh(&floor, "740", "").await;
    assert_eq!(save(&floor, &typed("0")).await.status, StatusCode::SEE_OTHER);
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let found = Findings::of(&facts(house, build).await, house.clock.today());
    let mut sizes: Vec<String> = found.worked.cage.members.iter().map(|bar| bar.tube.to_string()).collect();
    sizes.sort();
    sizes.dedup();
    for size in &sizes {
        for heat in 0..5 {
            let heat = format!("H{heat}");
            let stick = [("size", size.as_str()), ("grade", "grade A"), ("length", "20 ft"), ("heat", &heat)];
            assert_eq!(floor.post("/stock", &stick).await.status, StatusCode::SEE_OTHER);
        }
    }
    (floor, build)
}

async fn facts(house: &House, build: BuildId) -> BuildFacts {
    house.store.facts(build).await.unwrap()
}

/// What each button of the plan's sheet sends.
async fn buttons(browser: &Browser<'_>) -> Vec<Sent> {
    let sheet = browser.get(PLAN).await.text;
    let forms = sheet.split("<form").skip(1).filter(|form| form.contains(&format!("action=\"{PLAN}/as-planned\"")));
    let between = |text: &str, from: &str| text.split_once(from).unwrap().1.split('"').next().unwrap().to_owned();
    let sent = |form: &str| {
        let inputs = form.split("</form>").next().unwrap().split("<input type=\"hidden\"").skip(1);
        inputs.map(|input| (between(input, "name=\""), between(input, "value=\""))).collect()
    };
    forms.map(sent).collect()
}

fn bars(sent: &Sent) -> Vec<Balloon> {
    sent.iter().filter(|pair| pair.0 == "bar").map(|pair| pair.1.parse().unwrap()).collect()
}

fn stick(sent: &Sent) -> &str {
    &sent.iter().find(|pair| pair.0 == "stick").unwrap().1
}

async fn press(browser: &Browser<'_>, sent: &Sent) -> crate::house::Answer {
    let pairs: Vec<(&str, &str)> = sent.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    browser.post(&format!("{PLAN}/as-planned"), &pairs).await
}

/// That nothing comes of the button, and why.
async fn told(house: &House, browser: &Browser<'_>, build: BuildId, (sent, why): (&Sent, &str)) {
    let before = facts(house, build).await.cuts;
    let logged = house.store.log(1).await.unwrap();
    let answer = press(browser, sent).await;
    assert_eq!(answer.status, StatusCode::CONFLICT, "{}", answer.text);
    assert!(answer.text.contains(why), "{why}: {}", answer.text);
    assert_eq!(facts(house, build).await.cuts, before);
    assert_eq!(house.store.log(1).await.unwrap(), logged);
}

#[tokio::test]
async fn one_button_records_every_bar_of_a_stick_once() {
    let house = House::new().await;
    let (floor, build) = with_plan(&house).await;
    let all = buttons(&floor).await;
    let first = all.iter().max_by_key(|sent| bars(sent).len()).unwrap();
    assert!(bars(first).len() > 1, "{all:?}");
    for _ in 0..2 {
        let answer = press(&floor, first).await;
        assert_eq!(answer.to, PLAN, "{}", answer.text);
    }
    let now = facts(&house, build).await;
    let cut: Vec<Balloon> = now.cuts.iter().map(|cut| cut.member).collect();
    assert_eq!(cut, bars(first), "pressing twice records once, in the order in which they are cut");
    for bar in bars(first) {
        let from = now.stick_of(bar).unwrap();
        assert_eq!((from.id.to_string(), from.given_to), (stick(first).to_owned(), Some(build)));
        assert!(from.heat.starts_with('H') && now.cut_of(bar).unwrap().taken.is_some());
    }
    let log = house.store.log_of_build(build, 50).await.unwrap();
    let said = |what: &str| log.iter().filter(|entry| entry.what.ends_with(what)).count();
    assert_eq!(said(", as planned."), cut.len());
    assert_eq!(said(" was given to Pine Coupe."), 1);
    // What is cut is not planned again.
    let left: Vec<Balloon> = buttons(&floor).await.iter().flat_map(bars).collect();
    assert!(!left.is_empty() && cut.iter().all(|bar| !left.contains(bar)));
    // Stick by stick the whole cage is taken down, without one figure typed.
    while let Some(next) = buttons(&floor).await.first() {
        assert_eq!(press(&floor, next).await.to, PLAN);
    }
    let now = facts(&house, build).await;
    let members = Findings::of(&now, house.clock.today()).worked.cage.members;
    let open: Vec<Balloon> = members.iter().map(|bar| bar.balloon).filter(|bar| now.cut_of(*bar).is_none()).collect();
    assert!(open.is_empty(), "{open:?}");
    assert!(floor.get(PLAN).await.text.contains("Every bar has its stick."));
}

#[tokio::test]
async fn a_bar_that_was_recorded_already_is_left_alone() {
    let house = House::new().await;
    let (floor, build) = with_plan(&house).await;
    let all = buttons(&floor).await;
    let sent = all.iter().find(|sent| bars(sent).len() > 1).unwrap();
    let one = bars(sent)[1];
    floor.post(&format!("{TUBE}/give"), &[("stick", stick(sent))]).await;
    assert_eq!(floor.post(TUBE, &[(one.to_string().as_str(), stick(sent))]).await.to, TUBE);
    let by_hand = facts(&house, build).await.cuts;
    assert_eq!(by_hand.len(), 1);
    assert_eq!(press(&floor, sent).await.to, PLAN);
    let cuts = facts(&house, build).await.cuts;
    assert_eq!(cuts[0], by_hand[0]);
    assert_eq!(cuts.len(), bars(sent).len());
    assert!(cuts.iter().all(|cut| cut.stick.to_string() == stick(sent)));
}

#[tokio::test]
async fn a_plan_that_changed_is_told_and_nothing_is_recorded() {
    let house = House::new().await;
    let (floor, build) = with_plan(&house).await;
    let all = buttons(&floor).await;
    let (one, other) = (all[0].clone(), all[1].clone());
    // A bar of it was cut from another stick meanwhile.
    floor.post(&format!("{TUBE}/give"), &[("stick", stick(&other))]).await;
    let bar = bars(&one)[0].to_string();
    floor.post(TUBE, &[(bar.as_str(), stick(&other))]).await;
    let why = format!("{CHANGED} {bar} was cut from another stick.");
    told(&house, &floor, build, (&one, &why)).await;
    // And so that stick has less than was shown.
    told(&house, &floor, build, (&other, CHANGED)).await;
    // The saw takes more.
    let now = buttons(&floor).await;
    let sent = now.iter().max_by_key(|sent| bars(sent).len()).unwrap();
    let own = [("kerf", "4 mm"), ("trim", "0"), ("cope", "0"), ("grip", "0"), ("buy", "20 ft"), ("keep", "12 in")];
    assert_eq!(floor.post(PLAN, &own).await.status, StatusCode::SEE_OTHER);
    told(&house, &floor, build, (sent, CHANGED)).await;
    // The cage is another.
    let now = buttons(&floor).await;
    let mut wider = typed("1");
    wider.iter_mut().find(|pair| pair.0 == "hoop_feet_width").unwrap().1 = "50".to_owned();
    let saved = save(&floor, &wider).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let hoop: Balloon = "M1".parse().unwrap();
    let sent = now.iter().find(|sent| bars(sent).contains(&hoop)).unwrap_or(&now[0]);
    told(&house, &floor, build, (sent, CHANGED)).await;
    // The stick went to another build.
    floor.post("/builds/new", &[("name", "Elm Saloon")]).await;
    let now = buttons(&floor).await;
    let sent = now.iter().find(|sent| stick(sent) != stick(&other)).unwrap();
    assert_eq!(
        floor.post("/builds/elm-saloon/tube/give", &[("stick", stick(sent))]).await.to,
        "/builds/elm-saloon/tube"
    );
    told(&house, &floor, build, (sent, "was given to another build.")).await;
    // The saw's form on that sheet still goes to the plan.
    let sheet = press(&floor, sent).await.text;
    assert!(sheet.contains(&format!("<form method=\"post\" action=\"{PLAN}\"")), "{sheet}");
}

/// Without the weight nothing says which tube the book asks for; sticks of the drawn size are there all the same.
#[tokio::test]
async fn before_the_tube_is_settled_nothing_can_be_cut_as_planned() {
    let house = House::new().await;
    let floor = house.browser("fabricator").await;
    floor.post("/builds/new", &[("name", "Pine Coupe")]).await;
    save(&floor, &typed("0")).await;
    let stick = [("size", "1 1/2 x .095"), ("grade", "grade A"), ("length", "20 ft"), ("heat", "H1")];
    floor.post("/stock", &stick).await;
    assert!(floor.get(PLAN).await.text.contains("S1, grade A, heat H1"));
    assert_eq!(buttons(&floor).await, Vec::<Sent>::new());
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let id = house.store.sticks().await.unwrap()[0].id.to_string();
    let sent = [("stick", id), ("bar", "M1".to_owned()), ("shown", "0".repeat(64))];
    let sent = sent.map(|(name, value)| (name.to_owned(), value)).to_vec();
    told(&house, &floor, build, (&sent, "have not settled the tube. Nothing is cut by this plan.")).await;
}

#[tokio::test]
async fn a_bar_that_asks_for_another_grade_is_not_cut_as_planned() {
    let house = House::new().await;
    let (floor, build) = with_plan(&house).await;
    let found = Findings::of(&facts(&house, build).await, house.clock.today());
    let bar = *found.worked.record.numbers.get("dash-bar").unwrap();
    let tube = found.worked.cage.member(bar).unwrap().tube.to_string();
    let sent = buttons(&floor).await.into_iter().find(|sent| bars(sent).contains(&bar)).unwrap();
    let name = bar.to_string();
    let own = [("bar", name.as_str()), ("tube", &tube), ("grade", "4130 N"), ("reason", "carries the column")];
    let given = floor.post("/builds/pine-coupe/own-tubes", &own).await;
    assert_eq!(given.status, StatusCode::SEE_OTHER, "{}", given.text);
    let why = format!("{bar} asks for another grade than this stick");
    told(&house, &floor, build, (&sent, &why)).await;
    assert!(floor.get(PLAN).await.text.contains(&why));
    assert!(buttons(&floor).await.iter().all(|sent| !bars(sent).contains(&bar)));
}
