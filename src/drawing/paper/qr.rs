//! A QR code (ISO/IEC 18004) as dark and light squares.

use glam::{DVec2, dvec2};
use qrcode::{Color, EcLevel, QrCode};

use crate::drawing::{Ink, Mark};
use crate::quantity::Length;

/// Modules of quiet around the code (ISO/IEC 18004 6.3.8).
const QUIET: usize = 4;

/// The code of a text, with its quiet edge.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Qr {
    width: usize,
    colors: Vec<Color>,
}

impl Qr {
    /// Of a text, with error correction M: about 15 % of it may be dirty. None when the text is too long for one.
    pub fn of(text: &str) -> Option<Self> {
        let code = QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
        Some(Self { width: code.width(), colors: code.to_colors() })
    }

    /// Modules along a side, quiet edge among them.
    pub const fn side(&self) -> usize {
        self.width + 2 * QUIET
    }

    /// Whether a module is dark, counted from the top left corner of the quiet edge.
    pub fn dark(&self, row: usize, column: usize) -> bool {
        let inside = row.checked_sub(QUIET).zip(column.checked_sub(QUIET));
        let inside = inside.filter(|&(row, column)| row < self.width && column < self.width);
        inside.is_some_and(|(row, column)| self.colors.get(row * self.width + column) == Some(&Color::Dark))
    }

    /// The code as marks, quiet edge included, in a square of this side from its top left corner: a bar for each run of
    /// dark modules in a row.
    #[expect(clippy::cast_precision_loss, reason = "a code has at most 185 modules along a side")]
    pub fn marks(&self, at: DVec2, side: Length) -> Vec<Mark> {
        let module = side.mm() / self.side() as f64;
        let bar = |row: usize, from: usize, to: usize| {
            let corner = at + dvec2(from as f64, row as f64) * module;
            Mark::rectangle(corner, dvec2((to - from) as f64, 1.0) * module, None, Some(Ink::Black))
        };
        let mut marks = Vec::new();
        for row in 0..self.side() {
            let mut from = None;
            for column in 0..=self.side() {
                match (from, self.dark(row, column)) {
                    (None, true) => from = Some(column),
                    (Some(begun), false) => {
                        marks.push(bar(row, begun, column));
                        from = None;
                    }
                    _ => {}
                }
            }
        }
        marks
    }
}
