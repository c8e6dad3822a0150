//! What people draw over a photograph: a layer of its own, mark by mark, in parts of the upright picture.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::Balloon;
use crate::quantity::Share;

/// Most marks that stand over one photograph at a time.
pub const MOST_STANDING: usize = 40;
/// Most marks ever drawn over one photograph, those rubbed out among them.
pub const MOST_EVER: usize = 400;
/// Shortest arrow and least radius, as a part of the picture: a slip of the finger is no mark.
const SHORTEST: f64 = 0.01;

/// What is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Shape {
    /// From its tail to its head.
    Arrow,
    /// From its middle to its edge.
    Circle,
    /// A part's number, and a line from it to what it names.
    Balloon,
}

impl Shape {
    /// All of them, as offered in a form.
    pub const ALL: [Self; 3] = [Self::Arrow, Self::Circle, Self::Balloon];

    /// The word for it, as stored and shown.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Arrow => "arrow",
            Self::Circle => "circle",
            Self::Balloon => "balloon",
        }
    }

    /// The shape of a stored word.
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|shape| shape.word() == word)
    }
}

/// A place on a photograph, as parts of the upright picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Place {
    /// From its left edge.
    pub across: Share,
    /// From its top edge.
    pub down: Share,
}

/// A mark as it is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Drawn {
    /// What.
    pub shape: Shape,
    /// An arrow's tail, a circle's middle, where a balloon stands.
    pub from: Place,
    /// An arrow's head, a circle's edge, what a balloon names.
    pub to: Place,
    /// The part that a balloon names; none for the others.
    pub of: Option<Balloon>,
}

impl Drawn {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let outside = |share: Share| !(0.0..=1.0).contains(&share.ratio());
        let places = [
            ("across", self.from.across),
            ("down", self.from.down),
            ("to_across", self.to.across),
            ("to_down", self.to.down),
        ];
        let beyond = places.into_iter().filter(|(_, share)| outside(*share));
        let mut faults: Vec<Fault> =
            beyond.map(|(at, _)| Fault::new(at, "From 0 % to 100 % lies on the picture.")).collect();
        let (x, y) = (self.to.across.ratio() - self.from.across.ratio(), self.to.down.ratio() - self.from.down.ratio());
        if faults.is_empty() && self.shape != Shape::Balloon && x.hypot(y) < SHORTEST {
            faults.push(Fault::new("to_across", "Both places are the same. Draw it a little longer."));
        }
        if self.of.is_none() && self.shape == Shape::Balloon {
            faults.push(Fault::new("of", "A balloon names a part: type its number, like J7."));
        }
        if self.of.is_some() && self.shape != Shape::Balloon {
            faults.push(Fault::new("of", "Only a balloon names a part. Leave this empty."));
        }
        faults
    }

    /// It in words: "balloon J7".
    pub fn words(&self) -> String {
        self.of.map_or_else(|| self.shape.word().to_owned(), |of| format!("{} {of}", self.shape.word()))
    }
}

/// A mark over a photograph of a build.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MarkUp {
    /// The photograph.
    pub sha256: Fingerprint,
    /// Its number over this photograph, from 1; never given out twice.
    pub number: u32,
    /// What was drawn.
    pub drawn: Drawn,
    /// When.
    pub at: Timestamp,
    /// Who drew it.
    pub by: String,
    /// When it was rubbed out and by whom; none while it stands.
    pub rubbed_out: Option<(Timestamp, String)>,
}

impl MarkUp {
    /// Whether it is shown.
    pub const fn is_shown(&self) -> bool {
        self.rubbed_out.is_none()
    }
}

/// What is wrong with one mark more over a photograph that these were drawn over, if anything.
pub fn room_faults(there: &[MarkUp]) -> Vec<Fault> {
    if there.iter().filter(|mark| mark.is_shown()).count() >= MOST_STANDING {
        return vec![Fault::new("shape", format!("{MOST_STANDING} marks stand over this photo. Rub one out first."))];
    }
    if there.len() >= MOST_EVER {
        let why =
            format!("{MOST_EVER} marks were drawn over this photo; it takes no more. Photograph the place again.");
        return vec![Fault::new("shape", why)];
    }
    Vec::new()
}

/// The version of what stands over a photograph: counts up with each mark drawn and each rubbed out.
pub fn version(marks: &[&MarkUp]) -> usize {
    marks.len() + marks.iter().filter(|mark| !mark.is_shown()).count()
}
