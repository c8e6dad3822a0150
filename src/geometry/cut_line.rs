//! The line in which a branch's wall meets what it is cut to: its cut, its length, where it is longest, how it faces.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use crate::geometry::carrier::{Carrier, Place};
use crate::geometry::centre_line::SAME_POINT;
use crate::geometry::integral::{self, Near};

/// Where extremes are looked for first on one carrier: its cut has few, and 90 and 270 degrees are among the steps.
const SEARCH_STEPS: u32 = 72;
/// The same on several carriers, whose cuts cross where they please: every half degree.
const SEARCH_STEPS_OF_SEVERAL: u32 = 720;
/// A panel of an integral round the branch is halved until both rules differ by less than this share of the branch's radius
/// (own choice: the outside values of the tests are known to 10⁻⁸).
const WITHIN: f64 = 1e-11;
/// The same of the mean cut onto several carriers, which is an integral of integrals, of a round and of the rounds: for the
/// mass, less than a thousandth of a millimetre is enough (own choice).
const WITHIN_OF_SEVERAL: (f64, f64) = (1e-8, 1e-5);
/// A cosine nearer to level than this is level: rounding must not make a level face look down.
pub(crate) const LEVEL: f64 = 1e-9;

/// A branch's wall and all it is cut to; at each place around, the deepest cut counts.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct CutLine {
    pub(crate) first: Carrier,
    /// Others, each with its place 0 as the first counts it.
    others: Vec<(Place, Carrier)>,
    /// The outer wall's radius, mm.
    pub(crate) reach: f64,
}

/// A step around the branch.
struct Step {
    phi: f64,
    place: Place,
}

/// An extreme of the cut: where, in radians, and how deep, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Extreme {
    pub(crate) phi: f64,
    pub(crate) cut: f64,
}

/// The seam on the outer wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Seam {
    /// Its length, mm.
    pub(crate) length: f64,
    /// The share of it, 0 to 1, whose face is a wanted one.
    pub(crate) share: f64,
}

impl CutLine {
    pub(crate) fn new(first: Carrier, others: Vec<Carrier>, reach: f64) -> Self {
        let others = others.into_iter().map(|other| (other.zero_seen_by(&first), other)).collect();
        Self { first, others, reach }
    }

    /// True when it is cut to more than one carrier.
    pub(crate) fn several(&self) -> bool {
        !self.others.is_empty()
    }

    /// How far the wall stands outside all carriers where it is worst, mm; below zero it bites all round.
    pub(crate) fn overhang(&self) -> f64 {
        if !self.several() {
            let sides = [-1.0, 1.0].map(|sine| self.first.overhang(Place { sine, cosine: 0.0 }, self.reach));
            return sides.into_iter().fold(f64::NEG_INFINITY, f64::max);
        }
        let least = |place: Place| {
            let others = self.others.iter().map(|(zero, other)| other.overhang(place.from(*zero), self.reach));
            others.fold(self.first.overhang(place, self.reach), f64::min)
        };
        self.steps().map(|step| least(step.place)).fold(f64::NEG_INFINITY, f64::max)
    }

    /// The carrier that cuts deepest at a place, its index, and the place as that carrier counts it. One that the wall
    /// misses does not count unless all are missed.
    fn deepest(&self, place: Place, reach: f64) -> (usize, &Carrier, Place) {
        let mut best = (0, &self.first, place);
        if self.others.is_empty() {
            return best;
        }
        let mut cut = self.first.cut(place, reach);
        let mut bites = self.first.overhang(place, reach) <= SAME_POINT.mm();
        for (at, (zero, carrier)) in self.others.iter().enumerate() {
            let place = place.from(*zero);
            let (its_cut, its_bites) = (carrier.cut(place, reach), carrier.overhang(place, reach) <= SAME_POINT.mm());
            if (its_bites && !bites) || (its_bites == bites && its_cut > cut) {
                best = (at + 1, carrier, place);
                (cut, bites) = (its_cut, its_bites);
            }
        }
        best
    }

    /// The distance along the branch from the node to where the wall of this radius is cut, mm.
    pub(crate) fn cut(&self, phi: f64, reach: f64) -> f64 {
        self.cut_of(Place::at(phi), reach)
    }

    fn cut_of(&self, place: Place, reach: f64) -> f64 {
        let (_, carrier, place) = self.deepest(place, reach);
        carrier.cut(place, reach)
    }

    /// Where the outer wall is cut least and most; the first places when there are several.
    pub(crate) fn extremes(&self) -> [Extreme; 2] {
        let cuts: Vec<(f64, f64)> = self.steps().map(|step| (step.phi, self.cut_of(step.place, self.reach))).collect();
        [1.0, -1.0].map(|sense| self.least(&cuts, sense))
    }

    /// Where the cut, taken in this sense, is least.
    fn least(&self, cuts: &[(f64, f64)], sense: f64) -> Extreme {
        let of = |phi: f64| sense * self.cut(phi, self.reach);
        let step = TAU / f64::from(self.search_steps());
        let before = cuts.iter().cycle().skip(cuts.len().saturating_sub(1));
        let after = cuts.iter().cycle().skip(1);
        let mut best = Extreme { phi: 0.0, cut: of(0.0) };
        // A tie within rounding stays with the first place, so that the answer does not hop.
        let mut keep = |phi: f64, cut: f64| {
            if cut < best.cut - LEVEL * self.reach {
                best = Extreme { phi, cut };
            }
        };
        for (((phi, here), (_, before)), (_, after)) in cuts.iter().zip(before).zip(after) {
            let (here, before, after) = (sense * here, sense * before, sense * after);
            // Several carriers make several hollows, some between the steps: each is searched.
            if here < before && here <= after {
                keep(*phi, here);
                let refined = integral::least_between(phi - step, phi + step, &of);
                keep(refined, of(refined));
            }
        }
        Extreme { phi: best.phi.rem_euclid(TAU), cut: sense * best.cut }
    }

    /// The seam's length for each unit of angle around the branch.
    fn seam_at(&self, phi: f64) -> f64 {
        let (_, carrier, place) = self.deepest(Place::at(phi), self.reach);
        let slope = carrier.slope(place, self.reach);
        (self.reach * self.reach + slope * slope).sqrt()
    }

    /// The seam, and the share of it whose face looks upward so much as is wanted, -1 to 1.
    pub(crate) fn seam(&self, wanted: impl Fn(f64) -> bool) -> Seam {
        let is_one = |place: Place| {
            let (_, carrier, place) = self.deepest(place, self.reach);
            usize::from(wanted(carrier.face_up(place, self.reach)))
        };
        let mut looked_at: Vec<(f64, usize)> = self.steps().map(|step| (step.phi, is_one(step.place))).collect();
        let mut breaks = self.breaks();
        // On one carrier the breaks are among the steps.
        if self.several() {
            looked_at.extend(breaks.iter().map(|phi| (*phi, is_one(Place::at(*phi)))));
            looked_at.sort_by(|one, next| one.0.total_cmp(&next.0));
        }
        looked_at.extend(looked_at.first().map(|first| (TAU, first.1)));
        breaks.extend(integral::changes(&looked_at, Near::Exact, |phi| is_one(Place::at(phi))));
        breaks.sort_by(f64::total_cmp);
        let (mut those, mut length) = (0.0, 0.0);
        for (from, to) in breaks.iter().zip(breaks.iter().skip(1)) {
            let piece = integral::over(*from, *to, WITHIN * self.reach, &|phi| self.seam_at(phi));
            length += piece;
            if is_one(Place::at(f64::midpoint(*from, *to))) == 1 {
                those += piece;
            }
        }
        Seam { length, share: if length > 0.0 { those / length } else { 0.0 } }
    }

    /// The mean cut over the metal between the outer wall and a bore of this radius, mm.
    pub(crate) fn mean(&self, bore: f64) -> f64 {
        let metal = PI * (self.reach - bore) * (self.reach + bore);
        if self.several() {
            return self.mean_of_several(bore, metal);
        }
        // Opposite places lean as much toward the carrier as away from it: half of the carrier's width alone is left.
        let mean = if metal > 0.0 {
            (self.width_over_disc(self.reach) - self.width_over_disc(bore)) / metal
        } else {
            self.half_round(|place| self.first.root(place, self.reach)) / PI
        };
        mean / self.first.sine
    }

    /// Half of the carrier's width, over a disc of this radius round the branch's axis. It is the same all along a line in
    /// the carrier's plane, so that one integral across such lines does: x = radius sin, chord = 2 radius cos.
    fn width_over_disc(&self, radius: f64) -> f64 {
        let of = |place: Place| self.first.root(place, radius) * place.cosine * place.cosine;
        2.0 * radius * radius * self.half_round(of)
    }

    /// An integral over the half of the branch that leans toward the carrier.
    fn half_round(&self, of: impl Fn(Place) -> f64) -> f64 {
        integral::over(-FRAC_PI_2, FRAC_PI_2, WITHIN * self.reach, &|phi| of(Place::at(phi)))
    }

    fn mean_of_several(&self, bore: f64, metal: f64) -> f64 {
        let (within, of_rounds) = WITHIN_OF_SEVERAL;
        let round = |radius: f64| {
            let breaks = self.breaks_at(radius, SEARCH_STEPS);
            integral::over_panels(&breaks, within * self.reach, |phi| self.cut(phi, radius))
        };
        if metal <= 0.0 {
            return round(self.reach) / TAU;
        }
        let depth = self.reach - bore;
        // Towards the outer wall the integrand may bend sharply (equal tubes): steps shrink that way.
        let ring = |t: f64| {
            let radius = self.reach - depth * t * t;
            round(radius) * radius * 2.0 * depth * t
        };
        integral::over(0.0, 1.0, of_rounds * metal * self.reach, &ring) / metal
    }

    /// Where around the tube the cut passes from one carrier to another, in radians; none with a single one.
    pub(crate) fn crossings(&self) -> Vec<f64> {
        if self.several() { self.crossings_at(self.reach, SEARCH_STEPS_OF_SEVERAL) } else { Vec::new() }
    }

    fn crossings_at(&self, reach: f64, count: u32) -> Vec<f64> {
        let leader = |place: Place| self.deepest(place, reach).0;
        let mut known: Vec<(f64, usize)> = steps(count).map(|step| (step.phi, leader(step.place))).collect();
        known.extend(known.first().map(|first| (TAU, first.1)));
        integral::changes(&known, Near::Exact, |phi| leader(Place::at(phi)))
    }

    /// Places around between which the cut line is smooth: where it may have a kink.
    fn breaks(&self) -> Vec<f64> {
        self.breaks_at(self.reach, SEARCH_STEPS_OF_SEVERAL)
    }

    /// The same of the wall at a radius; crossings are looked for in so many steps.
    fn breaks_at(&self, reach: f64, count: u32) -> Vec<f64> {
        let mut breaks = vec![0.0, FRAC_PI_2, PI + FRAC_PI_2, TAU];
        if self.several() {
            for (zero, _) in &self.others {
                let zero = zero.sine.atan2(zero.cosine);
                breaks.extend([zero + FRAC_PI_2, zero - FRAC_PI_2].map(|ear| ear.rem_euclid(TAU)));
            }
            breaks.extend(self.crossings_at(reach, count));
            breaks.sort_by(f64::total_cmp);
            breaks.dedup();
        }
        breaks
    }

    fn search_steps(&self) -> u32 {
        if self.several() { SEARCH_STEPS_OF_SEVERAL } else { SEARCH_STEPS }
    }

    /// Even steps round the tube.
    fn steps(&self) -> impl Iterator<Item = Step> {
        steps(self.search_steps())
    }
}

fn steps(count: u32) -> impl Iterator<Item = Step> {
    (0..count).map(move |at| {
        let phi = TAU * f64::from(at) / f64::from(count);
        Step { phi, place: Place::at(phi) }
    })
}

#[cfg(test)]
mod tests {
    use crate::geometry::cope::{Cope, Meeting};
    use crate::quantity::{Angle, Length};
    use glam::DVec3;

    /// By plain summing over the metal in small rings and steps, with nothing but the cut itself.
    #[test]
    fn the_mean_cut_onto_two_carriers_by_a_second_method() {
        for branch in [DVec3::new(0.4, -0.5, -0.75), DVec3::new(0.6, -0.6, -0.1), DVec3::new(0.9, -0.3, -0.3)] {
            let onto = |carrier_direction: DVec3, outside: f64| Meeting {
                carrier_direction,
                branch_direction: branch.normalize(),
                offset: Length::default(),
                carrier_outside: Length::from_mm(outside),
                branch_outside: Length::from_mm(38.1),
            };
            let cope = Cope::of_all(&[onto(DVec3::Y, 38.1), onto(DVec3::X, 44.45)]).unwrap();
            let (rings, steps, wall) = (40, 7200, 3.0);
            let (mut sum, mut area) = (0.0, 0.0);
            for ring in 0..rings {
                let radius = 38.1 / 2.0 - wall * (f64::from(ring) + 0.5) / f64::from(rings);
                let cuts = (0..steps).map(|step| {
                    let phi = Angle::from_degrees(360.0 * f64::from(step) / f64::from(steps));
                    cope.cut_within(phi, Length::from_mm(2.0 * radius)).mm()
                });
                sum += radius * cuts.sum::<f64>() / f64::from(steps);
                area += radius;
            }
            let mean = cope.mean_cut(Length::from_mm(wall)).mm();
            assert!((mean - sum / area).abs() < 1e-3, "{mean}, not {}", sum / area);
        }
    }
}
