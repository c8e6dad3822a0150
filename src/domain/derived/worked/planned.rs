//! The tube that a cage is planned in: that of the class which the finished car is in, and until a weighing says so, any.

use crate::domain::book::RuleBook;
use crate::domain::cage::solve;
use crate::domain::cage::{Cage, CageRecord, Tubes};
use crate::domain::judge::verdicts::Weighed;
use crate::domain::recorded::facts::{BuildFacts, CageText};
use crate::domain::steel::tube::TubeSize;
use crate::domain::weight::foreseen::Foreseen;

/// The tube that a cage is worked out with until a weighed car's class says which for the first time.
pub(in crate::domain) const UNTIL_WEIGHED: Tubes = Tubes::new(TubeSize::inch(1.5, 0.095), TubeSize::inch(1.5, 0.095));

/// The cage in the tube that it is planned in, and the class that asks for it.
pub(super) struct Planned {
    pub(super) tubes: Tubes,
    /// Whether a class asks for them.
    pub(super) asked: bool,
    pub(super) record: CageRecord,
    pub(super) cage_reads: bool,
    pub(super) cage: Cage,
    pub(super) foreseen: Option<Foreseen>,
    pub(super) weighed: Option<Weighed>,
}

impl Planned {
    /// First in the tube of the class by the scale; where the finished car is in another one, or may be, in that one's. A
    /// weighing that forgot a tick asks for no tube; it does not make the cage of the one before another's.
    pub(super) fn of(facts: &BuildFacts, rules: Option<&RuleBook>) -> Self {
        let classed = rules.and_then(|rules| facts.classed(rules));
        let first = classed.as_ref().and_then(|(_, answer)| answer.tubes.first());
        let tubes = first.unwrap_or(UNTIL_WEIGHED);
        let (record, cage_reads) = recorded(facts, &tubes);
        let cage = solve(&record, &tubes);
        let of = |weigh_in| Foreseen::of(weigh_in, &facts.foreseen, rules, (&record, &cage));
        let newest = facts.weigh_ins.first();
        let foreseen = newest.map(of);
        let class_of = |foreseen: &Foreseen| Weighed::of(foreseen, rules?, cage.whole);
        let weighed = foreseen.as_ref().and_then(class_of);
        let asked = weighed.as_ref().and_then(Weighed::asks).is_some();
        let last = || class_of(&of(classed.as_ref()?.0));
        let by = weighed.clone().or_else(last);
        match by.as_ref().and_then(Weighed::planned).filter(|planned| *planned != tubes) {
            Some(tubes) => {
                let record = record.numbered_for(&tubes);
                let cage = solve(&record, &tubes);
                Self { tubes, asked, record, cage_reads, cage, foreseen, weighed }
            }
            None => Self { tubes, asked, record, cage_reads, cage, foreseen, weighed },
        }
    }
}

/// The cage as recorded, and whether its record could be read.
fn recorded(facts: &BuildFacts, tubes: &Tubes) -> (CageRecord, bool) {
    let read = facts.cage.as_ref().map(CageText::record);
    let reads = !matches!(read, Some(Err(_)));
    (read.and_then(Result::ok).unwrap_or_default().numbered_for(tubes), reads)
}
