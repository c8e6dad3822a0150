//! The photographs that the plan asks for: under each hole, from below.

use super::Plan;
use crate::domain::book::Force;
use crate::domain::cage::Cage;
use crate::domain::judge::pieces::Standing;
use crate::domain::judge::shots::{Shot, answers, area, name, part};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::ids::Balloon;

/// What the shot under a hole is asked under.
const UNDER_THE_HOLE: &str = "under-the-hole";

/// How a photograph names the shot under a hole.
pub fn shot_under(plate: Balloon) -> String {
    name(UNDER_THE_HOLE, plate)
}

impl Plan {
    /// One for each hole.
    pub fn shots(&self, cage: &Cage, (facts, standing): (&BuildFacts, Standing<'_>)) -> Vec<Shot> {
        let shot = |plate: Balloon| Shot {
            key: UNDER_THE_HOLE.to_owned(),
            of: plate,
            part: part(cage, facts, plate),
            area: area(cage, plate),
            clause: "none, our lowering plan".to_owned(),
            what: "What lies under the floor where the hole is cut.".to_owned(),
            view: None,
            must_show: vec!["the place from below".to_owned(), "lines, tank, harness, frame around it".to_owned()],
            before: None,
            force: Force::Must,
            stand_in: false,
            photos: answers(standing, UNDER_THE_HOLE, plate),
            earlier: standing.earlier_photo(&shot_under(plate)).cloned(),
        };
        self.holes.iter().map(|hole| shot(hole.plate)).collect()
    }
}
