//! A QR code (ISO/IEC 18004) as one path of an SVG drawing, a module to a unit.

use std::fmt::Write as _;

use qrcode::{Color, EcLevel, QrCode};

/// Modules of quiet around the code (ISO/IEC 18004, 6.3.8).
const QUIET: usize = 4;

/// A code to be shown.
#[derive(Debug, Clone)]
pub(crate) struct Code {
    /// What it says.
    pub(crate) says: String,
    /// Its side with the quiet around it, in modules.
    pub(crate) side: usize,
    /// Its dark modules.
    pub(crate) path: String,
}

impl Code {
    /// The code of a text; none when the text is too long for one.
    pub(crate) fn of(text: &str) -> Option<Self> {
        let code = QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
        let width = code.width();
        let mut path = String::new();
        for (at, color) in code.to_colors().into_iter().enumerate() {
            if color == Color::Dark {
                // writing into a text cannot fail
                let _ = write!(path, "M{} {}h1v1h-1z", at % width + QUIET, at / width + QUIET);
            }
        }
        Some(Self { says: text.to_owned(), side: width + 2 * QUIET, path })
    }
}
