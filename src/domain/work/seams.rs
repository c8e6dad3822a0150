//! Wire and time for the cage's seams, by the shop's own rates. An estimate to plan by, never a weld procedure.

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use crate::domain::cage::{Cage, End};
use crate::domain::steel::tube::STEEL_KG_PER_MM3;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::Balloon;
use crate::domain::words::limits;
use crate::quantity::{Hours, Length, Mass, Share, Show as _, Typed, Units};

/// How a shop welds, as it states it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Rates {
    /// Leg of the fillet.
    pub leg: Typed<Length>,
    /// The wire's diameter.
    pub wire: Typed<Length>,
    /// How much of the wire's mass ends in the seam: the rest is spatter and stub.
    pub efficiency: Typed<Share>,
    /// Seam laid in one minute of arc.
    pub laid: Typed<Length>,
    /// How much of the working time the arc burns.
    pub arc: Typed<Share>,
}

impl Rates {
    /// What is taken until a shop states its own: a 1/8 in leg, .030 in solid wire of which 95 % is deposited (*from
    /// memory*: handbooks give 90 to 98 % for solid wire under gas), 12 in a minute, the arc burning a quarter of the
    /// time (*common practice*, all of it).
    pub fn usual() -> Self {
        let inch = |text: &str, value: f64| Typed::of(Length::from_inches(value), text);
        let share = |text: &str, value: f64| Typed::of(Share::from_ratio(value), text);
        Self {
            leg: inch("1/8 in", 0.125),
            wire: inch(".030 in", 0.030),
            efficiency: share("95 %", 0.95),
            laid: inch("12 in", 12.0),
            arc: share("25 %", 0.25),
        }
    }

    /// What is wrong with them, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        let mut length = |at: &str, value: Length, (least, most): (Length, Length), why: &str| {
            if !(value >= least && value <= most) {
                faults.push(Fault::new(at, format!("{why} {}.", Length::between(least, most))));
            }
        };
        length("leg", self.leg.value, limits::FILLET, "A fillet's leg is");
        length("wire", self.wire.value, limits::WIRE, "The thickness of a wire is");
        length("laid", self.laid.value, limits::LAID, "The seam laid in one minute of arc is");
        for (at, share) in [("efficiency", &self.efficiency), ("arc", &self.arc)] {
            if !(share.value >= limits::LEAST_SHARE && share.value <= Share::from_ratio(1.0)) {
                faults.push(Fault::new(at, "A share is between 1 % and 100 %."));
            }
        }
        faults
    }

    /// What a seam of this length takes; `down` is the part of it that faces down.
    ///
    /// A flat fillet of leg z has the metal z²/2 a length (throat a = z/√2, metal a²; ISO 2553 a and z), true at a right
    /// angle between the tubes. Wire is metal over efficiency; time is length over what a minute lays, over the share of
    /// time the arc burns.
    pub fn estimate(&self, seam: Length, down: Length) -> Estimate {
        let metal = Mass::from_kg(self.leg.value.mm().powi(2) / 2.0 * seam.mm() * STEEL_KG_PER_MM3);
        let wire = metal / self.efficiency.value.ratio();
        let section = PI / 4.0 * self.wire.value.mm().powi(2);
        let arc = Hours::from_hours(seam / self.laid.value / 60.0);
        Estimate {
            seam,
            down,
            metal,
            wire,
            wire_length: Length::from_mm(wire.kg() / (section * STEEL_KG_PER_MM3)),
            arc,
            time: arc / self.arc.value.ratio(),
        }
    }
}

/// What some seams take.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Estimate {
    /// Their length.
    pub seam: Length,
    /// As much of it faces down.
    pub down: Length,
    /// Metal in them.
    pub metal: Mass,
    /// Wire used.
    pub wire: Mass,
    /// Its length.
    pub wire_length: Length,
    /// How long the arc burns.
    pub arc: Hours,
    /// Working time with all that belongs to it.
    pub time: Hours,
}

impl Estimate {
    /// The share that faces down, 0 to 1.
    pub fn overhead(&self) -> f64 {
        if self.seam > Length::default() { self.down / self.seam } else { 0.0 }
    }

    /// What a table says of it: seam, overhead, wire, arc, time.
    pub fn describe(&self, units: Units) -> [String; 5] {
        [
            self.seam.by_tape(units),
            format!("{:.0} %", self.overhead() * 100.0),
            self.wire.show_finer(units, 2),
            self.describe_arc(units),
            self.time.show(units),
        ]
    }

    /// How long the arc burns, in words: seconds where it is under two minutes.
    fn describe_arc(&self, units: Units) -> String {
        let seconds = self.arc.hours() * 3600.0;
        if seconds < 120.0 { format!("{seconds:.0} s") } else { self.arc.show(units) }
    }
}

impl std::iter::Sum for Estimate {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::default(), |sum, part| Self {
            seam: sum.seam + part.seam,
            down: sum.down + part.down,
            metal: sum.metal + part.metal,
            wire: sum.wire + part.wire,
            wire_length: sum.wire_length + part.wire_length,
            arc: sum.arc + part.arc,
            time: sum.time + part.time,
        })
    }
}

/// The seams of one joint, or of a foot on its plate.
#[derive(Debug, Clone, PartialEq)]
pub struct SeamsAt {
    /// The joint, or the plate.
    pub at: Balloon,
    /// The bars that end there.
    pub bars: Vec<Balloon>,
    /// What they stand on: a bar, or the plate itself.
    pub onto: Balloon,
    /// What they take.
    pub estimate: Estimate,
}

/// Every seam of bars on bars, joint by joint, then of feet on plates. Gussets and what holds a plate to the body are
/// not among them.
pub fn seams(cage: &Cage, rates: &Rates) -> Vec<SeamsAt> {
    let joint = |joint: &crate::domain::cage::Joint| SeamsAt {
        at: joint.balloon,
        bars: joint.incoming.iter().map(|end| end.0).collect(),
        onto: joint.carrier,
        estimate: rates.estimate(joint.seam, joint.seam * joint.overhead),
    };
    let feet = cage.members.iter().flat_map(|member| {
        let ends = member.ends.iter().zip(&member.seams).zip(&member.copes);
        ends.filter_map(move |((end, seam), cope)| match end {
            End::OnPlate(plate) => Some((*plate, member.balloon, *seam, cope.as_ref())),
            _ => None,
        })
    });
    let foot = |(plate, bar, seam, cope): (Balloon, Balloon, Length, Option<&crate::geometry::Cope>)| SeamsAt {
        at: plate,
        bars: vec![bar],
        onto: plate,
        estimate: rates.estimate(seam, seam * cope.map_or(0.0, crate::geometry::Cope::faces_down)),
    };
    let mut on_plates: Vec<SeamsAt> = feet.map(foot).collect();
    on_plates.sort_by_key(|foot| foot.at);
    cage.joints.iter().map(joint).chain(on_plates).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;

    /// By hand: a fillet of throat 3 mm (leg 3·√2 = 4.2426 mm) over 150 mm has 9 mm² × 150 mm = 1350 mm³ = 10.5975 g of
    /// steel; at 90 % that is 11.775 g of wire, which of 0.8 mm (0.502655 mm²) is 2984.2 mm long. At 250 mm a minute the
    /// arc burns 0.6 min; at a fifth of the time that is 3 min.
    #[test]
    fn a_seam_by_hand() {
        let length = |mm: f64| Typed::of(Length::from_mm(mm), format!("{mm} mm"));
        let share = |value: f64| Typed::of(Share::from_ratio(value), format!("{value}"));
        let rates = Rates {
            leg: length(3.0 * 2.0_f64.sqrt()),
            wire: length(0.8),
            efficiency: share(0.9),
            laid: length(250.0),
            arc: share(0.2),
        };
        assert_eq!(rates.faults(), []);
        let got = rates.estimate(Length::from_mm(150.0), Length::from_mm(60.0));
        let near = |got: f64, want: f64| assert!((got / want - 1.0).abs() < 1e-4, "{got}, not {want}");
        near(got.metal.kg(), 0.010_597_5);
        near(got.wire.kg(), 0.011_775);
        near(got.wire_length.mm(), 2984.2);
        near(got.arc.hours(), 0.01);
        near(got.time.hours(), 0.05);
        near(got.overhead(), 0.4);
        let none = Rates { efficiency: share(0.0), laid: length(0.0), ..rates };
        assert_eq!(none.faults().len(), 2);
    }

    /// Nothing is left out and nothing counted twice: the parts are the cage's whole seam.
    #[test]
    fn all_seams_are_the_cages_seam() {
        let cage = solve(&example_record(), &TUBES);
        let all = seams(&cage, &Rates::usual());
        assert_eq!(all.len(), cage.joints.len() + cage.plates.len());
        let sum: Estimate = all.into_iter().map(|at| at.estimate).sum();
        assert_eq!(sum.seam, cage.seam());
        assert!(sum.overhead() > 0.2 && sum.overhead() < 0.8, "{}", sum.overhead());
    }
}
