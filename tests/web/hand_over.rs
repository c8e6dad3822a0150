//! The hand-over on the real router: what the next owner is told, and that each word goes when its fact goes.

use axum::http::StatusCode;
use tackbook::actions;
use tackbook::actions::shop::signing::fingerprint;
use tackbook::domain::cage::record::example::example_record;
use tackbook::domain::shop::signing::command;

use crate::house::House;
use crate::reviews::issued;
use crate::rounds::approve;

const SHEET: &str = "/builds/pine-coupe/hand-over";
const ROUND: &str = "/builds/pine-coupe/rounds/1";

#[tokio::test]
async fn a_vehicle_that_is_only_logged_is_handed_over_as_that() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine <b>Coupe</b>")]).await;
    let to = "/builds/pine-b-coupe-b/hand-over";
    let answer = office.get(to).await;
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.text);
    for words in
        ["it is only logged", "not set up", "Nothing with an end is recorded", "nothing here approves anything"]
    {
        assert!(answer.text.contains(words), "{words}: {}", answer.text);
    }
    for never in ["Released", "<b>Coupe", "ssh-keygen", "An approval is of"] {
        assert!(!answer.text.contains(never), "{never}: {}", answer.text);
    }
    let log = office.get("/builds/pine-b-coupe-b/log").await.text;
    assert!(log.contains(&format!("href=\"{to}\"")), "{log}");
}

#[tokio::test]
async fn the_approval_the_papers_and_what_ends_are_told_and_go_with_their_facts() {
    let house = House::new().await;
    let build = issued(&house).await;
    let office = house.browser("office").await;
    let sheet = office.get(SHEET).await.text;
    assert!(sheet.contains("HELD: tacks only. Round 1 waits") && sheet.contains("none is recorded"), "{sheet}");
    let scrutineer = house.browser("scrutineer").await;
    assert_eq!(scrutineer.get(SHEET).await.status, StatusCode::NOT_FOUND, "a scrutineer sees the rounds alone");
    let round = house.store.rounds(build).await.unwrap().remove(0);
    let yes = [("packet_sha256", round.packet_sha256.text()), ("decision", "approved"), ("given_by", "Scrutineer A")];
    let approved = approve(&office, &format!("{ROUND}/reply"), &yes).await;
    assert_eq!(approved.status, StatusCode::SEE_OTHER, "{}", approved.text);
    let sheet = office.get(SHEET).await.text;
    let signed = house.store.round_signatures(build).await.unwrap().remove(0);
    let check = command("pine-coupe-round-1.pdf").replace('<', "&#60;");
    for words in [
        "Released: Scrutineer A approved round 1.",
        "approved, Scrutineer A, 2026-",
        round.packet_sha256.text(),
        &fingerprint(&signed.public),
        &check,
        "Nothing of what round 1 showed is recorded otherwise since.",
        "the approval lapses",
        "Main hoop and two lateral half hoops",
        "by the model",
        "no weld logged",
        "Compare it with what the shop told you",
    ] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    // another cage: the release and what was said of it are gone
    let mut record = example_record();
    record.gussets.clear();
    actions::recorded::cage::save(&house.office, build, 1, &record).await.unwrap();
    let sheet = office.get(SHEET).await.text;
    assert!(sheet.contains("nothing is released any more") && sheet.contains("Not as round 1 showed it"), "{sheet}");
    assert!(!sheet.contains("Released: Scrutineer A") && !sheet.contains("is recorded otherwise since"), "{sheet}");
}

#[tokio::test]
async fn what_ends_first_stands_first_and_what_is_over_says_so() {
    let house = House::new().await;
    issued(&house).await;
    let office = house.browser("office").await;
    for (item, ends) in [("spare lamp", "2031"), ("jack", "2030-02"), ("tow rope", "2001-03-04"), ("mirror", "")] {
        let label = [("item", item), ("standard", "norm 1"), ("serial", "11"), ("ends_printed", ends)];
        assert_eq!(office.post("/builds/pine-coupe/kit", &label).await.status, StatusCode::SEE_OTHER);
    }
    let sheet = office.get(SHEET).await.text;
    let at = |words: &str| sheet.find(words).unwrap_or_else(|| panic!("{words}: {sheet}"));
    assert!(at("2001-03-04: over") < at("2030-02-28") && at("2030-02-28") < at("2031-12-31"), "{sheet}");
    assert!(at("2031-12-31") < at("no rule speaks of it, no end is printed"), "{sheet}");
}
