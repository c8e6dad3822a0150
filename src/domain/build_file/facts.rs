//! A build file as the facts that its rules are judged by.

use jiff::Timestamp;
use uuid::Uuid;

use super::{BuildFile, Weighed};
use crate::domain::builds::{self, Build};
use crate::domain::car_dates::CarDates;
use crate::domain::facts::{BookText, BuildFacts, CageText};
use crate::domain::figures::Measured;
use crate::domain::kit::KitItem;
use crate::domain::photos::{Photo, Received};
use crate::domain::rulings::{NewRuling, Ruling};
use crate::domain::stock::{Cut, Stick};
use crate::domain::weigh_in::WeighIn;
use crate::quantity::{Length, Typed};

impl BuildFile {
    /// The facts that its rules are judged by, with the book they are judged against. What no rule asks for is empty.
    pub fn facts(self, toml: &str) -> BuildFacts {
        let name = |place: usize| Uuid::from_u128(u128::try_from(place).unwrap_or_default() + 1);
        let build = name(0).into();
        let never = Timestamp::UNIX_EPOCH;
        let stick_id = |number: u32| Uuid::from_u128(u128::from(number)).into();
        let cuts = self.sticks.iter().flat_map(|stick| stick.bars.iter().map(move |bar| (stick.number, *bar)));
        let cuts = cuts.map(|(stick, member)| Cut { member, stick: stick_id(stick), at: never, by: String::new() });
        BuildFacts {
            cuts: cuts.collect(),
            build: Build {
                id: build,
                slug: builds::slug(&self.name),
                name: self.name,
                about: String::new(),
                book: Some(name(0).into()),
                event_day: self.event_day,
                version: 1,
            },
            book: Some(BookText {
                id: name(0).into(),
                name: String::new(),
                edition: String::new(),
                toml: toml.to_owned(),
            }),
            weigh_ins: self
                .weigh_in
                .into_iter()
                .map(|Weighed { number, day, by, reading }| WeighIn { id: name(0).into(), number, reading, day, by })
                .collect(),
            wheels: None,
            foreseen: Vec::new(),
            cage: self
                .cage
                .map(|record| CageText { json: serde_json::to_string(&record).unwrap_or_default(), version: 1 }),
            photos: self
                .photos
                .into_iter()
                .enumerate()
                .map(|(place, photo)| Photo {
                    capture: name(place).into(),
                    build,
                    shot: photo.shot,
                    note: String::new(),
                    sha256: photo.sha256,
                    size: 1,
                    taken_claim: None,
                    declared: never,
                    by: String::new(),
                    received: Some(Received { at: never, entry: 0, dots: Some((1, 1)), remarks: Vec::new() }),
                    withdrawn: None,
                })
                .collect(),
            sticks: self
                .sticks
                .into_iter()
                .map(|stick| Stick {
                    id: stick_id(stick.number),
                    number: stick.number,
                    size: stick.size,
                    grade: stick.grade,
                    heat: stick.heat,
                    length: Typed { value: Length::default(), text: String::new() },
                    certificate: None,
                    given_to: Some(build),
                    added: never,
                    by: String::new(),
                })
                .collect(),
            kit: self
                .kit
                .into_iter()
                .enumerate()
                .map(|(place, kit)| KitItem {
                    id: name(place).into(),
                    number: kit.number,
                    item: kit.item,
                    label: kit.label,
                    second_label: kit.second_label,
                    note: String::new(),
                    version: 1,
                })
                .collect(),
            measured: self
                .measured
                .into_iter()
                .map(|read| Measured {
                    measure: read.measure,
                    of: read.of,
                    amount: read.measure.dimension().of_base_unit(read.value),
                    text: read.text,
                    at: never,
                    by: read.by,
                    tool: read.tool,
                })
                .collect(),
            car: CarDates {
                registered: self.car.registered,
                homologated: self.car.homologated,
                log_book: self.car.first_log_book,
                at: None,
            },
            questions: Vec::new(),
            rounds: Vec::new(),
            replies: Vec::new(),
            rulings: self
                .rulings
                .into_iter()
                .map(|ruling| Ruling {
                    place: ruling.number,
                    ruled: NewRuling {
                        rule: ruling.rule,
                        of: ruling.of,
                        measure: ruling.measure,
                        stays: ruling.stays,
                        words: ruling.words,
                        given_by: ruling.given_by,
                        given: ruling.given,
                        capture: None,
                        round: ruling.round,
                        letter: ruling.letter,
                    },
                    edition: ruling.edition,
                    found: ruling.found,
                    recorded: never,
                    by: String::new(),
                    taken_back: None,
                })
                .collect(),
            notes: Vec::new(),
            as_of: 0,
            log_head: String::new(),
        }
    }
}
