//! Build files, our own JSON: the facts of one build that its rules are judged by, out of a shop and into a judging without one.

mod facts;
mod parts;

use jiff::civil::Date;
use parts::{CarFile, KitFile, ListedFile, PhotoFile, ReadFile, RulingFile, StickFile, Weighed};
use serde::{Deserialize, Serialize};

use crate::domain::cage::CageRecord;
use crate::domain::cage::files::slips::slip;
use crate::domain::judge::pieces::Standing;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::faults::Fault;
use crate::domain::words::limits;

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
    /// What goes into the weighed car and comes out of it.
    #[serde(default)]
    goes_in_and_out: Vec<ListedFile>,
    /// The sticks of tube, and the bars cut from them.
    #[serde(default)]
    sticks: Vec<StickFile>,
    /// The kit.
    #[serde(default)]
    kit: Vec<KitFile>,
    /// What was read off the car and its papers, the newest of each measure and part, as far as it is of the piece there.
    #[serde(default)]
    measured: Vec<ReadFile>,
    /// The photographs that are there, can be shown, and are of the pieces there.
    #[serde(default)]
    photos: Vec<PhotoFile>,
    /// The scrutineer's standing rulings.
    #[serde(default)]
    rulings: Vec<RulingFile>,
}

impl BuildFile {
    /// The file of a build: of its photographs and figures those that count, being of the pieces that are there.
    pub fn of(facts: &BuildFacts, standing: Standing<'_>) -> Self {
        let rulings = facts.rulings.iter().filter(|ruling| ruling.taken_back.is_none());
        let shown = standing.photos().filter(|photo| photo.shows());
        Self {
            tackbook_build: VERSION,
            name: facts.build.name.clone(),
            event_day: facts.build.event_day,
            car: CarFile::of(&facts.car),
            weigh_in: facts.weigh_ins.first().map(Weighed::of),
            cage: facts.cage.as_ref().and_then(|cage| serde_json::from_str(&cage.json).ok()),
            goes_in_and_out: facts.foreseen.iter().map(ListedFile::of).collect(),
            sticks: facts.sticks.iter().map(|stick| StickFile::of(stick, facts)).collect(),
            kit: facts.kit.iter().map(KitFile::of).collect(),
            measured: standing.measured().map(ReadFile::of).collect(),
            photos: shown.map(PhotoFile::of).collect(),
            rulings: rulings.map(RulingFile::of).collect(),
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
        for listed in &self.goes_in_and_out {
            let wrong = listed.thing.faults().into_iter();
            faults.extend(wrong.map(|fault| Fault::new(format!("goes_in_and_out {}", listed.place), fault.why)));
        }
        for stick in &self.sticks {
            faults.extend(stick.size.value.faults().into_iter().map(|fault| Fault::new("sticks", fault.why)));
            faults.extend(stick.bar_faults());
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
