//! Rulings: what the scrutineer decided of one rule stands in its verdict's place, and is taken back with a trace.

use axum::http::StatusCode;
use serde_json::Value;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::judge::verdicts::{Verdict, Word};
use tackbook::domain::measure::measures::Measure;

use crate::house::{Browser, House};
use crate::measures::laid_out;
use crate::paper::words;

const PAGE: &str = "/builds/pine-coupe/rulings";

async fn head_gap(house: &House) -> Verdict {
    let build = house.store.builds().await.unwrap().remove(0).id;
    let facts = house.store.facts(build).await.unwrap();
    let found = Findings::of(&facts, house.clock.today());
    found.worked.verdicts.into_iter().find(|verdict| verdict.measure == Some(Measure::HeadGap)).unwrap()
}

const EDITION: &str = "Lanternfell Stage League Build Rules, second issue";

const RULED: [(&str, &str); 7] = [
    ("letter", "the letter of 3 May"),
    ("rule", "helmet-gap"),
    ("of", "M1"),
    ("stays", "yes"),
    ("words", "Padded there; it may stay <so>."),
    ("given_by", "scrutineer"),
    ("given", "2026-05-04"),
];

#[expect(clippy::too_many_lines, reason = "one story from its beginning to its end")]
#[tokio::test]
async fn a_ruling_stands_in_the_verdicts_place_everywhere_and_is_taken_back_with_a_trace() {
    let house = House::new().await;
    laid_out(&house).await;
    let office = house.browser("office").await;
    office.post("/builds/pine-coupe/measures", &[("helmet-to-the-nearest-bar-M1", "1 1/2")]).await;
    assert_eq!(head_gap(&house).await.word, Word::ShortBy);
    let open = "Helmet to the nearest bar 1 1/2 in";
    assert!(office.get("/builds/pine-coupe?see=all").await.text.contains(open));
    let verdicts = office.get("/builds/pine-coupe/verdicts?rule=helmet-gap").await.text;
    assert!(
        verdicts.contains("/rulings?rule=helmet-gap&#38;of=M1")
            || verdicts.contains("/rulings?rule=helmet-gap&amp;of=M1")
    );
    let filled = office.get(&format!("{PAGE}?rule=helmet-gap&of=M1")).await.text;
    assert!(filled.contains("<option value=\"helmet-gap\" selected>") && filled.contains("value=\"M1\""), "{filled}");

    assert_eq!(office.post(PAGE, &RULED).await.to, PAGE);
    let verdict = head_gap(&house).await;
    assert_eq!((verdict.word, verdict.state()), (Word::ScrutineerDecides, Word::ShortBy));
    let by = format!("(scrutineer, 2026-05-04, in the letter of 3 May, under {EDITION})");
    let told = format!("Scrutineer decides: it may stay, “Padded there; it may stay <so>.” {by}.");
    assert!(verdict.basis().starts_with(&told), "{}", verdict.basis());
    for page in ["/builds/pine-coupe/verdicts?rule=helmet-gap", "/builds/pine-coupe/members/M1"] {
        let sheet = office.get(page).await.text;
        assert!(sheet.contains("it may stay, “Padded there; it may stay &#60;so&#62;.”"), "{page}: {sheet}");
    }
    assert!(!office.get("/builds/pine-coupe?see=all").await.text.contains(open), "what may stay is not open");
    let log = office.get("/builds/pine-coupe/log").await.text;
    assert!(log.contains("A ruling on “helmet-gap” of M1 was recorded: it may stay, by scrutineer."), "{log}");
    let json: Value = serde_json::from_str(&office.get("/builds/pine-coupe/verdicts.json").await.text).unwrap();
    let ruled = json.as_array().unwrap().iter().find(|verdict| !verdict["ruling"].is_null()).unwrap();
    assert_eq!(
        (&ruled["word"], &ruled["found"], &ruled["ruling"]["stays"]),
        (&Value::from("scrutineer_decides"), &Value::from("short_by"), &Value::from(true))
    );
    let packet = words(&office.get("/builds/pine-coupe/packet.pdf").await.bytes);
    let packet = packet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(packet.contains("Scrutineer decides: it may stay, “Padded there"), "{packet}");
    assert!(
        packet.contains("What the scrutineer ruled") && packet.contains("Recorded by office, 2026-05-04"),
        "{packet}"
    );

    // What is worse than what was ruled on is open again.
    office.post("/builds/pine-coupe/measures", &[("helmet-to-the-nearest-bar-M1", "1")]).await;
    assert_eq!(head_gap(&house).await.to_do(), "Ask the scrutineer again; record the ruling.");
    let open = office.get("/builds/pine-coupe?see=all").await.text;
    assert!(open.contains("What was ruled no longer holds: ask again (clause 4.10)"), "{open}");
    let worse = head_gap(&house).await;
    assert_eq!((worse.word, worse.ruling.is_none()), (Word::ShortBy, true), "the word is what is found");
    let sheet = office.get(PAGE).await.text;
    assert!(sheet.contains("It stands in no verdict now"), "{sheet}");
    let packet = words(&office.get("/builds/pine-coupe/packet.pdf").await.bytes);
    assert!(packet.contains("It stands in no verdict now"), "{packet}");
    // The figure that was ruled on, read again: the ruling stands again.
    office.post("/builds/pine-coupe/measures", &[("helmet-to-the-nearest-bar-M1", "1 1/2")]).await;
    assert!(head_gap(&house).await.may_stay());
    // Where the rule is kept by now it is met, and what was ruled of another figure is told as history.
    office.post("/builds/pine-coupe/measures", &[("helmet-to-the-nearest-bar-M1", "3")]).await;
    let verdict = head_gap(&house).await;
    assert_eq!((verdict.word, verdict.to_do()), (Word::Meets, ""));
    assert!(
        verdict
            .basis()
            .contains("Ruling 1 was of another figure, M1 helmet to the nearest bar short by 26.9 mm 38.1 mm: it may stay, “Padded"),
        "{}",
        verdict.basis()
    );

    taken_back_with_a_trace(&house, &office).await;
}

async fn taken_back_with_a_trace(house: &House, office: &Browser<'_>) {
    let refused = office.post(&format!("{PAGE}/1/take-back"), &[("why_1", " ")]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    office.post(&format!("{PAGE}/1/take-back"), &[("why_1", "Given for another car.")]).await;
    assert_eq!(head_gap(house).await.word, Word::Meets);
    let sheet = office.get(PAGE).await.text;
    assert!(sheet.contains("Taken back: 1") && sheet.contains("taken back by office, 2026-05-04"), "{sheet}");
    let packet = words(&office.get("/builds/pine-coupe/packet.pdf").await.bytes);
    assert!(packet.contains("Taken back by office, 2026-05-04: Given for another car."), "{packet}");
    assert!(office.get("/builds/pine-coupe/log").await.text.contains("was taken back: Given for another car."));
    let again = office.post(&format!("{PAGE}/1/take-back"), &[("why_1", "Again.")]).await;
    assert_eq!(again.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn what_is_to_be_changed_stays_open_and_what_is_no_ruling_is_refused() {
    let house = House::new().await;
    laid_out(&house).await;
    let (office, fabricator) = (house.browser("office").await, house.browser("fabricator").await);
    office.post("/builds/pine-coupe/measures", &[("helmet-to-the-nearest-bar-M1", "1 1/2")]).await;
    let with = |changed: &[(&'static str, &'static str)]| -> Vec<(&'static str, &'static str)> {
        let kept = RULED.iter().filter(|pair| !changed.iter().any(|other| other.0 == pair.0));
        kept.chain(changed).copied().collect()
    };
    for (changed, why) in [
        (("rule", "no-such-rule"), "Choose a rule of this build&#39;s book."),
        (("of", "M99"), "says nothing of this part"),
        (("of", "hoop"), "A number of the packet"),
        (("stays", ""), "Choose what the scrutineer decided."),
        (("words", ""), "Write the scrutineer&#39;s words."),
        (("given_by", ""), "This must not be empty."),
        (("given", "2031-01-01"), "This day is still to come."),
        (("given", ""), "Write the day it was given."),
    ] {
        let answer = office.post(PAGE, &with(&[changed])).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{changed:?}");
        assert!(answer.text.contains(why), "{why}: {}", answer.text);
    }
    assert_eq!(office.post(PAGE, &with(&[("round", "7")])).await.status, StatusCode::NOT_FOUND);
    assert_eq!(fabricator.post(PAGE, &RULED).await.status, StatusCode::NOT_FOUND, "not the fabricator's to record");
    assert_eq!(
        house.browser("scrutineer").await.post(PAGE, &RULED).await.status,
        StatusCode::NOT_FOUND,
        "no round yet"
    );
    assert_eq!(head_gap(&house).await.word, Word::ShortBy);
    assert_eq!(office.post(PAGE, &with(&[("stays", "no"), ("of", "")])).await.to, PAGE);
    assert_eq!(head_gap(&house).await.to_do(), "Change it as the scrutineer ruled.");
    let changed =
        "Helmet to the nearest bar 1 1/2 in. Ruling 1: it is to be changed. Change it as the scrutineer ruled.";
    assert!(office.get("/builds/pine-coupe?see=all").await.text.contains(changed));
    // A figure that keeps the rule meets it; that the scrutineer has seen the change is still open.
    office.post("/builds/pine-coupe/measures", &[("helmet-to-the-nearest-bar-M1", "3")]).await;
    let after = "3 in. Ruling 1 was of another figure: it was to be changed. Ask the scrutineer again; record the ruling. (clause 4.10)";
    assert!(office.get("/builds/pine-coupe?see=all").await.text.contains(after));
    let file = office.get("/builds/pine-coupe/build.json").await.text;
    assert!(file.contains(&format!("\"edition\": \"{EDITION}\"")), "{file}");
}
