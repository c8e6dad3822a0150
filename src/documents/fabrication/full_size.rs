//! Drawings at full size on pages that show whether they were printed so; what is larger than a page is tiled.

use glam::{DVec2, dvec2};

use super::{Fabrication, Page, SMALL, Style, TYPE, paragraph, room};
use crate::documents::paper::check_lines;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::tiles::tiles;
use crate::drawing::{Anchor, Ink, Mark, Pen, Weight};

const PRINT: &str = "Print at full size: the lines and the square below must measure what they say, else print again without any scaling.";
/// Side of the square that shows whether both ways are at full size, mm.
const SQUARE: f64 = 20.0;
/// Room under a drawing before the next one's words, mm.
const UNDER: f64 = 6.0;
/// Width and height of a tile's key, mm.
const KEY: DVec2 = dvec2(18.0, 14.0);

/// A drawing at full size and the words over it.
pub(super) struct FullSize {
    /// The words, each a paragraph.
    pub(super) words: Vec<(Style, String)>,
    /// The marks, from the drawing's own top left corner.
    pub(super) marks: Vec<Mark>,
    /// Its size, mm.
    pub(super) size: DVec2,
}

/// The pages of a part: its drawings one under another where they fit, tiled where they are larger than a page. `said` is
/// how they are used.
pub(super) fn pages(of: &Fabrication<'_>, title: &str, place: &str, said: &str, drawings: Vec<FullSize>) -> Vec<Page> {
    let room = room(of);
    let mut pages: Vec<Page> = Vec::new();
    let mut open: Option<(Page, f64)> = None;
    for drawing in drawings {
        let named = |pages: &Vec<Page>, open: &Option<(Page, f64)>| {
            (pages.is_empty() && open.is_none()).then(|| place.to_owned())
        };
        let (words, high) = worded(&drawing.words, room.x);
        let fresh = begun(title, named(&pages, &open).as_deref(), said, room.x);
        let whole = high + drawing.size.y + UNDER;
        if drawing.size.x > room.x || fresh.1 + whole > room.y {
            pages.extend(open.take().map(|open| open.0));
            pages.extend(tiled(&drawing, (title, named(&pages, &None).as_deref(), said), (words, high), room));
            continue;
        }
        let (mut page, down) = match open.take() {
            Some((page, down)) if down + whole <= room.y => (page, down),
            full => {
                pages.extend(full.map(|full| full.0));
                fresh
            }
        };
        page.marks.extend(moved(words, dvec2(0.0, down)));
        page.marks.extend(moved(drawing.marks, dvec2(0.0, down + high)));
        open = Some((page, down + whole));
    }
    pages.extend(open.map(|open| open.0));
    pages
}

fn tiled(
    drawing: &FullSize,
    (title, place, said): (&str, Option<&str>, &str),
    (words, high): (Vec<Mark>, f64),
    room: DVec2,
) -> Vec<Page> {
    let (_, top) = begun(title, None, said, room.x);
    let window = dvec2(room.x, room.y - top - high - KEY.y - 2.0);
    let page = |tile: crate::drawing::paper::tiles::Tile| {
        let (number, all) = (tile.number(), tile.all());
        let title = format!("{title}, part {number} of {all}");
        let (mut page, down) = begun(&title, place.filter(|_| number == 1), said, room.x);
        page.marks.extend(moved(words.clone(), dvec2(0.0, down)));
        let down = down + high;
        page.marks.extend(moved(tile.key(KEY), dvec2(0.0, down)));
        let description = format!(
            "Part {number} of {all}: row {}, column {}. Larger than the page. Cut one sheet along the grey join line, lay it on \
its neighbour so that lines and crosses of the same numbers ({}) meet, tape; measure a line across the join.",
            tile.place.0, tile.place.1, "1|2 is between parts 1 and 2"
        );
        let at = dvec2(KEY.x + 4.0, down + 1.0);
        page.marks.extend(paragraph(&description, at, Style::SMALL, room.x - KEY.x - 4.0).0);
        page.marks.extend(moved(tile.marks, dvec2(0.0, down + KEY.y + 2.0)));
        page
    };
    tiles(&drawing.marks, drawing.size, window).into_iter().map(page).collect()
}

fn worded(words: &[(Style, String)], width: f64) -> (Vec<Mark>, f64) {
    let mut marks = Vec::new();
    let mut down = 1.0;
    for (style, words) in words {
        let (lines, reached) = paragraph(words, dvec2(0.0, down), *style, width);
        marks.extend(lines);
        down = reached;
    }
    (marks, down + 2.0)
}

/// A page with its heading, how to use it, and what shows its scale; and how far down that reaches, mm.
fn begun(title: &str, place: Option<&str>, said: &str, width: f64) -> (Page, f64) {
    let mut page = Page::begun(title, place);
    let (marks, down) = paragraph(&format!("{PRINT} {said}"), dvec2(0.0, 8.0), Style::SMALL, width - SQUARE - 6.0);
    page.marks.extend(marks);
    page.marks.extend(check_lines(dvec2(0.0, down + 5.0), 6.0));
    let corner = dvec2(width - SQUARE, 1.0);
    page.marks.push(Mark::rectangle(corner, DVec2::splat(SQUARE), Some(Pen::Narrow), None));
    page.marks.push(Mark::Text {
        at: corner + dvec2(SQUARE / 2.0, SQUARE / 2.0 + 1.0),
        size: SMALL,
        words: format!("{SQUARE:.0} mm"),
        weight: Weight::Regular,
        anchor: Anchor::Middle,
        ink: Ink::Black,
    });
    (page, (down + 14.0).max(SQUARE + 3.0))
}

/// A bold line of running type.
pub(super) fn bold(words: impl Into<String>) -> (Style, String) {
    (Style::BOLD, words.into())
}

/// A plain line of running type.
pub(super) fn plain(words: impl Into<String>) -> (Style, String) {
    (Style { size: TYPE, weight: Weight::Regular, ink: Ink::Black }, words.into())
}
