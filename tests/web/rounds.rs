//! The reply to a round: what is open is passed over in words or not at all, and only what the round showed is spoken of.

use axum::http::StatusCode;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::hold::Hold;
use tackbook::domain::words::ids::BuildId;

use crate::house::{Answer, Browser, House};
use crate::main_job::{begun, weigh};

const REPLY: &str = "/builds/pine-coupe/rounds/1/reply";

/// What stands open in the answer's list, by its fingerprint.
fn listed(answer: &Answer) -> String {
    let after = answer.text.split("name=\"despite\" value=\"").nth(1).unwrap_or_default();
    after.split('"').next().unwrap_or_default().to_owned()
}

/// Sends an approval, reads the list of what is open that comes back, and confirms it.
pub(crate) async fn approve(browser: &Browser<'_>, to: &str, pairs: &[(&str, &str)]) -> Answer {
    let first = browser.post(to, pairs).await;
    assert_eq!(first.status, StatusCode::UNPROCESSABLE_ENTITY, "something is open, and nobody asked");
    let read = listed(&first);
    let mut pairs = pairs.to_vec();
    pairs.extend([("despite", read.as_str()), ("despite_words", "Seen at the car.")]);
    browser.post(to, &pairs).await
}

async fn issued(house: &House) -> (BuildId, String) {
    begun(house).await;
    let office = house.browser("office").await;
    weigh(&house.browser("fabricator").await, "661", "").await;
    office.post("/builds/pine-coupe/rounds", &[("key", "one")]).await;
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    (build, house.store.rounds(build).await.unwrap().remove(0).packet_sha256.text().to_owned())
}

#[tokio::test]
async fn approving_over_what_is_open_is_confirmed_in_words_and_recorded() {
    let house = House::new().await;
    let (build, sha256) = issued(&house).await;
    let scrutineer = house.browser("scrutineer").await;
    let found = async || Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today());
    let yes = [
        ("packet_sha256", sha256.as_str()),
        ("decision", "approved"),
        ("given_by", "scrutineer A"),
        ("words", "go on"),
    ];
    // Nothing is recorded by the first press: the list comes back, with what was typed.
    let asked = scrutineer.post(REPLY, &yes).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in [
        "Still open in this round",
        "Photographs missing, ",
        "Not measured, ",
        "Nothing is recorded yet",
        "scrutineer A",
        "go on",
    ] {
        assert!(asked.text.contains(words), "{words}: {}", asked.text);
    }
    assert_eq!(found().await.hold, Hold::Waiting(1));
    // Ticked without a word, or another list ticked: neither is a confirmation.
    let read = listed(&asked);
    let other = "0".repeat(64);
    for (read, words, why) in
        [(read.as_str(), " ", "Write why it is approved all the same"), (other.as_str(), "so", "is not what was read")]
    {
        let mut pairs = yes.to_vec();
        pairs.extend([("despite", read), ("despite_words", words)]);
        let answer = scrutineer.post(REPLY, &pairs).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(answer.text.contains(why), "{why}: {}", answer.text);
    }
    assert!(house.store.replies(build).await.unwrap().is_empty());
    // Confirmed: the list and the words are kept with the reply, in the log and on the sheet.
    assert_eq!(approve(&scrutineer, REPLY, &yes).await.status, StatusCode::SEE_OTHER);
    assert!(matches!(found().await.hold, Hold::Released { round: 1, .. }), "{:?}", found().await.changes);
    let replies = house.store.replies(build).await.unwrap();
    let despite = replies[0].despite.as_ref().unwrap();
    assert!(
        despite.words == "Seen at the car." && despite.open.iter().any(|line| line.starts_with("Photographs missing"))
    );
    let sheet = scrutineer.get("/builds/pine-coupe/rounds").await.text;
    assert!(sheet.contains("still open: “Seen at the car.”"), "{sheet}");
    let log = house.store.log_of_build(build, 5).await.unwrap();
    assert!(log.iter().any(|entry| entry.what.contains("approved, though") && entry.what.contains("still open.")));
}

#[tokio::test]
async fn a_reply_about_what_the_round_does_not_show_is_refused_and_kept() {
    let house = House::new().await;
    let (build, sha256) = issued(&house).await;
    let scrutineer = house.browser("scrutineer").await;
    let ask = |about: &'static str| {
        [
            ("packet_sha256", sha256.as_str()),
            ("decision", "not yet"),
            ("given_by", "scrutineer A"),
            ("about_3", about),
            ("asked_3", "Which <bar>?"),
        ]
    };
    for about in ["J77", "K9", "Q4", "P1"] {
        let answer = scrutineer.post(REPLY, &ask(about)).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{about}");
        for words in
            [format!("{about} is not in round 1."), format!("value=\"{about}\""), "Which &#60;bar&#62;?".to_owned()]
        {
            assert!(answer.text.contains(&words), "{words}: {}", answer.text);
        }
    }
    assert!(house.store.replies(build).await.unwrap().is_empty());
    // What it shows, and the whole car, can be asked about.
    assert_eq!(scrutineer.post(REPLY, &ask("W1")).await.status, StatusCode::SEE_OTHER);
    assert_eq!(scrutineer.post(REPLY, &ask("C1")).await.status, StatusCode::SEE_OTHER);
}
