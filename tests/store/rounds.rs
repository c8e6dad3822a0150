//! Rounds and replies: issued wholly or not at all, once, and only a yes to the newest releases the hold.

use tackbook::actions::{self, ActionError};
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::hold::Hold;
use tackbook::domain::recorded::rounds::Decision;
use tackbook::domain::shop::people::Role;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::BuildId;
use tackbook::store::vault::Item;

use crate::house::{House, jpeg, reply_to};
use crate::kept::kept;

/// How the hold point stands by what is recorded.
async fn hold(house: &House, build: BuildId) -> Hold {
    Findings::of(&house.office.store.facts(build).await.unwrap(), house.office.clock.today()).hold
}

#[tokio::test]
async fn promise_4_pressing_twice_gives_one_round_whose_packet_never_changes() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let issue = house.issue(build, 1, &[]).await;
    let packet = issue.packet.clone();
    let mut pressing = tokio::task::JoinSet::new();
    for _ in 0..8 {
        let (ctx, issue) = (house.office.clone(), issue.clone());
        pressing.spawn(async move { actions::recorded::rounds::issue(&ctx, build, issue).await.unwrap() });
    }
    let rounds = pressing.join_all().await;
    let later = actions::recorded::rounds::issue(&house.office, build, issue).await.unwrap();
    assert!(rounds.iter().all(|round| *round == later), "{rounds:?}");
    assert_eq!(house.office.store.rounds(build).await.unwrap(), std::slice::from_ref(&later));
    let log = house.office.store.log_of_build(build, 100).await.unwrap();
    assert_eq!(log.iter().filter(|entry| entry.what == "Round 1 was issued.").count(), 1);
    // another round of another packet: the first one's is what it was
    let second = house.round(build, 2, &[]).await;
    assert_ne!(second.packet_sha256, later.packet_sha256);
    assert_eq!(kept(&house.office.store, Item::Packet(later.packet_sha256)).await.unwrap(), packet);
    let mut behind = house.behind_its_back().await;
    for change in ["DELETE FROM rounds", "UPDATE rounds SET packet_sha256 = 'x'"] {
        assert!(sqlx::query(change).execute(&mut behind).await.is_err(), "{change}");
    }
}

#[tokio::test]
async fn two_people_issuing_at_once_get_one_round_and_one_is_told() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let (one, other) = (house.issue(build, 1, &[]).await, house.issue(build, 1, &[]).await);
    let (first, second) = tokio::join!(
        actions::recorded::rounds::issue(&house.office, build, one),
        actions::recorded::rounds::issue(&house.office, build, other)
    );
    let told = [first, second].into_iter().filter(|said| matches!(said, Err(ActionError::Stale { .. }))).count();
    assert_eq!((told, house.office.store.rounds(build).await.unwrap().len()), (1, 1));
}

#[tokio::test]
async fn a_build_that_moved_since_the_contents_were_gathered_is_not_issued() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let issue = house.issue(build, 1, &[]).await;
    house.photo(build, &jpeg(1, 100)).await;
    let said = actions::recorded::rounds::issue(&house.office, build, issue).await;
    let now = house.office.store.as_of(build).await.unwrap();
    assert!(matches!(said, Err(ActionError::Stale { now: told }) if told == now), "{said:?}");
    assert!(house.office.store.rounds(build).await.unwrap().is_empty());
}

#[tokio::test]
async fn a_key_of_another_build_issues_nothing() {
    let house = House::open().await;
    let (build, other) = (house.build("Pine Coupe").await.id, house.build("Elm Saloon").await.id);
    let issue = house.issue(build, 1, &[]).await;
    actions::recorded::rounds::issue(&house.office, build, issue.clone()).await.unwrap();
    let said = actions::recorded::rounds::issue(&house.office, other, issue).await;
    assert!(matches!(said, Err(ActionError::NotFound("round"))), "{said:?}");
    assert!(house.office.store.rounds(other).await.unwrap().is_empty());
}

#[tokio::test]
async fn a_photo_that_a_round_shows_stays() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let (shown, _) = house.photo(build, &jpeg(1, 100)).await;
    let (unshown, _) = house.photo(build, &jpeg(2, 100)).await;
    house.round(build, 1, &[Fingerprint::of(&jpeg(1, 100))]).await;
    let said = actions::recorded::photos::withdraw(&house.office, build, shown, "blurred").await;
    assert!(matches!(&said, Err(ActionError::Held(why)) if why.contains("Round 1")), "{said:?}");
    assert_eq!(house.office.store.photo(build, shown).await.unwrap().unwrap().withdrawn, None);
    actions::recorded::photos::withdraw(&house.office, build, unshown, "blurred").await.unwrap();
}

#[tokio::test]
async fn only_a_yes_to_the_newest_round_releases_the_hold() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let hold = async || hold(&house, build).await;
    assert_eq!(hold().await, Hold::NothingIssued);
    let first = house.round(build, 1, &[]).await;
    assert_eq!(hold().await, Hold::Waiting(1));
    actions::recorded::rounds::reply(&house.office, build, reply_to(&first, Decision::NotYet)).await.unwrap();
    assert_eq!(hold().await, Hold::NotYet(1));
    let second = house.round(build, 2, &[]).await;
    actions::recorded::rounds::reply(&house.office, build, reply_to(&first, Decision::Approved)).await.unwrap();
    assert_eq!(hold().await, Hold::Waiting(2), "a yes to a superseded round is kept and releases nothing");
    assert_eq!(house.office.store.replies(build).await.unwrap().len(), 2);
    actions::recorded::rounds::reply(&house.office, build, reply_to(&second, Decision::Approved)).await.unwrap();
    assert!(matches!(hold().await, Hold::Released { round: 2, .. }));
    actions::recorded::rounds::reply(&house.office, build, reply_to(&second, Decision::NotYet)).await.unwrap();
    assert_eq!(hold().await, Hold::NotYet(2), "the scrutineer may take a yes back");
}

#[tokio::test]
async fn a_reply_with_another_packets_fingerprint_is_refused() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let first = house.round(build, 1, &[]).await;
    let second = house.round(build, 2, &[]).await;
    let mut reply = reply_to(&second, Decision::Approved);
    reply.packet_sha256 = first.packet_sha256;
    let said = actions::recorded::rounds::reply(&house.office, build, reply).await;
    assert!(matches!(&said, Err(ActionError::Refused(faults)) if faults.len() == 1), "{said:?}");
    assert_eq!(hold(&house, build).await, Hold::Waiting(2));
}

/// The roles table of the design: who may issue, reply and see rounds (written out here a second time, by hand).
#[tokio::test]
async fn roles_may_do_what_the_table_says_and_no_more() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let round = house.round(build, 1, &[]).await;
    for (name, role, issues, replies, records, runs) in [
        ("Fabricator", Role::Fabricator, false, false, true, false),
        ("Scrutineer", Role::Scrutineer, false, true, false, false),
        ("Second office", Role::Office, true, true, true, true),
    ] {
        let ctx = house.with(name, role).await;
        let not_allowed = |error: ActionError| assert!(matches!(error, ActionError::NotAllowed), "{name}: {error:?}");
        let next = u32::try_from(house.office.store.rounds(build).await.unwrap().len()).unwrap() + 1;
        let issue = house.issue(build, next, &[]).await;
        let issued = actions::recorded::rounds::issue(&ctx, build, issue).await.map(|_| ()).map_err(not_allowed);
        let replied = actions::recorded::rounds::reply(&ctx, build, reply_to(&round, Decision::NotYet)).await;
        let replied = replied.map(|_| ()).map_err(not_allowed);
        let asked = actions::recorded::questions::ask(&ctx, build, None, "Why?").await.map(|_| ()).map_err(not_allowed);
        let added =
            actions::shop::people::add(&ctx, &format!("{name}'s friend"), Role::Office, crate::house::PASSWORD).await;
        let added = added.map(|_| ()).map_err(not_allowed);
        let got = [issued.is_ok(), replied.is_ok(), asked.is_ok(), added.is_ok()];
        assert_eq!(got, [issues, replies, records, runs], "{name}");
    }
}
