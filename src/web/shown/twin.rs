//! The two forms in which a list is handed out beside its sheet: a table to be saved, and the same as data.

use axum::http::header;
use axum::response::{IntoResponse, Response};
use serde_json::{Map, Value};

use crate::web::csv;
use crate::web::problem::Problem;

/// A list: what its columns are called, and its lines. A figure stands in the unit that its column names.
pub(crate) struct Twin<const N: usize> {
    /// The name of its files, without their ending: letters, figures and dashes.
    pub(crate) name: String,
    /// The columns.
    pub(crate) head: [&'static str; N],
    /// The lines.
    pub(crate) lines: Vec<[Value; N]>,
}

impl<const N: usize> Twin<N> {
    /// As comma separated values; what is not known is empty.
    pub(crate) fn table(self) -> Result<Response, Problem> {
        let cell = |value: Value| match value {
            Value::Null => String::new(),
            Value::String(text) => text,
            other => other.to_string(),
        };
        csv::table(&format!("{}.csv", self.name), self.head, self.lines.into_iter().map(|line| line.map(cell)))
    }

    /// As data: a list of things with their values by name; what is not known is null.
    pub(crate) fn data(self) -> Response {
        let thing = |line: [Value; N]| {
            let pairs = self.head.iter().map(|name| (*name).to_owned()).zip(line);
            Value::Object(pairs.collect::<Map<_, _>>())
        };
        let things: Vec<Value> = self.lines.into_iter().map(thing).collect();
        let headers = [
            (header::CONTENT_TYPE, "application/json".to_owned()),
            (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{}.json\"", self.name)),
            (header::CACHE_CONTROL, "private, no-store".to_owned()),
        ];
        (headers, Value::from(things).to_string()).into_response()
    }
}
