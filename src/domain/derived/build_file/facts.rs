//! A build file as the facts that its rules are judged by.

use super::BuildFile;
use super::parts::{KitFile, ListedFile, PhotoFile, ReadFile, RulingFile, StickFile, Weighed, id};
use crate::domain::recorded::facts::{BookText, BuildFacts, CageText};
use crate::domain::shop::builds;
use crate::domain::shop::builds::Build;

impl BuildFile {
    /// The facts that its rules are judged by, with the book they are judged against. What no rule asks for is empty.
    pub fn facts(self, toml: &str) -> BuildFacts {
        let build = id(0).into();
        let cage = self.cage.map(|record| serde_json::to_string(&record).unwrap_or_default());
        let (photos, kit) = (self.photos.into_iter().enumerate(), self.kit.into_iter().enumerate());
        let toml = toml.to_owned();
        BuildFacts {
            // A bar's newest cut comes last.
            cuts: self
                .sticks
                .iter()
                .flat_map(StickFile::earlier_cuts)
                .chain(self.sticks.iter().flat_map(StickFile::cuts))
                .collect(),
            build: Build {
                id: build,
                slug: builds::slug(&self.name),
                name: self.name,
                about: String::new(),
                book: Some(id(0).into()),
                event_day: self.event_day,
                version: 1,
            },
            book: Some(BookText { id: id(0).into(), name: String::new(), edition: String::new(), toml }),
            weigh_ins: self.weigh_in.into_iter().map(Weighed::weigh_in).collect(),
            papers: Vec::new(),
            forecasts: Vec::new(),
            wheels: None,
            foreseen: self.goes_in_and_out.into_iter().map(ListedFile::listed).collect(),
            cage: cage.map(|json| CageText { json, version: 1 }),
            earlier_cages: Vec::new(),
            lowering: None,
            looks: Vec::new(),
            photos: photos.map(|(place, photo): (usize, PhotoFile)| photo.photo(place, build)).collect(),
            photos_said: Vec::new(),
            mark_ups: Vec::new(),
            sticks: self.sticks.into_iter().map(|stick| stick.stick(build)).collect(),
            kit: kit.map(|(place, item): (usize, KitFile)| item.item(place)).collect(),
            kit_ways: Vec::new(),
            measured: self.measured.into_iter().map(ReadFile::measured).collect(),
            car: self.car.dates(),
            questions: Vec::new(),
            rounds: Vec::new(),
            replies: Vec::new(),
            rulings: self.rulings.into_iter().map(RulingFile::ruling).collect(),
            notes: Vec::new(),
            welds: Vec::new(),
            weld_order: None,
            as_of: 0,
            log_head: String::new(),
        }
    }
}
