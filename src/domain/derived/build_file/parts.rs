//! The parts of a build file: each out of what is recorded, and back into what is judged.

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::domain::derived::measures::ReadOff;
use crate::domain::measure::figures::Measured;
use crate::domain::measure::measures::Measure;
use crate::domain::measure::tools::Tool;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::kit::{KitItem, Label};
use crate::domain::recorded::photos::{Photo, Received};
use crate::domain::recorded::rulings::{NewRuling, Ruling};
use crate::domain::shop::stock::{Cut, Stick, Taken};
use crate::domain::steel::tube::TubeSize;
use crate::domain::weight::carried::{Listed, Thing};
use crate::domain::weight::weigh_in::{Reading, WeighIn};
use crate::domain::words::car_dates::CarDates;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, BuildId, Kind, StickId};
use crate::domain::words::label_dates::LabelDate;
use crate::domain::words::limits;
use crate::quantity::{Length, Typed};

/// No rule asks when something was recorded.
const NEVER: Timestamp = Timestamp::UNIX_EPOCH;

/// An id for what has none in a file: by its place there.
pub(super) fn id(place: usize) -> Uuid {
    Uuid::from_u128(u128::try_from(place).unwrap_or_default() + 1)
}

fn stick_id(number: u32) -> StickId {
    Uuid::from_u128(u128::from(number)).into()
}

#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct CarFile {
    pub(super) registered: Option<LabelDate>,
    pub(super) homologated: Option<LabelDate>,
    pub(super) first_log_book: Option<LabelDate>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Weighed {
    pub(super) number: u32,
    pub(super) day: Date,
    pub(super) by: String,
    pub(super) reading: Reading,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ListedFile {
    pub(super) place: u32,
    pub(super) thing: Thing,
    /// The number of the weigh-in it was listed against.
    pub(super) weigh_in: Option<u32>,
    pub(super) by: String,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct StickFile {
    pub(super) number: u32,
    pub(super) size: Typed<TubeSize>,
    pub(super) grade: String,
    pub(super) heat: String,
    /// The bars that were cut from it.
    pub(super) bars: Vec<Balloon>,
    /// What those took of it, as far as it was recorded. Not in files of before it was.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) taken: Vec<TakenFile>,
    /// Pieces that were cut from it before their bars were cut again.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) earlier: Vec<EarlierFile>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TakenFile {
    pub(super) bar: Balloon,
    pub(super) lengths: Taken,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct EarlierFile {
    pub(super) bar: Balloon,
    /// None where it was not recorded.
    #[serde(default)]
    pub(super) lengths: Option<Taken>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct KitFile {
    pub(super) number: u32,
    pub(super) item: String,
    pub(super) label: Label,
    pub(super) second_label: Option<Label>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ReadFile {
    pub(super) measure: Measure,
    pub(super) of: Balloon,
    pub(super) value: f64,
    pub(super) text: String,
    pub(super) tool: Option<Tool>,
    pub(super) by: String,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PhotoFile {
    /// The shot it answers: the part, the rule, the view.
    pub(super) shot: String,
    pub(super) sha256: Fingerprint,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RulingFile {
    pub(super) number: u32,
    pub(super) rule: String,
    pub(super) of: Option<Balloon>,
    pub(super) measure: Option<Measure>,
    pub(super) stays: bool,
    pub(super) words: String,
    pub(super) given_by: String,
    pub(super) given: Date,
    pub(super) round: Option<u32>,
    pub(super) letter: String,
    pub(super) edition: String,
    pub(super) found: String,
}

impl CarFile {
    pub(super) const fn of(car: &CarDates) -> Self {
        Self { registered: car.registered, homologated: car.homologated, first_log_book: car.log_book }
    }

    pub(super) const fn dates(&self) -> CarDates {
        CarDates { registered: self.registered, homologated: self.homologated, log_book: self.first_log_book, at: None }
    }
}

impl Weighed {
    pub(super) fn of(newest: &WeighIn) -> Self {
        let WeighIn { number, reading, day, by, .. } = newest.clone();
        Self { number, day, by, reading }
    }

    pub(super) fn weigh_in(self) -> WeighIn {
        let Self { number, day, by, reading } = self;
        WeighIn { id: id(0).into(), number, reading, day, by }
    }
}

impl ListedFile {
    pub(super) fn of(listed: &Listed) -> Self {
        let Listed { place, thing, weigh_in, by, .. } = listed.clone();
        Self { place, thing, weigh_in, by }
    }

    pub(super) fn listed(self) -> Listed {
        let Self { place, thing, weigh_in, by } = self;
        Listed { place, thing, weigh_in, added: NEVER, by }
    }
}

impl StickFile {
    pub(super) fn of(stick: &Stick, facts: &BuildFacts) -> Self {
        let from_it = |cut: &&Cut| cut.stick == stick.id;
        let newest: Vec<&Cut> = facts.newest_cuts().filter(from_it).collect();
        let is_newest = |cut: &Cut| newest.iter().any(|one| std::ptr::eq(*one, cut));
        let earlier = facts.cuts.iter().filter(from_it).filter(|cut| !is_newest(cut));
        let Stick { number, size, grade, heat, .. } = stick.clone();
        Self {
            earlier: earlier.map(|cut| EarlierFile { bar: cut.member, lengths: cut.taken }).collect(),
            bars: newest.iter().map(|cut| cut.member).collect(),
            taken: newest.iter().filter_map(|cut| Some(TakenFile { bar: cut.member, lengths: cut.taken? })).collect(),
            number,
            size,
            grade,
            heat,
        }
    }

    /// The pieces that were cut from it before their bars were cut again.
    pub(super) fn earlier_cuts(&self) -> impl Iterator<Item = Cut> {
        self.earlier.iter().map(|one| self.cut(one.bar, one.lengths))
    }

    pub(super) fn cuts(&self) -> impl Iterator<Item = Cut> {
        let taken = |bar: Balloon| self.taken.iter().find(|one| one.bar == bar).map(|one| one.lengths);
        self.bars.iter().map(move |bar| self.cut(*bar, taken(*bar)))
    }

    fn cut(&self, member: Balloon, taken: Option<Taken>) -> Cut {
        Cut { member, stick: stick_id(self.number), at: NEVER, by: String::new(), taken }
    }

    /// What is wrong with its bars, if anything.
    pub(super) fn bar_faults(&self) -> Vec<Fault> {
        let fault = |why: String| Fault::new("sticks", why);
        let bars = self
            .bars
            .iter()
            .chain(self.taken.iter().map(|one| &one.bar))
            .chain(self.earlier.iter().map(|one| &one.bar));
        let mut faults: Vec<Fault> =
            bars.filter(|bar| bar.kind != Kind::Member).take(1).map(|bar| fault(format!("{bar} is no bar."))).collect();
        let known = |bar: Balloon| self.bars.contains(&bar);
        if let Some(one) = self.taken.iter().find(|one| !known(one.bar)) {
            faults.push(fault(format!(
                "What {} took of S{} is said, but not that it was cut from it.",
                one.bar, self.number
            )));
        }
        let lengths = self.taken.iter().map(|one| one.lengths).chain(self.earlier.iter().filter_map(|one| one.lengths));
        let within = |length: Length| length >= Length::default() && length <= limits::STICK;
        for (name, length) in lengths.flat_map(|taken| taken.lengths()).filter(|(_, length)| !within(*length)).take(1) {
            faults.push(fault(format!("A cut's {name} is between 0 and 15 m, not {} mm.", length.mm())));
        }
        faults
    }

    pub(super) fn stick(self, build: BuildId) -> Stick {
        Stick {
            id: stick_id(self.number),
            number: self.number,
            size: self.size,
            grade: self.grade,
            heat: self.heat,
            length: Typed::written(Length::default()),
            certificate: None,
            given_to: Some(build),
            added: NEVER,
            by: String::new(),
        }
    }
}

impl KitFile {
    pub(super) fn of(item: &KitItem) -> Self {
        let KitItem { number, item, label, second_label, .. } = item.clone();
        Self { number, item, label, second_label }
    }

    pub(super) fn item(self, place: usize) -> KitItem {
        let Self { number, item, label, second_label } = self;
        KitItem { id: id(place).into(), number, item, label, second_label, note: String::new(), version: 1 }
    }
}

impl ReadFile {
    pub(super) fn of(read: &Measured) -> Self {
        let Measured { measure, of, amount, text, tool, by, .. } = read.clone();
        Self { measure, of, value: amount.in_base_unit(), text, tool, by }
    }

    pub(super) fn measured(self) -> Measured {
        let Self { measure, of, value, text, tool, by } = self;
        let read = ReadOff::of(measure, measure.dimension().of_base_unit(value), &text);
        Measured { measure, of, amount: read.amount(), text: read.text().to_owned(), at: NEVER, by, tool }
    }
}

impl PhotoFile {
    pub(super) fn of(photo: &Photo) -> Self {
        Self { shot: photo.shot.clone(), sha256: photo.sha256.clone() }
    }

    pub(super) fn photo(self, place: usize, build: BuildId) -> Photo {
        Photo {
            capture: id(place).into(),
            build,
            shot: self.shot,
            note: String::new(),
            sha256: self.sha256,
            size: 1,
            camera_size: None,
            taken_claim: None,
            declared: NEVER,
            by: String::new(),
            received: Some(Received { at: NEVER, entry: 0, dots: Some((1, 1)), remarks: Vec::new() }),
            withdrawn: None,
        }
    }
}

impl RulingFile {
    pub(super) fn of(ruling: &Ruling) -> Self {
        let Ruling { place, ruled, edition, found, .. } = ruling.clone();
        let NewRuling { rule, of, measure, stays, words, given_by, given, round, letter, .. } = ruled;
        Self { number: place, rule, of, measure, stays, words, given_by, given, round, letter, edition, found }
    }

    pub(super) fn ruling(self) -> Ruling {
        let Self { number, rule, of, measure, stays, words, given_by, given, round, letter, edition, found } = self;
        let ruled = NewRuling { rule, of, measure, stays, words, given_by, given, capture: None, round, letter };
        Ruling { place: number, ruled, edition, found, recorded: NEVER, by: String::new(), taken_back: None }
    }
}
