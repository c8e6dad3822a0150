//! A QR code in a terminal's letters.

use crate::drawing::paper::qr::Qr;

/// The code of a text, two rows of modules in a line, dark on light; none when the text is too long for one.
pub(super) fn code(text: &str) -> Option<String> {
    let code = Qr::of(text)?;
    let line = |row: usize| -> String {
        let letter = |column| match (code.dark(row, column), code.dark(row + 1, column)) {
            (true, true) => ' ',
            (true, false) => '▄',
            (false, true) => '▀',
            (false, false) => '█',
        };
        (0..code.side()).map(letter).collect()
    };
    Some((0..code.side()).step_by(2).map(line).collect::<Vec<_>>().join("\n"))
}
