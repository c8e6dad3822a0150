//! A sheet of paper and the marks on it, in millimetres from its top left corner, y downward.

use glam::{DVec2, dvec2};

use crate::domain::words::ids::Balloon;
use crate::quantity::{Length, Units};

/// Shades of the one ink, the one accent, and the paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Ink {
    /// The ink.
    Black,
    /// The ink, paler; still 4.5 to 1 against paper (WCAG 2).
    Grey,
    /// What one is looking at.
    Accent,
    /// The paper.
    White,
}

/// How a line is drawn; widths after ISO 128-2.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Pen {
    /// 0.5 mm, continuous.
    Wide,
    /// 0.25 mm, continuous.
    Narrow,
    /// 0.18 mm, dashed: an edge that something nearer covers.
    HiddenDashed,
    /// 0.25 mm, long dash and dot: an axis.
    CentreChain,
    /// 0.18 mm, grey, continuous: the rule between two rows of a table.
    Faint,
    /// 0.7 mm, in the accent, continuous: what one is asked to measure.
    Marked,
}

impl Pen {
    /// Its width on paper.
    pub const fn width(self) -> Length {
        Length::from_mm(match self {
            Self::Marked => 0.7,
            Self::Wide => 0.5,
            Self::Narrow | Self::CentreChain => 0.25,
            Self::HiddenDashed | Self::Faint => 0.18,
        })
    }

    /// The ink it draws with.
    pub const fn ink(self) -> Ink {
        match self {
            Self::Faint => Ink::Grey,
            Self::Marked => Ink::Accent,
            Self::Wide | Self::Narrow | Self::HiddenDashed | Self::CentreChain => Ink::Black,
        }
    }

    /// Dashes and gaps in turn, in millimetres; none when continuous.
    pub const fn dashes(self) -> &'static [f64] {
        match self {
            Self::HiddenDashed => &[1.4, 0.8],
            Self::CentreChain => &[5.0, 0.8, 0.5, 0.8],
            Self::Wide | Self::Narrow | Self::Faint | Self::Marked => &[],
        }
    }
}

/// Weight of the type.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Weight {
    /// For reading.
    Regular,
    /// For names and large figures.
    Bold,
}

/// Which part of the words stands at the point.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Anchor {
    /// The words begin there.
    Start,
    /// The words are centred there.
    Middle,
    /// The words end there.
    End,
}

/// Where a link leads.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum LinkTo {
    /// An address outside the document.
    Address(String),
    /// The place of this name, on whichever sheet it stands.
    Place(String),
}

/// What marks are to who has a sheet read out (ISO 32000-1, 14.8.4).
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Tag {
    /// A heading: of a page where it is 1, inside one where it is 2.
    Heading(u8),
    /// Words that are read on end.
    Paragraph,
    /// A drawing or a picture, by what it shows.
    Figure(String),
    /// A table; in it are rows.
    Table,
    /// A row of a table; in it are cells.
    Row,
    /// The cell above a column.
    ColumnHead,
    /// Any other cell.
    Cell,
}

/// One mark on paper. Points are millimetres from the sheet's top left corner, y downward.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// A straight line.
    Line {
        /// One end.
        from: DVec2,
        /// The other end.
        to: DVec2,
        /// How it is drawn.
        pen: Pen,
    },
    /// A run of straight lines, or the area inside it.
    Path {
        /// Its corners in turn.
        points: Vec<DVec2>,
        /// Whether the last corner joins the first.
        closed: bool,
        /// How its outline is drawn, if it is.
        pen: Option<Pen>,
        /// What fills it, if anything.
        fill: Option<Ink>,
    },
    /// A circle.
    Circle {
        /// Its centre.
        centre: DVec2,
        /// Its radius.
        radius: Length,
        /// How its outline is drawn, if it is.
        pen: Option<Pen>,
        /// What fills it, if anything.
        fill: Option<Ink>,
    },
    /// One line of words.
    Text {
        /// A point on the line the letters stand on.
        at: DVec2,
        /// The size of the type (10 pt is 3.53 mm); a capital is about 0.7 of it.
        size: Length,
        /// The words.
        words: String,
        /// Their weight.
        weight: Weight,
        /// Which part of them stands at the point.
        anchor: Anchor,
        /// Their ink.
        ink: Ink,
    },
    /// A photograph, filling its rectangle.
    Picture {
        /// The top left corner.
        at: DVec2,
        /// Width and height.
        size: DVec2,
        /// The name its bytes are asked for by.
        name: String,
        /// What it shows, for who cannot see it.
        caption: String,
    },
    /// A rectangle that leads somewhere.
    Link {
        /// The top left corner.
        at: DVec2,
        /// Width and height.
        size: DVec2,
        /// Where it leads.
        to: LinkTo,
    },
    /// A named place that links and the outline lead to; it leaves no ink.
    Place {
        /// The name, one in the document.
        name: String,
        /// Its line in the outline.
        title: String,
        /// How deep it stands in the outline, from 0.
        level: usize,
    },
    /// Marks that belong together.
    Group {
        /// What they stand for, if it has a balloon.
        balloon: Option<Balloon>,
        /// The marks, farthest first.
        marks: Vec<Mark>,
    },
    /// Marks that are one thing to who has the sheet read out. Words and pictures outside of one are each read by
    /// themselves, lines are not.
    Tagged {
        /// What they are.
        tag: Tag,
        /// The marks, in the order they are read.
        marks: Vec<Mark>,
    },
}

impl Mark {
    /// Black words that begin at the point.
    pub fn words(at: DVec2, size: Length, weight: Weight, words: impl Into<String>) -> Self {
        Self::Text { at, size, words: words.into(), weight, anchor: Anchor::Start, ink: Ink::Black }
    }

    /// A drawing, by what it shows to who cannot see it.
    pub fn figure(shows: impl Into<String>, marks: Vec<Self>) -> Self {
        Self::Tagged { tag: Tag::Figure(shows.into()), marks }
    }

    /// A rectangle by its top left corner and its size.
    pub fn rectangle(at: DVec2, size: DVec2, pen: Option<Pen>, fill: Option<Ink>) -> Self {
        let points = vec![at, at + dvec2(size.x, 0.0), at + size, at + dvec2(0.0, size.y)];
        Self::Path { points, closed: true, pen, fill }
    }

    /// The same mark, moved.
    #[must_use]
    pub fn moved(self, by: DVec2) -> Self {
        match self {
            Self::Line { from, to, pen } => Self::Line { from: from + by, to: to + by, pen },
            Self::Path { points, closed, pen, fill } => {
                Self::Path { points: points.into_iter().map(|point| point + by).collect(), closed, pen, fill }
            }
            Self::Circle { centre, radius, pen, fill } => Self::Circle { centre: centre + by, radius, pen, fill },
            Self::Text { at, size, words, weight, anchor, ink } => {
                Self::Text { at: at + by, size, words, weight, anchor, ink }
            }
            Self::Picture { at, size, name, caption } => Self::Picture { at: at + by, size, name, caption },
            Self::Link { at, size, to } => Self::Link { at: at + by, size, to },
            Self::Group { balloon, marks } => Self::Group { balloon, marks: moved(marks, by) },
            Self::Tagged { tag, marks } => Self::Tagged { tag, marks: moved(marks, by) },
            place @ Self::Place { .. } => place,
        }
    }
}

/// The same marks, moved.
pub fn moved(marks: Vec<Mark>, by: DVec2) -> Vec<Mark> {
    marks.into_iter().map(|mark| mark.moved(by)).collect()
}

/// All marks, those in groups and under tags among them, as they come.
pub fn each<'a>(marks: &'a [Mark]) -> Vec<&'a Mark> {
    let inner = |mark: &'a Mark| match mark {
        Mark::Group { marks, .. } | Mark::Tagged { marks, .. } => each(marks),
        one => vec![one],
    };
    marks.iter().flat_map(inner).collect()
}

/// A sheet of paper.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Its width.
    pub width: Length,
    /// Its height.
    pub height: Length,
    /// Its marks, the lowest first.
    pub marks: Vec<Mark>,
}

/// The papers that sheets at full size are made for; what is drawn on them is the same size on both.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// ISO 216 A4.
    A4,
    /// US letter, ANSI/ASME Y14.1 size A.
    Letter,
}

impl Paper {
    /// The paper that lies in the printer of who reads these units.
    pub const fn usual(units: Units) -> Self {
        match units {
            Units::Inch => Self::Letter,
            Units::Metric => Self::A4,
        }
    }

    /// The paper of a key in an address.
    pub fn of_key(key: &str) -> Option<Self> {
        [Self::A4, Self::Letter].into_iter().find(|paper| paper.key() == key)
    }

    /// As it stands in an address.
    pub const fn key(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "letter",
        }
    }

    /// As it is called.
    pub const fn word(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "US letter",
        }
    }

    /// An empty sheet of it, upright.
    pub const fn sheet(self) -> Sheet {
        match self {
            Self::A4 => Sheet::a4(),
            Self::Letter => Sheet::letter(),
        }
    }
}

impl Sheet {
    /// An empty sheet of this size.
    pub const fn blank(width: Length, height: Length) -> Self {
        Self { width, height, marks: Vec::new() }
    }

    /// An empty A4 sheet, upright: 210 x 297 mm (ISO 216).
    pub const fn a4() -> Self {
        Self::blank(Length::from_mm(210.0), Length::from_mm(297.0))
    }

    /// An empty letter sheet, upright: 8 1/2 x 11 in (ANSI/ASME Y14.1 size A).
    pub const fn letter() -> Self {
        Self::blank(Length::from_inches(8.5), Length::from_inches(11.0))
    }

    /// The middle 190 x 259.4 mm, which prints at full size on A4 and on letter paper alike: top left corner and size.
    pub fn printable(&self) -> (DVec2, DVec2) {
        let size = dvec2(190.0_f64.min(self.width.mm() - 20.0), 259.4_f64.min(self.height.mm() - 20.0));
        ((dvec2(self.width.mm(), self.height.mm()) - size) / 2.0, size)
    }

    /// Draws the double frame round the printable area and a margin inside it; gives back the room left.
    pub fn frame(&mut self) -> (DVec2, DVec2) {
        let (at, size) = self.printable();
        self.marks.push(Mark::rectangle(at, size, Some(Pen::Wide), None));
        let (inner, less) = (at + 1.2, size - 2.4);
        self.marks.push(Mark::rectangle(inner, less, Some(Pen::Narrow), None));
        (inner + 4.0, less - 8.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_prints_on_both_papers_is_the_same_box() {
        // ISO 216 A4 and ANSI/ASME Y14.1 A with 10 mm left free on each side: 190 x 259.4 mm.
        for sheet in [Sheet::a4(), Sheet::letter()] {
            let (at, size) = sheet.printable();
            assert!((size - dvec2(190.0, 259.4)).length() < 1e-9);
            assert!(at.x >= 10.0 - 1e-9 && at.y >= 10.0 - 1e-9);
        }
    }

    #[test]
    fn a_group_moves_with_all_it_holds() {
        let line = Mark::Line { from: DVec2::ZERO, to: DVec2::ONE, pen: Pen::Narrow };
        let group = Mark::Group { balloon: None, marks: vec![line] }.moved(dvec2(3.0, 4.0));
        let line = Mark::Line { from: dvec2(3.0, 4.0), to: dvec2(4.0, 5.0), pen: Pen::Narrow };
        assert_eq!(group, Mark::Group { balloon: None, marks: vec![line] });
    }
}
