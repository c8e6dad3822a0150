//! The parts of a build file: each out of what is recorded, and back into what is judged.

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::domain::car_dates::CarDates;
use crate::domain::carried::{Listed, Thing};
use crate::domain::figures::{Measure, Measured};
use crate::domain::fingerprint::Fingerprint;
use crate::domain::ids::{Balloon, BuildId, StickId};
use crate::domain::kit::{KitItem, Label, LabelDate};
use crate::domain::photos::{Photo, Received};
use crate::domain::rulings::{NewRuling, Ruling};
use crate::domain::stock::{Cut, Stick};
use crate::domain::tools::Tool;
use crate::domain::tube::TubeSize;
use crate::domain::weigh_in::{Reading, WeighIn};
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
    pub(super) fn of(stick: &Stick, cuts: &[Cut]) -> Self {
        let bars = cuts.iter().filter(|cut| cut.stick == stick.id).map(|cut| cut.member).collect();
        let Stick { number, size, grade, heat, .. } = stick.clone();
        Self { number, size, grade, heat, bars }
    }

    pub(super) fn cuts(&self) -> impl Iterator<Item = Cut> {
        let stick = stick_id(self.number);
        self.bars.iter().map(move |member| Cut { member: *member, stick, at: NEVER, by: String::new() })
    }

    pub(super) fn stick(self, build: BuildId) -> Stick {
        Stick {
            id: stick_id(self.number),
            number: self.number,
            size: self.size,
            grade: self.grade,
            heat: self.heat,
            length: Typed { value: Length::default(), text: String::new() },
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
        Measured { measure, of, amount: measure.dimension().of_base_unit(value), text, at: NEVER, by, tool }
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
