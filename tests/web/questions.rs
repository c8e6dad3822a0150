//! Questions: asked of a part or the build, answered, settled, opened again, each with who and when.

use axum::http::StatusCode;
use tackbook::domain::cage::record::example::example_record;

use crate::camera::{Phone, jpeg, new_capture};
use crate::house::House;

const PAGE: &str = "/builds/pine-coupe/questions";

#[tokio::test]
async fn a_question_of_a_joint_is_asked_answered_settled_and_opened_again() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let build = house.store.builds().await.unwrap().remove(0).id;
    let cage = example_record();
    tackbook::actions::recorded::cage::save(&house.office, build, 0, &cage).await.unwrap();
    let office = house.browser("office").await;
    let form = office.get(&format!("{PAGE}?about=J7")).await.text;
    assert!(form.contains("name=\"about\" type=\"text\" value=\"J7\""), "{form}");
    let asked = office.post(PAGE, &[("about", "j7"), ("text", "Does the <b>weld</b> reach round?")]).await;
    assert_eq!(asked.to, PAGE, "{}", asked.text);
    let open = office.get("/builds/pine-coupe?see=all").await.text;
    assert!(open.contains("/builds/pine-coupe/questions\">Answer: Does the"), "{open}");
    // The photograph that shows it is one of the joint's own.
    let (capture, bytes) = (new_capture(), jpeg(1));
    phone.tell(&capture, &bytes, "J7 joint-tacked/wide").await;
    assert_eq!(phone.send(&bytes, 0, bytes.len(), true).await.status, StatusCode::OK);
    let typed = [("answer_Q1", "It does, see the mirror."), ("capture_Q1", capture.as_str())];
    assert_eq!(phone.browser.post(&format!("{PAGE}/Q1/answer"), &typed).await.to, PAGE);
    let sheet = office.get(PAGE).await.text;
    for words in [
        "Does the &#60;b&#62;weld",
        "asked by office, 2026-05-04",
        "It does, see the mirror.",
        "fabricator, 2026-05-04",
        "/thumbnail",
        "answered, not settled",
        "/joints/J7",
    ] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    assert_eq!(office.post(&format!("{PAGE}/Q1/settle"), &[]).await.to, PAGE);
    let sheet = office.get(PAGE).await.text;
    assert!(sheet.contains("Settled: 1") && sheet.contains("settled 2026-05-04"), "{sheet}");
    // Settled twice is settled once.
    assert_eq!(office.post(&format!("{PAGE}/Q1/settle"), &[]).await.to, PAGE);
    assert_eq!(office.post(&format!("{PAGE}/Q1/reopen"), &[]).await.to, PAGE);
    assert!(office.get(PAGE).await.text.contains("Open: 1"));
    let table = office.get(&format!("{PAGE}.csv")).await.text;
    assert!(table.contains("\"It does, see the mirror. (fabricator, 2026-05-04"), "{table}");
    let log = house.store.log_of_build(build, 100).await.unwrap();
    assert_eq!(log.iter().filter(|entry| entry.room == "questions").count(), 4);
}

#[tokio::test]
async fn what_cannot_be_asked_or_answered_is_refused_and_kept() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    for (about, text, why) in [
        ("J99", "<script>alert(1)</script>", "There is no J99 in this build."),
        ("left side", "Why?", "A number of this build, like J7"),
        ("", "  ", "This must not be empty."),
        ("", &"x".repeat(4_001), "This has 4001 characters; 4000 fit."),
    ] {
        let answer = office.post(PAGE, &[("about", about), ("text", text)]).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{about}");
        assert!(answer.text.contains(why) && !answer.text.contains("<script>"), "{why}: {}", answer.text);
        assert!(answer.text.contains(&text.replace('<', "&#60;").replace('>', "&#62;")), "{}", answer.text);
    }
    office.post(PAGE, &[("text", "Why?")]).await;
    let empty = office.post(&format!("{PAGE}/Q1/answer"), &[("answer_Q1", ""), ("capture_Q1", "")]).await;
    assert_eq!(empty.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(empty.text.contains("id=\"w-answer_Q1\">This must not be empty."), "{}", empty.text);
    let elsewhere = [("answer_Q1", "See the picture."), ("capture_Q1", "the one of yesterday")];
    let refused = office.post(&format!("{PAGE}/Q1/answer"), &elsewhere).await;
    assert!(refused.text.contains("Choose a photograph of the list") && refused.text.contains(">See the picture.<"));
    for nothing in ["Q2/answer", "J1/settle", "x/reopen"] {
        assert_eq!(
            office.post(&format!("{PAGE}/{nothing}"), &elsewhere).await.status,
            StatusCode::NOT_FOUND,
            "{nothing}"
        );
    }
}

#[tokio::test]
async fn who_may_not_see_the_build_neither_asks_nor_settles() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    office.post(PAGE, &[("text", "Why?")]).await;
    let scrutineer = house.browser("scrutineer").await;
    for place in ["", "/Q1/answer", "/Q1/settle", "/Q1/reopen"] {
        let typed = [("text", "Planted"), ("answer_Q1", "Planted")];
        assert_eq!(scrutineer.post(&format!("{PAGE}{place}"), &typed).await.status, StatusCode::NOT_FOUND, "{place}");
    }
    assert!(!office.get(PAGE).await.text.contains("Planted"));
}
