//! The log's chain, and the triggers that keep evidence from being changed.

use tackbook::actions;
use tackbook::actions::Context;
use tackbook::actions::recorded::photos::Finished;

use crate::house::{House, approved, clock_after, jpeg};

#[tokio::test]
async fn each_entry_follows_from_the_one_before() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await;
    house.photo(build.id, &jpeg(1, 100)).await;
    let check = house.office.store.verify_log().await.unwrap();
    let entries = house.office.store.log(100).await.unwrap();
    assert_eq!((check.broken_at, check.entries), (None, i64::try_from(entries.len()).unwrap()));
    assert_eq!(check.head, entries.first().unwrap().hash);
    assert_eq!(entries.first().unwrap().what, "A photo was received.");
}

/// SHA-256 of what an entry covers, worked out here by hand from the documented form.
async fn rows_of(house: &House, entry: i64) -> String {
    let lines: Vec<String> = sqlx::query_scalar(
        "SELECT name || ' ' || iif(before IS NULL, '-', lower(hex(before))) || ' ' || iif(after IS NULL, '-', lower(hex(after))) || char(10)
         FROM log_rows WHERE entry = $1 ORDER BY place",
    )
    .bind(entry)
    .fetch_all(&mut house.behind_its_back().await)
    .await
    .unwrap();
    assert!(!lines.is_empty());
    sha256(&lines.concat())
}

/// The hashes of the first two entries, worked out here by hand from the documented form: the first covers no row, the second
/// does.
#[tokio::test]
async fn the_hash_is_the_documented_one() {
    let house = House::open().await;
    let mut entries = house.office.store.log(100).await.unwrap();
    let (first, second) = (entries.pop().unwrap(), entries.pop().unwrap());
    let canonical = format!(
        r#"{{"at":"2031-04-07T12:00:00.000000Z","build":null,"by":"the program","detail":{{}},"number":1,"room":"people","what":{}}}"#,
        serde_json::json!(first.what)
    );
    assert_eq!(first.hash, sha256(&format!("{}\n{canonical}", "0".repeat(64))));
    let canonical = format!(
        r#"{{"at":"2031-04-07T12:00:00.000000Z","build":null,"by":"{}","detail":{},"number":2,"room":"{}","rows":"{}","what":{}}}"#,
        second.by,
        second.detail,
        second.room,
        rows_of(&house, 2).await,
        serde_json::json!(second.what)
    );
    assert_eq!(second.hash, sha256(&format!("{}\n{canonical}", first.hash)));
}

fn sha256(text: &str) -> String {
    tackbook::domain::words::fingerprint::Fingerprint::of(text.as_bytes()).text().to_owned()
}

#[tokio::test]
async fn whatever_is_altered_in_the_log_shows() {
    for (change, broken_at) in [
        ("UPDATE log SET what = 'Nothing happened.' WHERE number = 2", 2),
        ("UPDATE log SET at = '2031-04-07T13:00:00.000000Z' WHERE number = 3", 3),
        ("UPDATE log SET by = 'Somebody' WHERE number = 2", 2),
        ("UPDATE log SET detail = '{}' WHERE number = 3", 3),
        ("UPDATE log SET hash = printf('%064d', 7) WHERE number = 2", 2),
        ("DELETE FROM log WHERE number = 2", 3),
    ] {
        let house = House::open().await;
        house.build("Pine Coupe").await;
        house.build("Elm Saloon").await;
        let mut behind = house.behind_its_back().await;
        for trigger in ["log_keeps", "log_stays"] {
            sqlx::query(sqlx::AssertSqlSafe(format!("DROP TRIGGER {trigger}"))).execute(&mut behind).await.unwrap();
        }
        sqlx::query("PRAGMA foreign_keys = OFF").execute(&mut behind).await.unwrap();
        assert_eq!(sqlx::query(change).execute(&mut behind).await.unwrap().rows_affected(), 1, "{change}");
        let check = house.office.store.verify_log().await.unwrap();
        assert_eq!(check.broken_at, Some(broken_at), "{change}");
        let report = actions::shop::health::verify(&house.office.store).await.unwrap();
        assert!(!report.good(), "{change}");
    }
}

#[tokio::test]
async fn a_clock_set_back_puts_no_entry_before_the_last() {
    let house = House::open().await;
    house.build("Pine Coupe").await;
    let early = House { office: Context { clock: clock_after(-3600), ..house.office.clone() }, folder: house.folder };
    let build = early.build("Elm Saloon").await;
    let entry = early.office.store.log_of_build(build.id, 1).await.unwrap().pop().unwrap();
    assert_eq!(entry.at, house.office.clock.now());
    assert_eq!(entry.detail.get("clock_said").unwrap(), "2031-04-07T11:00:00.000000Z");
    assert_eq!(early.office.store.verify_log().await.unwrap().broken_at, None);
}

/// Even SQL that goes round the program is told no.
#[tokio::test]
async fn evidence_is_only_added_to() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    full_of_evidence(&house, build).await;
    let mut behind = house.behind_its_back().await;
    for change in [
        "UPDATE log SET what = ''",
        "DELETE FROM log",
        "UPDATE rounds SET contents = '{}'",
        "DELETE FROM rounds",
        "UPDATE replies SET decision = 'not yet'",
        "DELETE FROM replies",
        "UPDATE weigh_ins SET left_front_kg = 1",
        "DELETE FROM weigh_ins",
        "UPDATE photos SET sha256 = printf('%064d', 1)",
        "UPDATE photos SET received = '2031-04-07T13:00:00.000000Z'",
        "UPDATE photos SET withdrawn_why = 'another reason' WHERE withdrawn IS NOT NULL",
        "DELETE FROM photos",
        "UPDATE answers SET text = ''",
        "DELETE FROM answers",
        "UPDATE cuts SET member = 'M2'",
        "DELETE FROM cuts",
        "UPDATE measured SET value = 1",
        "DELETE FROM measured",
        "UPDATE foreseen SET mass_kg = 1",
        "UPDATE foreseen SET taken_back = NULL WHERE taken_back IS NOT NULL",
        "DELETE FROM foreseen",
        "DELETE FROM people",
        "UPDATE books SET toml = ''",
        "DELETE FROM books",
        "DELETE FROM book_drafts",
        "UPDATE book_draft_saves SET toml = ''",
        "DELETE FROM book_draft_saves",
    ] {
        let table = change.split(' ').find(|word| word.chars().all(|l| l.is_lowercase() || l == '_')).unwrap();
        let rows: i64 = sqlx::query_scalar(sqlx::AssertSqlSafe(format!("SELECT COUNT(*) FROM {table}")))
            .fetch_one(&mut behind)
            .await
            .unwrap();
        assert!(rows > 0, "{table} is empty, so “{change}” would prove nothing");
        let error = sqlx::query(change).execute(&mut behind).await.unwrap_err().to_string();
        // SQLITE_CONSTRAINT_TRIGGER, sqlite.org/rescode.html
        assert!(error.contains("1811"), "{change}: {error}");
    }
}

async fn full_of_evidence(house: &House, build: tackbook::domain::words::ids::BuildId) {
    let office = &house.office;
    let book =
        actions::book::rule_books::add(office, include_str!("../../src/demo/book.toml").to_owned()).await.unwrap();
    actions::book::drafts::begin(office, book.id, "fourth").await.unwrap();
    crate::records::weigh(office, build).await;
    crate::records::cut(office, build, "M1").await;
    crate::records::gap(office, build, "M1", 12.0).await;
    let listed = crate::records::foresee(office, build, "seats").await;
    actions::weight::foreseen::take_back(office, build, listed.place).await.unwrap();
    let (capture, _) = house.photo(build, &jpeg(1, 100)).await;
    actions::recorded::photos::withdraw(office, build, capture, "blurred").await.unwrap();
    let question = actions::recorded::questions::ask(office, build, None, "Why?").await.unwrap();
    actions::recorded::questions::answer(office, build, question.id, "So.", None).await.unwrap();
    let round = house.round(build, 1, &[]).await;
    let yes = approved(office, build, &round).await;
    actions::recorded::rounds::reply(office, build, yes).await.unwrap();
    let again = actions::recorded::photos::finish(
        office,
        build,
        &tackbook::domain::words::fingerprint::Fingerprint::of(&jpeg(1, 100)),
        &crate::house::look(),
    )
    .await;
    assert!(matches!(again, Ok(Finished::Kept(_))));
}

#[tokio::test]
async fn a_shots_history_is_read_from_the_entries_on_its_photographs_alone() {
    let house = House::open().await;
    let (office, build) = (&house.office, house.build("Pine Coupe").await.id);
    let (here, there) = ("J7 tacked/wide", "J7 tacked/close");
    let mut captures = Vec::new();
    for seed in 1..=4 {
        captures.push(house.photo(build, &jpeg(seed, 100)).await.0);
    }
    let [moved, stays, elsewhere, _] = captures[..] else { panic!("four were kept") };
    for (capture, shot) in [(moved, here), (stays, here), (elsewhere, there), (moved, there)] {
        actions::recorded::photos::place(office, build, capture, shot).await.unwrap();
    }
    let other = house.build("Elm Saloon").await.id;
    let (foreign, _) = house.photo(other, &jpeg(1, 100)).await;
    actions::recorded::photos::place(office, other, foreign, here).await.unwrap();
    // an entry on another photograph that nothing can read any more
    let mut behind = house.behind_its_back().await;
    sqlx::query("DROP TRIGGER log_keeps").execute(&mut behind).await.unwrap();
    let damage = "UPDATE log SET at = 'some day' WHERE detail ->> 'capture' = $1";
    sqlx::query(damage).bind(elsewhere.to_string()).execute(&mut behind).await.unwrap();
    drop(behind);
    let house = house.restarted().await;
    let store = &house.office.store;
    assert!(store.log_of_build(build, 1_000).await.is_err());
    let history = store.log_of_shot(build, here, 1_000).await.unwrap();
    let said: Vec<&str> = history.iter().rev().map(|entry| entry.what.as_str()).collect();
    let (taken, received) = ("A photo was taken.", "A photo was received.");
    let placed = format!("A photo was placed at {here}.");
    let away = format!("A photo was placed at {there}.");
    assert_eq!(said, [taken, received, taken, received, &placed, &placed, &away]);
    assert_eq!(store.log_of_shot(build, here, 2).await.unwrap(), history[..2]);
    assert_eq!(store.log_of_shot(build, "J8 tacked/wide", 1_000).await.unwrap(), []);
}
