//! The whole main job, from four pads to a released hold, on the real router.

use axum::http::StatusCode;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::hold::Hold;

use crate::cage::{save, typed};
use crate::camera::{Phone, jpeg};
use crate::house::{Browser, House};
use crate::paper;
use crate::rounds::approve;

const TICKS: [&str; 4] = ["tank at half", "crew out", "loose gear out", "stage wheels on"];

/// A build with the demo's book and an event day, begun by the office.
pub(crate) async fn begun(house: &House) {
    let office = house.browser("office").await;
    office.post("/books", &[("toml", include_str!("../../src/demo/book.toml"))]).await;
    let id = house.store.books().await.unwrap().first().unwrap().id.to_string();
    let begun = office.post("/builds/new", &[("name", "Pine Coupe"), ("book", &id), ("event_day", "2026-09-12")]).await;
    assert_eq!(begun.to, "/builds/pine-coupe");
}

/// Weighs the car, all but the left front pad standing at 2,204 lb; `cage_in` as ticked.
pub(crate) async fn weigh(browser: &Browser<'_>, left_front: &str, cage_in: &str) {
    let mut pads =
        vec![("left_front", left_front), ("right_front", "741"), ("left_rear", "730"), ("right_rear", "733")];
    pads.extend([("resolution", "1 lb"), ("cage_in", cage_in)]);
    pads.extend(TICKS.map(|tick| ("condition", tick)));
    assert_eq!(browser.post("/builds/pine-coupe/weigh-in", &pads).await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
#[expect(clippy::too_many_lines, reason = "one job from end to end")]
async fn from_four_pads_to_a_released_hold() {
    let house = House::new().await;
    begun(&house).await;
    let office = house.browser("office").await;
    let fabricator = house.browser("fabricator").await;
    // Weighed: the tube follows.
    weigh(&fabricator, "740", "").await;
    // Measured: the cage follows, and with it what must be photographed.
    assert_eq!(save(&fabricator, &typed("0")).await.status, StatusCode::SEE_OTHER);
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let found = async || Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today());
    let before = found().await;
    assert!(before.worked.tubes_asked && before.worked.shots.len() > 80);
    let open = office.get("/builds/pine-coupe?see=all").await.text;
    assert!(open.contains("Photograph") && open.contains("Say which sticks"), "{open}");
    // Photographed: three joints, the read-out.
    let phone = Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    let wanted: Vec<String> =
        before.worked.shots.iter().take(6).map(tackbook::domain::judge::shots::Shot::name).collect();
    for (seed, shot) in (1..).zip(&wanted) {
        phone.keep(&jpeg(seed), shot).await;
    }
    assert_eq!(found().await.worked.taken(), 6);
    // The fabricator may look at the draft; only the office issues.
    let draft = fabricator.get("/builds/pine-coupe/packet.pdf").await.bytes;
    assert!(paper::words(&draft).contains("DRAFT: not issued"));
    assert_eq!(fabricator.post("/builds/pine-coupe/rounds", &[("key", "one")]).await.status, StatusCode::NOT_FOUND);
    for _ in 0..2 {
        let issued = office.post("/builds/pine-coupe/rounds", &[("key", "one")]).await;
        assert_eq!(issued.to, "/builds/pine-coupe/rounds#now", "{}", issued.text);
    }
    let rounds = house.store.rounds(build).await.unwrap();
    assert_eq!(rounds.len(), 1, "pressing twice gives one round");
    let scrutineer = house.browser("scrutineer").await;
    let packet = scrutineer.get("/builds/pine-coupe/rounds/1/packet.pdf").await.bytes;
    paper::keep(&packet);
    paper::check(&packet);
    let words = paper::words(&packet);
    for word in
        ["Round 1", "HELD: tacks only", "2,944 lb", "NO PHOTO", "J1 ", "Reply", "not yet", "SHA-256", "fully welded?"]
    {
        assert!(words.contains(word), "{word}");
    }
    assert!(!words.contains("DRAFT"));
    assert_eq!(paper::pictures(&packet), 6);
    // The photographs stand in it as they are kept for print, byte for byte: no second compression.
    let inside = paper::jpegs(&packet);
    for photo in &house.store.facts(build).await.unwrap().photos {
        let print = office.get(&format!("/builds/pine-coupe/photos/{}/print", photo.sha256)).await.bytes;
        assert!(inside.contains(&print), "{}", photo.sha256);
    }
    // Not yet: a question on a joint; answered, a second round says what changed.
    let sha256 = rounds[0].packet_sha256.text().to_owned();
    let reply = [
        ("packet_sha256", sha256.as_str()),
        ("decision", "not yet"),
        ("given_by", "the league's scrutineer"),
        ("about_1", "J2"),
        ("kind_1", "question"),
        ("asked_1", "Which bar runs through?"),
    ];
    assert_eq!(office.post("/builds/pine-coupe/rounds/1/reply", &reply).await.status, StatusCode::SEE_OTHER);
    assert_eq!(found().await.hold, Hold::NotYet(1));
    let open = office.get("/builds/pine-coupe?see=all").await.text;
    assert!(open.contains("Answer the scrutineer: Which bar runs through?"), "{open}");
    // Taken again; where something stands in; at a shot that is none.
    let stand_in = before.worked.stand_ins.first().unwrap().name();
    for (seed, shot) in [(40, wanted[0].as_str()), (41, &stand_in), (42, "J999 joint-tacked")] {
        phone.keep(&jpeg(seed), shot).await;
    }
    assert_eq!(office.post("/builds/pine-coupe/rounds", &[("key", "two")]).await.status, StatusCode::SEE_OTHER);
    let second = scrutineer.get("/builds/pine-coupe/rounds/2/packet.pdf").await.bytes;
    assert!(paper::words(&second).contains("photographed again: 1 more"));
    for word in ["Which bar runs through?", "taken before it", "not asked for"] {
        assert!(paper::words(&second).contains(word), "{word}");
    }
    assert_eq!(paper::pictures(&second), 9, "every photograph stands in it");
    // A reply to the old round is kept and releases nothing; one to the newest does.
    let mut late = reply;
    late[1].1 = "approved";
    approve(&office, "/builds/pine-coupe/rounds/1/reply", &late[..3]).await;
    assert_eq!(found().await.hold, Hold::Waiting(2));
    let sha256 = house.store.rounds(build).await.unwrap()[1].packet_sha256.text().to_owned();
    let yes = [("packet_sha256", sha256.as_str()), ("decision", "approved"), ("given_by", "the league's scrutineer")];
    let approved = approve(&scrutineer, "/builds/pine-coupe/rounds/2/reply", &yes).await;
    assert_eq!(approved.status, StatusCode::SEE_OTHER);
    assert!(matches!(found().await.hold, Hold::Released { round: 2, .. }));
    assert!(found().await.changes.is_empty());
    assert!(
        office.get("/builds/pine-coupe").await.text.contains("Released: the league&#39;s scrutineer approved round 2")
    );
    // What is released is welded now: its caution stands there, and only then.
    let welding = async || {
        let sheet = office.get("/builds/pine-coupe/rounds").await.text.replace("&#39;", "'");
        sheet.contains(tackbook::domain::words::cautions::WELDING)
    };
    assert!(welding().await);
    // A change to what was approved shows as one.
    let mut again = typed("1");
    for pair in again.iter_mut().filter(|pair| pair.0 == "hoop_roof_height") {
        pair.1 = "43 1/2".to_owned();
    }
    assert_eq!(save(&fabricator, &again).await.status, StatusCode::SEE_OTHER);
    assert!(!found().await.changes.is_empty());
    let lapsed = office.get("/builds/pine-coupe?see=all").await.text;
    assert!(lapsed.contains("since the scrutineer approved round 2, which releases nothing any more"), "{lapsed}");
    assert!(lapsed.contains("HELD: tacks only.") && !lapsed.contains("Released:"), "{lapsed}");
    assert!(!welding().await);
}

#[tokio::test]
async fn a_reply_that_lacks_its_decision_keeps_what_was_typed() {
    let house = House::new().await;
    begun(&house).await;
    let office = house.browser("office").await;
    office.post("/builds/pine-coupe/rounds", &[("key", "one")]).await;
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let sha256 = house.store.rounds(build).await.unwrap()[0].packet_sha256.text().to_owned();
    let typed =
        [("packet_sha256", sha256.as_str()), ("about_1", "X9"), ("asked_1", "Show <b>me</b>"), ("given_by", "")];
    let answer = office.post("/builds/pine-coupe/rounds/1/reply", &typed).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in
        ["Choose what the scrutineer decided.", "A number of the packet", "X9", "Show &#60;b&#62;me&#60;/b&#62;"]
    {
        assert!(answer.text.contains(words), "{words}: {}", answer.text);
    }
    // Without a cage and without a weigh-in a packet is still sound, and says what is missing.
    let packet = office.get("/builds/pine-coupe/rounds/1/packet.pdf").await.bytes;
    paper::check(&packet);
    assert!(paper::words(&packet).contains("The car was not weighed yet."));
}
