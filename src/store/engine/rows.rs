//! Rows of any table as names with values, and back: for what carries a build's records from one shop to another.

use serde_json::{Map, Number, Value};
use sqlx::sqlite::SqliteRow;
use sqlx::{AssertSqlSafe, Column as _, Row as _, TypeInfo as _, ValueRef as _};

use super::{Connection, Executor};
use crate::store::error::StoreError;

/// A row: its columns' names and values. A whole number and one with decimals stay what they are.
pub(in crate::store) type AnyRow = Map<String, Value>;

/// The rows that a query finds of a build.
pub(in crate::store) async fn any_rows(
    on: impl Executor<'_>,
    query: &'static str,
    build: &str,
) -> Result<Vec<AnyRow>, StoreError> {
    let rows = sqlx::query(query).bind(build).fetch_all(on).await?;
    rows.iter().map(any_row).collect()
}

fn any_row(row: &SqliteRow) -> Result<AnyRow, StoreError> {
    let mut values = AnyRow::new();
    for (at, column) in row.columns().iter().enumerate() {
        let raw = row.try_get_raw(at)?;
        let kind = if raw.is_null() { String::new() } else { raw.type_info().name().to_owned() };
        let value = match kind.as_str() {
            "" => Value::Null,
            "INTEGER" => Value::Number(row.try_get::<i64, _>(at)?.into()),
            "REAL" => Number::from_f64(row.try_get(at)?).map_or(Value::Null, Value::Number),
            _ => Value::String(row.try_get(at)?),
        };
        values.insert(column.name().to_owned(), value);
    }
    Ok(values)
}

/// The names of a table's columns, as the records have them.
pub(in crate::store) async fn columns(on: &mut Connection, table: &str) -> Result<Vec<String>, StoreError> {
    Ok(sqlx::query_scalar("SELECT name FROM pragma_table_info($1)").bind(table).fetch_all(on).await?)
}

/// Adds a row to a table of this program's; a name that is no column of it, or a value that is neither text nor number, is
/// refused. No word of the row becomes part of a query but names that the table itself has.
pub(in crate::store) async fn add_any(
    on: &mut Connection,
    table: &'static str,
    columns: &[String],
    row: &AnyRow,
) -> Result<(), StoreError> {
    let refused = |name: &str| StoreError::NotKept(format!("{table} has no place for “{name}”"));
    if let Some(name) = row.keys().find(|name| !columns.contains(name)) {
        return Err(refused(name));
    }
    let names: Vec<&str> = columns.iter().map(String::as_str).filter(|name| row.contains_key(*name)).collect();
    let places: Vec<String> = (1..=names.len()).map(|place| format!("${place}")).collect();
    let quoted: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
    let words = format!("INSERT INTO {table} ({}) VALUES ({})", quoted.join(", "), places.join(", "));
    let mut query = sqlx::query(AssertSqlSafe(words));
    for name in names {
        query = match row.get(name) {
            None | Some(Value::Null) => query.bind(None::<String>),
            Some(Value::String(text)) => query.bind(text.clone()),
            Some(Value::Number(number)) => match number.as_i64() {
                Some(whole) => query.bind(whole),
                None => query.bind(number.as_f64()),
            },
            Some(_) => return Err(refused(name)),
        };
    }
    query.execute(on).await?;
    Ok(())
}
