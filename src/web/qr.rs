//! A QR code (ISO/IEC 18004) as one path of an SVG drawing, a module to a unit.

use std::fmt::Write as _;

use crate::drawing::paper::qr::Qr;

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
        let code = Qr::of(text)?;
        let side = code.side();
        let mut path = String::new();
        for (row, column) in (0..side * side).map(|at| (at / side, at % side)).filter(|at| code.dark(at.0, at.1)) {
            // writing into a text cannot fail
            let _ = write!(path, "M{column} {row}h1v1h-1z");
        }
        Some(Self { says: text.to_owned(), side, path })
    }
}
