//! Tables as comma separated values (RFC 4180), for whoever works on with them in a spreadsheet.

use axum::http::header;
use axum::response::{IntoResponse, Response};

/// A cell: quoted where it must be. What a spreadsheet would take for a formula is kept from being one.
fn cell(text: &str) -> String {
    let formula = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let text = if formula { format!("'{text}") } else { text.to_owned() };
    if text.contains(['"', ',', '\n', '\r']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

/// A table with its head, to be saved under this name. The name has letters, figures, dashes and a point only.
pub(crate) fn table<const N: usize>(name: &str, head: [&str; N], rows: impl Iterator<Item = [String; N]>) -> Response {
    let line = |cells: &[String]| cells.iter().map(|text| cell(text)).collect::<Vec<_>>().join(",") + "\r\n";
    let mut text = line(&head.map(str::to_owned));
    text.extend(rows.map(|row| line(&row)));
    let headers = [
        (header::CONTENT_TYPE, "text/csv; charset=utf-8; header=present".to_owned()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\"")),
        (header::CACHE_CONTROL, "private, no-store".to_owned()),
    ];
    (headers, text).into_response()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_quoted_and_never_formulas() {
        assert_eq!(cell("main hoop"), "main hoop");
        assert_eq!(cell("1.5 × .120 in, new"), "\"1.5 × .120 in, new\"");
        assert_eq!(cell("5' 3\""), "\"5' 3\"\"\"");
        assert_eq!(cell("=1+1"), "'=1+1");
    }
}
