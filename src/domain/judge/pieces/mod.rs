//! Which piece a photograph or a figure is of. What was seen or measured of a part before it was cut again, moved or made
//! otherwise is of the earlier piece: it stays and is shown, and counts for nothing.

mod goes_by;
mod mark;
mod since;

use std::collections::BTreeMap;

use jiff::Timestamp;

use self::goes_by::GoesBy;
use self::mark::Marks;
use crate::domain::cage::outline;
use crate::domain::cage::{Cage, CageRecord, Tubes};
use crate::domain::measure::figures::Measured;
use crate::domain::measure::measures::Measure;
use crate::domain::recorded::facts::{BuildFacts, CageText, InForce};
use crate::domain::recorded::photos::Photo;
use crate::domain::words::ids::{Balloon, CaptureId, Kind};

pub use since::{Said, Since};

/// The photographs and figures that are of an earlier piece, each with what became of its part since.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Pieces {
    photos: BTreeMap<CaptureId, Since>,
    figures: BTreeMap<(Measure, Balloon), Since>,
}

impl Pieces {
    /// From what was recorded, the cage's record that stands and what it makes.
    pub fn of(facts: &BuildFacts, (record, cage): (&CageRecord, &Cage), tubes: &Tubes) -> Self {
        let past = Past::of(facts, (record, cage), tubes);
        let photos = facts.photos.iter().filter(|photo| photo.withdrawn.is_none()).filter_map(|photo| {
            let of = photo.part()?;
            Some((photo.capture, past.since(GoesBy::photo(of), of, photo.declared)?))
        });
        let figures = facts.measured.iter().filter_map(|read| {
            let since = past.since(GoesBy::figure(read.measure, read.of), read.of, read.at)?;
            Some(((read.measure, read.of), since))
        });
        Self { photos: photos.collect(), figures: figures.collect() }
    }

    /// What became of a photograph's part since it was taken; none while it is of the piece that is there.
    pub fn photo(&self, photo: &Photo) -> Option<&Since> {
        self.photos.get(&photo.capture)
    }

    /// What became of a part since this was last measured of it; none while that is of the piece that is there.
    pub fn figure(&self, measure: Measure, of: Balloon) -> Option<&Since> {
        self.figures.get(&(measure, of))
    }

    /// What counts of these facts, the very ones that this was made from.
    pub const fn standing<'a>(&'a self, facts: &'a BuildFacts) -> Standing<'a> {
        Standing { facts, pieces: self }
    }
}

/// The photographs and figures that are of the pieces that are there: nothing else is judged by. Only [`Pieces`] makes it.
#[derive(Debug, Clone, Copy)]
pub struct Standing<'a> {
    facts: &'a BuildFacts,
    pieces: &'a Pieces,
}

impl<'a> Standing<'a> {
    /// The photographs, in the order they were told of; those withdrawn and those still on a phone among them.
    pub fn photos(self) -> impl DoubleEndedIterator<Item = &'a Photo> {
        self.facts.photos.iter().filter(move |photo| self.pieces.photo(photo).is_none())
    }

    /// The figures.
    pub fn measured(self) -> impl Iterator<Item = &'a Measured> {
        self.facts.measured.iter().filter(move |read| self.pieces.figure(read.measure, read.of).is_none())
    }

    /// What became of the part of a shot since its newest photograph that can be shown and is of the earlier piece.
    pub fn earlier_photo(self, shot: &str) -> Option<&'a Since> {
        let of_it = self.facts.photos.iter().rev().filter(|photo| photo.shows() && photo.shot == shot);
        of_it.into_iter().find_map(|photo| self.pieces.photo(photo))
    }

    /// The figure of the earlier piece, with what became of the part since.
    pub fn earlier_figure(self, measure: Measure, of: Balloon) -> Option<(&'a Measured, &'a Since)> {
        let since = self.pieces.figure(measure, of)?;
        let read = self.facts.measured.iter().rev().find(|read| (read.measure, read.of) == (measure, of))?;
        Some((read, since))
    }
}

/// The cage as it is, and as it was while something was seen or measured.
struct Past<'a> {
    facts: &'a BuildFacts,
    now: Marks,
    then: Vec<(InForce, Then)>,
}

/// The cage of an earlier record.
enum Then {
    /// There was none yet.
    None,
    /// It cannot be read.
    Unreadable,
    /// It reads.
    Was(Marks),
}

impl<'a> Past<'a> {
    fn of(facts: &'a BuildFacts, (record, cage): (&CageRecord, &Cage), tubes: &Tubes) -> Self {
        let then = |text: &CageText| match text.record() {
            Ok(was) => {
                let was = was.with_numbers_of(record);
                Then::Was(Marks::of(&outline(&was, tubes), &was))
            }
            Err(_) => Then::Unreadable,
        };
        let then = facts.earlier_cages.iter().map(|earlier| {
            let cage = earlier.cage.as_ref();
            (earlier.while_it_was, cage.map_or(Then::None, then))
        });
        Self { facts, now: Marks::of(cage, record), then: then.collect() }
    }

    /// What became of a part since a moment, by what is gone by; none where nothing of it is another.
    fn since(&self, goes_by: GoesBy, of: Balloon, at: Timestamp) -> Option<Since> {
        // Of a part that is not there any more nothing is asked.
        if goes_by == GoesBy::Nothing || !self.now.has(of) {
            return None;
        }
        self.cut(of, at).or_else(|| if goes_by == GoesBy::Metal { None } else { self.placed(goes_by, of, at) })
    }

    /// By the saw. Of a joint or a gusset whose bars got their first cut recorded later, that was paper work: the bars were
    /// there. What lies in a bar's metal is only known of the piece that was cut by then.
    fn cut(&self, of: Balloon, at: Timestamp) -> Option<Since> {
        let cuts = |bar: Balloon| self.facts.cuts.iter().filter(move |cut| cut.member == bar);
        let later = |bar: Balloon| cuts(bar).filter(|cut| cut.at > at).count();
        let again = |bar: &Balloon| later(*bar) > 0 && cuts(*bar).count() > 1;
        match of.kind {
            Kind::Member if again(&of) => Some(Since::CutAgain),
            Kind::Member => (later(of) > 0).then_some(Since::CutRecorded),
            _ => self.now.bars_of(of).into_iter().find(again).map(Since::BarCutAgain),
        }
    }

    /// By the cage's record. Where a clock that was set back leaves two in force, it must be as it was in both.
    fn placed(&self, goes_by: GoesBy, of: Balloon, at: Timestamp) -> Option<Since> {
        let then = self.then.iter().filter(|(while_it_was, _)| while_it_was.covers(at));
        then.into_iter().find_map(|(_, then)| match then {
            Then::None => Some(Since::NotRecorded),
            Then::Unreadable => Some(Since::Unreadable),
            Then::Was(marks) => {
                let seats = || if goes_by == GoesBy::PlaceAndSeat { marks.seats_since(&self.now) } else { None };
                marks.since(&self.now, of).or_else(seats)
            }
        })
    }
}

#[cfg(test)]
mod tests;
