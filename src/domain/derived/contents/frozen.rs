//! The whole record of a build as a round freezes it. Every struct is taken whole; whatever is not frozen is named here,
//! with its reason, and a field that is added later does not compile, or is frozen, until somebody places it.

use std::collections::BTreeMap;
use std::fmt;

use serde::Serialize;

use super::leaves::{Leaves, leaves};
use super::sorts::Sort;
use super::{CAR, of_shot};
use crate::domain::cage::CageRecord;
use crate::domain::derived::worked::Worked;
use crate::domain::recorded::facts::{BuildFacts, CageText};
use crate::domain::recorded::kit::KitItem;
use crate::domain::recorded::kit::moves::{Stay, Way};
use crate::domain::recorded::welds::is_of_a_line;
use crate::domain::shop::stock::Stick;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, Kind};

/// A thing of the record: the part it stands at, what it is, and which of several.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Thing {
    pub(super) at: Balloon,
    pub(super) sort: Sort,
    pub(super) which: String,
}

impl fmt::Display for Thing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {} {}", self.at, self.sort.key(), self.which)
    }
}

impl Thing {
    /// The thing of a key; none of a key that this program does not know.
    pub(super) fn of(key: &str) -> Option<Self> {
        let mut words = key.splitn(3, ' ');
        let (at, sort, which) = (words.next()?.parse().ok()?, words.next()?, words.next()?.to_owned());
        let sort = Sort::ALL.into_iter().find(|one| one.key() == sort)?;
        Some(Self { at, sort, which })
    }
}

/// The record, thing by thing.
pub type Record = BTreeMap<String, Leaves>;

#[derive(Default)]
struct Kept(Record);

impl Kept {
    fn put(&mut self, at: Balloon, sort: Sort, which: impl fmt::Display, thing: &impl Serialize) {
        let mut leaves = leaves(thing);
        for (path, _) in sort.left_out() {
            leaves.retain(|at, _| at != path && !at.starts_with(&format!("{path}/")));
        }
        let mut key = Thing { at, sort, which: which.to_string() }.to_string();
        // Two things of one name are both kept.
        while self.0.contains_key(&key) {
            key.push_str(" again");
        }
        self.0.insert(key, leaves);
    }
}

fn of_sticks(kept: &mut Kept, sticks: &[Stick]) {
    for stick in sticks {
        kept.put(Balloon::new(Kind::Stick, stick.number), Sort::Stick, "", stick);
    }
}

/// The whole record, but for what is named as not frozen.
pub(super) fn record(facts: &BuildFacts, worked: &Worked) -> Record {
    // Exhaustive: a new field is placed here or named in `NOT_FROZEN`.
    let BuildFacts {
        build,
        book: _, // `Contents::book`
        weigh_ins,
        papers: _,
        forecasts,
        wheels,
        foreseen,
        cage,
        earlier_cages: _,
        lowering,
        looks: _,
        photos: _,
        photos_said: _,
        mark_ups: _,
        sticks,
        cuts: _,
        kit,
        kit_ways,
        measured,
        car,
        questions: _,
        rounds: _,
        replies: _,
        rulings,
        notes: _,
        weld_order: _,
        welds: _, // those welded while held: `Contents::welded_held`
        as_of: _,
        log_head: _,
    } = facts;
    let mut kept = Kept::default();
    kept.put(CAR, Sort::Build, "", build);
    kept.put(CAR, Sort::Car, "", car);
    for weigh_in in weigh_ins {
        kept.put(Balloon::new(Kind::WeighIn, weigh_in.number), Sort::WeighIn, "", weigh_in);
    }
    for forecast in forecasts {
        kept.put(CAR, Sort::Forecast, forecast.weigh_in, forecast);
    }
    kept.put(CAR, Sort::Wheels, "", wheels);
    for listed in foreseen {
        kept.put(CAR, Sort::Listed, listed.place, listed);
    }
    if let Some(cage) = cage {
        of_cage(&mut kept, cage, worked);
    }
    kept.put(CAR, Sort::Lowering, "", lowering);
    pictures(&mut kept, facts);
    of_sticks(&mut kept, sticks);
    of_cuts(&mut kept, facts);
    of_kit(&mut kept, kit, kit_ways);
    for read in measured {
        kept.put(read.of, Sort::Measured, read.measure.word(), read);
    }
    for ruling in rulings {
        kept.put(ruling.ruled.of.unwrap_or(CAR), Sort::Ruling, ruling.place, ruling);
    }
    kept.0
}

/// The cage as it is measured and chosen, each part under its number.
fn of_cage(kept: &mut Kept, text: &CageText, worked: &Worked) {
    if !worked.cage_reads {
        return kept.put(CAR, Sort::Cage, "", &Fingerprint::of(text.json.as_bytes()));
    }
    let CageRecord {
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
    } = &worked.record;
    let number = |key: &str| numbers.get(key).copied().unwrap_or(CAR);
    kept.put(CAR, Sort::Measures, "", measures);
    kept.put(CAR, Sort::Cage, "structure", structure);
    kept.put(CAR, Sort::Cage, "options", options);
    kept.put(CAR, Sort::Cage, "torch", torch_radius);
    kept.put(CAR, Sort::Dies, "", bend_radius);
    for bar in hand_bars {
        kept.put(number(&bar.key()), Sort::HandBar, bar.number, bar);
    }
    for place in body {
        kept.put(CAR, Sort::Body, place.number, place);
    }
    for seat in seats {
        kept.put(CAR, Sort::Seat, seat.number, seat);
    }
    for (foot, plate) in plates {
        let mut there =
            worked.cage.plates.iter().filter(|there| there.foot == *foot).map(|there| there.balloon).peekable();
        if there.peek().is_none() {
            kept.put(CAR, Sort::Plate, foot.key(), plate);
        }
        for balloon in there {
            kept.put(balloon, Sort::Plate, "", plate);
        }
    }
    for gusset in gussets {
        kept.put(number(&gusset.key()), Sort::Gusset, "", gusset);
    }
    for (key, tube) in tubes {
        kept.put(number(key), Sort::OwnTube, key, tube);
    }
}

/// The photographs that count, and what stands drawn over them: their bytes are frozen beside, this is what is said.
fn pictures(kept: &mut Kept, facts: &BuildFacts) {
    // a photograph of a finished weld is a line of the weld log, and what a release is for
    for photo in facts.photos.iter().filter(|photo| photo.kept() && !is_of_a_line(photo, &facts.welds)) {
        kept.put(of_shot(photo), Sort::Photo, photo.capture, photo);
    }
    for mark in facts.mark_ups.iter().filter(|mark| mark.is_shown()) {
        let of_it = |photo: &&crate::domain::recorded::photos::Photo| {
            photo.kept() && !is_of_a_line(photo, &facts.welds) && photo.sha256 == mark.sha256
        };
        let Some(photo) = facts.photos.iter().find(of_it) else { continue };
        kept.put(of_shot(photo), Sort::Mark, format!("{} {}", mark.sha256, mark.number), mark);
    }
}

/// Which stick each bar was cut from, and when: a bar cut again is another piece.
fn of_cuts(kept: &mut Kept, facts: &BuildFacts) {
    #[derive(Serialize)]
    struct From<'a> {
        from: String,
        #[serde(flatten)]
        cut: &'a crate::domain::shop::stock::Cut,
    }
    for cut in &facts.cuts {
        let stick = facts.sticks.iter().find(|stick| stick.id == cut.stick);
        let from = stick.map_or_else(|| cut.stick.to_string(), |Stick { number, .. }| format!("S{number}"));
        kept.put(cut.member, Sort::Cut, "", &From { from, cut });
    }
}

/// The kit, each item with its way into this car.
fn of_kit(kept: &mut Kept, kit: &[KitItem], ways: &[Way]) {
    for item in kit {
        kept.put(Balloon::new(Kind::Kit, item.number), Sort::Kit, "", item);
    }
    for way in ways {
        of_way(kept, way);
    }
}

/// An item's way up to its time in this car; what becomes of it in the next is that car's.
fn of_way(kept: &mut Kept, way: &Way) {
    let Some(here) = way.here().filter(|here| here.went.is_none()) else { return };
    let at = Balloon::new(Kind::Kit, here.item.number);
    for (number, stay) in (1_u32..).zip(way.before()) {
        kept.put(at, Sort::Way, number, stay);
    }
    // Of its time here: the item and its photographs are frozen as this car's own, and it did not go on.
    let Stay { build: _, car: _, slug: _, item: _, recorded, came, went: _, photos: _ } = here;
    kept.put(
        at,
        Sort::Way,
        "here",
        &BTreeMap::from([("came", came.map(|day| day.to_string())), ("recorded", Some(recorded.to_string()))]),
    );
}
