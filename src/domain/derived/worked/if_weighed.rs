//! What a weighing that is being typed would say, were it recorded as it stands: nothing is.

use uuid::Uuid;

use super::Worked;
use crate::domain::book::{ClassAnswer, NoClass};
use crate::domain::judge::verdicts::Weighed;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::weight::foreseen::Foreseen;
use crate::domain::weight::weigh_in::{Reading, WeighIn};

/// What would follow from a reading.
#[derive(Debug, Clone, PartialEq)]
pub struct IfWeighed {
    /// The reading.
    pub reading: Reading,
    /// The class by it alone; none without a book.
    pub class: Option<Result<ClassAnswer, NoClass>>,
    /// That class and the one the finished car would be in; none while the reading gives no class.
    pub weighed: Option<Weighed>,
    /// The finished weight that would be predicted.
    pub foreseen: Foreseen,
}

impl IfWeighed {
    /// The reading as the build's newest weigh-in, with the cage in the tube that it is planned in now. A class that asks
    /// for other tube makes the cage heavier or lighter once the weighing is recorded.
    pub fn of(facts: &BuildFacts, worked: &Worked, reading: Reading) -> Self {
        let number = facts.weigh_ins.first().map_or(1, |newest| newest.number + 1);
        let newest = WeighIn { id: Uuid::nil().into(), number, reading, day: worked.day, by: String::new() };
        let rules = worked.rules.as_ref();
        let foreseen = Foreseen::of(&newest, &facts.foreseen, rules, (&worked.record, &worked.cage));
        let weighed = rules.and_then(|rules| Weighed::of(&foreseen, rules, worked.cage.whole));
        Self { reading: newest.reading, class: foreseen.now.clone(), weighed, foreseen }
    }
}
