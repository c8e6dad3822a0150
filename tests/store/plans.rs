//! How the engine goes about each query of the store: none reads a table that grows with the shop from end to end, but for
//! those that are meant to.

use std::path::Path;

use sqlx::{AssertSqlSafe, Row as _, SqliteConnection};

use crate::house::House;

/// Tables of which a shop has tens, however long it works: reading one whole is as cheap as finding a row in it.
const SMALL: &[&str] = &[
    "people",
    "books",
    "builds",
    "dies",
    "saw",
    "weld_rates",
    "look_bounds",
    "heartbeat",
    "signing_keys",
    "setup_links",
    "sqlite_schema",
    "_sqlx_migrations",
];

/// Queries that read a table that grows, and why they may: by the words that only they have.
const MEANT: &[(&str, &str)] = &[
    ("SELECT * FROM log ORDER BY number", "checking the chain reads every entry"),
    ("SELECT number, hash FROM log ORDER BY number DESC LIMIT 1", "the newest entry comes first in the table"),
    ("SELECT at FROM log WHERE NOT EXISTS", "the newest entry that was written here comes soon"),
    ("FROM sqlite_schema AS tables", "a shop has tens of tables, each of tens of columns"),
    ("SELECT EXISTS (SELECT 1 FROM log_rows)", "it ends at the first"),
    ("SELECT entry, name, before, after FROM log_rows", "checking the rows reads what every entry covers"),
    ("THEN NULL ELSE rows END", "checking the rows reads every entry"),
    ("SELECT hash FROM log UNION ALL", "checking the heads that stand elsewhere reads every entry"),
    ("SELECT sha256, builds.name FROM photos", "backing up and checking name every file"),
    ("SELECT packet_sha256, round, builds.name FROM rounds", "backing up and checking name every file"),
    ("SELECT reply_mails.sha256, reply_mails.name, builds.name", "backing up and checking name every file"),
    ("SELECT capture FROM photos LEFT JOIN log", "checking looks at every receipt"),
    ("SELECT round FROM rounds LEFT JOIN log", "checking looks at every round"),
    ("SELECT round, contents, contents_sha256 FROM rounds", "checking looks at every round"),
    ("SELECT * FROM sticks WHERE brought = 0 ORDER BY balloon", "the rack shows every stick"),
    ("SELECT name FROM pragma_table_info($1)", "a table has tens of columns"),
    ("FROM book_drafts WHERE became IS NULL", "drafts are written a few a year"),
    ("DELETE FROM sign_in_failures WHERE latest <", "it empties itself of whatever is older than the wait"),
    ("UPDATE pairings SET", "codes are looked at by an index of those that are open"),
];

/// What a query itself puts together and reads whole.
const OF_ITSELF: &[&str] = &["linked", "named", "content", "CONSTANT"];

/// Every query that stands in the store's source and looks for rows, on one line.
fn queries() -> Vec<String> {
    let mut found = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src/store")];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
            if entry.is_dir() {
                folders.push(entry);
            } else {
                found.extend(queries_in(&std::fs::read_to_string(&entry).unwrap()));
            }
        }
    }
    found
}

fn queries_in(source: &str) -> Vec<String> {
    let texts = source.split('"').skip(1).map(|text| text.split_whitespace().collect::<Vec<_>>().join(" "));
    let looks = |text: &String| ["SELECT ", "WITH ", "UPDATE ", "DELETE "].iter().any(|verb| text.starts_with(verb));
    // what is put together from parts ends where its first value comes
    let whole = |text: String| if text.ends_with('=') { format!("{text} $1") } else { text };
    texts.filter(looks).filter(|text| !text.contains('{')).map(whole).collect()
}

/// What a query reads from end to end, of what grows.
async fn read_whole(records: &mut SqliteConnection, query: &str) -> Vec<String> {
    let rows = sqlx::query(AssertSqlSafe(format!("EXPLAIN QUERY PLAN {query}"))).fetch_all(records).await;
    let rows = rows.unwrap_or_else(|error| panic!("{query}: {error}"));
    let steps = rows.iter().map(|row| row.get::<String, _>("detail"));
    let grows = |step: &String| {
        let Some(what) = step.strip_prefix("SCAN ") else { return false };
        let table = what.split(' ').next().unwrap_or_default();
        !what.starts_with('(') && !SMALL.contains(&table) && !OF_ITSELF.contains(&table)
    };
    steps.filter(grows).collect()
}

#[tokio::test]
async fn no_query_reads_a_table_that_grows_from_end_to_end_but_those_that_mean_to() {
    let house = House::open().await;
    let mut records = house.behind_its_back().await;
    let queries = queries();
    assert!(queries.len() > 100, "only {} queries were found in src/store", queries.len());
    let (mut faults, mut used) = (Vec::new(), Vec::new());
    for query in &queries {
        let steps = read_whole(&mut records, query).await;
        match MEANT.iter().find(|(words, _)| query.contains(words)) {
            Some((words, _)) if !steps.is_empty() => used.push(*words),
            None if !steps.is_empty() => faults.push(format!("{query}\n    {}", steps.join("; "))),
            _ => {}
        }
    }
    assert!(
        faults.is_empty(),
        "Give these an index in a new step, or say in MEANT why they read all:\n{}",
        faults.join("\n")
    );
    let stale: Vec<&str> = MEANT.iter().map(|(words, _)| *words).filter(|words| !used.contains(words)).collect();
    assert!(stale.is_empty(), "no query reads all for the sake of {stale:?} any more; take it out of MEANT");
}

#[tokio::test]
async fn a_query_without_its_index_is_found() {
    let house = House::open().await;
    let mut records = house.behind_its_back().await;
    let query = "SELECT * FROM notes WHERE build = $1 ORDER BY number DESC";
    assert_eq!(read_whole(&mut records, query).await, Vec::<String>::new());
    sqlx::query("DROP INDEX notes_of_build").execute(&mut records).await.unwrap();
    let mut records = house.behind_its_back().await;
    assert_eq!(read_whole(&mut records, query).await, ["SCAN notes"]);
    assert_eq!(queries_in("let a = \"SELECT id\n FROM notes\"; let b = \"no\";"), ["SELECT id FROM notes"]);
}
