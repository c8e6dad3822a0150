//! The cut plan: which bars are cut from which stick, so that the least tube is bought and the least cut into.

mod as_planned;
mod files;
mod numbers;
mod of_build;
mod search;
mod describe;

use search::{Alike, Source, Sticks, pack};

use crate::domain::shop::saw::Saw;
use crate::domain::steel::tube::TubeSize;
use crate::quantity::Length;

pub use as_planned::{AsPlanned, Ground, NotAsPlanned};
pub use files::{pieces_of, stock_of};
pub use numbers::{as_json, beside, rows};
pub use of_build::{CutRequest, of_build, of_cage};
pub use search::{Effort, Progress, Standing};

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
    /// Whether it is begun: one of its ends is sawn, and needs no trim.
    pub begun: bool,
}

/// A stick that is cut into. Its length is the trims, the pieces, the kerf and the offcut together.
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
    /// What is trimmed before the first piece; nothing where that end is sawn.
    pub trim: Length,
    /// What is trimmed in all.
    pub trims: Length,
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
    /// Pieces longer than every stick there is, and than those to buy.
    pub too_long: Vec<Piece>,
    /// Pieces longer than a stick to buy, for which none of the shop's is left in this plan.
    pub no_stick: Vec<Piece>,
    /// How good the plan is known to be.
    pub standing: Standing,
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

/// A stick without its marks: its length, and whether it is begun.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Bare {
    length: f64,
    begun: bool,
}

impl Bare {
    fn of(free: &Free) -> Self {
        Self { length: micrometres(free.length), begun: free.begun }
    }

    /// What is trimmed before the first piece, and in all.
    fn trims(self, saw: &Saw) -> (f64, f64) {
        let trim = micrometres(saw.trim.value);
        if self.begun { (0.0, trim) } else { (trim, 2.0 * trim) }
    }

    /// What fits into it: each piece takes a kerf with it; the last one needs none, which the room makes up for.
    fn room(self, saw: &Saw) -> f64 {
        self.length - self.trims(saw).1 + micrometres(saw.kerf.value)
    }
}

/// The pieces, sticks and saw of one size, as the search takes them.
struct Size {
    tube: TubeSize,
    /// Pieces of one length, the longest first, with their kerf.
    pieces: Vec<(f64, Vec<Piece>)>,
    /// Sticks of one length with as many ends to trim, the shortest first.
    own: Vec<(Bare, Vec<Free>)>,
    /// Nothing is cut from these.
    whole: Vec<Free>,
    too_long: Vec<Piece>,
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
    /// The plan for these pieces and sticks, as good as the effort allows.
    pub fn of(pieces: &[Piece], sticks: &[Free], saw: &Saw, effort: &mut Effort<'_>) -> Self {
        let mut sizes: Vec<TubeSize> = Vec::new();
        for piece in pieces {
            if !sizes.contains(&piece.tube) {
                sizes.push(piece.tube);
            }
        }
        let (mut new, count) = (0, sizes.len());
        let size = |(at, tube): (usize, TubeSize)| {
            effort.share(at, count - at);
            Size::of(tube, pieces, sticks, saw).planned(saw, effort, &mut new)
        };
        let sizes = sizes.into_iter().enumerate().map(size).collect();
        Self { saw: saw.clone(), sizes, unsure: Vec::new() }
    }

    /// Whether no plan is better, for every size.
    pub fn is_proven(&self) -> bool {
        self.sizes.iter().all(|size| size.standing.is_proven())
    }
}

/// Whole micrometres, so that sums of many pieces are exact.
fn micrometres(length: Length) -> f64 {
    (length.mm() * 1000.0).round()
}

fn from_micrometres(value: f64) -> Length {
    Length::from_mm(value / 1000.0)
}

/// Things that are alike together, in the order in which they first come.
fn alike<T, K: PartialEq>(things: impl IntoIterator<Item = T>, key: impl Fn(&T) -> K) -> Vec<(K, Vec<T>)> {
    let mut alike: Vec<(K, Vec<T>)> = Vec::new();
    for thing in things {
        let key = key(&thing);
        match alike.iter_mut().find(|one| one.0 == key) {
            Some((_, same)) => same.push(thing),
            None => alike.push((key, vec![thing])),
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

impl Size {
    fn of(tube: TubeSize, pieces: &[Piece], sticks: &[Free], saw: &Saw) -> Self {
        let kerf = micrometres(saw.kerf.value);
        let rounded = |piece: &Piece| Piece { length: from_micrometres(micrometres(piece.length)), ..piece.clone() };
        let pieces = pieces.iter().filter(|piece| piece.tube == tube).map(rounded);
        let own = || sticks.iter().filter(|free| free.tube == tube).cloned();
        let longest = own().map(|free| Bare::of(&free).room(saw)).fold(bought(saw).room(saw), f64::max);
        let fits = |piece: &Piece| micrometres(piece.length) + kerf <= longest;
        let (pieces, too_long): (Vec<Piece>, Vec<Piece>) = pieces.partition(fits);
        let mut pieces = alike(pieces, |piece| micrometres(piece.length) + kerf);
        pieces.sort_by(|one, two| two.0.total_cmp(&one.0));
        let least = pieces.last().map_or(f64::INFINITY, |one| one.0);
        let takes_one = |free: &Free| Bare::of(free).room(saw) >= least;
        let (own, whole): (Vec<Free>, Vec<Free>) = own().partition(takes_one);
        let mut own = alike(own, Bare::of);
        own.sort_by(|one, two| one.0.length.total_cmp(&two.0.length).then(one.0.begun.cmp(&two.0.begun)));
        Self { tube, pieces, own, whole, too_long }
    }

    /// The sticks as the search takes them: the shop's, those to buy, and nowhere for pieces longer than these.
    fn sticks(&self, saw: &Saw) -> Vec<Sticks> {
        let own = |(bare, same): &(Bare, Vec<Free>)| Sticks {
            room: bare.room(saw),
            length: bare.length,
            count: count(same),
            source: Source::Own,
        };
        let mut sticks: Vec<Sticks> = self.own.iter().map(own).collect();
        let of = |longer: f64| {
            let those = self.pieces.iter().filter(|one| one.0 > longer);
            those.map(|one| count(&one.1)).sum()
        };
        let (length, room) = (bought(saw).length, bought(saw).room(saw));
        sticks.push(Sticks { room, length, count: of(0.0), source: Source::Bought });
        sticks.push(Sticks { room: 0.0, length: 0.0, count: of(room), source: Source::Nowhere });
        sticks
    }

    /// The plan; new sticks are numbered on.
    fn planned(mut self, saw: &Saw, effort: &mut Effort<'_>, new: &mut u32) -> SizePlan {
        let alike: Vec<Alike> =
            self.pieces.iter().map(|(size, same)| Alike { size: *size, count: count(same) }).collect();
        let sticks = self.sticks(saw);
        let mut packed = pack(&alike, &sticks, effort);
        packed.cuts.sort_by(|one, two| one.of.cmp(&two.of).then_with(|| one.filling.cmp(&two.filling)));
        let (mut cut, mut no_stick) = (Vec::new(), Vec::new());
        for one in packed.cuts {
            let Some(kind) = sticks.get(one.of) else { continue };
            let mut pieces = Vec::new();
            for (place, count) in one.filling {
                let same = self.pieces.get_mut(place).map(|one| &mut one.1);
                pieces.extend(
                    same.into_iter().flat_map(|same| (0..count).filter_map(|_| first(same)).collect::<Vec<_>>()),
                );
            }
            let stick = self.own.get_mut(one.of).and_then(|one| first(&mut one.1));
            let name = match kind.source {
                Source::Nowhere => {
                    no_stick.append(&mut pieces);
                    continue;
                }
                Source::Own => stick.as_ref().map(|stick| stick.name.clone()).unwrap_or_default(),
                Source::Bought => {
                    *new += 1;
                    format!("new {new}")
                }
            };
            let bare = stick.as_ref().map_or_else(|| bought(saw), Bare::of);
            cut.push(cut_stick((name, stick), pieces, bare, saw));
        }
        let mut whole = self.whole;
        whole.extend(self.own.into_iter().flat_map(|one| one.1));
        let (tube, too_long, standing) = (self.tube, self.too_long, packed.standing);
        SizePlan { tube, sticks: cut, whole, too_long, no_stick, standing }
    }
}

/// A stick with its pieces, and what saw and trims leave of it.
fn cut_stick((name, stick): (String, Option<Free>), pieces: Vec<Piece>, bare: Bare, saw: &Saw) -> CutStick {
    let ((trim, trims), kerf) = (bare.trims(saw), micrometres(saw.kerf.value));
    let taken: f64 = pieces.iter().map(|piece| micrometres(piece.length)).sum();
    let cuts = f64::from(count(&pieces));
    // Where less than a kerf would be left the last cut takes it all.
    let offcut = (bare.length - trims - taken - cuts * kerf).max(0.0);
    CutStick {
        stick,
        name,
        length: from_micrometres(bare.length),
        pieces,
        trim: from_micrometres(trim),
        trims: from_micrometres(trims),
        kerf: from_micrometres(bare.length - trims - taken - offcut),
        offcut: from_micrometres(offcut),
        keep: offcut > 0.0 && from_micrometres(offcut) >= saw.keep.value,
    }
}

/// A stick to buy.
fn bought(saw: &Saw) -> Bare {
    Bare { length: micrometres(saw.buy.value), begun: false }
}

#[cfg(test)]
mod tests;
