//! What a build takes from another car's file as its pattern: the same shell, a new car. What was decided of the cage is this
//! build's decision too. What carries a figure was measured on the other car, or made for it: it lies beside the record, the
//! cage is drawn pale by it, and it is this car's only when somebody states it of this car. Nothing is judged by it.

use jiff::Timestamp;

use crate::domain::cage::record::body::{BodyPlace, next_number};
use crate::domain::cage::record::by_hand::HandBar;
use crate::domain::cage::record::changed::changed;
use crate::domain::cage::{CageRecord, Foot, GussetRecord, ORDER_OF_MEASURING, PlateRecord, TapeMeasure, TubeRole};
use crate::domain::words::fingerprint::Fingerprint;
use crate::quantity::{Length, Typed};

/// By which file a build was begun, and what of that car's cage nobody has stated of this one.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// What that car is called in its file.
    pub car: String,
    /// The SHA-256 of the file's list.
    pub list: Fingerprint,
    /// The public key that signed the list.
    pub public: String,
    /// When the build was begun.
    pub at: Timestamp,
    /// Who began it.
    pub by: String,
    /// That car's figures; choices stand here too, as they were when they were taken.
    pub figures: CageRecord,
}

/// Takes a cage's record apart: what is decided for every car of its shell, and what was measured on that car or made for it.
/// Who sat in it and the numbers of its parts are left behind.
pub fn parted(of: CageRecord) -> (CageRecord, CageRecord) {
    let CageRecord {
        measures,
        structure,
        options,
        hand_bars,
        body,
        torch_radius,
        seats: _,
        plates,
        gussets,
        bend_radius,
        tubes,
        numbers: _,
    } = of;
    // a bar by hand comes with its own tube, when it comes
    let (of_hand_bars, tubes) = tubes.into_iter().partition(|(key, _)| key.starts_with("by-hand/"));
    let decided = CageRecord { structure, options: options.clone(), tubes, ..CageRecord::default() };
    let figures = CageRecord {
        measures,
        structure,
        options,
        hand_bars,
        body,
        torch_radius,
        plates,
        gussets,
        bend_radius,
        tubes: of_hand_bars,
        ..CageRecord::default()
    };
    (decided, figures)
}

/// A thing of the pattern that this car's record does not have.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unstated {
    /// Its name in forms.
    pub key: String,
    /// What it is.
    pub what: String,
    /// As it was on the other car, in the words it was typed in.
    pub figure: String,
    /// Whether a car is measured for it; else it is made.
    pub measured: bool,
    /// Whether another bar by hand has its number here, so that it cannot be taken by one word.
    pub number_taken: bool,
}

/// One thing of the figures.
#[derive(Debug, Clone, Copy)]
enum Thing<'p> {
    Measure(TapeMeasure, &'p Typed<Length>),
    Radius(TubeRole, &'p Typed<Length>),
    Plate(Foot, &'p PlateRecord),
    Bar(&'p HandBar),
    Gusset(&'p GussetRecord),
    Place(&'p BodyPlace),
    Torch(&'p Typed<Length>),
}

impl Thing<'_> {
    fn key(&self) -> String {
        match self {
            Self::Measure(measure, _) => measure.key(),
            Self::Radius(role, _) => format!("bend_radius_{}", role.key()),
            Self::Plate(foot, _) => format!("plate_{}", foot.key()),
            Self::Bar(bar) => bar.key(),
            Self::Gusset(gusset) => gusset.key(),
            Self::Place(place) => place.key(),
            Self::Torch(_) => "torch_radius".to_owned(),
        }
    }

    /// Whether the record says something of it, the same or another.
    fn is_said(&self, record: &CageRecord) -> bool {
        match self {
            Self::Measure(measure, _) => record.measures.contains_key(measure),
            Self::Radius(role, _) => record.bend_radius.contains_key(role),
            Self::Plate(foot, _) => record.plates.contains_key(foot),
            Self::Bar(bar) => record.hand_bars.iter().any(|one| one == *bar),
            Self::Gusset(gusset) => record.gussets.iter().any(|one| one.key() == gusset.key()),
            Self::Place(place) => record.body.iter().any(|one| one.part == place.part && one.taken == place.taken),
            Self::Torch(_) => record.torch_radius.is_some(),
        }
    }

    fn number_is_taken(&self, record: &CageRecord) -> bool {
        matches!(self, Self::Bar(bar) if record.hand_bars.iter().any(|one| one.number == bar.number))
    }

    fn put_in(&self, record: &mut CageRecord, figures: &CageRecord) {
        match *self {
            Self::Measure(measure, typed) => drop(record.measures.insert(measure, typed.clone())),
            Self::Radius(role, typed) => drop(record.bend_radius.insert(role, typed.clone())),
            Self::Plate(foot, plate) => drop(record.plates.insert(foot, plate.clone())),
            Self::Bar(bar) => {
                let pieces = format!("{}/", bar.key());
                let own = figures.tubes.iter().filter(|(key, _)| **key == bar.key() || key.starts_with(&pieces));
                record.tubes.extend(own.map(|(key, tube)| (key.clone(), tube.clone())));
                record.hand_bars.push(bar.clone());
            }
            Self::Gusset(gusset) => record.gussets.push(gusset.clone()),
            Self::Place(place) => {
                let number = next_number(&record.body);
                record.body.push(BodyPlace { number, ..place.clone() });
            }
            Self::Torch(typed) => record.torch_radius = Some(typed.clone()),
        }
    }
}

/// All things of the figures, in the order of the cage's sheet; of the measurements those that the record's bars need.
fn things<'p>(figures: &'p CageRecord, record: &CageRecord) -> Vec<Thing<'p>> {
    let needed = ORDER_OF_MEASURING.iter().filter(|measure| record.options.needs(**measure));
    let measures = needed.filter_map(|measure| Some(Thing::Measure(*measure, figures.measures.get(measure)?)));
    let radii = figures.bend_radius.iter().map(|(role, typed)| Thing::Radius(*role, typed));
    let plates = figures.plates.iter().map(|(foot, plate)| Thing::Plate(*foot, plate));
    let places = figures.body.iter().map(Thing::Place);
    let bars = figures.hand_bars.iter().map(Thing::Bar);
    let gussets = figures.gussets.iter().map(Thing::Gusset);
    let torch = figures.torch_radius.iter().map(Thing::Torch);
    measures.chain(places).chain(radii).chain(plates).chain(bars).chain(gussets).chain(torch).collect()
}

/// What of a pattern this record says nothing of yet.
pub fn unstated(figures: &CageRecord, record: &CageRecord) -> Vec<Unstated> {
    let line = |thing: Thing<'_>| {
        let mut with = record.clone();
        thing.put_in(&mut with, figures);
        let told = changed(record, &with).into_iter().find(|change| !change.is.is_empty())?;
        Some(Unstated {
            key: thing.key(),
            what: told.what,
            figure: told.is,
            measured: matches!(thing, Thing::Measure(..) | Thing::Place(_)),
            number_taken: thing.number_is_taken(record),
        })
    };
    things(figures, record).into_iter().filter(|thing| !thing.is_said(record)).filter_map(line).collect()
}

/// How many they are.
pub fn how_many_unstated(figures: &CageRecord, record: &CageRecord) -> usize {
    things(figures, record).iter().filter(|thing| !thing.is_said(record)).count()
}

/// The record with those things of the pattern stated that are named; what it says already stays as it is.
pub fn stated(figures: &CageRecord, record: &CageRecord, keys: &[String]) -> CageRecord {
    let mut with = record.clone();
    for thing in things(figures, record) {
        if keys.contains(&thing.key()) && !thing.is_said(&with) && !thing.number_is_taken(&with) {
            thing.put_in(&mut with, figures);
        }
    }
    with
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::body::{BodyPart, Taken};
    use crate::domain::cage::record::by_hand::{At, Stand};
    use crate::domain::cage::record::example::example_record;
    use crate::domain::words::roles::MemberRole;

    fn length(mm: f64) -> Typed<Length> {
        Typed::written(Length::from_mm(mm))
    }

    fn bar(number: u32, name: &str) -> HandBar {
        let ends = [Stand::new("header", At::Middle), Stand::new("dash-bar", At::Middle)];
        HandBar { number, name: name.to_owned(), role: MemberRole::OtherBar, ends, cut_at_crossings: false }
    }

    fn pattern() -> (CageRecord, CageRecord) {
        let mut whole = example_record();
        whole.hand_bars.push(bar(1, "tie"));
        let taken = Taken::Point { forward: length(300.0), left: length(0.0), up: length(1200.0) };
        whole.body.push(BodyPlace { number: 4, part: BodyPart::Roof, taken });
        whole.torch_radius = Some(length(40.0));
        parted(whole)
    }

    #[test]
    fn no_figure_of_the_pattern_is_in_what_was_decided() {
        let (decided, figures) = pattern();
        let whole = example_record();
        let taken = CageRecord { structure: whole.structure, options: whole.options.clone(), ..CageRecord::default() };
        assert_eq!(decided, taken);
        assert!(figures.numbers.is_empty() && figures.seats.is_empty());
        assert_eq!(figures.measures, whole.measures);
    }

    #[test]
    fn all_that_is_stated_one_by_one_is_the_pattern_again() {
        let (decided, figures) = pattern();
        let open = unstated(&figures, &decided);
        assert_eq!(open.len(), how_many_unstated(&figures, &decided));
        let mut record = decided.clone();
        for (done, line) in open.iter().enumerate() {
            assert_eq!(unstated(&figures, &record).len(), open.len() - done, "{}", line.what);
            record = stated(&figures, &record, std::slice::from_ref(&line.key));
        }
        assert_eq!(unstated(&figures, &record), []);
        assert_eq!(record.plates, figures.plates);
        assert_eq!(record.hand_bars, figures.hand_bars);
        assert_eq!(record.gussets, figures.gussets);
        assert_eq!(record.body.len(), 1);
        assert_eq!(stated(&figures, &record, &[open[0].key.clone()]), record);
    }

    #[test]
    fn what_this_car_says_already_stays() {
        let (mut record, figures) = pattern();
        let one = TapeMeasure::HoopRoofHeight;
        record.measures.insert(one, length(1000.0));
        record.hand_bars.push(bar(1, "another"));
        let keys: Vec<String> = unstated(&figures, &record).into_iter().map(|line| line.key).collect();
        assert!(!keys.contains(&one.key()));
        let taken = unstated(&figures, &record).into_iter().find(|line| line.number_taken);
        assert_eq!(taken.map(|line| line.key).as_deref(), Some("by-hand/1"));
        let all = stated(&figures, &record, &[keys, vec![one.key()]].concat());
        assert_eq!(all.measure(one), Some(Length::from_mm(1000.0)));
        assert_eq!(all.hand_bars, record.hand_bars);
    }
}
