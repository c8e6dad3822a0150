//! One bit of a shop's folder, turned over wherever it lies: either checking tells of it, or nothing that is recorded reads
//! otherwise.

use std::fs;
use std::path::{Path, PathBuf};

use rand::rngs::StdRng;
use rand::{RngExt as _, SeedableRng as _};
use sqlx::{AssertSqlSafe, Connection as _, SqliteConnection};
use tackbook::actions;
use tackbook::store::Store;

use crate::covered::told;

/// How many bits are turned over, one at a time.
const BITS: usize = 1_000;

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
        if entry.is_dir() { found.extend(files(&entry)) } else { found.push(entry) }
    }
    found.sort();
    found
}

/// Everything that is recorded, as text.
async fn recorded(file: &Path) -> Result<Vec<String>, sqlx::Error> {
    let mut records = SqliteConnection::connect(&format!("sqlite://{}?mode=ro", file.display())).await?;
    let tables: Vec<(String, String)> = sqlx::query_as(
        "SELECT s.name, group_concat('hex(quote(\"' || c.name || '\"))', ' || '','' || ') FROM sqlite_schema AS s
         JOIN pragma_table_info(s.name) AS c WHERE s.type = 'table' AND s.name NOT LIKE 'sqlite!_%' ESCAPE '!'
         AND s.name NOT IN ('sessions', 'pairings', 'setup_links', 'sign_in_failures', 'heartbeat', '_sqlx_migrations')
         GROUP BY s.name ORDER BY s.name",
    )
    .fetch_all(&mut records)
    .await?;
    let mut all = Vec::new();
    for (table, columns) in tables {
        let words = format!("SELECT '{table}: ' || {columns} FROM \"{table}\" ORDER BY 1");
        let rows: Vec<String> = sqlx::query_scalar(AssertSqlSafe(words)).fetch_all(&mut records).await?;
        all.extend(rows);
    }
    Ok(all)
}

/// Whether opening or checking the shop tells that something is wrong.
async fn tells(folder: &Path) -> bool {
    let Ok(store) = Store::open_beside(folder).await else { return true };
    let checked = actions::shop::health::verify(&store).await;
    store.close().await;
    !checked.is_ok_and(|report| report.good())
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_bit_that_is_turned_over_in_any_file_is_told_where_it_alters_what_is_recorded() {
    let house = told().await;
    house.office.store.close().await;
    let folder = house.folder.0.clone();
    let records = folder.join("tackbook.db");
    let (whole, before) = (fs::read(&records).unwrap(), recorded(&records).await.unwrap());
    assert!(!tells(&folder).await && before.len() > 20);
    let evidence = |file: &PathBuf| ["photos", "packets"].iter().any(|name| file.starts_with(folder.join(name)));
    let all: Vec<PathBuf> = files(&folder).into_iter().filter(evidence).collect();
    assert_eq!(all.len(), 3, "{all:?}");
    let mut random = StdRng::seed_from_u64(19);
    let (mut in_words, mut harmless) = (0, 0);
    for _ in 0..BITS {
        fs::write(&records, &whole).unwrap();
        // half of them in the records, the others wherever else something lies
        let file = if random.random_bool(0.5) { &records } else { all.get(random.random_range(0..all.len())).unwrap() };
        let mut bytes = fs::read(file).unwrap();
        let kept = bytes.clone();
        let (at, bit) = (random.random_range(0..bytes.len()), random.random_range(0..8));
        *bytes.get_mut(at).unwrap() ^= 1 << bit;
        put(file, &bytes);
        if tells(&folder).await {
            in_words += 1;
        } else {
            let after = recorded(&records).await;
            let same = after.as_ref().is_ok_and(|after| *after == before);
            assert!(same && !evidence(file), "bit {bit} of byte {at} of {} was not told", file.display());
            harmless += 1;
        }
        put(file, &kept);
    }
    println!("of {BITS} bits {in_words} were told and {harmless} altered nothing that is recorded");
    assert!(in_words > BITS / 3, "{in_words}");
}

/// Writes over a file, also over one that is write-protected.
fn put(file: &Path, bytes: &[u8]) {
    fs::remove_file(file).unwrap();
    fs::write(file, bytes).unwrap();
}
