//! Tables as comma separated values (RFC 4180), for whoever works on with them in a spreadsheet.

use std::borrow::Cow;

use csv::{Terminator, WriterBuilder};

use super::DocumentError;

/// A table of these rows, its head the first.
pub fn table<R>(rows: impl IntoIterator<Item = R>) -> Result<Vec<u8>, DocumentError>
where
    R: IntoIterator<Item: AsRef<str>>,
{
    let not_written = |why: String| DocumentError::Writer(why);
    let mut table = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    for row in rows {
        for cell in row {
            table.write_field(plain(cell.as_ref()).as_bytes()).map_err(|error| not_written(error.to_string()))?;
        }
        table.write_record(None::<&[u8]>).map_err(|error| not_written(error.to_string()))?;
    }
    table.into_inner().map_err(|error| not_written(error.to_string()))
}

/// A cell's text; what a spreadsheet would take for a formula is kept from being one.
fn plain(text: &str) -> Cow<'_, str> {
    let formula = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    if formula { format!("'{text}").into() } else { text.into() }
}

#[cfg(test)]
mod tests {
    use super::table;

    #[test]
    fn cells_are_quoted_where_they_must_be_and_are_never_formulas() {
        let rows = [["bar", "what"], ["main hoop", "1.5 × .120 in, new"], ["5' 3\"", "two\nlines"], ["=1+1", ""]];
        let written = String::from_utf8(table(rows).unwrap()).unwrap();
        // RFC 4180, 2: lines end in CRLF; what has a comma, a quote or a line's end stands in quotes, a quote twice
        let expected = "bar,what\r\nmain hoop,\"1.5 × .120 in, new\"\r\n\"5' 3\"\"\",\"two\nlines\"\r\n'=1+1,\r\n";
        assert_eq!(written, expected);
    }
}
