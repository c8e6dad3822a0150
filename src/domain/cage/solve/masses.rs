//! What the cage weighs, by tube size, plates and gussets, and where the middle of all that mass is.

use glam::DVec3;

use crate::domain::cage::parts::{Cage, Gusset, Plate};
use crate::domain::cage::record::fittings::GussetKind;
use crate::domain::steel::tube::TubeSize;
use crate::quantity::{Length, Mass};

/// All bars of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct OfSize {
    /// The size.
    pub tube: TubeSize,
    /// How many bars.
    pub bars: usize,
    /// Their length, node to node.
    pub length: Length,
    /// Their mass, as cut.
    pub mass: Mass,
}

/// The cage's masses.
#[derive(Debug, Clone, PartialEq)]
pub struct Masses {
    /// By tube size, the most first.
    pub tubes: Vec<OfSize>,
    /// How many plates, and their mass.
    pub plates: (usize, Mass),
    /// How many gussets, and their mass.
    pub gussets: (usize, Mass),
    /// All of it.
    pub whole: Mass,
    /// Its centre of mass, mm; none without a bar. A flat or bent gusset counts at the middle of its triangle, a tube
    /// at the middle between its ends.
    pub centre: Option<DVec3>,
}

impl Masses {
    /// Of a cage.
    pub fn of(cage: &Cage) -> Self {
        let mut tubes: Vec<OfSize> = Vec::new();
        for member in &cage.members {
            match tubes.iter_mut().find(|size| size.tube == member.tube) {
                Some(size) => {
                    size.bars += 1;
                    size.length = size.length + member.developed;
                    size.mass = size.mass + member.mass;
                }
                None => {
                    tubes.push(OfSize { tube: member.tube, bars: 1, length: member.developed, mass: member.mass });
                }
            }
        }
        tubes.sort_by(|one, other| other.mass.kg().total_cmp(&one.mass.kg()));
        let plates: Mass = cage.plates.iter().map(|plate| plate.mass).sum();
        let gussets: Mass = cage.gussets.iter().map(|gusset| gusset.mass).sum();
        Self {
            tubes,
            plates: (cage.plates.len(), plates),
            gussets: (cage.gussets.len(), gussets),
            whole: cage.mass(),
            centre: centre(cage),
        }
    }
}

/// The mean of all places, each weighed by the mass there.
fn centre(cage: &Cage) -> Option<DVec3> {
    let tubes = (cage.centre_of_mass()?, cage.tube_mass());
    let plates = cage.plates.iter().map(|plate| (middle_of(plate), plate.mass));
    let gussets = cage.gussets.iter().map(|gusset| (middle_of_gusset(gusset), gusset.mass));
    let (moment, mass) = [tubes]
        .into_iter()
        .chain(plates)
        .chain(gussets)
        .fold((DVec3::ZERO, 0.0), |sum, (at, mass)| (sum.0 + at * mass.kg(), sum.1 + mass.kg()));
    (mass > 0.0).then(|| moment / mass)
}

fn middle_of(plate: &Plate) -> DVec3 {
    plate.centre - DVec3::Z * (plate.thickness.value.mm() / 2.0)
}

fn middle_of_gusset(gusset: &Gusset) -> DVec3 {
    let [corner, one, other] = gusset.corners;
    match gusset.kind {
        GussetKind::Flat | GussetKind::Saddle => (corner + one + other) / 3.0,
        GussetKind::Tube => (one + other) / 2.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;
    use crate::quantity::Typed;

    /// By hand: a bar of one metre along x whose mass is 2 kg, its middle at 500 mm, and a plate of 1 kg whose top is
    /// at (1100, 0, 0), 6 mm thick: (2 × 500 + 1 × 1100) / 3 = 700 mm forward, 1 × −3 / 3 = −1 mm up.
    #[test]
    fn the_middle_of_a_bar_and_a_plate_by_hand() {
        let whole = solve(&example_record(), &TUBES);
        let mut bar = whole.members.first().cloned().unwrap();
        let points = vec![DVec3::ZERO, DVec3::X * 1000.0];
        bar.line = crate::geometry::CentreLine::new(points, Length::default()).unwrap();
        bar.mass = Mass::from_kg(2.0);
        let mut plate = whole.plates.first().cloned().unwrap();
        plate.centre = DVec3::X * 1100.0;
        plate.mass = Mass::from_kg(1.0);
        plate.thickness = Typed::of(Length::from_mm(6.0), "6 mm");
        let cage = Cage { members: vec![bar], plates: vec![plate], ..Cage::default() };
        let masses = Masses::of(&cage);
        assert!(masses.centre.unwrap().distance(DVec3::new(700.0, 0.0, -1.0)) < 1e-9, "{:?}", masses.centre);
        assert_eq!((masses.whole, masses.tubes.len()), (Mass::from_kg(3.0), 1));
        assert_eq!(Masses::of(&Cage::default()).centre, None);
    }

    #[test]
    fn the_sizes_add_up_to_the_tube() {
        let cage = solve(&example_record(), &TUBES);
        let masses = Masses::of(&cage);
        assert_eq!(masses.tubes.iter().map(|size| size.mass).sum::<Mass>(), cage.tube_mass());
        assert_eq!(masses.tubes.iter().map(|size| size.bars).sum::<usize>(), cage.members.len());
        assert_eq!((masses.plates.0, masses.gussets.0), (6, 6));
    }
}
