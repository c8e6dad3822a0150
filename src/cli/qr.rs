//! A QR code (ISO/IEC 18004) in a terminal's letters.

use qrcode::{Color, EcLevel, QrCode};

/// Modules of quiet around the code (ISO/IEC 18004 6.3.8).
const QUIET: usize = 4;

/// The code of a text, two rows of modules in a line, dark on light; none when the text is too long for one.
pub(super) fn code(text: &str) -> Option<String> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
    let (width, colors) = (code.width(), code.to_colors());
    let dark = |row: usize, column: usize| {
        let inside = row.checked_sub(QUIET).zip(column.checked_sub(QUIET)).filter(|&(r, c)| r < width && c < width);
        inside.is_some_and(|(r, c)| colors.get(r * width + c) == Some(&Color::Dark))
    };
    let side = width + 2 * QUIET;
    let line = |row: usize| -> String {
        let letter = |column| match (dark(row, column), dark(row + 1, column)) {
            (true, true) => ' ',
            (true, false) => '▄',
            (false, true) => '▀',
            (false, false) => '█',
        };
        (0..side).map(letter).collect()
    };
    Some((0..side).step_by(2).map(line).collect::<Vec<_>>().join("\n"))
}
