//! A build's records out of a shop's rows, and into them.
//!
//! What says where a row stands in one shop alone stays behind: its own number, the build it is of, which all share, and the
//! number of a log entry, in place of which the file has the entry's hash: numbers of two shops may be the same.

use std::collections::{BTreeSet, HashMap};

use serde_json::{Value, json};

use super::tables::TABLES;
use crate::domain::recorded::car_file::{Log, LogLine, Records, Row, Table, VERSION};
use crate::domain::recorded::kit::moves::Way;
use crate::domain::words::ids::BuildId;
use crate::store::engine::{self, Connection};
use crate::store::error::StoreError;
use crate::store::recorded::build_log;
use crate::store::recorded::kit::moves;
use crate::store::text;

/// The table of the ways of kit, which no shop has under this name.
const WAYS: &str = "kit_ways";
/// Columns that hold the number of a log entry, by their tables.
const ENTRIES: [(&str, &str); 2] = [("photos", "entry"), ("rounds", "as_of")];
/// Columns that say where a row stands in one shop.
const OUR_OWN: [&str; 3] = ["number", "build", "brought"];
/// What rows of a round hold that is a thing of its own in the file.
const CONTENTS: &str = "contents";

/// All that is recorded of a build, as of one moment.
#[derive(Debug, Clone, PartialEq)]
pub struct BuildRecords {
    /// The rows, what a round showed not among them.
    pub records: Records,
    /// What each round showed, by its number.
    pub contents: Vec<(u32, String)>,
    /// The log.
    pub log: Log,
}

impl BuildRecords {
    /// The rows of a table; none where there are none.
    pub fn rows(&self, table: &str) -> &[Row] {
        self.records.tables.iter().find(|one| one.table == table).map_or(&[], |one| &one.rows)
    }
}

/// A text of a row; empty where it has none of this name.
pub fn text_of<'r>(row: &'r Row, name: &str) -> &'r str {
    row.get(name).and_then(Value::as_str).unwrap_or_default()
}

/// Takes a build's records out, in one moment's state of the shop.
pub(super) async fn taken_out(on: &mut Connection, build: BuildId) -> Result<BuildRecords, StoreError> {
    let log = build_log::lines(on, build).await?;
    let mut written = HashMap::new();
    for (here, line) in &log {
        written.insert(*here, line.hash.clone());
    }
    let (mut tables, mut contents) = (Vec::new(), Vec::new());
    for table in TABLES {
        let mut rows = engine::any_rows(&mut *on, table.rows, &build.to_string()).await?;
        for row in &mut rows {
            for name in OUR_OWN {
                row.remove(name);
            }
            for (_, column) in ENTRIES.iter().filter(|(name, _)| *name == table.name) {
                let there = row.get(*column).and_then(Value::as_i64).and_then(|here| written.get(&here));
                row.insert((*column).to_owned(), json!(there));
            }
            if table.name == "rounds"
                && let (Some(round), Some(Value::String(text))) =
                    (row.get("round").and_then(Value::as_u64), row.remove(CONTENTS))
            {
                contents.push((u32::try_from(round).unwrap_or_default(), text));
            }
        }
        tables.push(Table { table: table.name.to_owned(), rows });
    }
    let entries = log.into_iter().map(|(_, line)| line).collect();
    let records = Records { tackbook_records: VERSION, form: engine::form(), tables };
    let mut out = BuildRecords { records, contents, log: Log { tackbook_log: VERSION, entries } };
    let slug = out.rows("builds").first().map(|row| text_of(row, "slug").to_owned()).unwrap_or_default();
    let rows = ways(on, build, &slug).await?;
    out.records.tables.push(Table { table: WAYS.to_owned(), rows });
    Ok(out)
}

/// The ways of the kit that was in other cars; this one stands in them at the address that it has in its file.
async fn ways(on: &mut Connection, build: BuildId, slug: &str) -> Result<Vec<Row>, StoreError> {
    let mut rows = Vec::new();
    for mut way in moves::as_recorded(on, build).await? {
        for stay in way.stays.iter_mut().filter(|stay| stay.build == build) {
            slug.clone_into(&mut stay.slug);
        }
        let mut row = Row::new();
        row.insert("item".to_owned(), json!(way.item));
        row.insert("way".to_owned(), json!(text::json(&way)?));
        row.insert("gone".to_owned(), json!(i64::from(way.next().is_some())));
        rows.push(row);
    }
    Ok(rows)
}

/// Puts a build's records into a shop, at its address there; the log goes to the end of the shop's.
///
/// # Errors
/// `NotKept` where a row is none of its table's, or refers to what is not there; `Taken` where something is there already.
pub(super) async fn put_in(on: &mut Connection, build: BuildId, from: &BuildRecords) -> Result<(), StoreError> {
    for table in TABLES.iter().take_while(|table| table.name != "book_moves") {
        put_table(on, build, from, table.name).await?;
    }
    let here = build_log::bring(on, build, &from.log).await?;
    let mut from = from.clone();
    set_entries(&mut from, &here)?;
    for table in TABLES.iter().skip_while(|table| table.name != "book_moves") {
        put_table(on, build, &from, table.name).await?;
    }
    for row in from.rows(WAYS) {
        let way: Way = text::listed("kit_ways_brought", "way", text_of(row, "way"))?;
        if way.here().is_none() {
            return Err(StoreError::Damaged { table: "kit_ways_brought", column: "way" });
        }
        let columns = engine::columns(on, "kit_ways_brought").await?;
        engine::add_any(on, "kit_ways_brought", &columns, row).await.map_err(|why| taken(why, "item of kit"))?;
    }
    let known: BTreeSet<&str> = TABLES.iter().map(|table| table.name).chain([WAYS]).collect();
    match from.records.tables.iter().find(|table| !known.contains(table.table.as_str())) {
        Some(other) => Err(StoreError::NotKept(format!("there is no table {}", other.table))),
        None => Ok(()),
    }
}

/// Turns the numbers of log entries, and what each round showed, into what they are here.
fn set_entries(from: &mut BuildRecords, here: &HashMap<String, i64>) -> Result<(), StoreError> {
    for table in &mut from.records.tables {
        for row in &mut table.rows {
            for (name, column) in ENTRIES.iter().filter(|(name, _)| *name == table.table) {
                let there = row.get(*column).and_then(Value::as_str);
                let at = there.map(|there| here.get(there).copied());
                if at == Some(None) {
                    return Err(StoreError::NotKept(format!("a row of {name} names a log entry that is not there")));
                }
                row.insert((*column).to_owned(), json!(at.flatten()));
            }
            if table.table == "rounds" {
                let round = row.get("round").and_then(Value::as_u64);
                let text = from.contents.iter().find(|(one, _)| Some(u64::from(*one)) == round);
                row.insert(CONTENTS.to_owned(), json!(text.map(|(_, text)| text)));
            }
        }
    }
    Ok(())
}

async fn put_table(
    on: &mut Connection,
    build: BuildId,
    from: &BuildRecords,
    table: &'static str,
) -> Result<(), StoreError> {
    let columns = engine::columns(on, table).await?;
    let of_build = columns.iter().any(|column| column == "build");
    for row in from.rows(table) {
        let mut row = row.clone();
        if let Some(name) = OUR_OWN.iter().find(|name| row.contains_key(**name)) {
            return Err(StoreError::NotKept(format!("a row of {table} says its {name}, which only a shop does")));
        }
        if of_build {
            row.insert("build".to_owned(), json!(build));
        }
        if put_special(on, build, table, &mut row).await? {
            continue;
        }
        engine::add_any(on, table, &columns, &row).await.map_err(|why| taken(why, "part of the car"))?;
    }
    Ok(())
}

/// What a table needs beside its row being added; says whether that is all.
async fn put_special(
    on: &mut Connection,
    build: BuildId,
    table: &'static str,
    row: &mut Row,
) -> Result<bool, StoreError> {
    let other = |what: &str| StoreError::NotKept(format!("there is another {what} of the same name in this shop"));
    match table {
        "builds" if row.get("id") != Some(&json!(build)) => {
            return Err(StoreError::NotKept("the build is not the one of the list".to_owned()));
        }
        "books" => {
            row.insert("brought".to_owned(), json!(1));
            let there: Option<String> = sqlx::query_scalar("SELECT toml FROM books WHERE id = $1")
                .bind(text_of(row, "id"))
                .fetch_optional(on)
                .await?;
            match there {
                Some(toml) if toml != text_of(row, "toml") => return Err(other("rule book")),
                Some(_) => return Ok(true),
                None => {}
            }
        }
        "sticks" => {
            row.insert("brought".to_owned(), json!(1));
            let there: Option<(String, String, i64)> =
                sqlx::query_as("SELECT heat, size, balloon FROM sticks WHERE id = $1")
                    .bind(text_of(row, "id"))
                    .fetch_optional(on)
                    .await?;
            if let Some((heat, size, balloon)) = there {
                let same = heat == text_of(row, "heat")
                    && size == text_of(row, "size")
                    && row.get("balloon").and_then(Value::as_i64) == Some(balloon);
                return if same { Ok(true) } else { Err(other("stick")) };
            }
        }
        "round_signatures" => {
            let key = brought_key(on, text_of(row, "public")).await?;
            row.remove("public");
            row.insert("key".to_owned(), json!(key));
        }
        "welds_struck" => {
            let line = row.get("weld").and_then(Value::as_i64);
            let weld: Option<i64> = sqlx::query_scalar("SELECT number FROM welds WHERE build = $1 AND line = $2")
                .bind(build.to_string())
                .bind(line)
                .fetch_optional(on)
                .await?;
            row.insert("weld".to_owned(), json!(weld));
        }
        _ => {}
    }
    Ok(false)
}

/// The number of another shop's key, which is added where it is not known.
async fn brought_key(on: &mut Connection, public: &str) -> Result<i64, StoreError> {
    let there: Option<i64> = sqlx::query_scalar("SELECT number FROM signing_keys WHERE public = $1 AND brought = 1")
        .bind(public)
        .fetch_optional(&mut *on)
        .await?;
    if let Some(number) = there {
        return Ok(number);
    }
    // when it was first used is not known here
    Ok(sqlx::query_scalar(
        "INSERT INTO signing_keys (public, recorded, by, brought) VALUES ($1, '', '', 1) RETURNING number",
    )
    .bind(public)
    .fetch_one(on)
    .await?)
}

/// A row that is there already under its own name.
fn taken(why: StoreError, what: &'static str) -> StoreError {
    match why {
        StoreError::Database(error) => match error.as_database_error() {
            Some(said) if said.is_unique_violation() => StoreError::Taken(what),
            Some(said) if said.is_foreign_key_violation() => {
                StoreError::NotKept("a row refers to something that is not there".to_owned())
            }
            Some(said) => StoreError::NotKept(said.message().to_owned()),
            None => StoreError::NotKept(error.to_string()),
        },
        other => other,
    }
}

/// What a log's line says of itself: whether its hash follows from the one before it and from its words.
pub fn follows(line: &LogLine, build: BuildId) -> bool {
    build_log::hash_of(line, build) == line.hash
}
