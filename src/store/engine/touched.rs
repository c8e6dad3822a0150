//! Which rows a change touched: the writing connection notes each row of the records as it was and as it is, while it is
//! written, so that no change can forget to say what it changed.

use sqlx::{AssertSqlSafe, Row as _};

use super::Connection;
use crate::store::error::StoreError;

/// Tables that the log does not cover, and why.
pub const UNCOVERED: &[(&str, &str)] = &[
    ("log", "its own chain covers it"),
    ("log_rows", "the entries cover it"),
    ("sessions", "who is signed in changes with each page"),
    ("pairings", "codes of ten minutes"),
    ("setup_links", "the first sign-in of the shop"),
    ("sign_in_failures", "guesses at the door"),
    ("heartbeat", "it says whether the records can be written"),
    ("_sqlx_migrations", "the steps that made the records are compared with the program's"),
];

/// A table whose rows the log covers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::store) struct Covered {
    /// Its name.
    pub(in crate::store) name: String,
    columns: Vec<String>,
}

impl Covered {
    /// A row as text of the engine's own literals, one after the other in the order of the columns: it says of each value
    /// whether it is text, a whole number or one with decimals, and differs wherever one of them does.
    fn text(&self, of: &str) -> String {
        let values: Vec<String> = self.columns.iter().map(|column| format!("quote({of}\"{column}\")")).collect();
        format!("CAST({} AS BLOB)", values.join(" || ',' || "))
    }
}

/// The row before and after it was touched, as the engine's literals; none where there was or is none.
#[derive(Debug, Clone, PartialEq, Eq, sqlx::FromRow)]
pub(in crate::store) struct Touched {
    /// When among the others.
    place: i64,
    /// Its table.
    pub(in crate::store) name: String,
    /// As it was.
    pub(in crate::store) before: Option<Vec<u8>>,
    /// As it is.
    pub(in crate::store) after: Option<Vec<u8>>,
}

/// The tables that are covered, by name.
pub(in crate::store) async fn covered(on: &mut Connection) -> Result<Vec<Covered>, StoreError> {
    let named: Vec<(String, String)> = sqlx::query_as(
        "SELECT tables.name, columns.name FROM sqlite_schema AS tables JOIN pragma_table_info(tables.name) AS columns
         WHERE tables.type = 'table' AND tables.name NOT LIKE 'sqlite!_%' ESCAPE '!' ORDER BY tables.name, columns.cid",
    )
    .fetch_all(on)
    .await?;
    let mut tables: Vec<Covered> = Vec::new();
    for (name, column) in named {
        if UNCOVERED.iter().any(|(other, _)| *other == name) {
            continue;
        }
        match tables.last_mut().filter(|table| table.name == name) {
            Some(table) => table.columns.push(column),
            None => tables.push(Covered { name, columns: vec![column] }),
        }
    }
    Ok(tables)
}

/// All rows of a covered table as text.
pub(in crate::store) async fn rows_of(on: &mut Connection, table: &Covered) -> Result<Vec<Vec<u8>>, StoreError> {
    let query = format!("SELECT {} FROM \"{}\"", table.text(""), table.name);
    let rows = sqlx::query(AssertSqlSafe(query)).fetch_all(on).await?;
    rows.iter().map(|row| row.try_get(0).map_err(StoreError::from)).collect()
}

/// Lets a connection that writes note which rows it touches, from now on until it closes.
pub(in crate::store) async fn note_touched(on: &mut Connection) -> Result<(), StoreError> {
    let mut words =
        "CREATE TEMP TABLE touched (place INTEGER PRIMARY KEY, name TEXT NOT NULL, before BLOB, after BLOB);"
            .to_owned();
    for table in covered(on).await? {
        let (name, was, is) = (&table.name, table.text("OLD."), table.text("NEW."));
        let note = |verb: &str, when: &str, before: &str, after: &str| {
            format!(
                "CREATE TEMP TRIGGER \"touched_{verb}_{name}\" AFTER {verb} ON main.\"{name}\" {when}
                 BEGIN INSERT INTO touched (name, before, after) VALUES ('{name}', {before}, {after}); END;"
            )
        };
        words.push_str(&note("INSERT", "", "NULL", &is));
        words.push_str(&note("UPDATE", &format!("WHEN {was} IS NOT {is}"), &was, &is));
        words.push_str(&note("DELETE", "", &was, "NULL"));
    }
    sqlx::raw_sql(AssertSqlSafe(words)).execute(on).await?;
    Ok(())
}

/// What was touched since this was last asked, in that order, as long as what is written now is kept.
pub(in crate::store) async fn take_touched(on: &mut Connection) -> Result<Vec<Touched>, StoreError> {
    // it is the connection's own, and nobody else's; one query takes it, since each change asks
    let query = format!("DELETE FROM {NOTED} RETURNING place, name, before, after");
    let mut rows: Vec<Touched> = sqlx::query_as(AssertSqlSafe(query)).fetch_all(on).await?;
    rows.sort_by_key(|row| row.place);
    Ok(rows)
}

/// Where what was touched is noted: in the connection's own records, which are gone with it.
const NOTED: &str = "temp.touched";
