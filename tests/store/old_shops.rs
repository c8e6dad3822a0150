//! Old shops: a shop of every form there has been opens in this program and loses nothing, each step on the way has its
//! sample and stays as it landed, and a shop of a newer program is refused untouched.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

use sqlx::migrate::Migrator;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode};
use sqlx::{AssertSqlSafe, ConnectOptions as _, Connection as _, SqliteConnection};
use tackbook::actions::{self, ActionError};
use tackbook::domain::derived::contents::Contents;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::store::{Store, StoreError};

use crate::folder::Folder;
use crate::house::{House, clock_after};

/// The steps, as the program has them.
static STEPS: Migrator = sqlx::migrate!("./migrations");
/// Tables that no program of their own form had a way to write to, and the form that made them.
const NEVER_WRITTEN: &[(&str, i64)] = &[("kit", 1)];

/// The samples by the number of their step: rows as a program of that form wrote them.
fn samples() -> BTreeMap<i64, String> {
    texts("tests/migrations").into_iter().map(|(name, text)| (name[..4].parse().unwrap(), text)).collect()
}

/// The steps' files, or their samples', by name.
fn texts(folder: &str) -> BTreeMap<String, String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let files = files.filter(|file| file.extension().is_some_and(|ending| ending == "sql"));
    let named = |file: &PathBuf| file.file_name().unwrap().to_string_lossy().into_owned();
    files.map(|file| (named(&file), std::fs::read_to_string(&file).unwrap())).collect()
}

/// The tables that a step makes or adds a column to.
fn tables_of(step: &str) -> Vec<String> {
    let after = |line: &str, words: &str| {
        line.strip_prefix(words).map(|rest| rest.split([' ', '(']).next().unwrap_or_default().to_owned())
    };
    let found = step.lines().filter_map(|line| after(line, "CREATE TABLE ").or_else(|| after(line, "ALTER TABLE ")));
    let mut tables: Vec<String> = found.collect();
    tables.dedup();
    tables
}

/// Records as an earlier program would have opened them.
pub(crate) async fn records(folder: &Path) -> SqliteConnection {
    let options = SqliteConnectOptions::new().filename(folder.join("tackbook.db")).create_if_missing(true);
    options.journal_mode(SqliteJournalMode::Wal).foreign_keys(true).connect().await.unwrap()
}

async fn count(records: &mut SqliteConnection, table: &str) -> i64 {
    let words = format!("SELECT COUNT(*) FROM {table}");
    sqlx::query_scalar(AssertSqlSafe(words)).fetch_one(records).await.unwrap()
}

/// A shop that stopped at each form, its rows put in step by step, each by the form that it is of.
pub(crate) async fn grown(folder: &Path) -> Vec<(i64, PathBuf)> {
    let (samples, files) = (samples(), texts("migrations"));
    let mut shop = records(folder).await;
    let mut stopped = Vec::new();
    for step in STEPS.iter() {
        STEPS.run_to(step.version, &mut shop).await.unwrap();
        let text = files.iter().find(|(name, _)| name[..4].parse() == Ok(step.version)).unwrap().1;
        let tables = tables_of(text);
        let mut before = Vec::new();
        for table in &tables {
            before.push(count(&mut shop, table).await);
        }
        if let Some(sample) = samples.get(&step.version) {
            sqlx::raw_sql(AssertSqlSafe(sample.clone())).execute(&mut shop).await.unwrap();
        }
        for (table, before) in tables.iter().zip(before) {
            let excused = NEVER_WRITTEN.contains(&(table.as_str(), step.version));
            let added = count(&mut shop, table).await > before;
            assert!(added || excused, "step {}: tests/migrations has no sample row for {table}", step.version);
        }
        sqlx::query("PRAGMA wal_checkpoint(TRUNCATE)").execute(&mut shop).await.unwrap();
        let copy = folder.join(format!("stopped-{}", step.version));
        std::fs::create_dir_all(&copy).unwrap();
        std::fs::copy(folder.join("tackbook.db"), copy.join("tackbook.db")).unwrap();
        stopped.push((step.version, copy));
    }
    shop.close().await.unwrap();
    stopped
}

/// Reads whatever the store has to give; a row that does not read fails.
async fn read_everything(store: &Store, form: i64) {
    let day = clock_after(0).today();
    let builds = store.builds().await.unwrap();
    assert_eq!(builds.len(), 2);
    for build in &builds {
        let facts = store.facts(build.id).await.unwrap();
        let found = Findings::of(&facts, day);
        assert!(
            found.worked.cage_reads && found.worked.unread_book.is_empty(),
            "form {form}: {:?}",
            found.worked.unread_book
        );
        assert!(build.book.is_none() || (facts.cage.is_some() && !found.worked.verdicts.is_empty()), "form {form}");
        let shown = facts.rounds.iter().map(|round| Contents::read(&round.contents));
        assert!(shown.into_iter().all(|contents| contents.is_some()), "form {form}: a round's contents");
        assert!(!Contents::of(&facts, &found.worked, 9).canonical().is_empty());
        store.looks(build.id).await.unwrap();
        store.book_moves(build.id).await.unwrap();
        store.cage_saves(build.id, 100).await.unwrap();
        store.log_of_shot(build.id, "M1 cut/cut", 100).await.unwrap();
        assert!(!store.log_of_build(build.id, 1_000).await.unwrap().is_empty());
    }
    for person in store.people().await.unwrap() {
        store.devices(person.id, "").await.unwrap();
        assert!(store.person_by_name(&person.name).await.unwrap().is_some());
    }
    for draft in store.open_drafts().await.unwrap() {
        assert!(store.draft_at(draft.id, draft.version).await.unwrap().is_some());
    }
    store.books().await.unwrap();
    store.sticks().await.unwrap();
    store.dies().await.unwrap();
    store.saw().await.unwrap();
    store.weld_rates().await.unwrap();
    store.look_bounds().await.unwrap();
    store.seen_of_all().await.unwrap();
    assert!(!store.named_files().await.unwrap().is_empty());
    assert_eq!(store.row_faults().await.unwrap(), Vec::<String>::new(), "form {form}");
    assert_eq!(store.verify_log().await.unwrap().broken_at, None, "form {form}");
    if store.brought_up().is_some() {
        let check = store.verify_rows().await.unwrap();
        assert!(check.rows > 0 && check.faults.is_empty(), "form {form}: {check:?}");
    }
    assert!(!store.log(1_000).await.unwrap().is_empty());
}

/// The rows of the copy that are not in the records any more, by table.
async fn lost(folder: &Path, copy: &Path) -> Vec<String> {
    let mut shop = records(folder).await;
    sqlx::query("ATTACH $1 AS was").bind(copy.to_str().unwrap()).execute(&mut shop).await.unwrap();
    let tables: Vec<String> = sqlx::query_scalar(
        "SELECT name FROM was.sqlite_schema WHERE type = 'table' AND name NOT LIKE '\\_%' ESCAPE '\\'",
    )
    .fetch_all(&mut shop)
    .await
    .unwrap();
    assert!(tables.len() > 15, "{tables:?}");
    let mut lost = Vec::new();
    for table in tables {
        if NEVER_WRITTEN.iter().any(|(never, _)| *never == table)
            && count(&mut shop, &format!("was.{table}")).await == 0
        {
            continue;
        }
        let words = format!("SELECT group_concat('\"' || name || '\"') FROM pragma_table_info('{table}', 'was')");
        let columns: String = sqlx::query_scalar(AssertSqlSafe(words)).fetch_one(&mut shop).await.unwrap();
        let gone = format!("(SELECT {columns} FROM was.{table} EXCEPT SELECT {columns} FROM main.{table})");
        if count(&mut shop, &gone).await > 0 {
            lost.push(table);
        }
    }
    lost
}

#[tokio::test]
async fn a_shop_of_every_form_there_has_been_opens_and_loses_nothing() {
    let folder = Folder::new();
    let stopped = grown(&folder.0).await;
    let newest = stopped.last().unwrap().0;
    for (form, shop) in stopped {
        let before = Fingerprint::of(&std::fs::read(shop.join("tackbook.db")).unwrap());
        let store = Store::open(&shop).await.unwrap();
        let brought_up = store.brought_up().cloned();
        read_everything(&store, form).await;
        store.close().await;
        if form == newest {
            assert_eq!(brought_up, None, "nothing was to be done");
            assert_eq!(Fingerprint::of(&std::fs::read(shop.join("tackbook.db")).unwrap()), before);
            continue;
        }
        let brought_up = brought_up.unwrap();
        assert_eq!((brought_up.from, brought_up.to), (form, newest));
        assert_eq!(lost(&shop, &brought_up.copy).await, Vec::<String>::new(), "form {form}");
        // the copy is the shop as it was: put in an empty folder it opens like the shop itself
        let again = Folder::new();
        std::fs::copy(&brought_up.copy, again.0.join("tackbook.db")).unwrap();
        if form % 30 == 1 {
            let store = Store::open(&again.0).await.unwrap();
            assert_eq!(store.brought_up().map(|brought_up| brought_up.from), Some(form));
            read_everything(&store, form).await;
            store.close().await;
        }
    }
}

#[tokio::test]
async fn no_step_that_has_landed_is_altered_and_each_file_is_a_steps() {
    let landed = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/migrations/landed.txt"));
    let landed = landed.unwrap();
    let landed: BTreeMap<&str, &str> =
        landed.lines().filter_map(|line| line.split_once("  ")).map(|(hash, name)| (name, hash)).collect();
    let steps = texts("migrations");
    for (name, text) in &steps {
        let hash = landed.get(name.as_str());
        assert!(hash.is_some(), "{name}: add its line to tests/migrations/landed.txt (sha256sum migrations/*.sql)");
        assert_eq!(
            hash,
            Some(&Fingerprint::of(text.as_bytes()).text()),
            "{name} has landed; write another step after it"
        );
    }
    for name in landed.keys() {
        assert!(steps.contains_key(*name), "{name} has landed and is gone");
    }
    for name in texts("tests/migrations").keys() {
        assert!(steps.contains_key(name), "tests/migrations/{name} is the sample of no step");
    }
    assert_eq!(steps.len(), STEPS.iter().count());
}

/// The records, and what lies beside them. Who only reads may leave the engine's log behind, with nothing in it.
fn as_it_lies(folder: &Path) -> (Fingerprint, Vec<String>) {
    let names = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = names.collect();
    names.retain(|name| !name.ends_with("-shm") && !name.ends_with("-wal"));
    names.sort();
    let log = folder.join("tackbook.db-wal");
    assert!(std::fs::metadata(log).ok().is_none_or(|log| log.len() == 0), "something was written");
    (Fingerprint::of(&std::fs::read(folder.join("tackbook.db")).unwrap()), names)
}

/// Says in some records that a later program made one more step.
async fn made_newer(mut records: SqliteConnection) {
    sqlx::query(
        "INSERT INTO _sqlx_migrations (version, description, success, checksum, execution_time)
         VALUES (9007, 'of a later program', TRUE, x'00', 0)",
    )
    .execute(&mut records)
    .await
    .unwrap();
    records.close().await.unwrap();
}

#[tokio::test]
async fn a_shop_of_a_newer_program_is_refused_in_words_and_nothing_of_it_changes() {
    let (house, backups) = (House::open().await, Folder::new());
    house.build("Pine Coupe").await;
    house.office.store.close().await;
    let shop = &house.folder.0;
    actions::shop::backup::take(shop, &backups.0, &house.office.clock, &|_, _| {}).await.unwrap();
    made_newer(house.behind_its_back().await).await;
    let before = as_it_lies(shop);
    let said = Store::open(shop).await;
    assert!(matches!(said, Err(StoreError::Newer { theirs: 9007, .. })), "{said:?}");
    let elsewhere = Folder::new();
    for call in [
        vec!["serve", "--listen", "127.0.0.1:0"],
        vec!["demo", "--listen", "127.0.0.1:0"],
        vec!["builds"],
        vec!["verify"],
        vec!["person", "list"],
        vec!["packet", "pine-coupe", "--out", "nowhere.pdf"],
        vec!["backup", "--to", elsewhere.0.join("to").to_str().unwrap()],
    ] {
        let (call, more) = call.split_first().unwrap();
        let mut program = Command::new(env!("CARGO_BIN_EXE_tackbook"));
        let done = program.arg(call).arg("--folder").arg(shop).args(more).output().unwrap();
        let words = String::from_utf8_lossy(&done.stderr);
        assert_eq!(done.status.code(), Some(2), "{call}: {words}");
        assert!(words.contains("a newer Tackbook made these records"), "{call}: {words}");
        assert!(words.contains("9007") && words.contains("Nothing was changed"), "{call}: {words}");
        assert_eq!(as_it_lies(shop), before, "{call}");
    }
    assert!(!elsewhere.0.join("to").exists());
    let copied = std::fs::read_dir(&backups.0).unwrap().map(|entry| entry.unwrap().path());
    let copied = copied.into_iter().find(|file| file.extension().is_some_and(|ending| ending == "db")).unwrap();
    made_newer(SqliteConnection::connect(&format!("sqlite://{}", copied.display())).await.unwrap()).await;
    let into = elsewhere.0.join("restored");
    let said = actions::shop::backup::restore(&backups.0, None, &into, &|_, _| {}).await;
    assert!(matches!(said, Err(ActionError::Store(StoreError::Newer { .. }))), "{said:?}");
    assert!(!into.exists());
}

#[tokio::test]
async fn records_by_other_steps_are_refused_in_words() {
    let house = House::open().await;
    house.office.store.close().await;
    let mut shop = house.behind_its_back().await;
    sqlx::query("UPDATE _sqlx_migrations SET checksum = x'00' WHERE version = 62").execute(&mut shop).await.unwrap();
    shop.close().await.unwrap();
    let Err(said) = Store::open(&house.folder.0).await else { panic!("it opened") };
    assert!(matches!(said, StoreError::OtherForm { step: 62 }), "{said:?}");
    assert!(said.to_string().contains("step 62"), "{said}");
}

#[tokio::test]
async fn a_call_says_where_the_copy_of_an_older_shop_lies() {
    let folder = Folder::new();
    let mut shop = records(&folder.0).await;
    STEPS.run_to(1, &mut shop).await.unwrap();
    sqlx::raw_sql(AssertSqlSafe(samples().remove(&1).unwrap())).execute(&mut shop).await.unwrap();
    shop.close().await.unwrap();
    let call = || {
        let mut program = Command::new(env!("CARGO_BIN_EXE_tackbook"));
        program.args(["builds", "--json", "--folder"]).arg(&folder.0).output().unwrap()
    };
    let first = call();
    let words = String::from_utf8_lossy(&first.stderr);
    assert!(first.status.success(), "{words}");
    assert!(words.contains("(form 1)") && words.contains("tackbook-form-0001-"), "{words}");
    assert!(String::from_utf8_lossy(&first.stdout).contains("Rowan Coupe"));
    let second = call();
    assert!(second.status.success() && second.stderr.is_empty(), "said once");
}
