//! Tables in a list, written as headed tables or within a line.

use toml_edit::{Item, TableLike, Value};

/// How many there are; none for what is no list of tables.
pub(super) fn count(item: &Item) -> Option<usize> {
    match item {
        Item::ArrayOfTables(list) => Some(list.len()),
        Item::Value(Value::Array(list)) => list.iter().all(Value::is_inline_table).then(|| list.len()),
        _ => None,
    }
}

/// One of them.
pub(super) fn row(item: &Item, at: usize) -> Option<&dyn TableLike> {
    match item {
        Item::ArrayOfTables(list) => list.get(at).map(|table| table as &dyn TableLike),
        Item::Value(Value::Array(list)) => {
            list.get(at).and_then(Value::as_inline_table).map(|table| table as &dyn TableLike)
        }
        _ => None,
    }
}

/// One of them, to be changed.
pub(super) fn row_mut(item: &mut Item, at: usize) -> Option<&mut dyn TableLike> {
    match item {
        Item::ArrayOfTables(list) => list.get_mut(at).map(|table| table as &mut dyn TableLike),
        Item::Value(Value::Array(list)) => {
            list.get_mut(at).and_then(Value::as_inline_table_mut).map(|table| table as &mut dyn TableLike)
        }
        _ => None,
    }
}
