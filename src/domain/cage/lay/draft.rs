//! The cage while it is being laid out: bars one after another, each hung on those before it.

use glam::DVec3;

use crate::domain::cage::parts::Side;
use crate::domain::cage::record::CageRecord;
use crate::domain::cage::record::fittings::{Foot, Tubes};
use crate::domain::cage::record::key_words::words;
use crate::domain::cage::record::measures::{Hand, TapeMeasure};
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::faults::Fault;
use crate::domain::words::roles::MemberRole;
use crate::geometry::CentreLine;
use crate::quantity::Length;

/// A straight between two bends must leave the die and its clamp this many outside diameters (*common practice*).
const CLAMP: f64 = 1.5;
/// A straight bar shorter than this many outside diameters is no bar (own choice).
const SHORTEST: f64 = 2.0;

/// A place on a bar.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::domain::cage) struct Place {
    /// The key of the bar.
    pub(in crate::domain::cage) carrier: String,
    /// Along its centre line.
    pub(in crate::domain::cage) along: Length,
    /// The place itself: on the centre line, or beside it by the offset.
    pub(in crate::domain::cage) point: DVec3,
    /// How far beside the centre line, positive along the carrier's direction x the direction into the bar.
    pub(in crate::domain::cage) offset: Length,
    /// The key of a second bar that meets the first here, when the end is coped over both.
    pub(in crate::domain::cage) corner_with: Option<String>,
}

impl Place {
    /// On a bar's centre line.
    pub(in crate::domain::cage) fn on(carrier: &str, along: Length, point: DVec3) -> Self {
        Self { carrier: carrier.to_owned(), along, point, offset: Length::default(), corner_with: None }
    }
}

/// A place, or why there is none.
pub(in crate::domain::cage) type Placed = Result<Place, String>;

/// What a bar's end stands on.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::domain::cage) enum Landing {
    /// The plate of a foot.
    Plate(Foot, Hand),
    /// Another bar.
    Onto(Place),
}

/// What a bar is called.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::domain::cage) struct Label {
    pub(in crate::domain::cage) key: String,
    pub(in crate::domain::cage) role: MemberRole,
    pub(in crate::domain::cage) side: Side,
}

impl Label {
    pub(in crate::domain::cage) fn new(key: impl Into<String>, role: MemberRole, side: impl Into<Side>) -> Self {
        Self { key: key.into(), role, side: side.into() }
    }

    /// The label of a piece of this bar.
    pub(in crate::domain::cage) fn piece(&self, piece: &str) -> Self {
        Self { key: format!("{}/{piece}", self.key), ..self.clone() }
    }
}

/// A bar that can be built.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::domain::cage) struct Bar {
    pub(in crate::domain::cage) label: Label,
    pub(in crate::domain::cage) tube: TubeSize,
    pub(in crate::domain::cage) line: CentreLine,
    pub(in crate::domain::cage) ends: [Landing; 2],
}

/// Bars laid out so far, the keys of all that are wanted, and what stood in the way.
pub(in crate::domain::cage) struct Draft<'a> {
    pub(in crate::domain::cage) record: &'a CageRecord,
    pub(in crate::domain::cage) tubes: &'a Tubes,
    pub(in crate::domain::cage) bars: Vec<Bar>,
    pub(in crate::domain::cage) wanted: Vec<String>,
    pub(in crate::domain::cage) faults: Vec<Fault>,
}

impl<'a> Draft<'a> {
    pub(in crate::domain::cage) fn new(record: &'a CageRecord, tubes: &'a Tubes) -> Self {
        Self { record, tubes, bars: Vec::new(), wanted: Vec::new(), faults: Vec::new() }
    }

    /// A measurement as a coordinate of points, mm.
    pub(in crate::domain::cage) fn coordinate(&self, measure: TapeMeasure) -> Option<f64> {
        self.record.measure(measure).map(Length::mm)
    }

    /// The tube of a bar: its own, or its role's.
    pub(in crate::domain::cage) fn tube(&self, label: &Label) -> TubeSize {
        let own = self.record.tubes.get(&label.key);
        own.map_or_else(|| self.tubes.of(label.role), |own| own.tube)
    }

    pub(in crate::domain::cage) fn bar(&self, key: &str) -> Option<&Bar> {
        self.bars.iter().find(|bar| bar.label.key == key)
    }

    /// A bar that others hang on, or why they cannot.
    pub(in crate::domain::cage) fn carrier(&self, key: &str) -> Result<&Bar, String> {
        self.bar(key).ok_or_else(|| format!("It hangs on the {}, which cannot be laid out yet.", words(key)))
    }

    /// A place on a bar.
    pub(in crate::domain::cage) fn place(&self, key: &str, along: Length) -> Placed {
        let bar = self.carrier(key)?;
        if along < Length::default() || along > bar.line.developed_length() {
            return Err(format!("It would land off the end of the {}.", words(key)));
        }
        Ok(Place::on(key, along, bar.line.point_at(along).0))
    }

    /// Notes that a bar is wanted which cannot be laid out, and why if nobody has said so yet.
    pub(in crate::domain::cage) fn refuse(&mut self, label: &Label, why: Option<String>) {
        self.wanted.push(label.key.clone());
        if let Some(why) = why {
            self.faults.push(Fault::new(&label.key, why));
        }
    }

    /// Adds a bar through corner points.
    pub(in crate::domain::cage) fn add(&mut self, label: Label, points: Vec<DVec3>, ends: [Landing; 2]) {
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
    pub(in crate::domain::cage) fn straight(&mut self, label: Label, from: Placed, to: Placed) {
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
