//! A table of values, sent to be saved.

use axum::http::header;
use axum::response::{IntoResponse, Response};

use super::problem::Problem;
use crate::documents::csv;

/// A table with its head, to be saved under this name. The name has letters, figures, dashes and a point only.
pub(crate) fn table<const N: usize>(
    name: &str,
    head: [&str; N],
    rows: impl Iterator<Item = [String; N]>,
) -> Result<Response, Problem> {
    let head = head.map(str::to_owned);
    let text = csv::table(std::iter::once(head).chain(rows)).map_err(|error| Problem::NotMade(error.to_string()))?;
    let headers = [
        (header::CONTENT_TYPE, "text/csv; charset=utf-8; header=present".to_owned()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\"")),
        (header::CACHE_CONTROL, "private, no-store".to_owned()),
    ];
    Ok((headers, text).into_response())
}
