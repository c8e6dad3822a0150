//! The rows that the log covers: whatever is altered, taken away or put in beside the program is told.

use std::collections::BTreeSet;

use sqlx::{AssertSqlSafe, Connection as _, SqliteConnection};
use tackbook::actions;
use tackbook::domain::cage::CageRecord;
use tackbook::domain::recorded::car_file::pattern::Pattern;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::store::covered::{RowFault, RowsCheck, UNCOVERED};
use tackbook::store::recorded::build_log::Entry;
use tackbook::store::{Store, StoreError};

use crate::folder::Folder;
use crate::house::{House, approved, jpeg};
use crate::old_shops::{grown, records};

/// A shop with rows in every table, as this program opened it.
async fn every_table(folder: &Folder) -> Store {
    let stopped = grown(&folder.0).await;
    // the last one but one is brought up, and every row of it is taken as it stands
    let (_, shop) = stopped.iter().rev().nth(1).unwrap();
    Store::open(shop).await.unwrap()
}

/// A connection beside the program, which nothing holds back.
pub(crate) async fn unbound(file: &str) -> SqliteConnection {
    let mut behind = SqliteConnection::connect(&format!("sqlite://{file}")).await.unwrap();
    let triggers: Vec<String> = sqlx::query_scalar("SELECT name FROM sqlite_schema WHERE type = 'trigger'")
        .fetch_all(&mut behind)
        .await
        .unwrap();
    for trigger in triggers {
        sqlx::query(AssertSqlSafe(format!("DROP TRIGGER \"{trigger}\""))).execute(&mut behind).await.unwrap();
    }
    sqlx::raw_sql("PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON")
        .execute(&mut behind)
        .await
        .unwrap();
    behind
}

async fn columns(behind: &mut SqliteConnection) -> Vec<(String, String, String)> {
    sqlx::query_as(
        "SELECT s.name, c.name, c.type FROM sqlite_schema AS s JOIN pragma_table_info(s.name) AS c
         WHERE s.type = 'table' AND s.name NOT LIKE 'sqlite!_%' ESCAPE '!' ORDER BY s.name, c.cid",
    )
    .fetch_all(behind)
    .await
    .unwrap()
}

/// The least that a value of a type can be altered by.
fn altered(column: &str, kind: &str) -> String {
    match kind {
        "INTEGER" => format!("COALESCE(\"{column}\", 0) + 100003"),
        "REAL" => format!("COALESCE(\"{column}\" * (1 + 3e-16), 0) + 1e-300"),
        "BLOB" => format!("COALESCE(\"{column}\", X'') || X'00'"),
        _ => format!("COALESCE(\"{column}\", '') || 'x'"),
    }
}

/// What a build was begun by: the newest step made its table, so that no shop that was stopped before has a row in it.
async fn begun_by(store: &Store) {
    let build = store.builds().await.unwrap().first().unwrap().id;
    let at = "2031-02-03T15:30:00Z".parse().unwrap();
    let (car, list, by) = ("Oak Van".to_owned(), Fingerprint::of(b"a list"), "Office".to_owned());
    let pattern = Pattern { car, list, public: "a key".to_owned(), at, by: by.clone(), figures: CageRecord::default() };
    let (what, detail) = ("It was begun by a car's file.".to_owned(), serde_json::json!({}));
    let entry = Entry { build: Some(build), by, at, room: "builds", what, detail };
    let change = store.change(move |write| {
        Box::pin(async move {
            write.add_pattern(build, &pattern, "{}").await?;
            Ok::<_, StoreError>(((), Some(entry)))
        })
    });
    change.await.unwrap();
}

#[tokio::test]
async fn each_value_of_each_table_that_is_altered_beside_the_program_is_told() {
    let folder = Folder::new();
    let store = every_table(&folder).await;
    begun_by(&store).await;
    assert_eq!(store.verify_rows().await.unwrap().faults, Vec::new());
    let file: String =
        sqlx::query_scalar("SELECT file FROM pragma_database_list").fetch_one(&mut open(&folder).await).await.unwrap();
    let mut behind = unbound(&file).await;
    let (mut values, mut tables) = (0, BTreeSet::new());
    for (table, column, kind) in columns(&mut behind).await {
        if UNCOVERED.iter().any(|(name, _)| *name == table) {
            continue;
        }
        let words = format!(
            "UPDATE \"{table}\" SET \"{column}\" = {} WHERE rowid = (SELECT MIN(rowid) FROM \"{table}\")",
            altered(&column, &kind)
        );
        let done = sqlx::query(AssertSqlSafe(words)).execute(&mut behind).await.unwrap().rows_affected();
        // a table that no program of its own form could write to has no row to alter
        if done == 0 {
            assert_eq!(table, "kit");
            continue;
        }
        let check = store.verify_rows().await.unwrap();
        let unknown = RowFault::Unknown { table: table.clone() };
        assert!(check.faults.contains(&unknown), "{table}.{column}: {check:?}");
        assert!(check.faults.iter().any(|fault| matches!(fault, RowFault::Gone { table: of, .. } if *of == table)));
        (values, _) = (values + 1, tables.insert(table.clone()));
    }
    println!("{values} of {values} altered values told, in {} tables", tables.len());
    assert!(tables.len() > 40 && values > 300, "{values} values in {} tables", tables.len());
}

async fn open(folder: &Folder) -> SqliteConnection {
    let (_, shop) = std::fs::read_dir(&folder.0)
        .unwrap()
        .filter_map(|entry| {
            let path = entry.unwrap().path();
            let form: i64 = path.file_name()?.to_str()?.strip_prefix("stopped-")?.parse().ok()?;
            Some((form, path))
        })
        .filter(|(form, _)| *form < tackbook::store::form())
        .max()
        .unwrap();
    records(&shop).await
}

/// A shop with photographs, a round and a reply; closed, its records in one file.
pub(crate) async fn told() -> House {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    house.photo(build, &jpeg(1, 5_000)).await;
    house.photo(build, &jpeg(2, 5_000)).await;
    let round = house.round(build, 1, &[Fingerprint::of(&jpeg(1, 5_000))]).await;
    actions::recorded::rounds::reply(&house.office, build, approved(&house.office, build, &round).await).await.unwrap();
    house
}

async fn done_behind(house: &House, words: &str) -> RowsCheck {
    let mut behind = unbound(house.folder.0.join("tackbook.db").to_str().unwrap()).await;
    let done = sqlx::query(AssertSqlSafe(words.to_owned())).execute(&mut behind).await.unwrap();
    assert_eq!(done.rows_affected(), 1, "{words}");
    house.office.store.verify_rows().await.unwrap()
}

#[tokio::test]
async fn a_reply_turned_round_a_photograph_taken_away_and_one_put_in_are_told_in_words() {
    for (words, said) in [
        ("UPDATE replies SET decision = 'not yet'", "A record in replies is not there any more as log entry"),
        ("DELETE FROM replies", "A record in replies is not there any more as log entry"),
        ("DELETE FROM photos WHERE number = 2", "A record in photos is not there any more as log entry"),
        (
            "INSERT INTO people (id, name, role, password, added) SELECT 'x' || id, 'Nobody', role, password, added FROM people",
            "A record in people stands there as no log entry wrote it",
        ),
        ("UPDATE log_rows SET after = zeroblob(32) WHERE entry = 2 AND place = 1", "What log entry 2"),
        ("DELETE FROM log_rows WHERE entry = 2 AND place = 1", "What log entry 2"),
    ] {
        let house = told().await;
        let before = actions::shop::health::verify(&house.office.store).await.unwrap();
        assert!(before.good() && before.rows > 0, "{before:?}");
        done_behind(&house, words).await;
        let report = actions::shop::health::verify(&house.office.store).await.unwrap();
        assert!(report.bad.iter().any(|bad| bad.contains(said)), "{words}: {report:?}");
    }
}

#[tokio::test]
async fn what_was_altered_before_another_program_opened_it_is_said_in_the_log() {
    for (altered, said) in
        [(false, "Until now they were as the log says."), (true, "Until now they were NOT as the log says")]
    {
        let house = told().await;
        house.office.store.close().await;
        let mut behind = unbound(house.folder.0.join("tackbook.db").to_str().unwrap()).await;
        // a step is still to be made, as if the program before this one had not known it
        sqlx::raw_sql("DROP TABLE welds_told; DELETE FROM _sqlx_migrations WHERE version = 107")
            .execute(&mut behind)
            .await
            .unwrap();
        if altered {
            sqlx::query("UPDATE replies SET given_by = 'Nobody'").execute(&mut behind).await.unwrap();
        }
        behind.close().await.unwrap();
        let store = Store::open(&house.folder.0).await.unwrap();
        assert!(store.brought_up().is_some());
        let entry = store.log(1).await.unwrap().pop().unwrap();
        assert!(entry.what.contains(said), "{entry:?}");
        let check = store.verify_rows().await.unwrap();
        assert!(check.rows > 0 && check.faults.is_empty(), "{check:?}");
        store.close().await;
    }
}
