//! The cut plan: which bars are cut from which stick, so that the least tube is bought and the least cut into.

mod bound;
mod files;
mod numbers;
mod of_build;
mod packing;
mod told;

use super::saw::Saw;
use super::tube::TubeSize;
use crate::quantity::Length;
use packing::{Alike, Sticks, pack};

pub use files::{pieces_of, stock_of};
pub use numbers::{as_json, beside, rows};
pub use of_build::{of_build, of_cage};

/// A piece that is wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// What it is called: the bar's number.
    pub name: String,
    /// The tube.
    pub tube: TubeSize,
    /// How long it is cut, allowances in it.
    pub length: Length,
    /// What of it stands before the blank's first long point, from which bends are marked, and after its last.
    pub more: [Length; 2],
    /// Whether the bar's length is not final, an end of it standing on nothing yet.
    pub loose: bool,
}

/// A stick that may be cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Free {
    /// What it is called: S3.
    pub name: String,
    /// Its grade; empty where it is not said.
    pub grade: String,
    /// Its heat number; empty where there is none.
    pub heat: String,
    /// The tube.
    pub tube: TubeSize,
    /// How long it is, or what is left of it.
    pub length: Length,
}

/// A stick that is cut into. Its length is twice the trim, the pieces, the kerf and the offcut together.
#[derive(Debug, Clone, PartialEq)]
pub struct CutStick {
    /// The stick; none of the shop's where it is to buy.
    pub stick: Option<Free>,
    /// What it is called on the plan: S3, or "new 1".
    pub name: String,
    /// How long it is.
    pub length: Length,
    /// Its pieces, in the order in which they are cut.
    pub pieces: Vec<Piece>,
    /// What the saw takes in all.
    pub kerf: Length,
    /// What is left between the last cut and the far end's trim.
    pub offcut: Length,
    /// Whether that is worth keeping.
    pub keep: bool,
}

/// The plan for one size of tube.
#[derive(Debug, Clone, PartialEq)]
pub struct SizePlan {
    /// The size.
    pub tube: TubeSize,
    /// The sticks that are cut into: the shop's, then those to buy.
    pub sticks: Vec<CutStick>,
    /// The shop's sticks of this size that stay whole.
    pub whole: Vec<Free>,
    /// Pieces longer than every stick that is left for them.
    pub no_stick: Vec<Piece>,
    /// No plan buys less than this, and of those that buy as little none cuts into less of the tube.
    pub bound: (Length, Length),
    /// Whether the plan reaches that bound.
    pub proven: bool,
}

impl SizePlan {
    /// The length of all sticks that are cut into.
    pub fn used(&self) -> Length {
        self.sticks.iter().map(|stick| stick.length).sum()
    }

    /// The length of all pieces that are cut.
    pub fn cut(&self) -> Length {
        self.sticks.iter().flat_map(|stick| &stick.pieces).map(|piece| piece.length).sum()
    }

    /// What is no piece of the sticks cut into: trims, kerf and offcuts.
    pub fn waste(&self) -> Length {
        self.used() - self.cut()
    }

    /// What of that is offcuts worth keeping.
    pub fn kept(&self) -> Length {
        self.sticks.iter().filter(|stick| stick.keep).map(|stick| stick.offcut).sum()
    }

    /// The grades of the shop's sticks that are cut into, each once: more than one is worth a look.
    pub fn grades(&self) -> Vec<&str> {
        let own = self.sticks.iter().filter_map(|stick| stick.stick.as_ref()).map(|stick| stick.grade.as_str());
        let mut grades: Vec<&str> = own.collect();
        grades.sort_by_key(|grade| grade.to_lowercase());
        grades.dedup_by_key(|grade| grade.to_lowercase());
        grades
    }

    /// How many sticks are to buy.
    pub fn to_buy(&self) -> usize {
        self.sticks.iter().filter(|stick| stick.stick.is_none()).count()
    }
}

/// The plan for all sizes, and what it counts with.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CutPlan {
    /// What the saw takes, and the rest.
    pub saw: Saw,
    /// One for each size that has pieces to cut.
    pub sizes: Vec<SizePlan>,
    /// Sticks that were left out, for nobody knows what is left of them.
    pub unsure: Vec<String>,
}

impl CutPlan {
    /// The plan for these pieces and sticks.
    pub fn of(pieces: &[Piece], sticks: &[Free], saw: &Saw) -> Self {
        let mut sizes: Vec<TubeSize> = Vec::new();
        for piece in pieces {
            if !sizes.contains(&piece.tube) {
                sizes.push(piece.tube);
            }
        }
        let mut new = 0;
        let size = |tube: TubeSize| {
            let own = |of: &&Free| of.tube == tube;
            let rounded =
                |piece: &Piece| Piece { length: from_micrometres(micrometres(piece.length)), ..piece.clone() };
            let wanted = pieces.iter().filter(|piece| piece.tube == tube).map(rounded).collect();
            of_size(tube, wanted, sticks.iter().filter(own).cloned().collect(), (saw, &mut new))
        };
        Self { saw: saw.clone(), sizes: sizes.into_iter().map(size).collect(), unsure: Vec::new() }
    }
}

/// Whole micrometres, so that sums of many pieces are exact.
fn micrometres(length: Length) -> f64 {
    (length.mm() * 1000.0).round()
}

fn from_micrometres(value: f64) -> Length {
    Length::from_mm(value / 1000.0)
}

/// Things of one length together, in the order in which the lengths first come.
fn alike<T>(things: impl IntoIterator<Item = T>, length: impl Fn(&T) -> f64) -> Vec<(f64, Vec<T>)> {
    let mut alike: Vec<(f64, Vec<T>)> = Vec::new();
    for thing in things {
        let length = length(&thing);
        match alike.iter_mut().find(|one| one.0.total_cmp(&length).is_eq()) {
            Some((_, same)) => same.push(thing),
            None => alike.push((length, vec![thing])),
        }
    }
    alike
}

fn count<T>(of: &[T]) -> u32 {
    u32::try_from(of.len()).unwrap_or(u32::MAX)
}

fn first<T>(of: &mut Vec<T>) -> Option<T> {
    if of.is_empty() { None } else { Some(of.remove(0)) }
}

/// The plan for one size; new sticks are numbered on.
fn of_size(tube: TubeSize, pieces: Vec<Piece>, own: Vec<Free>, (saw, new): (&Saw, &mut u32)) -> SizePlan {
    let (kerf, trims) = (micrometres(saw.kerf.value), 2.0 * micrometres(saw.trim.value));
    // Each piece takes a kerf with it; the last piece of a stick needs none, which the stick's room makes up for.
    let room = |length: f64| length - trims + kerf;
    let mut pieces = alike(pieces, |piece| micrometres(piece.length) + kerf);
    pieces.sort_by(|one, two| two.0.total_cmp(&one.0));
    let least = pieces.last().map_or(f64::INFINITY, |one| one.0);
    let takes_one = |stick: &Free| room(micrometres(stick.length)) >= least;
    let (own, mut whole): (Vec<Free>, Vec<Free>) = own.into_iter().partition(takes_one);
    let mut sticks = alike(own, |stick| micrometres(stick.length));
    sticks.sort_by(|one, two| one.0.total_cmp(&two.0));
    sticks.push((micrometres(saw.buy.value), Vec::new()));
    let sizes: Vec<Alike> = pieces.iter().map(|(size, same)| Alike { size: *size, count: count(same) }).collect();
    let kind = |(length, same): &(f64, Vec<Free>)| {
        let bought = same.is_empty();
        Sticks { room: room(*length), length: *length, count: if bought { u32::MAX } else { count(same) }, bought }
    };
    let mut packed = pack(&sizes, &sticks.iter().map(kind).collect::<Vec<_>>());
    packed.filled.sort_by_key(|one| one.of);
    let mut take = |at: usize| pieces.get_mut(at).and_then(|one| first(&mut one.1));
    let mut cut = Vec::new();
    for one in packed.filled {
        let Some((length, free)) = sticks.get_mut(one.of) else { continue };
        let stick = first(free);
        if stick.is_none() {
            *new += 1;
        }
        let name = stick.as_ref().map_or_else(|| format!("new {new}"), |stick| stick.name.clone());
        let pieces = one.pieces.into_iter().filter_map(&mut take).collect();
        cut.push(cut_stick((name, stick), pieces, (*length, trims, kerf), saw.keep.value));
    }
    whole.extend(sticks.into_iter().flat_map(|one| one.1));
    SizePlan {
        tube,
        sticks: cut,
        no_stick: packed.no_room.into_iter().filter_map(take).collect(),
        whole,
        bound: (from_micrometres(packed.bound.bought), from_micrometres(packed.bound.used)),
        proven: packed.bound == packed.cost,
    }
}

/// A stick with its pieces, and what saw and trims leave of it.
fn cut_stick(
    (name, stick): (String, Option<Free>),
    pieces: Vec<Piece>,
    (length, trims, kerf): (f64, f64, f64),
    keep: Length,
) -> CutStick {
    let taken: f64 = pieces.iter().map(|piece| micrometres(piece.length)).sum();
    let cuts = f64::from(count(&pieces));
    // Where less than a kerf would be left the last cut takes it all.
    let offcut = (length - trims - taken - cuts * kerf).max(0.0);
    CutStick {
        stick,
        name,
        length: from_micrometres(length),
        pieces,
        kerf: from_micrometres(length - trims - taken - offcut),
        offcut: from_micrometres(offcut),
        keep: offcut > 0.0 && from_micrometres(offcut) >= keep,
    }
}

#[cfg(test)]
mod tests;
