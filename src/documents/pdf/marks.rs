//! One sheet's marks as a page's drawing operations, in points from the page's lower left corner.

use std::collections::BTreeMap;

use glam::{DVec2, dvec2};
use printpdf::{
    Actions, BorderArray, Color, Destination, DictItem, Line, LineDashPattern, LinePoint, LinkAnnotation, Op,
    PaintMode, PdfFontHandle, Point, Polygon, PolygonRing, Pt, Rect, Rgb, WindingOrder, XObjectId, XObjectTransform,
};

use super::tags::{ElementId, Tags};
use super::typefaces::Typefaces;
use crate::documents::DocumentError;
use crate::drawing::paper::faces::set;
use crate::drawing::{Anchor, Ink, LinkTo, Mark, Pen, Sheet, Tag};
use crate::quantity::Length;

/// Points in a millimetre.
const POINTS: f64 = 72.0 / 25.4;
/// How far a Bézier curve's handles reach to make a quarter circle, as a share of its radius: 4/3 (√2 - 1).
const ROUND: f64 = 0.552_285;

/// What all pages share.
#[derive(Default)]
pub(super) struct Names {
    /// The page, from 1, on which each place stands.
    pub(super) places: BTreeMap<String, usize>,
    /// The document's own name of each picture.
    pub(super) pictures: BTreeMap<String, String>,
    /// The faces, and where in each its signs stand.
    pub(super) faces: Typefaces,
}

/// A page in the making.
pub(super) struct Page<'a> {
    /// Its operations.
    pub(super) ops: Vec<Op>,
    /// The pictures it shows, by the document's own names.
    pub(super) shown: Vec<String>,
    height: f64,
    names: &'a Names,
    tags: &'a mut Tags,
    /// Where in the tree it stands.
    at: Place,
    /// What the operations are of that were written last.
    open: Option<Section>,
}

/// Where in the tree of tags the next mark goes.
#[derive(Debug, Clone, Copy)]
struct Place {
    element: ElementId,
    /// Whether words are the element's own; else each is a paragraph inside.
    words: bool,
    /// Whether lines and pictures are, too.
    figure: bool,
}

/// A section of a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Section {
    /// What nobody reads out: frames and rules.
    Artifact,
    /// A part of this element.
    Of(ElementId),
}

impl<'a> Page<'a> {
    /// Draws a whole sheet.
    pub(super) fn of(sheet: &Sheet, names: &'a Names, tags: &'a mut Tags) -> Result<Self, DocumentError> {
        tags.turn();
        let at = Place { element: Tags::DOCUMENT, words: false, figure: false };
        let (ops, shown, height) = (Vec::new(), Vec::new(), sheet.height.mm());
        let mut page = Self { ops, shown, height, names, tags, at, open: None };
        page.marks(&sheet.marks)?;
        page.end();
        page.shown.sort();
        page.shown.dedup();
        Ok(page)
    }

    fn marks(&mut self, marks: &[Mark]) -> Result<(), DocumentError> {
        marks.iter().try_for_each(|mark| self.mark(mark))
    }

    fn mark(&mut self, mark: &Mark) -> Result<(), DocumentError> {
        match mark {
            Mark::Line { from, to, pen } => self.path(&[(*from, false), (*to, false)], false, Some(*pen), None),
            Mark::Path { points, closed, pen, fill } => {
                let points: Vec<(DVec2, bool)> = points.iter().map(|at| (*at, false)).collect();
                self.path(&points, *closed, *pen, *fill);
            }
            Mark::Circle { centre, radius, pen, fill } => {
                self.path(&circle(*centre, radius.mm()), true, *pen, *fill);
            }
            Mark::Text { .. } => self.text(mark),
            Mark::Picture { at, size, name, caption } => {
                self.begin_own(self.at.figure, &Tag::Figure(caption.clone()));
                self.picture(*at, *size, name)?;
            }
            Mark::Link { at, size, to } => self.link(*at, *size, to)?,
            Mark::Place { .. } => {}
            Mark::Group { marks, .. } => self.marks(marks)?,
            Mark::Tagged { tag, marks } => self.tagged(tag, marks)?,
        }
        Ok(())
    }

    /// Marks that are one thing; of a figure, all is the figure.
    fn tagged(&mut self, tag: &Tag, marks: &[Mark]) -> Result<(), DocumentError> {
        if self.at.figure {
            return self.marks(marks);
        }
        let before = self.at;
        self.at = Place {
            element: self.tags.add(before.element, tag),
            words: !matches!(tag, Tag::Table | Tag::Row),
            figure: matches!(tag, Tag::Figure(_)),
        };
        let drawn = self.marks(marks);
        self.at = before;
        drawn
    }

    /// What follows is of this section.
    fn begin(&mut self, section: Section) {
        if self.open == Some(section) {
            return;
        }
        self.end();
        let begun = match section {
            Section::Artifact => Some(Op::BeginMarkedContent { tag: "Artifact".to_owned() }),
            Section::Of(element) => self.tags.begin_section(element).map(|(tag, number)| {
                let map = [("MCID".to_owned(), DictItem::Int(number))].into();
                let properties = DictItem::Dict { map };
                Op::BeginMarkedContentWithProperties { tag: tag.to_owned(), properties }
            }),
        };
        self.open = begun.as_ref().map(|_| section);
        self.ops.extend(begun);
    }

    fn end(&mut self) {
        if self.open.take().is_some() {
            self.ops.push(Op::EndMarkedContent);
        }
    }

    /// Lines follow, which are read out by nobody but as a figure.
    fn begin_lines(&mut self) {
        self.begin(if self.at.figure { Section::Of(self.at.element) } else { Section::Artifact });
    }

    /// Something follows that is read out by itself where it is not part of what it stands in.
    fn begin_own(&mut self, part: bool, tag: &Tag) {
        let element = if part { self.at.element } else { self.tags.add(self.at.element, tag) };
        self.begin(Section::Of(element));
    }

    fn point(&self, at: DVec2) -> Point {
        Point { x: points(at.x), y: points(self.height - at.y) }
    }

    fn path(&mut self, corners: &[(DVec2, bool)], closed: bool, pen: Option<Pen>, fill: Option<Ink>) {
        self.begin_lines();
        let run: Vec<LinePoint> =
            corners.iter().map(|(at, bezier)| LinePoint { p: self.point(*at), bezier: *bezier }).collect();
        if let Some(pen) = pen {
            let dashes: Vec<f32> = pen.dashes().iter().map(|dash| points(*dash).0).collect();
            self.ops.extend([
                Op::SetOutlineColor { col: colour(pen.ink()) },
                Op::SetOutlineThickness { pt: points(pen.width().mm()) },
                Op::SetLineDashPattern { dash: LineDashPattern::new(0.0, &dashes) },
            ]);
        }
        if let Some(fill) = fill {
            self.ops.push(Op::SetFillColor { col: colour(fill) });
        }
        let mode = match (pen, fill) {
            (Some(_), Some(_)) => PaintMode::FillStroke,
            (None, Some(_)) => PaintMode::Fill,
            (Some(_), None) => PaintMode::Stroke,
            (None, None) => return,
        };
        if closed || fill.is_some() {
            let rings = vec![PolygonRing { points: run }];
            self.ops.push(Op::DrawPolygon { polygon: Polygon { rings, mode, winding_order: WindingOrder::NonZero } });
        } else {
            self.ops.push(Op::DrawLine { line: Line { points: run, is_closed: false } });
        }
    }

    fn text(&mut self, mark: &Mark) {
        let Mark::Text { at, size, words, weight, anchor, ink } = mark else { return };
        self.begin_own(self.at.words, &Tag::Paragraph);
        let mut line = set(words, *weight);
        let along = line.iter().map(|glyph| glyph.advance).sum::<f64>() * size.mm();
        // lines of one paragraph stand apart to who has it read out
        if self.at.words {
            line.extend(set(" ", *weight));
        }
        let back = match anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => along / 2.0,
            Anchor::End => along,
        };
        self.ops.extend([Op::SetFillColor { col: colour(*ink) }, Op::StartTextSection]);
        let mut begun = false;
        for (face, items) in self.names.faces.runs(&line) {
            self.ops.push(Op::SetFont { font: PdfFontHandle::External(face), size: type_size(*size) });
            if !std::mem::replace(&mut begun, true) {
                self.ops.push(Op::SetTextCursor { pos: self.point(*at - dvec2(back, 0.0)) });
            }
            self.ops.push(Op::ShowText { items });
        }
        self.ops.push(Op::EndTextSection);
    }

    fn picture(&mut self, at: DVec2, size: DVec2, name: &str) -> Result<(), DocumentError> {
        let Some(own) = self.names.pictures.get(name) else {
            return Err(DocumentError::NoSuchPicture(name.to_owned()));
        };
        let corner = self.point(at + dvec2(0.0, size.y));
        let transform = XObjectTransform {
            translate_x: Some(corner.x),
            translate_y: Some(corner.y),
            scale_x: Some(points(size.x).0),
            scale_y: Some(points(size.y).0),
            no_auto_scale: true,
            ..Default::default()
        };
        self.ops.push(Op::UseXobject { id: XObjectId(own.clone()), transform });
        self.shown.push(own.clone());
        Ok(())
    }

    fn link(&mut self, at: DVec2, size: DVec2, to: &LinkTo) -> Result<(), DocumentError> {
        let actions = match to {
            LinkTo::Address(address) => Actions::Uri(address.clone()),
            LinkTo::Place(name) => {
                let page = self.names.places.get(name).ok_or_else(|| DocumentError::NoSuchPlace(name.clone()))?;
                Actions::Goto(Destination::Xyz { page: *page, left: None, top: None, zoom: None })
            }
        };
        let corner = self.point(at + dvec2(0.0, size.y));
        let (width, height) = (points(size.x), points(size.y));
        let rect = Rect { x: corner.x, y: corner.y, width, height, mode: None, winding_order: None };
        let link = LinkAnnotation::new(rect, actions, Some(BorderArray::Solid([0.0; 3])), None, None);
        self.ops.push(Op::LinkAnnotation { link });
        Ok(())
    }
}

fn type_size(size: Length) -> Pt {
    points(size.mm())
}

#[expect(clippy::cast_possible_truncation, reason = "a page is under a few thousand points: f32 holds a thousandth")]
fn points(mm: f64) -> Pt {
    Pt((mm * POINTS) as f32)
}

fn circle(centre: DVec2, radius: f64) -> [(DVec2, bool); 13] {
    let (r, k) = (radius, radius * ROUND);
    let run = [
        (r, 0.0, false),
        (r, k, true),
        (k, r, true),
        (0.0, r, false),
        (-k, r, true),
        (-r, k, true),
        (-r, 0.0, false),
        (-r, -k, true),
        (-k, -r, true),
        (0.0, -r, false),
        (k, -r, true),
        (r, -k, true),
        (r, 0.0, false),
    ];
    run.map(|(x, y, bezier)| (centre + dvec2(x, y), bezier))
}

fn colour(ink: Ink) -> Color {
    let (r, g, b) = match ink {
        Ink::Black => (0.086, 0.125, 0.169),
        Ink::Grey => (0.29, 0.322, 0.357),
        Ink::Accent => (0.702, 0.204, 0.102),
        Ink::White => (1.0, 1.0, 1.0),
    };
    Color::Rgb(Rgb { r, g, b, icc_profile: None })
}
