//! Everything recorded of one build at one moment.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::kit::KitItem;
use super::kit::moves::Way;
use super::lowering::{Look, Lowering};
use super::mark_ups::MarkUp;
use super::notes::Note;
use super::photos::{Photo, PhotoSaid};
use super::questions::Question;
use super::rounds::{Reply, Round};
use super::rulings::Ruling;
use super::welds::Weld;
use super::welds::order::WeldOrder;
use crate::domain::book;
use crate::domain::book::{ClassAnswer, Mistake, NoClass, RuleBook};
use crate::domain::cage::CageRecord;
use crate::domain::measure::figures::Measured;
use crate::domain::measure::measures::Measure;
use crate::domain::shop::builds::Build;
use crate::domain::shop::stock::{Cut, Stick};
use crate::domain::weight::balance::Wheels;
use crate::domain::weight::carried::Listed;
use crate::domain::weight::forecast::Forecast;
use crate::domain::weight::scale_paper::Filed;
use crate::domain::weight::weigh_in::WeighIn;
use crate::domain::words::car_dates::CarDates;
use crate::domain::words::ids::{Balloon, BookId, Kind};

/// Everything recorded of one build, read at one moment: what all figures, verdicts and open items follow from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BuildFacts {
    /// The build.
    pub build: Build,
    /// The rule book it is built to.
    pub book: Option<BookText>,
    /// Its weigh-ins, newest first.
    pub weigh_ins: Vec<WeighIn>,
    /// The papers of the scales it was weighed on, in the order they were recorded.
    pub papers: Vec<Filed>,
    /// What was foreseen when it was weighed with its cage in, oldest first.
    pub forecasts: Vec<Forecast>,
    /// Where its wheels stand; none until somebody measured it.
    pub wheels: Option<Wheels>,
    /// What still goes into it and comes out of it, as it stands, in the order it was listed.
    pub foreseen: Vec<Listed>,
    /// Its cage; none until it was first saved.
    pub cage: Option<CageText>,
    /// Its earlier records that were in force when something was measured or photographed, oldest first: what is of an
    /// earlier piece is told by them.
    pub earlier_cages: Vec<EarlierCage>,
    /// Whether and how its cage is lowered; none until somebody said so.
    pub lowering: Option<Lowering>,
    /// What was looked at for that, the newest of each place.
    pub looks: Vec<Look>,
    /// Its photographs in the order they were told of, those still on a phone and those withdrawn among them.
    pub photos: Vec<Photo>,
    /// What was said of them on the walk, in the order it was said.
    pub photos_said: Vec<PhotoSaid>,
    /// What was drawn over them, in the order it was drawn, what was rubbed out among it.
    pub mark_ups: Vec<MarkUp>,
    /// The sticks given to it, and those its bars were cut from: a bar keeps its heat when the stick goes back on the rack.
    /// `given_to` tells the two apart.
    pub sticks: Vec<Stick>,
    /// Every cut of its bars, in the order they were recorded: a bar that was cut again has several.
    pub cuts: Vec<Cut>,
    /// Its kit, by number.
    pub kit: Vec<KitItem>,
    /// The way of each item that moved into it or out of it.
    pub kit_ways: Vec<Way>,
    /// What was read off the car, the newest of each measure and part.
    pub measured: Vec<Measured>,
    /// The car's own dates, as its papers say.
    pub car: CarDates,
    /// Its questions with their answers, oldest first.
    pub questions: Vec<Question>,
    /// Its rounds, oldest first.
    pub rounds: Vec<Round>,
    /// The replies to them, oldest first.
    pub replies: Vec<Reply>,
    /// The scrutineer's rulings on its rules, those taken back among them, oldest first.
    pub rulings: Vec<Ruling>,
    /// Its notes, newest first.
    pub notes: Vec<Note>,
    /// Its weld log, in the order it was written, what was struck through among it.
    pub welds: Vec<Weld>,
    /// The order in which the office wants it welded; none while nobody set one.
    #[serde(default)]
    pub weld_order: Option<WeldOrder>,
    /// The number of its last log entry: facts with the same number are the same facts.
    pub as_of: i64,
    /// That entry's hash: it stands for everything logged before it.
    pub log_head: String,
}

impl BuildFacts {
    /// Whether the joints of its cage may still be numbered anew: measurements are missing, and nothing recorded may name a
    /// part by its number (a photograph, a figure, a cut, a question, a note, a ruling, a weld, a round). Until then no joint is asked
    /// to be photographed and no sticker is printed, so that no number comes to mean another part.
    pub fn may_number_anew(&self, record: &CageRecord) -> bool {
        let recorded =
            self.photos.len() + self.measured.len() + self.cuts.len() + self.looks.len() + self.mark_ups.len();
        let said = self.questions.len() + self.notes.len() + self.rulings.len() + self.rounds.len() + self.welds.len();
        recorded + said == 0 && self.weld_order.is_none() && !record.missing().is_empty()
    }

    /// The rules of its book, or the mistakes of one whose text this program does not read; none without a book.
    pub fn rules(&self) -> Option<Result<RuleBook, Vec<Mistake>>> {
        Some(book::read(&self.book.as_ref()?.toml))
    }

    /// The moments at which the shop was told of what may be evidence: photographs that are not withdrawn, figures read.
    pub fn evidence_moments<'a>(photos: &'a [Photo], measured: &'a [Measured]) -> impl Iterator<Item = Timestamp> + 'a {
        let description = photos.iter().filter(|photo| photo.withdrawn.is_none()).map(|photo| photo.declared);
        description.chain(measured.iter().map(|read| read.at))
    }

    /// The newest cut of a bar: that of the piece there is; none where it was not cut.
    pub fn cut_of(&self, bar: Balloon) -> Option<&Cut> {
        self.cuts.iter().rev().find(|cut| cut.member == bar)
    }

    /// The newest cut of each bar, in the order they were recorded.
    pub fn newest_cuts(&self) -> impl Iterator<Item = &Cut> {
        let later = |at: usize, bar: Balloon| self.cuts.iter().skip(at + 1).any(|cut| cut.member == bar);
        self.cuts.iter().enumerate().filter(move |(at, cut)| !later(*at, cut.member)).map(|one| one.1)
    }

    /// The stick that a bar was cut from; none where that was not said.
    pub fn stick_of(&self, bar: Balloon) -> Option<&Stick> {
        let cut = self.cut_of(bar)?;
        self.sticks.iter().find(|stick| stick.id == cut.stick)
    }

    /// What was read of a share of the steel off another stick's paper of the same heat and grade: the newest. None where
    /// this stick has a figure of its own, no heat number, or where the papers of the heat do not agree.
    pub fn of_heat(&self, measure: Measure, of: Balloon) -> Option<&Measured> {
        let newest = |of: Balloon| self.measured.iter().rev().find(|read| read.measure == measure && read.of == of);
        if of.kind != Kind::Stick || !measure.of_cast() || newest(of).is_some() {
            return None;
        }
        let own = self.sticks.iter().find(|stick| stick.number == of.number && !stick.heat.trim().is_empty())?;
        let alike = |stick: &&Stick| stick.heat.trim() == own.heat.trim() && stick.grade.trim() == own.grade.trim();
        let others =
            self.sticks.iter().filter(alike).filter_map(|stick| newest(Balloon::new(Kind::Stick, stick.number)));
        let others: Vec<&Measured> = others.collect();
        let latest = others.iter().copied().max_by_key(|read| read.at)?;
        others.iter().all(|read| read.amount == latest.amount).then_some(latest)
    }

    /// The class that its newest weigh-in puts it in by these rules; none before it was weighed.
    pub fn class(&self, rules: &RuleBook) -> Option<Result<ClassAnswer, NoClass>> {
        self.classes(rules).next()
    }

    /// The newest weigh-in that gives a class, with that class.
    pub fn classed(&self, rules: &RuleBook) -> Option<(&WeighIn, ClassAnswer)> {
        self.weigh_ins.iter().zip(self.classes(rules)).find_map(|(weigh_in, class)| Some((weigh_in, class.ok()?)))
    }

    /// The class that each weigh-in put it in, the newest first.
    pub fn classes<'a>(&'a self, rules: &'a RuleBook) -> impl Iterator<Item = Result<ClassAnswer, NoClass>> + 'a {
        let readings = self.weigh_ins.iter().map(|weigh_in| &weigh_in.reading);
        readings.map(|reading| rules.class(reading.total(), reading.doubt(), &reading.conditions))
    }
}

/// A rule book as text.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct BookText {
    /// The store's name for it.
    pub id: BookId,
    /// What it is called.
    pub name: String,
    /// Which edition.
    pub edition: String,
    /// The text, TOML, byte for byte as added.
    pub toml: String,
}

impl BookText {
    /// Book and edition as one says them.
    pub fn describe(&self) -> String {
        format!("{}, {}", self.name, self.edition)
    }
}

/// A cage's record as text.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CageText {
    /// The record, JSON.
    pub json: String,
    /// Counts up with each save, from 1.
    pub version: i64,
}

impl CageText {
    /// The record, or why the text is none.
    pub fn record(&self) -> Result<CageRecord, String> {
        serde_json::from_str(&self.json).map_err(|error| error.to_string())
    }
}

/// What was recorded of a cage for a while, and is not any more.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct EarlierCage {
    /// The record; none from before the first save that is kept.
    pub cage: Option<CageText>,
    /// While it was in force.
    pub while_it_was: InForce,
}

/// From when until when a record of a cage was in force.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct InForce {
    /// The version; 0 before the first save that is kept.
    pub version: i64,
    /// The moment it was saved; none before the first save.
    pub from: Option<Timestamp>,
    /// The moment the next one was saved.
    pub until: Timestamp,
}

impl InForce {
    /// Of a cage's saves, each with its version and its moment in the order of versions, those that another followed, and
    /// of these those that were in force at one of the moments. A clock that was set back may leave two in force at once.
    pub fn at_any(saves: &[(i64, Timestamp)], moments: &[Timestamp]) -> Vec<Self> {
        let before = saves.first().map(|(_, first)| Self { version: 0, from: None, until: *first });
        let followed = saves.iter().zip(saves.iter().skip(1));
        let spans =
            followed.map(|((version, from), (_, until))| Self { version: *version, from: Some(*from), until: *until });
        before.into_iter().chain(spans).filter(|span| moments.iter().any(|moment| span.covers(*moment))).collect()
    }

    /// Whether it was in force at a moment.
    pub fn covers(&self, moment: Timestamp) -> bool {
        self.from.is_none_or(|from| from <= moment) && moment < self.until
    }
}

/// One save of a cage, as it was saved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CageSave {
    /// The record that was saved, and the version it became.
    pub cage: CageText,
    /// When.
    pub at: Timestamp,
    /// Who saved it, by name.
    pub by: String,
    /// What was done, in the log's words.
    pub what: String,
}
