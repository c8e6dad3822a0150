//! The drawing of the cage's sheet: the cage with its guesses, from where one looks, each measurement's dimension over it.

use std::fmt::Write as _;

use axum::extract::Query;
use serde::Deserialize;

use super::groups::all_taken;
use crate::domain::cage::record::tape::where_measured;
use crate::domain::cage::{Cage, CageRecord, Guessed, ORDER_OF_MEASURING, TapeMeasure, TubeRole, guessed, solve};
use crate::domain::derived::findings::Findings;
use crate::domain::words::ids::{Balloon, Kind};
use crate::drawing::car::beside::beside;
use crate::drawing::car::cage::{Measuring, Numbers, Shown, draw_measuring};
use crate::drawing::car::view::View;
use crate::quantity::Length;
use crate::web::gate::Seen;
use crate::web::page::part_address;
use crate::web::svg::Svg;

/// The drawing's frame: four pixels to the millimetre at the desk.
const FRAME: (Length, Length) = (Length::from_mm(226.0), Length::from_mm(128.0));
/// By so many degrees one step turns the car.
const STEP: i16 = 15;

/// From where one looks, and what is open: the sheet's address says it, so that it can be kept and sent.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default)]
pub(super) struct Looked {
    view: String,
    turn: i16,
    numbers: String,
    /// The group that is open.
    pub(super) open: String,
    /// The version that a save just made: what it turned is told while it is the newest.
    pub(super) saved: i64,
}

/// The same, as the address gives it.
pub(super) type InAddress = Query<Looked>;

impl Looked {
    fn view(&self) -> View {
        match self.view.as_str() {
            "front" => View::Front,
            "side" => View::Side,
            "top" => View::Plan,
            _ if self.turned() == 0 => View::Isometric,
            _ => View::Turned(self.turned()),
        }
    }

    /// Within one turn.
    fn turned(&self) -> i16 {
        self.turn.rem_euclid(360)
    }

    fn numbers(&self) -> Numbers {
        match self.numbers.as_str() {
            "bars" => Numbers::Of(Kind::Member),
            "joints" => Numbers::Of(Kind::Joint),
            _ => Numbers::Without,
        }
    }

    /// The sheet's address as one looks.
    pub(super) fn address(&self, base: &str) -> String {
        self.at(base, |_| ())
    }

    /// The same after a save.
    pub(super) fn address_saved(&self, base: &str, version: i64) -> String {
        let address = self.address(base);
        let with = if address.contains('?') { '&' } else { '?' };
        format!("{address}{with}saved={version}")
    }

    /// The same with this of it other.
    fn at(&self, base: &str, change: impl Fn(&mut Self)) -> String {
        let mut other = self.clone();
        change(&mut other);
        let mut address = String::new();
        for (name, value) in [("view", &other.view), ("numbers", &other.numbers), ("open", &other.open)] {
            // What is in none of the lists is left out: nothing sent comes back in an address.
            let known =
                value.chars().all(|letter| letter.is_ascii_lowercase()) && value.len() < 12 && !value.is_empty();
            if known {
                let _ = write!(address, "&{name}={value}");
            }
        }
        if other.turned() != 0 {
            let _ = write!(address, "&turn={}", other.turned());
        }
        format!("{base}{}", address.replacen('&', "?", 1))
    }
}

/// A way to look otherwise.
pub(super) struct Way {
    pub(super) words: &'static str,
    pub(super) to: String,
    pub(super) here: bool,
}

/// A measurement's dimension, over the drawing where its field has the focus.
pub(super) struct Dimension {
    pub(super) key: String,
    pub(super) where_to_hold: &'static str,
    pub(super) drawn: Svg,
}

/// What is drawn.
pub(super) struct Drawing {
    /// The cage of what was measured alone.
    pub(super) certain: Cage,
    pub(super) main: Svg,
    pub(super) dimensions: Vec<Dimension>,
    pub(super) views: Vec<Way>,
    pub(super) numbers: Vec<Way>,
    pub(super) turns: [Way; 2],
    /// How many measurements were taken, and how many there are to take.
    pub(super) taken: (usize, usize),
    /// What is drawn by a guess, in words; empty where nothing is.
    pub(super) open: String,
}

impl Drawing {
    /// Of a record as it is stored, or as it was typed and not yet stored.
    pub(super) fn of(seen: &Seen, found: &Findings, record: &CageRecord, looked: &Looked) -> Self {
        let with_guesses = WithGuesses::of(found, record);
        let (whole, cage, pale) = (&with_guesses.record, with_guesses.cage(), with_guesses.pale());
        let taken: Vec<_> = ORDER_OF_MEASURING
            .iter()
            .filter_map(|measure| Some((*measure, where_measured::drawn(*measure, whole)?, typed(record, *measure))))
            .collect();
        let dimensions: Vec<_> = taken.iter().map(|(_, points, words)| (*points, words.clone())).collect();
        let of = Measuring { cage, guessed: &pale, dimensions: &dimensions };
        let numbers = if pale.is_empty() { looked.numbers() } else { Numbers::Without };
        let shown = Shown { view: looked.view(), numbers, hidden: false };
        let around = beside(&with_guesses.certain, &found.worked.around, false);
        let (drawn, over) = draw_measuring(&of, &around, shown, FRAME);
        let base = seen.address("/cage");
        let address = |part: &Balloon| Some(seen.address(&part_address(*part)));
        let dimension = |((measure, ..), marks): (&(TapeMeasure, _, _), Vec<_>)| Dimension {
            key: measure.key(),
            where_to_hold: measure.where_to_hold(),
            drawn: Svg::of(&marks, FRAME, |_| None),
        };
        Self {
            main: Svg::of(&drawn.marks, FRAME, address),
            dimensions: taken.iter().zip(over).map(dimension).collect(),
            views: views(looked, &base),
            numbers: if pale.is_empty() { numbered(looked, &base) } else { Vec::new() },
            turns: [("Turn left", -STEP), ("Turn right", STEP)].map(|(words, by)| Way {
                words,
                to: looked.at(&base, |other| {
                    other.view.clear();
                    other.turn = other.turned() + by;
                }),
                here: false,
            }),
            taken: all_taken(record),
            open: open(record),
            certain: with_guesses.certain,
        }
    }
}

/// A cage that is being measured, with its guesses: they go into a drawing and nowhere else.
pub(super) struct WithGuesses {
    /// The cage of what was measured alone.
    pub(super) certain: Cage,
    /// The record without a gap.
    pub(super) record: CageRecord,
    /// The cage of that; none where nothing is guessed.
    drawn: Option<Cage>,
}

impl WithGuesses {
    /// Of a record as it is stored, which was worked out already, or as it was typed.
    pub(super) fn of(found: &Findings, record: &CageRecord) -> Self {
        let tubes = &found.worked.tubes;
        let certain = if *record == found.worked.record { found.worked.cage.clone() } else { solve(record, tubes) };
        let Guessed { record: whole, .. } = guessed(record, tubes);
        Self { drawn: (whole != *record).then(|| solve(&whole, tubes)), record: whole, certain }
    }

    /// The cage to draw.
    pub(super) fn cage(&self) -> &Cage {
        self.drawn.as_ref().unwrap_or(&self.certain)
    }

    /// The bars that rest on a guess.
    pub(super) fn pale(&self) -> Vec<Balloon> {
        let guessed = self.cage().members.iter().filter(|bar| self.certain.member_called(&bar.key).is_none());
        guessed.map(|bar| bar.balloon).collect()
    }
}

/// What of a record is still a guess, in words: measurements that nobody took, dies that nobody named.
fn open(record: &CageRecord) -> String {
    let (taken, all) = all_taken(record);
    let dies = TubeRole::BOTH.iter().filter(|role| !record.bend_radius.contains_key(role)).count();
    let some = |count: usize, words: &str| (count > 0).then(|| format!("{count} {words}"));
    let words = [some(all - taken, "measurements open"), some(dies, "dies not named")];
    words.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// A measurement as it was typed, one of the right side where it has none of its own as on the left; empty where nobody took it.
pub(super) fn typed(record: &CageRecord, measure: TapeMeasure) -> String {
    let own = record.measures.get(&measure).or_else(|| record.measures.get(&measure.mirrored()));
    own.map(|typed| typed.text.clone()).unwrap_or_default()
}

fn views(looked: &Looked, base: &str) -> Vec<Way> {
    let way = |(words, key): (&'static str, &str)| Way {
        words,
        to: looked.at(base, |other| {
            key.clone_into(&mut other.view);
            other.turn = 0;
        }),
        here: looked.view == key && looked.turned() == 0,
    };
    [("Corner", ""), ("Front", "front"), ("Side", "side"), ("Top", "top")].map(way).into()
}

fn numbered(looked: &Looked, base: &str) -> Vec<Way> {
    let way = |(words, key): (&'static str, &str)| Way {
        words,
        to: looked.at(base, |other| key.clone_into(&mut other.numbers)),
        here: looked.numbers == key,
    };
    [("none", ""), ("joints", "joints"), ("bars", "bars")].map(way).into()
}
