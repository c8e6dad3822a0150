//! Build files, our own JSON: the facts of one build that its rules are judged by, out of a shop and into a judging without one.

mod facts;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::cage::CageRecord;
use super::cage::slips::slip;
use super::facts::BuildFacts;
use super::faults::Fault;
use super::figures::Measure;
use super::fingerprint::Fingerprint;
use super::ids::{Balloon, Kind, StickId};
use super::kit::{Label, LabelDate};
use super::limits;
use super::rulings::Ruling;
use super::tools::Tool;
use super::tube::TubeSize;
use super::weigh_in::Reading;
use crate::quantity::Typed;

/// The format's version: the first field of every file.
const VERSION: u32 = 1;

/// The facts of one build. Values stand in base units (mm, kg, radian, mm², N/mm²) beside the text as typed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BuildFile {
    /// Counts up when the format changes.
    tackbook_build: u32,
    /// The build's name.
    name: String,
    /// The first event it must be ready for.
    #[serde(default)]
    event_day: Option<Date>,
    /// The car's own dates.
    #[serde(default)]
    car: CarFile,
    /// The newest weigh-in.
    #[serde(default)]
    weigh_in: Option<Weighed>,
    /// The cage as measured and chosen: the record of a cage file in the measured form.
    #[serde(default)]
    cage: Option<CageRecord>,
    /// The sticks of tube, and the bars cut from them.
    #[serde(default)]
    sticks: Vec<StickFile>,
    /// The kit.
    #[serde(default)]
    kit: Vec<KitFile>,
    /// What was read off the car and its papers, the newest of each measure and part.
    #[serde(default)]
    measured: Vec<ReadFile>,
    /// The photographs that are there and can be shown.
    #[serde(default)]
    photos: Vec<PhotoFile>,
    /// The scrutineer's standing rulings.
    #[serde(default)]
    rulings: Vec<RulingFile>,
}

#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
struct CarFile {
    registered: Option<LabelDate>,
    homologated: Option<LabelDate>,
    first_log_book: Option<LabelDate>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Weighed {
    number: u32,
    day: Date,
    by: String,
    reading: Reading,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StickFile {
    number: u32,
    size: Typed<TubeSize>,
    grade: String,
    heat: String,
    /// The bars that were cut from it.
    bars: Vec<Balloon>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct KitFile {
    number: u32,
    item: String,
    label: Label,
    second_label: Option<Label>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ReadFile {
    measure: Measure,
    of: Balloon,
    value: f64,
    text: String,
    tool: Option<Tool>,
    by: String,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PhotoFile {
    /// The shot it answers: the part, the rule, the view.
    shot: String,
    sha256: Fingerprint,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct RulingFile {
    number: u32,
    rule: String,
    of: Option<Balloon>,
    measure: Option<Measure>,
    stays: bool,
    words: String,
    given_by: String,
    given: Date,
    round: Option<u32>,
    letter: String,
    edition: String,
    found: String,
}

impl BuildFile {
    /// The file of a build.
    pub fn of(facts: &BuildFacts) -> Self {
        let car = &facts.car;
        let bars = |stick: StickId| {
            facts.cuts.iter().filter(|cut| cut.stick == stick).map(|cut| cut.member).collect::<Vec<_>>()
        };
        let standing = facts.rulings.iter().filter(|ruling| ruling.taken_back.is_none());
        Self {
            tackbook_build: VERSION,
            name: facts.build.name.clone(),
            event_day: facts.build.event_day,
            car: CarFile { registered: car.registered, homologated: car.homologated, first_log_book: car.log_book },
            weigh_in: facts.weigh_ins.first().map(|newest| Weighed {
                number: newest.number,
                day: newest.day,
                by: newest.by.clone(),
                reading: newest.reading.clone(),
            }),
            cage: facts.cage.as_ref().and_then(|cage| serde_json::from_str(&cage.json).ok()),
            sticks: facts
                .sticks
                .iter()
                .map(|stick| StickFile {
                    number: stick.number,
                    size: stick.size.clone(),
                    grade: stick.grade.clone(),
                    heat: stick.heat.clone(),
                    bars: bars(stick.id),
                })
                .collect(),
            kit: facts
                .kit
                .iter()
                .map(|item| KitFile {
                    number: item.number,
                    item: item.item.clone(),
                    label: item.label.clone(),
                    second_label: item.second_label.clone(),
                })
                .collect(),
            measured: facts
                .measured
                .iter()
                .map(|read| ReadFile {
                    measure: read.measure,
                    of: read.of,
                    value: read.amount.in_base_unit(),
                    text: read.text.clone(),
                    tool: read.tool,
                    by: read.by.clone(),
                })
                .collect(),
            photos: facts
                .photos
                .iter()
                .filter(|photo| photo.shows())
                .map(|photo| PhotoFile { shot: photo.shot.clone(), sha256: photo.sha256.clone() })
                .collect(),
            rulings: standing
                .map(|Ruling { place, ruled, edition, found, .. }| RulingFile {
                    number: *place,
                    rule: ruled.rule.clone(),
                    of: ruled.of,
                    measure: ruled.measure,
                    stays: ruled.stays,
                    words: ruled.words.clone(),
                    given_by: ruled.given_by.clone(),
                    given: ruled.given,
                    round: ruled.round,
                    letter: ruled.letter.clone(),
                    edition: edition.clone(),
                    found: found.clone(),
                })
                .collect(),
        }
    }

    /// As it is written.
    pub fn text(&self) -> String {
        // Texts, finite numbers and lists: nothing in it can fail to be written.
        serde_json::to_string_pretty(self).unwrap_or_default() + "\n"
    }

    /// Reads a file, or says by line and name what does not read.
    pub fn read(text: &str) -> Result<Self, Vec<Fault>> {
        let file: Self = serde_json::from_str(text).map_err(|error| vec![slip(&error)])?;
        let faults = file.faults();
        if faults.is_empty() { Ok(file) } else { Err(faults) }
    }

    fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        if self.tackbook_build != VERSION {
            let why = format!("This program reads build files of version {VERSION}, not {}.", self.tackbook_build);
            faults.push(Fault::new("tackbook_build", why));
        }
        faults.extend(limits::title_faults("name", &self.name));
        if let Some(weighed) = &self.weigh_in {
            faults.extend(weighed.reading.faults());
        }
        let numbers: [(&str, Vec<u32>); 2] = [
            ("sticks", self.sticks.iter().map(|stick| stick.number).collect()),
            ("kit", self.kit.iter().map(|item| item.number).collect()),
        ];
        for (at, mut numbers) in numbers {
            numbers.sort_unstable();
            if let Some(pair) = numbers.windows(2).find(|pair| pair.first() == pair.last()) {
                let number = pair.first().copied().unwrap_or_default();
                faults.push(Fault::new(at, format!("Number {number} is here twice.")));
            }
        }
        for stick in &self.sticks {
            faults.extend(stick.size.value.faults().into_iter().map(|fault| Fault::new("sticks", fault.why)));
            if let Some(bar) = stick.bars.iter().find(|bar| bar.kind != Kind::Member) {
                faults.push(Fault::new("sticks", format!("{bar} is no bar.")));
            }
        }
        for read in &self.measured {
            if !read.measure.measured() || !read.value.is_finite() || read.value < 0.0 {
                let why = format!("“{}” of {} is no figure that is read off a car.", read.measure.word(), read.of);
                faults.push(Fault::new("measured", why));
            }
        }
        faults
    }
}
