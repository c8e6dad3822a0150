//! The drawing of the cage's sheet: the cage with its guesses, from where one looks, each measurement's dimension over it.

use std::fmt::Write as _;

use axum::extract::Query;
use serde::Deserialize;

use super::groups::{Part, all_taken};
use super::view::Looking;
use crate::domain::cage::record::tape::where_measured;
use crate::domain::cage::{
    Cage, CageRecord, Guessed, Joint, Member, ORDER_OF_MEASURING, TapeMeasure, TubeRole, guessed, solve,
};
use crate::domain::derived::findings::Findings;
use crate::domain::words::ids::Balloon;
use crate::drawing::car::beside::beside;
use crate::drawing::car::cage::{DrawnMeasuring, Measuring, draw_measuring};
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

    /// The parts that carry their balloon, those of the open group, and those that carry it where they are touched.
    fn numbered(&self, cage: &Cage, open: Part) -> (Vec<Balloon>, Vec<Balloon>) {
        let bars = cage.members.iter();
        let of_group: Vec<Balloon> = bars.clone().filter(|bar| open.has(bar.role)).map(|bar| bar.balloon).collect();
        match self.numbers.as_str() {
            "none" => (Vec::new(), Vec::new()),
            "joints" => {
                let here = |joint: &&Joint| {
                    let ends = joint.incoming.iter().map(|end| end.0);
                    std::iter::once(joint.carrier).chain(ends).any(|bar| of_group.contains(&bar))
                };
                let (here, others): (Vec<_>, Vec<_>) = cage.joints.iter().partition(here);
                let balloon = |joints: Vec<&Joint>| joints.iter().map(|joint| joint.balloon).collect();
                (balloon(here), balloon(others))
            }
            _ if open == Part::Feet => {
                let plates = cage.plates.iter().map(|plate| plate.balloon);
                (plates.collect(), bars.map(|bar| bar.balloon).collect())
            }
            _ => {
                let others = bars.map(|bar| bar.balloon).filter(|bar| !of_group.contains(bar)).collect();
                (of_group, others)
            }
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
    /// The bars that are drawn by a guess, each with what it waits for.
    pub(super) guesses: Vec<(String, &'static str)>,
    /// What is drawn by a guess, in words; empty where nothing is.
    pub(super) open: String,
}

impl Drawing {
    /// Of a record as it is stored, or as it was typed and not yet stored, while this group is open.
    pub(super) fn of(seen: &Seen, found: &Findings, of: &Looking<'_>, open_group: Part) -> Self {
        let (record, looked) = (of.record, of.looked);
        let with_guesses = WithGuesses::of(found, record, of.figures());
        let (whole, cage, pale) = (&with_guesses.record, with_guesses.cage(), with_guesses.pale());
        let taken: Vec<_> = ORDER_OF_MEASURING
            .iter()
            .filter_map(|measure| Some((*measure, where_measured::drawn(*measure, whole)?, typed(record, *measure))))
            .collect();
        let dimensions: Vec<_> = taken.iter().map(|(_, points, words)| (*points, words.clone())).collect();
        // The numbers of a cage with guesses in it are nobody's yet.
        let (listed, others) = if pale.is_empty() { looked.numbered(cage, open_group) } else { Default::default() };
        let measuring = Measuring { cage, guessed: &pale, dimensions: &dimensions, listed: &listed, others: &others };
        let around = beside(&with_guesses.certain, &found.worked.around, false);
        let DrawnMeasuring { drawn, dimensions: over, touched } =
            draw_measuring(&measuring, &around, looked.view(), FRAME);
        let base = seen.address("/cage");
        let address = |part: &Balloon| Some(seen.address(&part_address(*part)));
        let dimension = |((measure, ..), marks): (&(TapeMeasure, _, _), Vec<_>)| Dimension {
            key: measure.key(),
            where_to_hold: measure.where_to_hold(),
            drawn: Svg::of(&marks, FRAME, |_| None),
        };
        Self {
            main: Svg::with_touched(&drawn.marks, &touched, FRAME, address),
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
            guesses: with_guesses.wait_for(record),
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
    /// Of a record as it is stored, which was worked out already, or as it was typed; where nothing was measured, by the
    /// figures of its pattern, and else by typical ones.
    pub(super) fn of(found: &Findings, record: &CageRecord, pattern: Option<&CageRecord>) -> Self {
        let tubes = &found.worked.tubes;
        let certain = if *record == found.worked.record { found.worked.cage.clone() } else { solve(record, tubes) };
        let Guessed { record: whole, .. } = guessed(record, pattern, tubes);
        Self { drawn: (whole != *record).then(|| solve(&whole, tubes)), record: whole, certain }
    }

    /// The cage to draw.
    pub(super) fn cage(&self) -> &Cage {
        self.drawn.as_ref().unwrap_or(&self.certain)
    }

    /// The bars that rest on a guess, and what each waits for.
    fn wait_for(&self, record: &CageRecord) -> Vec<(String, &'static str)> {
        let guessed = self.cage().members.iter().filter(|bar| self.certain.member_called(&bar.key).is_none());
        let line = |bar: &Member| {
            let named = record.bend_radius.contains_key(&TubeRole::of(bar.role));
            let without_die = !named && !bar.line.bends().is_empty();
            let why = if without_die { "no die named" } else { "waits for what is measured, or for a bar it ends on" };
            (format!("{}, {}", bar.role.word(), bar.side.word()), why)
        };
        guessed.map(line).collect()
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
    [("bars", ""), ("joints", "joints"), ("none", "none")].map(way).into()
}
