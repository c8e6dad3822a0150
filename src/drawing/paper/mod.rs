//! Sheets of marks, and the writers of them: SVG, DXF, tiles for a printer.

pub mod faces;
pub mod text;
pub mod sheet;
pub mod title_block;
pub mod table;
pub mod tiles;
pub mod signs;
pub mod svg;
pub mod dxf;
pub mod qr;
