//! What was accepted in an earlier round and is shown as it was then: said so, left at that in one press, and gone as soon as
//! one frozen fact is another.

use axum::http::StatusCode;
use tackbook::domain::derived::contents::{Contents, Earlier};
use tackbook::domain::recorded::reviews::PartAnswer;
use tackbook::domain::words::ids::Balloon;

use crate::camera::{Phone, jpeg};
use crate::house::{Browser, House};
use crate::paper;
use crate::reviews::{contents, issued, value};

const SAME: &str = "what is shown of it is the same as then";

fn review(round: u32) -> String {
    format!("/builds/pine-coupe/rounds/{round}/review")
}

async fn part(browser: &Browser<'_>, round: u32, part: &str) -> String {
    browser.get(&format!("{}?part={part}", review(round))).await.text
}

async fn say(browser: &Browser<'_>, round: u32, part: &str, answer: PartAnswer) {
    let sheet = browser.get(&format!("{}?part={part}", review(round))).await;
    let seen = value(&sheet, "seen");
    let pairs = [("part", part), ("seen", &seen), ("answer", answer.word()), ("remark", "Pad it.")];
    assert_eq!(browser.post(&review(round), &pairs).await.status, StatusCode::SEE_OTHER);
}

async fn sign(browser: &Browser<'_>, round: u32) {
    let at = format!("{}/sign", review(round));
    let seen = value(&browser.get(&at).await, "seen");
    let signed = browser.post(&at, &[("seen", &seen), ("decision", "not yet"), ("words", "see the parts")]).await;
    assert_eq!(signed.status, StatusCode::SEE_OTHER, "{}", signed.text);
}

async fn issue(house: &House, key: &str) {
    let office = house.browser("office").await;
    assert_eq!(office.post("/builds/pine-coupe/rounds", &[("key", key)]).await.status, StatusCode::SEE_OTHER);
}

/// One fact of a part changed in what was frozen.
type Changed = (&'static str, Box<dyn Fn(&mut Contents)>);

/// Each kind of fact that a round freezes of J7, changed by itself.
fn changes(now: &Contents) -> Vec<Changed> {
    let key = |keys: Vec<&String>, has: fn(&str) -> bool| keys.into_iter().find(|key| has(key)).unwrap().clone();
    let ruled: fn(&str) -> bool = |key| key.split(' ').nth(1).is_some_and(|of| of.trim_end_matches(',') == "J7");
    let (line, whole) = (key(now.verdicts.keys().collect(), ruled), key(now.judged.keys().collect(), ruled));
    let bar =
        now.lines_of("J7".parse().unwrap()).join(" ").split(' ').find(|word| word.starts_with('M')).unwrap().to_owned();
    let (name, of_bar) = (bar.clone(), bar);
    let photo = |contents: &mut Contents| contents.photos.get_mut("J7").unwrap().push("f".repeat(64));
    vec![
        ("its photographs", Box::new(photo)),
        ("its photographs", Box::new(|contents| drop(contents.photos.remove("J7")))),
        (
            "what is drawn over them",
            Box::new(|contents| drop(contents.drawn.insert("J7".to_owned(), vec!["x".to_owned()]))),
        ),
        ("the photographs that are missing", Box::new(|contents| drop(contents.missing.remove("J7")))),
        ("what is said of it", Box::new(|contents| contents.parts.get_mut("J7").unwrap().push("x".to_owned()))),
        ("what the rules say of it", Box::new(move |contents| contents.verdicts.get_mut(&line).unwrap().push('x'))),
        ("what the rules say of it", Box::new(move |contents| drop(contents.judged.remove(&whole)))),
        ("the rule book", Box::new(|contents| contents.book.as_mut().unwrap()[2].push('x'))),
        (
            "what was asked of it",
            Box::new(|contents| drop(contents.questions.insert("Q9".to_owned(), vec!["J7: why?".to_owned()]))),
        ),
        ("its bar", Box::new(move |contents| contents.parts.get_mut(&name).unwrap().push("x".to_owned()))),
        ("its bar", Box::new(move |contents| drop(contents.parts.remove(&of_bar)))),
        ("not all that was shown then was kept", Box::new(|contents| contents.tackbook_round = 1)),
    ]
}

#[tokio::test]
async fn an_acceptance_is_carried_while_everything_frozen_of_the_part_is_the_same_and_not_otherwise() {
    let house = House::new().await;
    let build = issued(&house).await;
    let scrutineer = house.browser("scrutineer").await;
    assert!(!part(&scrutineer, 1, "J7").await.contains("Accepted in round"));
    say(&scrutineer, 1, "J7", PartAnswer::Accepted).await;
    say(&scrutineer, 1, "J3", PartAnswer::ChangeWanted).await;
    // Nothing is carried of what is not signed.
    sign(&scrutineer, 1).await;
    issue(&house, "two").await;
    let sheet = part(&scrutineer, 2, "J7").await;
    assert!(sheet.contains(&format!("Accepted in round 1 by scrutineer on 2026-05-04; {SAME}")), "{sheet}");
    assert!(sheet.contains("Leave 1 accepted as they were"), "{sheet}");
    for other in ["J3", "J4"] {
        assert!(!part(&scrutineer, 2, other).await.contains("Accepted in round"), "{other}");
    }
    let office = house.browser("office").await;
    let packet = paper::words(&office.get("/builds/pine-coupe/rounds/2/packet.pdf").await.bytes);
    let packet = packet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(packet.matches("Accepted in round 1 by scrutineer on 2026-05-04").count(), 1, "{packet}");
    assert_eq!(packet.matches(SAME).count(), 1);
    // One fact another, whichever it is, and it is not the same.
    let facts = house.store.facts(build).await.unwrap();
    let earlier = Earlier::of(&facts.rounds, &facts.replies, 2);
    let now = contents(&house, build, 2).await;
    let j7: Balloon = "J7".parse().unwrap();
    assert!(earlier.accepted(&now, j7).unwrap().same());
    for (words, change) in changes(&now) {
        let mut other = now.clone();
        change(&mut other);
        let accepted = earlier.accepted(&other, j7).unwrap();
        assert!(!accepted.same() && accepted.differs.iter().any(|one| one.starts_with(words)), "{words}: {accepted:?}");
        assert!(!accepted.describe("today").contains(SAME));
    }
    // Left at that in one press: an answer of its own, of that part alone.
    let pressed = scrutineer.post(&review(2), &[("part", "J1"), ("seen", "0"), ("go", "same")]).await;
    assert_eq!(pressed.status, StatusCode::SEE_OTHER, "{}", pressed.text);
    let answers = house.store.reviewed(facts.rounds.last().unwrap().id).await.unwrap();
    let answers: Vec<_> = answers.iter().map(|one| (one.part, one.answer)).collect();
    assert_eq!(answers, [(j7, Some(PartAnswer::Accepted))]);
    assert!(!part(&scrutineer, 2, "J7").await.contains("accepted as they were"));
    // Nobody else may.
    let floor = house.browser("fabricator").await;
    assert_eq!(floor.post(&review(2), &[("part", "J1"), ("go", "same")]).await.status, StatusCode::NOT_FOUND);
    // Photographed anew, and nothing is carried.
    sign(&scrutineer, 2).await;
    let phone = Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    phone.keep(&jpeg(9), "J7 joint-tacked/wide").await;
    issue(&house, "three").await;
    let sheet = part(&scrutineer, 3, "J7").await;
    assert!(
        sheet.contains("Accepted in round 2 by scrutineer") && sheet.contains("Not the same as then: its photographs"),
        "{sheet}"
    );
    assert!(!sheet.contains(SAME) && !sheet.contains("accepted as they were"), "{sheet}");
}
