//! Lowering a cage: planned, blocked until an early round's release of just those joints, looked under, up again.

use axum::http::StatusCode;
use tackbook::domain::derived::contents::Asks;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::hold::Hold;
use tackbook::domain::derived::release::Release;
use tackbook::domain::recorded::rounds::Round;

use crate::cage::{save, typed};
use crate::camera::{Phone, jpeg};
use crate::house::{Browser, House};
use crate::main_job::{begun, weigh};
use crate::paper;
use crate::rounds::approve;

const SHEET: &str = "/builds/pine-coupe/lowering";
const ROUNDS: &str = "/builds/pine-coupe/rounds";

async fn found(house: &House) -> Findings {
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today())
}

async fn open(browser: &Browser<'_>) -> String {
    browser.get("/builds/pine-coupe?see=all").await.text
}

/// A weighed and measured car whose cage is to be lowered, the roof measured over the header too.
async fn planned(house: &House) {
    begun(house).await;
    let floor = house.browser("fabricator").await;
    weigh(&floor, "740", "").await;
    assert_eq!(save(&floor, &typed("0")).await.status, StatusCode::SEE_OTHER);
    let plan = [("wanted", "yes"), ("room", "6 in"), ("over", "1/4"), ("roof_front", "43 1/4"), ("under", "610 mm")];
    assert_eq!(floor.post(SHEET, &plan).await.to, SHEET);
}

#[tokio::test]
async fn the_plan_follows_from_the_model_and_a_few_figures() {
    let house = House::new().await;
    begun(&house).await;
    let floor = house.browser("fabricator").await;
    assert!(floor.get(SHEET).await.text.contains("Measure the cage and its plates first"));
    save(&floor, &typed("0")).await;
    // Nobody wants it yet: shown as it would be, and not among the open items.
    let shown = floor.get(SHEET).await.text;
    assert!(shown.contains("Nobody said that this cage is lowered") && shown.contains(">6 in<"), "{shown}");
    assert!(!open(&floor).await.contains("Lowering is blocked"));
    // Not wanted is not released: its welds wait on the sheet and on paper.
    let printed = paper::words(&floor.get(&format!("{SHEET}.pdf")).await.bytes);
    let printed = printed.split_whitespace().collect::<Vec<_>>().join(" ");
    for (told, what) in [
        (&shown, "Weld these joints, and no others. <b>Waits for the release of"),
        (&printed, "BLOCKED: Weld these joints, and no others."),
    ] {
        assert!(told.contains("BLOCKED: these joints would be fully welded") && told.contains(what), "{told}");
        // Each hole says which way it lies and where its middle is, and the diagonals stand with both figures.
        for words in ["from straight ahead; the hole is longest that way.", "behind the plate", "their difference is"] {
            assert!(told.contains(words), "{words}: {told}");
        }
    }
    let wrong = [("wanted", "yes"), ("room", "a hand"), ("over", "3 in"), ("under", "1 mm")];
    let answer = floor.post(SHEET, &wrong).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in ["value=\"a hand\"", "value=\"3 in\"", "value=\"1 mm\"", "does not read as a length"] {
        assert!(answer.text.contains(words), "{words}: {}", answer.text);
    }
    let low = [("wanted", "yes"), ("room", "6 in"), ("over", "1/4 in"), ("under", "4 in")];
    assert_eq!(floor.post(SHEET, &low).await.to, SHEET);
    // The example's feet stand on plates 1/4 to 1/2 in over the floor: 6 in down, 5 3/4 in below it.
    let shown = floor.get(SHEET).await.text;
    for words in ["5 3/4 in", "the car stands 1 3/4 in too low", "BLOCKED", "not measured here", "Not looked under"] {
        assert!(shown.contains(words), "{words}: {shown}");
    }
    let open = open(&floor).await;
    for words in
        ["Lowering is blocked", "The car stands 1 3/4 in too low", "Look under the floor where the hole is cut"]
    {
        assert!(open.contains(words), "{words}: {open}");
    }
    let pdf = floor.get("/builds/pine-coupe/lowering.pdf").await.bytes;
    paper::check(&pdf);
    let words = paper::words(&pdf);
    for word in
        ["Lowering plan", "Order of work", "Holes in the floor", "The way back up", "BLOCKED", "approves nothing"]
    {
        assert!(words.contains(word), "{word}: {words}");
    }
}

/// Round 1, which asks for the release of just these joints: what its packet says and what it freezes.
async fn asked_early(house: &House, office: &Browser<'_>, joints: &[String]) -> Round {
    let draft = office.get("/builds/pine-coupe/packet.pdf?asks=lowering").await.bytes;
    assert!(paper::words(&draft).contains("This, and nothing else"));
    let issued = office.post(ROUNDS, &[("key", "early"), ("asks", "lowering")]).await;
    assert_eq!(issued.to, format!("{ROUNDS}#now"), "{}", issued.text);
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let round = house.store.rounds(build).await.unwrap().remove(0);
    let asks = Asks::of(&round).joints();
    assert_eq!(asks.keys().map(ToString::to_string).collect::<Vec<_>>(), joints, "frozen in the round");
    let packet = office.get("/builds/pine-coupe/rounds/1/packet.pdf").await.bytes;
    paper::check(&packet);
    let words = paper::words(&packet);
    for word in
        ["This, and nothing else", "What is asked: welding while lowered", "no others, may be welded while the cage is"]
    {
        assert!(words.contains(word), "{word}");
    }
    assert!(!words.contains("may be fully welded"), "an early round does not ask about the whole cage");
    round
}

#[tokio::test]
async fn only_the_release_of_just_those_joints_unblocks_it_and_the_cage_stays_held() {
    let house = House::new().await;
    planned(&house).await;
    let (office, floor) = (house.browser("office").await, house.browser("fabricator").await);
    assert_eq!(found(&house).await.release, Release::NotAsked);
    let joints: Vec<String> =
        found(&house).await.worked.lowering.unwrap().welds.iter().map(|weld| weld.joint.to_string()).collect();
    let round = asked_early(&house, &office, &joints).await;
    assert_eq!(found(&house).await.release, Release::Waits(1));
    // Answered joint by joint; what the round did not ask for, or none at all, is refused and kept as typed.
    let scrutineer = house.browser("scrutineer").await;
    let sha256 = round.packet_sha256.text().to_owned();
    let reply = |joints: &[String]| {
        let mut pairs = vec![("packet_sha256".to_owned(), sha256.clone())];
        pairs.extend([
            ("decision".to_owned(), "approved".to_owned()),
            ("given_by".to_owned(), "scrutineer A".to_owned()),
        ]);
        pairs.extend(joints.iter().map(|joint| ("released".to_owned(), joint.clone())));
        pairs
    };
    let send = async |pairs: Vec<(String, String)>| {
        let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        scrutineer.post("/builds/pine-coupe/rounds/1/reply", &pairs).await
    };
    for (joints, why) in [(vec![], "Tick the joints that were released"), (vec!["J39".to_owned()], "does not ask for")]
    {
        let answer = send(reply(&joints)).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(answer.text.contains(why) && answer.text.contains("scrutineer A"), "{why}: {}", answer.text);
    }
    // All but one: recorded, and the plan still stands.
    let confirmed = async |pairs: Vec<(String, String)>| {
        let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        approve(&scrutineer, "/builds/pine-coupe/rounds/1/reply", &pairs).await
    };
    assert_eq!(confirmed(reply(&joints[1..])).await.status, StatusCode::SEE_OTHER);
    let now = found(&house).await;
    let Release::Partly { given, missing } = &now.release else { panic!("{:?}", now.release) };
    assert_eq!(missing.iter().map(ToString::to_string).collect::<Vec<_>>(), joints[..1]);
    assert_eq!((given.joints.len(), &now.hold), (joints.len() - 1, &Hold::JointsOnly(1)));
    assert_eq!(confirmed(reply(&joints)).await.status, StatusCode::SEE_OTHER);
    assert!(matches!(found(&house).await.release, Release::Given(given) if given.round == 1));
    let sheet = floor.get(SHEET).await.text;
    assert!(
        sheet.contains("HELD: tacks only. scrutineer A released") && sheet.contains("and nothing else."),
        "{sheet}"
    );
    assert!(!open(&floor).await.contains("Lowering is blocked"));
    // A later round about the whole cage takes nothing back.
    office.post(ROUNDS, &[("key", "whole"), ("asks", "cage")]).await;
    let now = found(&house).await;
    assert_eq!((now.hold, now.release.blocks()), (Hold::Waiting(2), false));
    assert!(floor.get(SHEET).await.text.contains("But scrutineer A released"));
    // What was shown is not so any more: blocked again.
    let mut again = typed("1");
    for pair in again.iter_mut().filter(|pair| pair.0 == "screen_corner_up_left") {
        pair.1 = "41".to_owned();
    }
    assert_eq!(save(&floor, &again).await.status, StatusCode::SEE_OTHER);
    let now = found(&house).await;
    assert!(matches!(&now.release, Release::Lapsed { round: 1, .. }), "{:?}", now.release);
    // The strip says the same as the plan: no joint is named as released any more.
    let sheet = floor.get(SHEET).await.text;
    assert!(sheet.contains("BLOCKED: not as released in round 1.") && sheet.contains("is held again"), "{sheet}");
    assert!(!sheet.contains("scrutineer A released") && open(&floor).await.contains("Lowering is blocked: not as"));
}

#[tokio::test]
async fn each_hole_is_ticked_off_by_a_person_with_a_photograph() {
    let house = House::new().await;
    planned(&house).await;
    let floor = house.browser("fabricator").await;
    let plates: Vec<String> =
        found(&house).await.worked.lowering.unwrap().holes.iter().map(|hole| hole.plate.to_string()).collect();
    assert_eq!(plates.len(), 4);
    let looks = |plate: &str| format!("{SHEET}/looks/{plate}");
    let all = ["lines", "tank", "harness", "frame", "exhaust", "other"].map(|key| ("ticked", key));
    // Half a list is kept and does not count.
    let some = [("ticked", "lines"), ("note_P1", "line clipped up")];
    assert_eq!(floor.post(&looks(&plates[0]), &some).await.to, format!("{SHEET}#{}", plates[0]));
    let sheet = floor.get(SHEET).await.text;
    assert!(sheet.contains("line clipped up") && sheet.contains("○ Not looked under"), "{sheet}");
    for plate in &plates {
        assert_eq!(floor.post(&looks(plate), &all).await.status, StatusCode::SEE_OTHER);
    }
    let sheet = floor.get(SHEET).await.text;
    assert_eq!(sheet.matches("■ Looked under").count(), 4, "{sheet}");
    assert!(sheet.contains("fabricator, 2026-05-04"));
    assert!(!open(&floor).await.contains("Look under the floor"));
    assert_eq!(floor.post(&looks("P99"), &all).await.status, StatusCode::NOT_FOUND);
    let unknown = floor.post(&looks(&plates[0]), &[("ticked", "paint")]).await;
    assert_eq!(unknown.status, StatusCode::UNPROCESSABLE_ENTITY);
    // The photograph from below is a shot of the walk.
    let shot = format!("{} under-the-hole", plates[0]);
    assert!(found(&house).await.worked.shots.iter().any(|asked| asked.name() == shot && !asked.taken()));
    Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" }
        .keep(&jpeg(7), &shot)
        .await;
    assert!(found(&house).await.worked.shots.iter().any(|asked| asked.name() == shot && asked.taken()));
    // A foot that is measured elsewhere has a hole that nobody looked under.
    let mut again = typed("1");
    for pair in again.iter_mut().filter(|pair| pair.0 == "hoop_feet_width") {
        pair.1 = "46".to_owned();
    }
    assert_eq!(save(&floor, &again).await.status, StatusCode::SEE_OTHER);
    assert_eq!(floor.get(SHEET).await.text.matches("▲ The hole moved since").count(), 2);
}

/// A tick stands for its own step and for the plan it was made for: the way back up makes nothing else done.
#[tokio::test]
async fn a_tick_stands_for_its_own_step_and_its_own_plan() {
    let house = House::new().await;
    planned(&house).await;
    let floor = house.browser("fabricator").await;
    let looks = |place: &str| format!("{SHEET}/looks/{place}");
    let up = ["plates", "feet", "heights", "square"].map(|key| ("ticked", key));
    assert_eq!(floor.post(&looks("up"), &up).await.status, StatusCode::SEE_OTHER);
    let sheet = floor.get(SHEET).await.text;
    assert!(!sheet.contains("<b>done:</b>"), "{sheet}");
    assert!(sheet.contains("<b>ticked before its turn:</b> Bring the cage up"), "{sheet}");
    let list = open(&floor).await;
    for words in [
        "Lowering is blocked",
        "Look under the floor where the hole is cut",
        "the cage standing on its plates again is ticked, and this is not there: the cage let down, the joints welded",
        "Lowering, 0 of 9 steps done; next: Tack these bars",
    ] {
        assert!(list.contains(words), "{words}: {list}");
    }
    // Each of the others by its own tick, and back again; the release and the looks have none.
    for place in ["tack", "stand"] {
        assert_eq!(floor.post(&looks(place), &[("ticked", "done")]).await.to, format!("{SHEET}#{place}"));
    }
    for place in ["release", "look", "paint"] {
        assert_eq!(floor.post(&looks(place), &[("ticked", "done")]).await.status, StatusCode::NOT_FOUND, "{place}");
    }
    assert_eq!(floor.post(&looks("cut"), &[("ticked", "lines")]).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(floor.get(SHEET).await.text.matches("<b>done:</b>").count(), 2);
    assert_eq!(floor.post(&looks("cut"), &[("ticked", "done")]).await.status, StatusCode::SEE_OTHER);
    let sheet = floor.get(SHEET).await.text;
    assert!(sheet.contains("<b>Not there: the release, the look under each hole.</b>"), "{sheet}");
    let printed = paper::words(&floor.get("/builds/pine-coupe/lowering.pdf").await.bytes);
    assert!(printed.contains("TICKED BEFORE ITS TURN"), "{printed}");
    assert_eq!(floor.post(&looks("cut"), &[]).await.status, StatusCode::SEE_OTHER);
    assert_eq!(floor.get(SHEET).await.text.matches("<b>ticked before its turn:</b>").count(), 1);
    // Another plan: what was ticked for the one before counts no more, and says so.
    let plan = [("wanted", "yes"), ("room", "7 in"), ("over", "1/4"), ("roof_front", "43 1/4"), ("under", "610 mm")];
    assert_eq!(floor.post(SHEET, &plan).await.to, SHEET);
    let sheet = floor.get(SHEET).await.text;
    assert!(!sheet.contains("<b>done:</b>"), "{sheet}");
    assert_eq!(sheet.matches("Ticked for an earlier plan, which does not count").count(), 4, "{sheet}");
    assert!(open(&floor).await.contains("the bars tacked was ticked for an earlier plan"));
}
