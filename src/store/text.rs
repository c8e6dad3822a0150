//! How moments, days and lists stand in text columns.

use std::str::FromStr;

use jiff::Timestamp;
use serde::Serialize;
use serde::de::DeserializeOwned;

use super::error::StoreError;

/// A moment as stored: RFC 3339 in UTC with six decimals, so that text order is time order.
pub(super) fn moment(at: Timestamp) -> String {
    format!("{at:.6}")
}

/// A value out of a text column.
pub(super) fn parsed<T: FromStr>(table: &'static str, column: &'static str, text: &str) -> Result<T, StoreError> {
    text.parse().map_err(|_| StoreError::Damaged { table, column })
}

/// A value out of a text column that may be empty of it.
pub(super) fn maybe<T: FromStr>(
    table: &'static str,
    column: &'static str,
    text: Option<&str>,
) -> Result<Option<T>, StoreError> {
    text.map(|text| parsed(table, column, text)).transpose()
}

/// A list out of a JSON column.
pub(super) fn listed<T: DeserializeOwned>(
    table: &'static str,
    column: &'static str,
    text: &str,
) -> Result<T, StoreError> {
    serde_json::from_str(text).map_err(|_| StoreError::Damaged { table, column })
}

/// A list as JSON.
pub(super) fn json<T: Serialize>(value: &T) -> Result<String, StoreError> {
    serde_json::to_string(value).map_err(|error| StoreError::NotKept(error.to_string()))
}
