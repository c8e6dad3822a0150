//! Where the wheels stand, where the weighed car's middle is, and what the cage's mass does to its shares.

use glam::DVec3;
use serde::{Deserialize, Serialize};

use super::weigh_in::Pads;
use crate::domain::words::faults::Fault;
use crate::domain::words::limits;
use crate::quantity::{Length, Mass, Typed};

/// Where a car's wheels stand, as the tape shows it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Wheels {
    /// Between the axles.
    pub wheelbase: Typed<Length>,
    /// Between the middles of the front tyres.
    pub track_front: Typed<Length>,
    /// Between the middles of the rear tyres.
    pub track_rear: Typed<Length>,
    /// From the front axle back to the main hoop's feet; the cage's own measures begin there.
    pub hoop_behind: Typed<Length>,
}

/// The shares of the front axle and of the left side, 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shares {
    /// (LF + RF) / total.
    pub front: f64,
    /// (LF + LR) / total.
    pub left: f64,
}

/// A mass and the place it stands on the ground plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed {
    /// How far behind the front axle.
    pub behind: Length,
    /// How far left of the centre line, minus on the right.
    pub left: Length,
}

impl Wheels {
    /// What is wrong with them, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        let mut within = |at: &str, typed: &Typed<Length>, (least, most): (Length, Length), what: &str| {
            if !(typed.value >= least && typed.value <= most) {
                faults.push(Fault::new(at, format!("{what} {}.", Length::between(least, most))));
            }
        };
        within("wheelbase", &self.wheelbase, limits::WHEELBASE, "A wheelbase is");
        for (at, track) in [("track_front", &self.track_front), ("track_rear", &self.track_rear)] {
            within(at, track, limits::TRACK, "A track is");
        }
        let behind = "From the front axle back to the main hoop's feet it is";
        within("hoop_behind", &self.hoop_behind, limits::HOOP_BEHIND, behind);
        faults
    }

    /// A point of the car (x forward from the hoop's feet, y to the left, mm) on this ground plan.
    pub fn place(&self, at: DVec3) -> Placed {
        Placed { behind: self.hoop_behind.value - Length::from_mm(at.x), left: Length::from_mm(at.y) }
    }

    /// Where the weighed car's centre of mass is in plan: moments about the front axle and about the centre line.
    pub fn centre(&self, pads: &Pads) -> Placed {
        let total = pads.total();
        let half = |track: &Typed<Length>, left: Mass, right: Mass| track.value / 2.0 * ((left - right) / total);
        Placed {
            behind: self.wheelbase.value * (1.0 - pads.front()),
            left: half(&self.track_front, pads.left_front.value, pads.right_front.value)
                + half(&self.track_rear, pads.left_rear.value, pads.right_rear.value),
        }
    }

    /// The shares with a mass more, at a place: each axle carries its part by the lever along the car, each wheel of it
    /// by the lever across. What goes across the diagonal depends on the springs and is not told.
    pub fn with(&self, pads: &Pads, mass: Mass, at: Placed) -> Shares {
        let total = pads.total() + mass;
        let rear = mass * (at.behind / self.wheelbase.value);
        let front = mass - rear;
        let left_of = |track: &Typed<Length>| 0.5 + at.left / track.value;
        let left = front * left_of(&self.track_front) + rear * left_of(&self.track_rear);
        Shares {
            front: (pads.left_front.value + pads.right_front.value + front) / total,
            left: (pads.left_front.value + pads.left_rear.value + left) / total,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(mm: f64) -> Typed<Length> {
        Typed::of(Length::from_mm(mm), format!("{mm} mm"))
    }

    /// By hand: 1,000 kg on four equal pads, wheelbase 2,500 mm, track 1,500 mm. 50 kg put 1,500 mm behind the front
    /// axle and 300 mm to the left load the rear axle with 30 kg and the front with 20; of the 50 the left carries
    /// 50 × (1/2 + 300/1,500) = 35. So front (500 + 20) / 1,050 = 49.524 %, left (500 + 35) / 1,050 = 50.952 %.
    #[test]
    fn a_mass_moves_the_shares_by_its_levers() {
        let pad = || Typed::of(Mass::from_kg(250.0), "250 kg");
        let pads = Pads { left_front: pad(), right_front: pad(), left_rear: pad(), right_rear: pad() };
        let wheels = Wheels {
            wheelbase: typed(2500.0),
            track_front: typed(1500.0),
            track_rear: typed(1500.0),
            hoop_behind: typed(1800.0),
        };
        assert_eq!(wheels.faults(), []);
        let at = wheels.place(DVec3::new(300.0, 300.0, 700.0));
        assert_eq!((at.behind, at.left), (Length::from_mm(1500.0), Length::from_mm(300.0)));
        let with = wheels.with(&pads, Mass::from_kg(50.0), at);
        assert!((with.front - 520.0 / 1050.0).abs() < 1e-12 && (with.left - 535.0 / 1050.0).abs() < 1e-12, "{with:?}");
        let wrong = Wheels { wheelbase: typed(25.0), track_rear: typed(9000.0), ..wheels };
        assert_eq!(wrong.faults().len(), 2);
    }
}
