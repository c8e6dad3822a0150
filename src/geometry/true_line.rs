//! The line in which a branch's wall meets tubes as they truly run: bent, ended, beside each other. Touched line by line.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use crate::geometry::carrier::Place;
use crate::geometry::centre_line::SAME_POINT;
use crate::geometry::cut_line::{Extreme, Seam};
use crate::geometry::integral::{self, Near};
use crate::geometry::seen::{Face, Frame, Seen};

/// The wall is looked at in so many even steps first, a multiple of four: every one and a half degrees.
const LOOKS: u32 = 240;
/// A panel of the seam is halved until both rules differ by less than this share of the branch's radius (own choice).
const WITHIN: f64 = 1e-5;
/// The seam passes from one tube to the next where their cuts differ by no more than this, mm.
const TIE: f64 = 1e-7;
/// A tube that nowhere cuts deeper than the others by more than this has no part in the cut, mm (own choice): of two pieces
/// that end on one carrier from both sides, nearly in line, one would else be coped round the other by a hair.
pub(crate) const FILED: f64 = 0.2;
/// Lines round the branch by which the mean cut is taken, for the mass: to a hundredth of a millimetre, and to a fifth where
/// the cut leaps from tube to tube. That is less than half a gram.
const LINES: u32 = 120;
/// Three places and weights of Gauss's rule on 0..1 (Abramowitz and Stegun, table 25.4, moved from -1..1).
const RINGS: [(f64, f64); 3] =
    [(0.112_701_665_379_258_3, 5.0 / 18.0), (0.5, 8.0 / 18.0), (0.887_298_334_620_741_7, 5.0 / 18.0)];
/// Where a line misses everything, its nearest place is looked for in so many steps.
const NEAREST_STEPS: u32 = 96;
/// A surface less steep than this against the branch has no slope that can be told.
const STEEP: f64 = 1e-9;

/// Where a line of the wall is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Touch {
    /// Which tube cuts it, and which piece of that.
    pub(crate) by: (usize, usize),
    pub(crate) cut: f64,
    pub(crate) face: Face,
    /// How far the line passes outside of all tubes, mm; nothing where it is cut.
    pub(crate) missed: f64,
}

/// A branch's wall and the tubes it is cut to; along each line the first touch from outside counts.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TrueLine {
    pub(crate) frame: Frame,
    /// Of each tube the pieces that can be met.
    tubes: Vec<Vec<Seen>>,
    /// The outer wall's radius, mm.
    pub(crate) reach: f64,
    /// From where to where along the branch touches are looked for, mm.
    within: (f64, f64),
    /// What was seen of the outer wall.
    looks: Vec<Touch>,
}

fn place_of(look: u32) -> f64 {
    TAU * f64::from(look) / f64::from(LOOKS)
}

impl TrueLine {
    pub(crate) fn new(frame: Frame, tubes: Vec<Vec<Seen>>, reach: f64, within: (f64, f64)) -> Self {
        let mut line = Self { frame, tubes, reach, within, looks: Vec::new() };
        line.looks = (0..LOOKS).map(|look| line.touch(Place::at(place_of(look)), reach)).collect();
        line
    }

    /// Which tubes cut the wall somewhere, in their order: deeper than all others by more than a file takes off.
    pub(crate) fn leaders(&self) -> Vec<usize> {
        let looks = || (0..LOOKS).zip(&self.looks);
        let leads = |number: &usize| {
            looks().filter(|(_, touch)| touch.by.0 == *number).any(|(look, touch)| {
                let next = self.touch_of(Place::at(place_of(look)), self.reach, |other| other != *number);
                next.missed > SAME_POINT.mm() || touch.cut > next.cut + FILED
            })
        };
        (0..self.tubes.len()).filter(leads).collect()
    }

    /// The same line without the tubes that cut it nowhere.
    #[must_use]
    pub(crate) fn of(self, leaders: &[usize]) -> Self {
        if leaders.len() == self.tubes.len() {
            return self;
        }
        let Self { frame, tubes, reach, within, .. } = self;
        let tubes = tubes.into_iter().enumerate().filter(|(at, _)| leaders.contains(at)).map(|(_, tube)| tube);
        Self::new(frame, tubes.collect(), reach, within)
    }

    /// True where part of the seam lies on a bend.
    pub(crate) fn on_bend(&self) -> bool {
        self.looks.iter().any(|touch| self.piece(touch).is_some_and(Seen::bent))
    }

    /// True when it is cut to more than one tube.
    pub(crate) fn several(&self) -> bool {
        self.tubes.len() > 1
    }

    fn piece(&self, touch: &Touch) -> Option<&Seen> {
        self.tubes.get(touch.by.0).and_then(|tube| tube.get(touch.by.1))
    }

    /// How far the wall stands outside all tubes where it is worst, mm; nothing where it is cut all round.
    pub(crate) fn overhang(&self) -> f64 {
        self.looks.iter().map(|touch| touch.missed).fold(0.0, f64::max)
    }

    /// True when no cut clears it: some line of the wall was begun within a tube, or the cut leaps by more than this, mm,
    /// from one line to the next, where the wall grazes a tube far up the branch.
    pub(crate) fn runs_along(&self, leap: f64) -> bool {
        let next = self.looks.iter().cycle().skip(1);
        let leaps = self.looks.iter().zip(next).any(|(one, next)| (one.cut - next.cut).abs() > leap);
        leaps || self.looks.iter().any(|touch| touch.face == Face::Within)
    }

    fn touch(&self, place: Place, reach: f64) -> Touch {
        self.touch_of(place, reach, |_| true)
    }

    /// The first touch of those tubes that are wanted; where the line misses them, where it passes nearest to one.
    fn touch_of(&self, place: Place, reach: f64, wanted: impl Fn(usize) -> bool) -> Touch {
        let mut best: Option<Touch> = None;
        for (number, tube) in self.tubes.iter().enumerate().filter(|(number, _)| wanted(*number)) {
            for (at, piece) in tube.iter().enumerate() {
                let within = best.map_or(self.within, |best| (self.within.0.max(best.cut), self.within.1));
                let Some(hit) = piece.touch(place, reach, within) else { continue };
                // Of two tubes that cut alike the first counts.
                let least =
                    best.map_or(f64::NEG_INFINITY, |best| if best.by.0 == number { best.cut } else { best.cut + TIE });
                if hit.cut > least {
                    best = Some(Touch { by: (number, at), cut: hit.cut, face: hit.face, missed: 0.0 });
                }
            }
        }
        best.unwrap_or_else(|| self.nearest(place, reach, wanted))
    }

    /// Where a line that misses all tubes that are wanted passes nearest to one.
    fn nearest(&self, place: Place, reach: f64, wanted: impl Fn(usize) -> bool) -> Touch {
        let (low, high) = self.within;
        let mut best = Touch { by: (0, 0), cut: 0.0, face: Face::Wall, missed: f64::INFINITY };
        let step = (high - low) / f64::from(NEAREST_STEPS);
        for (number, tube) in self.tubes.iter().enumerate().filter(|(number, _)| wanted(*number)) {
            for (at, piece) in tube.iter().enumerate() {
                let off = |cut: f64| piece.off(self.frame.on_wall(place, reach, cut));
                let looks =
                    (0..=NEAREST_STEPS).map(|step_at| low + step * f64::from(step_at)).map(|cut| (cut, off(cut)));
                let Some((near, _)) = looks.min_by(|one, other| one.1.total_cmp(&other.1)) else { continue };
                let cut = integral::least_between(near - step, near + step, &off);
                if off(cut) < best.missed {
                    best = Touch { by: (number, at), cut, face: Face::Wall, missed: off(cut) };
                }
            }
        }
        best
    }

    /// The distance along the branch from the node to where the wall of this radius is cut, mm.
    pub(crate) fn cut(&self, phi: f64, reach: f64) -> f64 {
        self.touch(Place::at(phi), reach).cut
    }

    /// Where the outer wall is cut least and most; the first places when there are several.
    pub(crate) fn extremes(&self) -> [Extreme; 2] {
        [1.0, -1.0].map(|sense| self.least(sense))
    }

    /// Where the cut, taken in this sense, is least.
    fn least(&self, sense: f64) -> Extreme {
        let of = |phi: f64| sense * self.cut(phi, self.reach);
        let seen: Vec<f64> = self.looks.iter().map(|touch| sense * touch.cut).collect();
        let least = seen.iter().copied().fold(f64::INFINITY, f64::min);
        let step = TAU / f64::from(LOOKS);
        let before = seen.iter().cycle().skip(seen.len().saturating_sub(1));
        let after = seen.iter().cycle().skip(1);
        let mut best = Extreme { phi: 0.0, cut: f64::INFINITY };
        for (look, ((here, before), after)) in (0..LOOKS).zip(seen.iter().zip(before).zip(after)) {
            // No hollow is deeper than its lowest look by more than its sides rise to the looks beside it.
            let deeper = (before - here).max(after - here);
            if here > before || here > after || here - deeper > least {
                continue;
            }
            let phi = place_of(look);
            let refined = integral::least_with_leaps(phi - step, phi + step, &of);
            for (phi, cut) in [(phi, *here), (refined, of(refined))] {
                // A tie within rounding stays with the first place, so that the answer does not hop.
                if cut < best.cut - TIE {
                    best = Extreme { phi, cut };
                }
            }
        }
        Extreme { phi: best.phi.rem_euclid(TAU), cut: sense * best.cut }
    }

    /// How the cut changes with the angle round the branch, and how much the weld's face looks upward there, -1 to 1.
    fn slope_and_up(&self, phi: f64) -> (f64, f64) {
        let place = Place::at(phi);
        self.seen_at(place, &self.touch(place, self.reach))
    }

    fn seen_at(&self, place: Place, touch: &Touch) -> (f64, f64) {
        let Some(piece) = self.piece(touch) else { return (0.0, 0.0) };
        let out = piece.normal(self.frame.on_wall(place, self.reach, touch.cut), touch.face);
        let (steep, around) = (out.dot(self.frame.branch), self.frame.around(place));
        let way = (self.frame.aside * place.cosine - self.frame.toward * place.sine) * self.reach;
        // Where the wall passes beside all tubes nothing cuts it: the seam runs round it there, and has no slope.
        let slope = if touch.missed == 0.0 && steep > STEEP { -out.dot(way) / steep } else { 0.0 };
        (slope, (out + around).normalize_or_zero().z)
    }

    /// The seam, and the share of it whose face looks upward so much as is wanted, -1 to 1.
    pub(crate) fn seam(&self, wanted: impl Fn(f64) -> bool) -> Seam {
        let is_one = |phi: f64| usize::from(wanted(self.slope_and_up(phi).1));
        let mut breaks = vec![0.0, FRAC_PI_2, PI, PI + FRAC_PI_2, TAU];
        breaks.extend(self.changes(|touch| touch.by));
        breaks.sort_by(f64::total_cmp);
        let looks = (0..LOOKS).zip(&self.looks).map(|(look, touch)| {
            let phi = place_of(look);
            (phi, usize::from(wanted(self.seen_at(Place::at(phi), touch).1)))
        });
        let mut looked_at: Vec<(f64, usize)> = looks.collect();
        looked_at.extend(looked_at.first().map(|first| (TAU, first.1)));
        looked_at.extend(breaks.iter().map(|phi| (*phi, is_one(*phi))));
        looked_at.sort_by(|one, next| one.0.total_cmp(&next.0));
        breaks.extend(integral::changes(&looked_at, Near::Step, is_one));
        breaks.sort_by(f64::total_cmp);
        let (mut those, mut length) = (0.0, 0.0);
        for (from, to) in breaks.iter().zip(breaks.iter().skip(1)) {
            let run = |phi: f64| self.reach.hypot(self.slope_and_up(phi).0);
            let piece = integral::over(*from, *to, WITHIN * self.reach, &run);
            length += piece;
            if is_one(f64::midpoint(*from, *to)) == 1 {
                those += piece;
            }
        }
        Seam { length, share: if length > 0.0 { those / length } else { 0.0 } }
    }

    /// The mean cut over the metal between the outer wall and a bore of this radius, mm.
    pub(crate) fn mean(&self, bore: f64) -> f64 {
        let depth = self.reach - bore;
        let (mut sum, mut metal) = (0.0, 0.0);
        // Towards the outer wall the cut may change sharply (equal tubes): rings stand closer that way.
        for (t, weight) in RINGS {
            let radius = self.reach - depth * t * t;
            let share = if depth > 0.0 { weight * radius * t } else { weight };
            let cuts = (0..LINES).map(|line| self.cut(TAU * (f64::from(line) + 0.5) / f64::from(LINES), radius));
            sum += share * cuts.sum::<f64>() / f64::from(LINES);
            metal += share;
        }
        sum / metal
    }

    /// Where round the tube the cut passes from one tube to another, in radians; none with a single one.
    pub(crate) fn crossings(&self) -> Vec<f64> {
        if self.several() { self.changes(|touch| (touch.by.0, 0)) } else { Vec::new() }
    }

    /// Where what is read of the touch changes round the tube.
    fn changes(&self, read: impl Fn(&Touch) -> (usize, usize)) -> Vec<f64> {
        let number = |touch: &Touch| {
            let (tube, piece) = read(touch);
            tube << 16 | piece
        };
        let looks = (0..LOOKS).zip(&self.looks).map(|(look, touch)| (place_of(look), number(touch)));
        let mut known: Vec<(f64, usize)> = looks.collect();
        known.extend(known.first().map(|first| (TAU, first.1)));
        integral::changes(&known, Near::Step, |phi| number(&self.touch(Place::at(phi), self.reach)))
    }
}
