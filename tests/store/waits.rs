//! What is waited for: kept through restarts, ended once, never by another line; and a shop from before it could be ended.

use tackbook::actions::recorded::notes;
use tackbook::actions::{self, ActionError};
use tackbook::domain::recorded::notes::NewNote;
use tackbook::domain::recorded::notes::Note;
use tackbook::domain::shop::people::Role;
use tackbook::domain::words::ids::BuildId;

use crate::house::House;

async fn wait_for(house: &House, build: BuildId, on: &str) -> Note {
    let day = house.office.clock.today();
    let new = NewNote { day, text: "Ordered.".to_owned(), hours: None, cost: None, waiting_on: on.to_owned() };
    notes::add(&house.office, build, new).await.unwrap()
}

/// What is still waited for, the newest line first.
async fn waited_for(house: &House, build: BuildId) -> Vec<String> {
    let notes = house.office.store.notes(build).await.unwrap();
    notes.iter().filter_map(Note::waits_on).map(str::to_owned).collect()
}

#[tokio::test]
async fn several_waits_stand_and_each_is_ended_once() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let (bushes, plate) = (wait_for(&house, build, "bushes").await, wait_for(&house, build, "plate").await);
    let swept = wait_for(&house, build, " ").await;
    assert_eq!(waited_for(&house, build).await, ["plate", "bushes"]);
    // Two people at once: one end, one entry.
    let fabricator = house.with("Fabricator", Role::Fabricator).await;
    let entries = house.office.store.verify_log().await.unwrap().entries;
    let both = tokio::join!(
        notes::end_wait(&house.office, build, bushes.id, "came"),
        notes::end_wait(&fabricator, build, bushes.id, "lost"),
    );
    assert_eq!(both.0.unwrap(), both.1.unwrap());
    assert_eq!(house.office.store.verify_log().await.unwrap().entries, entries + 1);
    // A line of another build, one that waits for nothing, and who may not.
    let other = house.build("Elm Saloon").await.id;
    for (build, line) in [(other, plate.id), (build, swept.id)] {
        let said = notes::end_wait(&house.office, build, line, "").await;
        assert!(matches!(said, Err(ActionError::NotFound(_))), "{said:?}");
    }
    let scrutineer = house.with("Scrutineer", Role::Scrutineer).await;
    assert!(notes::end_wait(&scrutineer, build, plate.id, "").await.is_err());
    let house = house.restarted().await;
    assert_eq!(waited_for(&house, build).await, ["plate"]);
    // Nothing takes an end back or away.
    let mut behind = house.behind_its_back().await;
    for change in ["DELETE FROM waits_ended", "UPDATE waits_ended SET how = 'never'"] {
        assert!(sqlx::query(change).execute(&mut behind).await.is_err(), "{change}");
    }
}

/// A shop of the program before this one: its lines, read by this one, all wait still, whatever was written after them.
#[tokio::test]
async fn lines_from_before_waits_could_be_ended_still_wait() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    for on in ["third gear", "", "bushes", ""] {
        wait_for(&house, build, on).await;
    }
    let mut behind = house.behind_its_back().await;
    for back in ["DROP TABLE waits_ended", "DELETE FROM _sqlx_migrations WHERE description = 'waits ended'"] {
        let done = sqlx::query(back).execute(&mut behind).await.unwrap();
        assert!(back.starts_with("DROP") || done.rows_affected() == 1, "{back}");
    }
    drop(behind);
    let house = house.restarted().await;
    assert_eq!(waited_for(&house, build).await, ["bushes", "third gear"]);
    let line = house.office.store.notes(build).await.unwrap().pop().unwrap();
    let ended = actions::recorded::notes::end_wait(&house.office, build, line.id, "from the breaker").await.unwrap();
    let ended = ended.waits.unwrap().ended.unwrap();
    assert_eq!(
        (ended.how.as_str(), ended.by.as_str(), ended.at),
        ("from the breaker", "Office", house.office.clock.now())
    );
    assert_eq!(waited_for(&house, build).await, ["bushes"]);
}
