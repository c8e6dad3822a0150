//! A cage file in the measured form: the basic structure, the tape measurements, what is chosen, and what it is made of.

use std::collections::BTreeMap;
use std::fmt;
use std::marker::PhantomData;

use serde::de::{Error as _, MapAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize};

use super::cage_file::Unit;
use super::entry::Entry;
use super::slips::slip;
use crate::domain::cage::hole::GussetHole;
use crate::domain::cage::record::CageRecord;
use crate::domain::cage::record::basic_structure::BasicStructure;
use crate::domain::cage::record::body::BodyPlace;
use crate::domain::cage::record::by_hand::HandBar;
use crate::domain::cage::record::fittings::{
    Arm, Fixing, Foot, GussetKind, GussetRecord, MainBars, PlateRecord, TubeOverride, TubeRole, Tubes,
};
use crate::domain::cage::record::measures::TapeMeasure;
use crate::domain::cage::record::options::Options;
use crate::domain::cage::record::seats::SeatRecord;
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::Balloon;
use crate::domain::words::roles::MemberRole;
use crate::quantity::{Length, Typed};

/// The version of the cage file that this program reads and writes.
pub(in crate::domain::cage) const VERSION: u32 = 1;
/// Fields by which this form is known from the drawn one.
pub(in crate::domain::cage) const OWN: [&str; 12] = [
    "measurements",
    "structure",
    "options",
    "bars_by_hand",
    "body",
    "torch_radius",
    "seats",
    "tubes",
    "main_bars",
    "bend_radius",
    "own_tubes",
    "numbers",
];

/// A measured cage file as it is written.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::domain::cage) struct MeasuredFile {
    pub(in crate::domain::cage) tackbook_cage: u32,
    pub(in crate::domain::cage) unit: Unit,
    pub(in crate::domain::cage) structure: BasicStructure,
    #[serde(deserialize_with = "once")]
    pub(in crate::domain::cage) measurements: BTreeMap<TapeMeasure, Entry>,
    #[serde(default)]
    pub(in crate::domain::cage) options: Options,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::domain::cage) bars_by_hand: Vec<HandBar<Entry>>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::domain::cage) body: Vec<BodyPlace<Entry>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::domain::cage) torch_radius: Option<Entry>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::domain::cage) seats: Vec<SeatRecord<Entry>>,
    #[serde(default, deserialize_with = "once")]
    pub(in crate::domain::cage) tubes: BTreeMap<TubeRole, FileSize>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::domain::cage) main_bars: Option<Vec<MemberRole>>,
    #[serde(default, deserialize_with = "once")]
    pub(in crate::domain::cage) bend_radius: BTreeMap<TubeRole, Entry>,
    #[serde(default, deserialize_with = "once")]
    pub(in crate::domain::cage) plates: BTreeMap<Foot, FilePlate>,
    #[serde(default)]
    pub(in crate::domain::cage) gussets: Vec<FileGusset>,
    #[serde(default, deserialize_with = "once")]
    pub(in crate::domain::cage) own_tubes: BTreeMap<String, OwnTube>,
    #[serde(default, deserialize_with = "once")]
    pub(in crate::domain::cage) numbers: BTreeMap<String, Balloon>,
}

/// A tube's size, in the file's unit where none is said.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::domain::cage) struct FileSize {
    outside: f64,
    wall: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    unit: Option<Unit>,
}

/// The tube of one bar, and why it is another.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::domain::cage) struct OwnTube {
    tube: FileSize,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    grade: Option<String>,
    reason: String,
}

/// A plate.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::domain::cage) struct FilePlate {
    side_a: Entry,
    side_b: Entry,
    thickness: Entry,
    #[serde(default)]
    fixed: Fixing,
}

/// A gusset.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::domain::cage) struct FileGusset {
    joint: String,
    between: [Arm; 2],
    kind: GussetKind,
    leg: Entry,
    thickness: Entry,
    #[serde(default, skip_serializing_if = "unsaid")]
    hole: GussetHole<Entry>,
}

fn unsaid(hole: &GussetHole<Entry>) -> bool {
    *hole == GussetHole::NotStated
}

/// A table whose names are each given once: of two figures for one measurement, neither can be trusted.
fn once<'de, D, K, V>(input: D) -> Result<BTreeMap<K, V>, D::Error>
where
    D: Deserializer<'de>,
    K: Deserialize<'de> + Ord + Serialize,
    V: Deserialize<'de>,
{
    struct Once<K, V>(PhantomData<(K, V)>);
    impl<'de, K: Deserialize<'de> + Ord + Serialize, V: Deserialize<'de>> Visitor<'de> for Once<K, V> {
        type Value = BTreeMap<K, V>;

        fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
            f.write_str("a map")
        }

        fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<Self::Value, A::Error> {
            let mut table = BTreeMap::new();
            while let Some(name) = fields.next_key::<K>()? {
                if table.contains_key(&name) {
                    let shown = serde_json::to_value(&name).ok();
                    let shown = shown.as_ref().and_then(serde_json::Value::as_str).unwrap_or_default().to_owned();
                    return Err(A::Error::custom(format!("here {shown} is given twice; leave one")));
                }
                table.insert(name, fields.next_value()?);
            }
            Ok(table)
        }
    }
    input.deserialize_map(Once(PhantomData))
}

impl FileSize {
    /// A size as a file of this unit gives it.
    pub(in crate::domain::cage) fn of(tube: &TubeSize, unit: Unit) -> Self {
        let own = Unit::of(tube.printed);
        let number = |length: Length| tidy(length, own);
        let said = (own != unit).then_some(own);
        Self { outside: number(tube.outside), wall: number(tube.wall), unit: said }
    }

    fn size(&self, unit: Unit) -> TubeSize {
        let own = self.unit.unwrap_or(unit);
        TubeSize { outside: own.length(self.outside), wall: own.length(self.wall), printed: own.units() }
    }
}

/// A length as the shortest number of the unit that reads back as the same.
fn tidy(length: Length, unit: Unit) -> f64 {
    let number = if unit == Unit::Inch { length.inches() } else { length.mm() };
    let round = (number * 1e6).round() / 1e6;
    if unit.length(round) == length { round } else { number }
}

impl OwnTube {
    /// A bar's own tube as a file of this unit gives it.
    pub(in crate::domain::cage) fn of(own: &TubeOverride, unit: Unit) -> Self {
        Self { tube: FileSize::of(&own.tube, unit), grade: own.grade.clone(), reason: own.reason.clone() }
    }
}

impl FilePlate {
    /// A plate as a file gives it.
    pub(in crate::domain::cage) fn of(plate: &PlateRecord) -> Self {
        let PlateRecord { side_a, side_b, thickness, fixed } = plate;
        let [side_a, side_b, thickness] = [side_a, side_b, thickness].map(Entry::of);
        Self { side_a, side_b, thickness, fixed: *fixed }
    }
}

impl FileGusset {
    /// A gusset as a file gives it.
    pub(in crate::domain::cage) fn of(gusset: &GussetRecord) -> Self {
        let GussetRecord { joint, between, kind, leg, thickness, hole } = gusset;
        Self {
            joint: joint.clone(),
            between: between.clone(),
            kind: *kind,
            leg: Entry::of(leg),
            thickness: Entry::of(thickness),
            hole: hole.as_ref().map(Entry::of),
        }
    }
}

/// Lengths of one file, read one after another, what does not read noted by its name.
struct Reader {
    unit: Unit,
    faults: Vec<Fault>,
}

impl Reader {
    fn length(&mut self, at: impl Into<String>, entry: &Entry) -> Option<Typed<Length>> {
        entry.length(self.unit).map_err(|unreadable| self.faults.push(Fault::new(at, unreadable.to_string()))).ok()
    }

    fn plate(&mut self, foot: Foot, plate: &FilePlate) -> Option<(Foot, PlateRecord)> {
        let mut length = |part: &str, entry| self.length(format!("plate_{}_{part}", foot.key()), entry);
        let side_a = length("side_a", &plate.side_a);
        let side_b = length("side_b", &plate.side_b);
        let thickness = length("thickness", &plate.thickness);
        Some((foot, PlateRecord { side_a: side_a?, side_b: side_b?, thickness: thickness?, fixed: plate.fixed }))
    }

    fn bar_by_hand(&mut self, bar: &HandBar<Entry>) -> Option<HandBar> {
        let at = bar.key();
        bar.with_lengths(|field, entry| self.length(format!("{at}/{field}"), entry))
    }

    fn place(&mut self, place: &BodyPlace<Entry>) -> Option<BodyPlace> {
        let at = place.key();
        place.with_lengths(|field, entry| self.length(format!("{at}/{field}"), entry))
    }

    fn seat(&mut self, seat: &SeatRecord<Entry>) -> Option<SeatRecord> {
        let at = seat.key();
        seat.with_lengths(|field, entry| self.length(format!("{at}/{field}"), entry))
    }

    fn gusset(&mut self, number: usize, gusset: &FileGusset) -> Option<GussetRecord> {
        let mut length = |part: &str, entry| self.length(format!("gusset_{number}_{part}"), entry);
        let leg = length("leg", &gusset.leg);
        let thickness = length("thickness", &gusset.thickness);
        let hole = match &gusset.hole {
            GussetHole::NotStated => Some(GussetHole::NotStated),
            GussetHole::NoHole => Some(GussetHole::NoHole),
            GussetHole::Across(across) => length("hole", across).map(GussetHole::Across),
        };
        Some(GussetRecord {
            joint: gusset.joint.clone(),
            between: gusset.between.clone(),
            kind: gusset.kind,
            leg: leg?,
            thickness: thickness?,
            hole: hole?,
        })
    }
}

/// What a measured cage file brings.
#[derive(Debug, Clone, PartialEq)]
pub struct Brought {
    /// The cage, numbered as far as the file says.
    pub record: CageRecord,
    /// The tube it says for the two kinds of bars; none where it does not say both.
    pub tubes: Option<Tubes>,
}

/// Reads a measured cage file; what is wrong with it comes back by line and column, or by the figure's name.
pub(in crate::domain::cage) fn read(text: &str) -> Result<Brought, Vec<Fault>> {
    let file: MeasuredFile = serde_json::from_str(text).map_err(|error| vec![slip(&error)])?;
    if file.tackbook_cage != VERSION {
        let why =
            format!("This is version {} of the cage file; this program reads version {VERSION}.", file.tackbook_cage);
        return Err(vec![Fault::new("tackbook_cage", why)]);
    }
    let mut reader = Reader { unit: file.unit, faults: Vec::new() };
    let measures = file.measurements.iter();
    let measures = measures.filter_map(|(measure, entry)| Some((*measure, reader.length(measure.key(), entry)?)));
    let measures = measures.collect();
    let radii = file.bend_radius.iter();
    let bend_radius = radii
        .filter_map(|(role, entry)| Some((*role, reader.length(format!("bend_radius_{}", role.key()), entry)?)))
        .collect();
    let plates = file.plates.iter().filter_map(|(foot, plate)| reader.plate(*foot, plate)).collect();
    let gussets = (1..).zip(&file.gussets).filter_map(|(number, gusset)| reader.gusset(number, gusset)).collect();
    let hand_bars = file.bars_by_hand.iter().filter_map(|bar| reader.bar_by_hand(bar)).collect();
    let body = file.body.iter().filter_map(|place| reader.place(place)).collect();
    let torch_radius = file.torch_radius.as_ref().and_then(|torch| reader.length("torch_radius", torch));
    let seats = file.seats.iter().filter_map(|seat| reader.seat(seat)).collect();
    let own = |(key, own): (&String, &OwnTube)| {
        (
            key.clone(),
            TubeOverride { tube: own.tube.size(file.unit), grade: own.grade.clone(), reason: own.reason.clone() },
        )
    };
    let tubes = file.own_tubes.iter().map(own).collect();
    let (options, numbers) = (file.options.clone(), file.numbers.clone());
    let structure = file.structure;
    let record = CageRecord {
        measures,
        structure,
        options,
        hand_bars,
        body,
        torch_radius,
        seats,
        plates,
        gussets,
        bend_radius,
        tubes,
        numbers,
    };
    let mut faults = reader.faults;
    faults.extend(record.faults());
    for (role, size) in &file.tubes {
        faults.extend(size.size(file.unit).faults_at(&format!("tubes, {}", role.key())));
    }
    let of = |role| file.tubes.get(&role).map(|size| size.size(file.unit));
    let main = file.main_bars.as_deref().map_or(MainBars::BASIC_STRUCTURE, MainBars::these);
    let tubes = of(TubeRole::Hoop).zip(of(TubeRole::Other)).map(|(hoop, other)| Tubes { hoop, other, main });
    if faults.is_empty() { Ok(Brought { record, tubes }) } else { Err(faults) }
}
