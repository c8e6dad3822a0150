//! A blank as DXF, release 12 in text: what cutting machines and drawing programs read (the format as its maker published
//! it). Millimetres, y upward, four layers with plain names.

use std::fmt::{self, Write as _};

use glam::{DVec2, dvec2};

use crate::domain::cage::GussetCut;
use crate::domain::work::fabrication::Blank;
use crate::drawing::car::hiding::bounds;
use crate::drawing::wrap::{Wall, Wrap};
use crate::geometry::SheetBlank;

/// What is cut out.
pub const OUTLINE: &str = "OUTLINE";
/// Holes.
pub const HOLES: &str = "HOLES";
/// Where the sheet is bent.
pub const BEND_LINES: &str = "BEND_LINES";
/// Lines to scribe, and words.
pub const MARKS: &str = "MARKS";

/// Each layer with its colour number and its line.
const LAYERS: [(&str, u8, &str); 5] = [
    ("0", 7, "CONTINUOUS"),
    (OUTLINE, 7, "CONTINUOUS"),
    (HOLES, 1, "CONTINUOUS"),
    (BEND_LINES, 3, "DASHED"),
    (MARKS, 8, "CONTINUOUS"),
];
/// Height of the words, mm.
const WORDS: f64 = 4.0;
/// Room between the two templates of a tube, mm.
const BETWEEN: f64 = 15.0;

/// The blank as the text of a DXF file: a sheet's outline, holes, bends and marks; of a tube its two cope templates beside
/// each other.
pub fn dxf(blank: &Blank) -> String {
    let mut file = Writer::default();
    // Writing to a String cannot fail; should it ever, the file ends there.
    let _ = match &blank.cut {
        GussetCut::Sheet(sheet) => file.sheet(blank, sheet),
        GussetCut::Tube(piece, tube) => piece.copes.iter().zip(["A", "B"]).try_for_each(|(cope, letter)| {
            let wrap = Wrap { cope, outside: tube.outside, bore: tube.inside(), wall: Wall::Outer };
            file.template(&wrap, &format!("{} end {letter}", blank.balloon))
        }),
    };
    file.whole()
}

/// The drawing's entities, and how far they reach.
#[derive(Default)]
struct Writer {
    out: String,
    points: Vec<DVec2>,
}

impl Writer {
    fn pair(&mut self, code: u8, value: impl fmt::Display) -> fmt::Result {
        write!(self.out, "{code}\r\n{value}\r\n")
    }

    fn entity(&mut self, kind: &str, layer: &str) -> fmt::Result {
        self.pair(0, kind)?;
        self.pair(8, layer)
    }

    /// A point under the codes `code`, `code` + 10, `code` + 20.
    fn point(&mut self, code: u8, at: DVec2) -> fmt::Result {
        self.points.push(at);
        self.pair(code, number(at.x))?;
        self.pair(code + 10, number(at.y))?;
        self.pair(code + 20, "0.0")
    }

    fn line(&mut self, layer: &str, from: DVec2, to: DVec2) -> fmt::Result {
        self.entity("LINE", layer)?;
        self.point(10, from)?;
        self.point(11, to)
    }

    fn polyline(&mut self, layer: &str, points: &[DVec2], closed: bool) -> fmt::Result {
        self.entity("POLYLINE", layer)?;
        self.pair(66, 1)?;
        self.pair(10, "0.0")?;
        self.pair(20, "0.0")?;
        self.pair(30, "0.0")?;
        self.pair(70, u8::from(closed))?;
        for point in points {
            self.entity("VERTEX", layer)?;
            self.point(10, *point)?;
        }
        self.entity("SEQEND", layer)
    }

    fn words(&mut self, at: DVec2, words: &str) -> fmt::Result {
        self.entity("TEXT", MARKS)?;
        self.point(10, at)?;
        self.pair(40, WORDS)?;
        // Release 12 is ASCII: a degree is written %%d.
        let plain: String = words.chars().filter(|letter| letter.is_ascii() && !letter.is_control()).collect();
        self.pair(1, plain)
    }

    fn sheet(&mut self, blank: &Blank, sheet: &SheetBlank) -> fmt::Result {
        self.polyline(OUTLINE, sheet.outline.corners(), true)?;
        for hole in &sheet.holes {
            self.entity("CIRCLE", HOLES)?;
            self.point(10, hole.centre)?;
            self.pair(40, number(hole.diameter.mm() / 2.0))?;
        }
        for [from, to] in &sheet.bends {
            self.line(BEND_LINES, *from, *to)?;
        }
        for run in &sheet.scribed {
            self.polyline(MARKS, run, false)?;
        }
        let (low, _) = bounds(sheet.outline.corners());
        self.words(low - dvec2(0.0, 2.0 * WORDS), &format!("{} t {:.3} mm", blank.balloon, blank.thickness.mm()))
    }

    fn template(&mut self, wrap: &Wrap<'_>, name: &str) -> fmt::Result {
        let from = if self.points.is_empty() { 0.0 } else { bounds(&self.points).1.x + BETWEEN };
        let on = |at: DVec2| dvec2(from + at.x, -at.y);
        let shape: Vec<DVec2> = wrap.shape().into_iter().map(on).collect();
        let (low, high) = bounds(&shape);
        self.polyline(OUTLINE, &shape, true)?;
        for (x, _) in wrap.lines() {
            self.line(MARKS, dvec2(from + x, low.y), dvec2(from + x, low.y + WORDS))?;
        }
        self.words(dvec2(low.x, high.y + WORDS), name)
    }

    /// The header, the tables of lines and layers, and the entities.
    fn whole(self) -> String {
        let (low, high) = bounds(&self.points);
        let mut file = Self::default();
        let _ = file.opening(low, high);
        file.out.push_str(&self.out);
        let _ = file.pair(0, "ENDSEC");
        let _ = file.pair(0, "EOF");
        file.out
    }

    fn opening(&mut self, low: DVec2, high: DVec2) -> fmt::Result {
        self.section("HEADER")?;
        self.pair(9, "$ACADVER")?;
        self.pair(1, "AC1009")?;
        // 4 is millimetres; programs that know only release 12 take the drawing's unit as it stands.
        self.pair(9, "$INSUNITS")?;
        self.pair(70, 4)?;
        self.pair(9, "$EXTMIN")?;
        self.point(10, low)?;
        self.pair(9, "$EXTMAX")?;
        self.point(10, high)?;
        self.pair(0, "ENDSEC")?;
        self.section("TABLES")?;
        self.pair(0, "TABLE")?;
        self.pair(2, "LTYPE")?;
        self.pair(70, 2)?;
        self.kind_of_line("CONTINUOUS", "Solid line", &[])?;
        self.kind_of_line("DASHED", "Dashed line", &[6.0, -3.0])?;
        self.pair(0, "ENDTAB")?;
        self.pair(0, "TABLE")?;
        self.pair(2, "LAYER")?;
        self.pair(70, LAYERS.len())?;
        for (name, colour, line) in LAYERS {
            self.pair(0, "LAYER")?;
            self.pair(2, name)?;
            self.pair(70, 0)?;
            self.pair(62, colour)?;
            self.pair(6, line)?;
        }
        self.pair(0, "ENDTAB")?;
        self.pair(0, "ENDSEC")?;
        self.section("ENTITIES")
    }

    fn section(&mut self, name: &str) -> fmt::Result {
        self.pair(0, "SECTION")?;
        self.pair(2, name)
    }

    fn kind_of_line(&mut self, name: &str, words: &str, dashes: &[f64]) -> fmt::Result {
        self.pair(0, "LTYPE")?;
        self.pair(2, name)?;
        self.pair(70, 0)?;
        self.pair(3, words)?;
        self.pair(72, 65)?;
        self.pair(73, dashes.len())?;
        self.pair(40, number(dashes.iter().map(|dash| dash.abs()).sum()))?;
        dashes.iter().try_for_each(|dash| self.pair(49, number(*dash)))
    }
}

/// A number as the format wants it: a point, and no more digits than the machine can follow.
fn number(value: f64) -> String {
    // Zero has no sign.
    format!("{:.6}", value + 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;
    use crate::geometry::Polygon;

    /// Read back pair by pair: the outline on its layer encloses the blank's area, the holes have its places and sizes,
    /// the bend lines lie where they belong, and the unit is said.
    #[test]
    fn a_blank_reads_back_as_it_was() {
        let cage = solve(&example_record(), &TUBES);
        let gusset = Blank::of_gusset(&cage, &cage.gussets[0]).unwrap();
        let GussetCut::Sheet(sheet) = &gusset.cut else { panic!("{gusset:?}") };
        let text = dxf(&gusset);
        assert!(text.is_ascii());
        let lines: Vec<&str> = text.split("\r\n").collect();
        let pairs: Vec<(u8, &str)> = lines.chunks_exact(2).map(|pair| (pair[0].parse().unwrap(), pair[1])).collect();
        assert_eq!((pairs[0], *pairs.last().unwrap()), ((0, "SECTION"), (0, "EOF")));
        let unit = pairs.iter().position(|pair| *pair == (9, "$INSUNITS")).unwrap();
        assert_eq!(pairs[unit + 1], (70, "4"));
        let entities: Vec<&[(u8, &str)]> = pairs
            .iter()
            .enumerate()
            .filter(|(_, pair)| pair.0 == 0)
            .map(|(from, _)| {
                let rest = &pairs[from + 1..];
                &pairs[from..=from + rest.iter().position(|pair| pair.0 == 0).unwrap_or(0)]
            })
            .collect();
        let on = |kind: &str, layer: &str| {
            let found = entities.iter().filter(|of| of[0] == (0, kind) && of.get(1) == Some(&(8, layer)));
            found.copied().collect::<Vec<_>>()
        };
        let figure =
            |of: &[(u8, &str)], code: u8| -> f64 { of.iter().find(|pair| pair.0 == code).unwrap().1.parse().unwrap() };
        let corners = on("VERTEX", OUTLINE).into_iter().map(|of| dvec2(figure(of, 10), figure(of, 20))).collect();
        let outline = Polygon::new(corners).unwrap();
        assert!((outline.area().mm2() - sheet.gross().mm2()).abs() < 0.01);
        let holes = on("CIRCLE", HOLES);
        assert_eq!(holes.len(), sheet.holes.len());
        for (hole, of) in sheet.holes.iter().zip(holes) {
            assert!((figure(of, 40) * 2.0 - hole.diameter.mm()).abs() < 1e-5);
            assert!(dvec2(figure(of, 10), figure(of, 20)).distance(hole.centre) < 1e-5);
        }
        let bends = on("LINE", BEND_LINES);
        assert_eq!((bends.len(), sheet.bends.len()), (2, 2));
        for (bend, of) in sheet.bends.iter().zip(bends) {
            assert!(dvec2(figure(of, 11), figure(of, 21)).distance(bend[1]) < 1e-5);
        }
        let layers: Vec<&str> = entities.iter().filter(|of| of[0] == (0, "LAYER")).map(|of| of[1].1).collect();
        assert_eq!(layers, ["0", OUTLINE, HOLES, BEND_LINES, MARKS]);
    }
}
