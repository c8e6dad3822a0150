//! The plates under a cage's feet, and the feet themselves.

use glam::DVec3;

use crate::domain::cage::lay::draft::{Draft, Landing};
use crate::domain::cage::lay::numbers::{Numbers, plate_key};
use crate::domain::cage::parts::{FootAt, Plate};
use crate::domain::cage::record::CageRecord;
use crate::domain::cage::record::fittings::Foot;
use crate::domain::cage::record::measures::Hand;
use crate::domain::steel::tube::STEEL_KG_PER_MM3;
use crate::domain::words::faults::Fault;
use crate::quantity::Mass;

/// The plates that are recorded, each under its foot; what is not recorded of them is named among the faults.
pub(in crate::domain::cage) fn plates(
    record: &CageRecord,
    draft: &Draft<'_>,
    numbers: &Numbers,
    faults: &mut Vec<Fault>,
) -> Vec<Plate> {
    let mut plates = Vec::new();
    for foot in Foot::ALL {
        if !record.plates.contains_key(&foot) {
            let why = format!(
                "Still to be given: the sides and thickness of the plate under the {}.",
                foot.word(record.structure)
            );
            faults.push(Fault::new(format!("plate_{}", foot.key()), why));
        }
        for hand in Hand::BOTH {
            plates.extend(plate(record, draft, numbers, (foot, hand)));
        }
    }
    plates
}

/// Every foot that the basic structure stands on; none before anything stands.
pub(in crate::domain::cage) fn feet(draft: &Draft<'_>, numbers: &Numbers, plates: &[Plate]) -> Vec<FootAt> {
    if draft.bars.is_empty() {
        return Vec::new();
    }
    let all = Foot::ALL.into_iter().flat_map(|foot| Hand::BOTH.map(|hand| (foot, hand)));
    let of = |(foot, hand)| {
        let landing = Landing::Plate(foot, hand);
        let bar = draft.bars.iter().find(|bar| bar.ends.contains(&landing));
        let plate = plates.iter().find(|plate| (plate.foot, plate.hand) == (foot, hand));
        FootAt {
            foot,
            hand,
            bar: bar.and_then(|bar| numbers.of(&bar.label.key)),
            plate: plate.map(|plate| plate.balloon),
        }
    };
    all.map(of).collect()
}

fn plate(record: &CageRecord, draft: &Draft<'_>, numbers: &Numbers, (foot, hand): (Foot, Hand)) -> Option<Plate> {
    let plate = record.plates.get(&foot)?;
    let landing = Landing::Plate(foot, hand);
    let (bar, first) = draft.bars.iter().find_map(|bar| {
        let [first, last] = &bar.ends;
        (*first == landing || *last == landing).then(|| (bar, *first == landing))
    })?;
    let points = bar.line.points();
    let centre = if first { points.first() } else { points.last() }?;
    let area = plate.side_a.value.times(plate.side_b.value);
    Some(Plate {
        balloon: numbers.of(&plate_key(foot, hand))?,
        foot,
        hand,
        under: numbers.of(&bar.label.key)?,
        centre: *centre,
        sides: (plate.side_a.clone(), plate.side_b.clone()),
        thickness: plate.thickness.clone(),
        fixed: plate.fixed,
        normal: DVec3::Z,
        holes: Vec::new(),
        area,
        mass: Mass::from_kg(area.mm2() * plate.thickness.value.mm() * STEEL_KG_PER_MM3),
    })
}
