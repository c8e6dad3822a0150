//! The cage while it is being laid out: bars one after another, each hung on those before it.

use glam::DVec3;

use super::fittings::{Foot, Tubes};
use super::measures::{Hand, TapeMeasure};
use super::parts::Side;
use super::record::CageRecord;
use crate::domain::faults::Fault;
use crate::domain::roles::MemberRole;
use crate::domain::tube::TubeSize;
use crate::geometry::CentreLine;
use crate::quantity::Length;

/// A straight between two bends must leave the die and its clamp this many outside diameters (*common practice*).
const CLAMP: f64 = 1.5;
/// A straight bar shorter than this many outside diameters is no bar (own choice).
const SHORTEST: f64 = 2.0;

/// A place on a bar.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Place {
    /// The key of the bar.
    pub(super) carrier: String,
    /// Along its centre line.
    pub(super) along: Length,
    /// The place itself: on the centre line, or beside it by the offset.
    pub(super) point: DVec3,
    /// How far beside the centre line, positive along the carrier's direction x the direction into the bar.
    pub(super) offset: Length,
    /// The key of a second bar that meets the first here, when the end is coped over both.
    pub(super) corner_with: Option<String>,
}

impl Place {
    /// On a bar's centre line.
    pub(super) fn on(carrier: &str, along: Length, point: DVec3) -> Self {
        Self { carrier: carrier.to_owned(), along, point, offset: Length::default(), corner_with: None }
    }
}

/// A place, or why there is none.
pub(super) type Placed = Result<Place, String>;

/// What a bar's end stands on.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Landing {
    /// The plate of a foot.
    Plate(Foot, Hand),
    /// Another bar.
    Onto(Place),
}

/// What a bar is called.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Label {
    pub(super) key: String,
    pub(super) role: MemberRole,
    pub(super) side: Side,
}

impl Label {
    pub(super) fn new(key: impl Into<String>, role: MemberRole, side: impl Into<Side>) -> Self {
        Self { key: key.into(), role, side: side.into() }
    }

    /// The label of a piece of this bar.
    pub(super) fn piece(&self, piece: &str) -> Self {
        Self { key: format!("{}/{piece}", self.key), ..self.clone() }
    }
}

/// A bar that can be built.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bar {
    pub(super) label: Label,
    pub(super) tube: TubeSize,
    pub(super) line: CentreLine,
    pub(super) ends: [Landing; 2],
}

/// Bars laid out so far, the keys of all that are wanted, and what stood in the way.
pub(super) struct Draft<'a> {
    pub(super) record: &'a CageRecord,
    pub(super) tubes: &'a Tubes,
    pub(super) bars: Vec<Bar>,
    pub(super) wanted: Vec<String>,
    pub(super) faults: Vec<Fault>,
}

impl<'a> Draft<'a> {
    pub(super) fn new(record: &'a CageRecord, tubes: &'a Tubes) -> Self {
        Self { record, tubes, bars: Vec::new(), wanted: Vec::new(), faults: Vec::new() }
    }

    /// A measurement as a coordinate of points, mm.
    pub(super) fn coordinate(&self, measure: TapeMeasure) -> Option<f64> {
        self.record.measure(measure).map(Length::mm)
    }

    /// The tube of a bar: its own, or its role's.
    pub(super) fn tube(&self, label: &Label) -> TubeSize {
        let own = self.record.tubes.get(&label.key);
        own.map_or_else(|| self.tubes.of(label.role), |own| own.tube)
    }

    pub(super) fn bar(&self, key: &str) -> Option<&Bar> {
        self.bars.iter().find(|bar| bar.label.key == key)
    }

    /// A bar that others hang on, or why they cannot.
    pub(super) fn carrier(&self, key: &str) -> Result<&Bar, String> {
        self.bar(key).ok_or_else(|| format!("It hangs on the {}, which cannot be laid out yet.", words(key)))
    }

    /// A place on a bar.
    pub(super) fn place(&self, key: &str, along: Length) -> Placed {
        let bar = self.carrier(key)?;
        if along < Length::default() || along > bar.line.developed_length() {
            return Err(format!("It would land off the end of the {}.", words(key)));
        }
        Ok(Place::on(key, along, bar.line.point_at(along).0))
    }

    /// Notes that a bar is wanted which cannot be laid out, and why if nobody has said so yet.
    pub(super) fn refuse(&mut self, label: &Label, why: Option<String>) {
        self.wanted.push(label.key.clone());
        if let Some(why) = why {
            self.faults.push(Fault::new(&label.key, why));
        }
    }

    /// Adds a bar through corner points.
    pub(super) fn add(&mut self, label: Label, points: Vec<DVec3>, ends: [Landing; 2]) {
        let tube = self.tube(&label);
        let radius = self.record.bend_radius.get(&self.tubes.main.size_of(label.role)).map(|typed| typed.value);
        match CentreLine::new(points, radius.unwrap_or_default()) {
            Ok(line) => {
                self.wanted.push(label.key.clone());
                self.faults.extend(short_of_clamp(&line, &tube).map(|why| Fault::new(&label.key, why)));
                self.bars.push(Bar { label, tube, line, ends });
            }
            Err(fault) => self.refuse(&label, Some(fault.to_string())),
        }
    }

    /// Adds a straight bar from place to place.
    pub(super) fn straight(&mut self, label: Label, from: Placed, to: Placed) {
        let (from, to) = match (from, to) {
            (Ok(from), Ok(to)) => (from, to),
            (Err(why), _) | (_, Err(why)) => return self.refuse(&label, Some(why)),
        };
        let least = self.tube(&label).outside * SHORTEST;
        if Length::from_mm(from.point.distance(to.point)) < least {
            let why = format!("It would be shorter than {}, too short to cope both ends.", least.in_both());
            return self.refuse(&label, Some(why));
        }
        self.add(label, vec![from.point, to.point], [Landing::Onto(from), Landing::Onto(to)]);
    }
}

/// The words a key reads as.
pub fn words(key: &str) -> String {
    key.replace(['-', '/'], " ")
}

fn short_of_clamp(line: &CentreLine, tube: &TubeSize) -> Option<String> {
    let least = tube.outside * CLAMP;
    let between = line.straights().iter().skip(1).take(line.bends().len().saturating_sub(1));
    let (at, short) = between.enumerate().find(|(_, straight)| **straight < least)?;
    Some(format!(
        "Between bends {} and {} only {} are straight; the die and its clamp want {}.",
        at + 1,
        at + 2,
        short.in_both(),
        least.in_both()
    ))
}
