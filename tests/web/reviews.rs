//! A scrutineer's review: a round as it was issued, part by part, answered in his own name, and nothing follows before he signs.
#![expect(clippy::indexing_slicing, reason = "a test may stop")]

use axum::http::StatusCode;
use sqlx::Connection as _;
use tackbook::actions;
use tackbook::domain::cage::record::example::example_record;
use tackbook::domain::derived::contents::Contents;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::hold::Hold;
use tackbook::domain::recorded::reviews::{NewReviewed, PartAnswer};
use tackbook::domain::shop::people::Role;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::{Balloon, BuildId};

use crate::camera::{Phone, jpeg};
use crate::house::{Answer, Browser, House, PASSWORD};
use crate::main_job::{begun, weigh};

const REVIEW: &str = "/builds/pine-coupe/rounds/1/review";
const SIGN: &str = "/builds/pine-coupe/rounds/1/review/sign";

/// A build with a cage and one photograph, its first round out.
pub(crate) async fn issued(house: &House) -> BuildId {
    begun(house).await;
    weigh(&house.browser("fabricator").await, "661", "").await;
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    actions::recorded::cage::save(&house.office, build, 0, &example_record()).await.unwrap();
    let phone = Phone { house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    phone.keep(&jpeg(1), "J7 joint-tacked/wide").await;
    let office = house.browser("office").await;
    assert_eq!(office.post("/builds/pine-coupe/rounds", &[("key", "one")]).await.status, StatusCode::SEE_OTHER);
    build
}

pub(crate) async fn contents(house: &House, build: BuildId, number: usize) -> Contents {
    Contents::read(&house.store.rounds(build).await.unwrap()[number - 1].contents).unwrap()
}

pub(crate) async fn hold(house: &House, build: BuildId) -> Hold {
    Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today()).hold
}

/// A hidden value of a form.
pub(crate) fn value(answer: &Answer, name: &str) -> String {
    let after = answer.text.split(&format!("name=\"{name}\" value=\"")).nth(1).unwrap_or_default();
    after.split('"').next().unwrap_or_default().to_owned()
}

/// Accepts parts that nobody answered yet, but for the last, and that through the sheet: where it leads to is given back.
async fn accept(house: &House, browser: &Browser<'_>, parts: &[Balloon]) -> String {
    let by = house.store.people().await.unwrap().into_iter().find(|one| one.role == Role::Scrutineer).unwrap();
    let ctx = actions::Context { by, ..house.office.clone() };
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let (last, first) = parts.split_last().unwrap();
    for part in first {
        let new = NewReviewed {
            round: 1,
            part: *part,
            answer: Some(PartAnswer::Accepted),
            remark: String::new(),
            marks: Vec::new(),
            seen: 0,
        };
        actions::recorded::rounds::reviews::answer(&ctx, build, new).await.unwrap();
    }
    let said = browser.post(REVIEW, &[("part", &last.to_string()), ("seen", "0"), ("answer", "accepted")]).await;
    assert_eq!(said.status, StatusCode::SEE_OTHER, "{last}: {}", said.text);
    said.to
}

/// Answers a part as the sheet that is shown does.
async fn say(browser: &Browser<'_>, part: Balloon, answer: PartAnswer, remark: &str) -> Answer {
    let part = part.to_string();
    let seen = value(&browser.get(&format!("{REVIEW}?part={part}")).await, "seen");
    browser.post(REVIEW, &[("part", &part), ("seen", &seen), ("answer", answer.word()), ("remark", remark)]).await
}

async fn sign(browser: &Browser<'_>, more: &[(&str, &str)]) -> Answer {
    let seen = value(&browser.get(SIGN).await, "seen");
    let mut pairs = vec![("seen", seen.as_str())];
    pairs.extend(more);
    browser.post(SIGN, &pairs).await
}

#[tokio::test]
async fn every_part_accepted_but_one_releases_nothing_and_the_answers_become_the_reply() {
    let house = House::new().await;
    let build = issued(&house).await;
    let scrutineer = house.browser("scrutineer").await;
    let asked = contents(&house, build, 1).await.asked();
    assert!(asked.len() > 20 && asked.contains(&"J7".parse().unwrap()), "{asked:?}");
    let wanted: Balloon = "J3".parse().unwrap();
    let said = say(&scrutineer, wanted, PartAnswer::ChangeWanted, "Pad the <half hoop> here.").await;
    assert_eq!(said.status, StatusCode::SEE_OTHER, "{}", said.text);
    let others: Vec<Balloon> = asked.iter().copied().filter(|part| *part != wanted).collect();
    let to = accept(&house, &scrutineer, &others).await;
    assert!(to.ends_with("/review/sign"), "after the last comes the end: {to}");
    // Nothing follows before it is signed: not for the hold, not for the shop.
    assert_eq!(hold(&house, build).await, Hold::Waiting(1));
    assert!(
        !house.browser("office").await.get(&format!("{REVIEW}?part=J3")).await.text.contains("half hoop&#62; here")
    );
    let end = scrutineer.get(SIGN).await.text;
    for words in ["Not offered: 1 change wanted.", "Pad the &#60;half hoop&#62; here.", "Signed by <b>scrutineer</b>"] {
        assert!(end.contains(words), "{words}: {end}");
    }
    assert!(!end.contains("value=\"approved\""), "a release is not offered");
    // Nor is it taken from a form that says so all the same.
    let forced = sign(&scrutineer, &[("decision", "approved"), ("despite_words", "so")]).await;
    assert_eq!(forced.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(forced.text.contains("Not accepted, so not released: J3."), "{}", forced.text);
    assert!(house.store.replies(build).await.unwrap().is_empty());
    // Signed as it is: the reply has every answer, a question for the one that wants something, and the log says so.
    assert_eq!(sign(&scrutineer, &[("decision", "not yet")]).await.status, StatusCode::SEE_OTHER);
    assert_eq!(hold(&house, build).await, Hold::NotYet(1));
    let replies = house.store.replies(build).await.unwrap();
    assert_eq!(replies[0].given_by, "scrutineer");
    assert_eq!(replies[0].answers.as_ref().unwrap().len(), asked.len());
    let questions = house.store.questions(build).await.unwrap();
    assert_eq!(questions.len(), 1);
    assert_eq!(
        (questions[0].about, questions[0].text.as_str()),
        (Some(wanted), "Change asked: Pad the <half hoop> here.")
    );
    assert!(house.store.verify_log().await.unwrap().broken_at.is_none());
    // The shop is told what came of it, each with the way to it.
    let shop = house.browser("office").await.get("/builds/pine-coupe/rounds").await.text;
    for words in
        ["Round 1 is answered: not yet", "Open because of it: 1", "/questions#Q1", "/joints/J3", "1 change wanted"]
    {
        assert!(shop.contains(words), "{words}: {shop}");
    }
    // Changed to accepted and signed again: only what is left open in the round has to be read, and the hold is released.
    say(&scrutineer, wanted, PartAnswer::Accepted, "Seen at the car.").await;
    let question = questions[0].id.to_string();
    let yes = [("decision", "approved"), ("settles", question.as_str())];
    let first = sign(&scrutineer, &yes).await;
    assert_eq!(first.status, StatusCode::UNPROCESSABLE_ENTITY, "what a release passes over is read first");
    let read = value(&first, "despite");
    let mut yes = yes.to_vec();
    yes.extend([("despite", read.as_str()), ("despite_words", "At final inspection.")]);
    let signed = sign(&scrutineer, &yes).await;
    assert_eq!(signed.status, StatusCode::SEE_OTHER, "{}", signed.text);
    assert!(matches!(hold(&house, build).await, Hold::Released { round: 1, .. }));
    let questions = house.store.questions(build).await.unwrap();
    assert!(questions.len() == 1 && questions[0].settled.is_some(), "nothing is asked twice: {questions:?}");
}

#[tokio::test]
async fn a_release_needs_every_part_taking_any_one_answer_away_takes_it_away() {
    let house = House::new().await;
    let build = issued(&house).await;
    let scrutineer = house.browser("scrutineer").await;
    let asked = contents(&house, build, 1).await.asked();
    let left = asked[asked.len() / 2];
    let others: Vec<Balloon> = asked.iter().copied().filter(|part| *part != left).collect();
    accept(&house, &scrutineer, &others).await;
    let end = scrutineer.get(SIGN).await.text;
    assert!(end.contains("Not offered: 1 not answered.") && end.contains("Not looked at yet."), "{end}");
    let forced = sign(&scrutineer, &[("decision", "approved")]).await;
    assert!(forced.text.contains(&format!("Not accepted, so not released: {left}.")), "{}", forced.text);
    // A question about a part that is not asked one by one stands in the way as well.
    say(&scrutineer, left, PartAnswer::Accepted, "").await;
    assert!(scrutineer.get(SIGN).await.text.contains("value=\"approved\""));
    let shown = contents(&house, build, 1).await.shown();
    let beside = shown.into_iter().find(|part| !asked.contains(part));
    if let Some(beside) = beside {
        say(&scrutineer, beside, PartAnswer::Question, "Which heat?").await;
        assert!(scrutineer.get(SIGN).await.text.contains("Not offered: 1 question."));
    }
    assert_eq!(hold(&house, build).await, Hold::Waiting(1));
}

#[tokio::test]
async fn a_round_is_shown_as_it_was_issued_whatever_changed_since() {
    let house = House::new().await;
    let build = issued(&house).await;
    let scrutineer = house.browser("scrutineer").await;
    let part = format!("{REVIEW}?part=J7");
    let drawing = |sheet: &str| {
        sheet
            .split("review-locator\">")
            .nth(1)
            .unwrap_or_default()
            .split("</svg>")
            .next()
            .unwrap_or_default()
            .to_owned()
    };
    let figures = |sheet: &str| {
        sheet.split("review-figures\">").nth(1).unwrap_or_default().split("</dl>").next().unwrap_or_default().to_owned()
    };
    let then = scrutineer.get(&part).await.text;
    let (drawn, said) = (drawing(&then), figures(&then));
    assert!(drawn.contains("J7") && said.contains("Seam"), "{then}");
    // The cage is changed and photographed again: the sheet of the round stays what it was.
    let stands = house.store.cage(build).await.unwrap().unwrap();
    let mut record: serde_json::Value = serde_json::from_str(&stands.json).unwrap();
    record["measures"]["hoop_roof_height"] = serde_json::json!({"value": 1050.0, "text": "1050 mm"});
    let record = serde_json::from_value(record).unwrap();
    actions::recorded::cage::save(&house.office, build, stands.version, &record).await.unwrap();
    let phone = Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    phone.keep(&jpeg(2), "J7 joint-tacked/wide").await;
    let now = scrutineer.get(&part).await.text;
    assert_eq!((drawing(&now), figures(&now)), (drawn.clone(), said.clone()));
    let [old, new] = [1, 2].map(|seed| Fingerprint::of(&jpeg(seed)).text().to_owned());
    assert!(now.contains(&old) && !now.contains(&new), "the round's photographs, not today's");
    // Only a photograph that the round shows is handed out below it.
    let picture = |sha256: &str| format!("/builds/pine-coupe/rounds/1/photos/{sha256}/original");
    assert_eq!(scrutineer.get(&picture(&old)).await.status, StatusCode::OK);
    assert_eq!(scrutineer.get(&picture(&new)).await.status, StatusCode::NOT_FOUND);
    // The next round says what changed, which photograph is new, and draws the cage that it was issued with.
    house.browser("office").await.post("/builds/pine-coupe/rounds", &[("key", "two")]).await;
    let second = scrutineer.get("/builds/pine-coupe/rounds/2/review?part=J7").await.text;
    for words in ["Changed since round 1", "photographed again: 1 more", "new in this round"] {
        assert!(second.contains(words), "{words}: {second}");
    }
    assert_ne!(drawing(&second), drawn);
    // And the first one takes no answer any more.
    let first = scrutineer.get(&part).await.text;
    assert!(first.contains("Round 2 has followed") && !first.contains("name=\"answer\""));
    assert_eq!((drawing(&first), figures(&first)), (drawn, said));
    let late = scrutineer.post(REVIEW, &[("part", "J7"), ("seen", "0"), ("answer", "accepted")]).await;
    assert_eq!(late.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", late.text);
}

#[tokio::test]
async fn a_part_that_is_not_in_the_round_is_refused_and_a_remark_is_never_lost() {
    let house = House::new().await;
    let build = issued(&house).await;
    let scrutineer = house.browser("scrutineer").await;
    let send = async |pairs: &[(&str, &str)]| scrutineer.post(REVIEW, pairs).await;
    for part in ["J999", "Q1", "M400"] {
        assert_eq!(scrutineer.get(&format!("{REVIEW}?part={part}")).await.status, StatusCode::NOT_FOUND, "{part}");
        let said = send(&[("part", part), ("seen", "0"), ("answer", "accepted")]).await;
        assert!(said.status.is_client_error(), "{part}");
    }
    let rows = async || house.store.reviewed(house.store.rounds(build).await.unwrap()[0].id).await.unwrap();
    assert!(rows().await.is_empty());
    // What wants something without a word is told where it is typed; what was typed comes back.
    let bare = send(&[("part", "J7"), ("seen", "0"), ("answer", "change wanted"), ("remark", " ")]).await;
    assert_eq!(bare.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(bare.text.contains("Say what is to be changed.") && bare.text.contains("value=\"change wanted\" checked"));
    let long = "x".repeat(2_001);
    let long = send(&[("part", "J7"), ("seen", "0"), ("answer", "question"), ("remark", &long)]).await;
    assert!(long.status == StatusCode::UNPROCESSABLE_ENTITY && long.text.contains(&"x".repeat(2_001)));
    // Without an answer it is kept as it is, and the part stays unanswered; going elsewhere saves it too.
    let kept = send(&[("part", "J7"), ("seen", "0"), ("remark", "Is this seam closed?"), ("go", "J9")]).await;
    assert!(kept.status == StatusCode::SEE_OTHER && kept.to.ends_with("part=J9"), "{}", kept.to);
    let sheet = scrutineer.get(&format!("{REVIEW}?part=J7")).await.text;
    assert!(sheet.contains("Is this seam closed?") && sheet.contains("aria-label=\"J7, not answered\""), "{sheet}");
    assert!(scrutineer.get(SIGN).await.text.contains("A remark is kept: “Is this seam closed?”"));
    // Whoever only goes elsewhere says nothing.
    let gone = send(&[("part", "J8"), ("seen", "0"), ("remark", ""), ("go", "sign")]).await;
    assert!(gone.to.ends_with("/review/sign"));
    assert_eq!(rows().await.len(), 1);
}

#[tokio::test]
async fn of_two_who_answer_at_once_the_second_is_shown_both() {
    let house = House::new().await;
    let build = issued(&house).await;
    actions::shop::people::add(&house.office, "second", Role::Scrutineer, PASSWORD).await.unwrap();
    let (one, two) = (house.browser("scrutineer").await, house.browser("second").await);
    let of = |answer: &'static str, remark: &'static str, seen: &str| {
        [
            ("part", "J7".to_owned()),
            ("seen", seen.to_owned()),
            ("answer", answer.to_owned()),
            ("remark", remark.to_owned()),
        ]
    };
    let send = async |browser: &Browser<'_>, pairs: &[(&str, String)]| {
        let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, value)| (*name, value.as_str())).collect();
        browser.post(REVIEW, &pairs).await
    };
    assert_eq!(send(&one, &of("accepted", "Fine.", "0")).await.status, StatusCode::SEE_OTHER);
    let second = send(&two, &of("question", "Which wire?", "0")).await;
    assert_eq!(second.status, StatusCode::CONFLICT);
    for words in ["accepted: “Fine.”, by scrutineer", "Which wire?", "value=\"question\" checked", "Theirs stands"]
    {
        assert!(second.text.contains(words), "{words}: {}", second.text);
    }
    // Nothing of the second is saved; saved again over what he read, his stands and both are kept.
    let rows = async || house.store.reviewed(house.store.rounds(build).await.unwrap()[0].id).await.unwrap();
    assert_eq!(rows().await.len(), 1);
    let seen = value(&second, "seen");
    assert_eq!(send(&two, &of("question", "Which wire?", &seen)).await.status, StatusCode::SEE_OTHER);
    let all = rows().await;
    assert_eq!(all.iter().map(|row| row.by.as_str()).collect::<Vec<_>>(), ["scrutineer", "second"]);
    // The same said twice is one.
    assert_eq!(send(&two, &of("question", "Which wire?", "0")).await.status, StatusCode::SEE_OTHER);
    assert_eq!(rows().await.len(), 2);
    // Signing what one did not read is refused, and shows what stands.
    let late = one.post(SIGN, &[("seen", &seen), ("decision", "not yet")]).await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert!(late.text.contains("Which wire?") && late.text.contains("Another answer was saved"), "{}", late.text);
    assert!(house.store.replies(build).await.unwrap().is_empty());
    let records = format!("sqlite://{}", house.folder.0.join("tackbook.db").display());
    let mut behind = sqlx::SqliteConnection::connect(&records).await.unwrap();
    for change in ["DELETE FROM reviewed", "UPDATE reviewed SET answer = 'accepted'"] {
        assert!(sqlx::query(change).execute(&mut behind).await.is_err(), "{change}");
    }
}

#[tokio::test]
async fn the_shop_reads_the_sheet_and_answers_nothing_in_it() {
    let house = House::new().await;
    let build = issued(&house).await;
    for role in ["office", "fabricator"] {
        let browser = house.browser(role).await;
        let sheet = browser.get(&format!("{REVIEW}?part=J7")).await;
        assert!(
            sheet.status == StatusCode::OK
                && !sheet.text.contains("<form method=\"post\" action=\"/builds/pine-coupe/rounds/1/review\"")
        );
        let said = browser.post(REVIEW, &[("part", "J7"), ("seen", "0"), ("answer", "accepted")]).await;
        assert_eq!(said.status, StatusCode::NOT_FOUND, "{role}");
        assert_eq!(browser.post(SIGN, &[("seen", "0"), ("decision", "approved")]).await.status, StatusCode::NOT_FOUND);
    }
    assert_eq!(hold(&house, build).await, Hold::Waiting(1));
    let rounds = house.browser("office").await.get("/builds/pine-coupe/rounds").await.text;
    for words in [
        "Round 1 is out and waits for the scrutineer",
        "With a sign-in as scrutineer",
        "/rounds/1/packet.pdf",
        "tacks only",
    ] {
        assert!(rounds.contains(words), "{words}");
    }
    // The scrutineer is asked part by part, and has no field for a number.
    let own = house.browser("scrutineer").await.get("/builds/pine-coupe/rounds").await.text;
    assert!(own.contains("Review round 1") && !own.contains("name=\"about_1\""), "{own}");
}
