//! A release under conditions, and a refusal: what holds is met before anything is released, what does not hold is open and no more.

use axum::http::StatusCode;
use tackbook::domain::derived::hold::Hold;
use tackbook::domain::recorded::rounds::Decision;

use crate::house::{Answer, Browser, House};
use crate::reviews::{hold, issued};
use crate::rounds::approve;

const REPLY: &str = "/builds/pine-coupe/rounds/1/reply";

/// Approves round 1 as the office types it in, with lines of this kind: kind, part, text.
async fn approved(house: &House, lines: &[(&str, &str, &str)]) -> Answer {
    let office = house.browser("office").await;
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let sha256 = house.store.rounds(build).await.unwrap().remove(0).packet_sha256.text().to_owned();
    let named: Vec<[(String, &str); 3]> = (1..)
        .zip(lines)
        .map(|(line, (kind, about, text))| {
            [(format!("kind_{line}"), *kind), (format!("about_{line}"), *about), (format!("asked_{line}"), *text)]
        })
        .collect();
    let mut pairs = vec![
        ("packet_sha256", sha256.as_str()),
        ("decision", "approved"),
        ("given_by", "the league's scrutineer"),
        ("licence", "licence 4471"),
        ("came", "telephone"),
    ];
    pairs.extend(named.iter().flatten().map(|(name, value)| (name.as_str(), *value)));
    approve(&office, REPLY, &pairs).await
}

async fn settle(browser: &Browser<'_>, number: u32, how: &str) -> StatusCode {
    browser.post(&format!("/builds/pine-coupe/questions/Q{number}/{how}"), &[]).await.status
}

#[tokio::test]
async fn a_condition_that_holds_is_met_before_anything_is_released_and_one_that_does_not_is_open_and_no_more() {
    let mut house = House::new().await;
    let build = issued(&house).await;
    let lines = [("holds", "J7", "Pad it first."), ("condition", "", "Show the label at the start.")];
    let given = approved(&house, &lines).await;
    assert_eq!(given.status, StatusCode::SEE_OTHER, "{}", given.text);
    let Hold::Conditions { round: 1, open, .. } = hold(&house, build).await else { panic!("held by its condition") };
    assert_eq!(open, ["Q1: Pad it first."]);
    let (office, fabricator) = (house.browser("office").await, house.browser("fabricator").await);
    let front = office.get("/builds/pine-coupe?see=all").await.text;
    for words in ["HELD: tacks only", "Meet the condition, then settle it; welding waits: Pad it first."] {
        assert!(front.contains(words), "{words}: {front}");
    }
    let rounds = office.get("/builds/pine-coupe/rounds").await.text;
    for words in ["is approved under conditions", "Held until met: Q1: Pad it first.", "(licence 4471), telephone"] {
        assert!(rounds.contains(words), "{words}: {rounds}");
    }
    // Whoever records no reply cannot meet a scrutineer's condition by a press.
    assert_eq!(settle(&fabricator, 1, "settle").await, StatusCode::NOT_FOUND);
    assert!(matches!(hold(&house, build).await, Hold::Conditions { .. }));
    // Met two days later: released from then on, the other condition open all the same.
    drop((office, fabricator));
    house.set_clock("2026-05-06T09:30:00Z");
    let office = house.browser("office").await;
    assert_eq!(settle(&office, 1, "settle").await, StatusCode::SEE_OTHER);
    let Hold::Released { round: 1, at, .. } = hold(&house, build).await else { panic!("it is met") };
    assert_eq!(at, house.clock.now(), "not since the reply");
    // What was welded the day before it was met was welded while held, whenever it is written down.
    let weld = [("did", "welded"), ("seen", "0"), ("welder", "A. Welder"), ("process", "135"), ("position", "PA")];
    for (joint, day, held) in [("J3", "2026-05-06", false), ("J1", "2026-05-05", true)] {
        let pairs = [weld.as_slice(), &[("joint", joint), ("day", day)]].concat();
        let line = office.post("/builds/pine-coupe/welds", &pairs).await;
        assert_eq!(line.status, StatusCode::SEE_OTHER, "{joint}");
        let welds = house.store.facts(build).await.unwrap().welds.clone();
        assert_eq!(welds.last().unwrap().held.is_some(), held, "{joint} on {day}");
    }
    let strike = [("why_2", "Another car's.")];
    assert_eq!(office.post("/builds/pine-coupe/welds/2/strike", &strike).await.status, StatusCode::SEE_OTHER);
    let front = office.get("/builds/pine-coupe?see=all").await.text;
    assert!(front.contains("Meet the condition, then settle it: Show the label at the start."), "{front}");
    // Opened again: held again.
    assert_eq!(settle(&office, 1, "reopen").await, StatusCode::SEE_OTHER);
    assert!(matches!(hold(&house, build).await, Hold::Conditions { .. }));
}

#[tokio::test]
async fn conditions_go_with_a_release_alone_and_with_parts_of_the_round() {
    let house = House::new().await;
    let build = issued(&house).await;
    let nowhere = approved(&house, &[("holds", "J999", "Pad it first.")]).await;
    assert_eq!(nowhere.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(nowhere.text.contains("J999 is not in round 1.") && nowhere.text.contains("Pad it first."));
    let office = house.browser("office").await;
    let sha256 = house.store.rounds(build).await.unwrap().remove(0).packet_sha256.text().to_owned();
    let head = [("packet_sha256", sha256.as_str()), ("given_by", "the league's scrutineer"), ("decision", "not yet")];
    let line = [("kind_1", "holds"), ("asked_1", "Pad it first."), ("words", "Later.")];
    let told = office.post(REPLY, &[head.as_slice(), &line].concat()).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(told.text.contains("Conditions go with a release."), "{}", told.text);
    assert!(house.store.replies(build).await.unwrap().is_empty());
}

#[tokio::test]
async fn a_refusal_says_why_and_holds() {
    let house = House::new().await;
    let build = issued(&house).await;
    let scrutineer = house.browser("scrutineer").await;
    let sign = "/builds/pine-coupe/rounds/1/review/sign";
    let bare = scrutineer.post(sign, &[("seen", "0"), ("decision", "refused")]).await;
    assert_eq!(bare.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(bare.text.contains("Say why it is refused."), "{}", bare.text);
    let why = [("seen", "0"), ("decision", "refused"), ("words", "Not this tube.")];
    assert_eq!(scrutineer.post(sign, &why).await.status, StatusCode::SEE_OTHER);
    assert_eq!(hold(&house, build).await, Hold::Refused(1));
    assert_eq!(house.store.replies(build).await.unwrap().remove(0).decision, Decision::Refused);
    let front = house.browser("office").await.get("/builds/pine-coupe?see=all").await.text;
    assert!(front.contains("The scrutineer refused round 1"), "{front}");
    let again = [("seen", "0"), ("decision", "not yet"), ("words", "Ask me again.")];
    assert_eq!(scrutineer.post(sign, &again).await.status, StatusCode::SEE_OTHER);
    assert_eq!(hold(&house, build).await, Hold::NotYet(1), "the latest reply counts");
}
