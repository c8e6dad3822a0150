//! Where gussets must be.

use crate::domain::book::Rule;
use crate::domain::book::terms::fields::Fields;
use crate::domain::book::terms::words::words;
use crate::domain::words::roles::MemberRole;

/// Most gussets that a book may ask for at one joint.
const MOST: u32 = 50;

words!(
    /// What stiffens a joint.
    Stiffener {
        /// A gusset of sheet or plate.
        Gusset = "gusset",
        /// A short tube.
        Tube = "tube",
    }
);

/// Gussets at every joint where these bars meet.
#[derive(Debug, Clone, PartialEq)]
pub struct GussetRule {
    /// What every rule carries.
    pub rule: Rule,
    /// The bars that meet there; a role written twice asks for two of it.
    pub at: Vec<MemberRole>,
    /// How many, at least.
    pub count_least: u32,
    /// How many, at most.
    pub count_most: Option<u32>,
    /// What does.
    pub either: Vec<Stiffener>,
}

impl GussetRule {
    pub(in crate::domain::book) fn read(fields: &Fields<'_>) -> Option<Self> {
        let rule = Rule::read(fields);
        let at = fields.roles("at");
        if at.is_empty() {
            fields.slip("at", "No bars are named whose joint is meant.", "Write at = [\"main hoop\", \"backstay\"].");
        }
        let count_least = fields.whole_maybe("count_least", MOST).unwrap_or(1);
        let count_most = fields.whole_maybe("count_most", MOST);
        if count_most.is_some_and(|most| most < count_least) {
            fields.slip("count_most", "More are asked for than allowed.", "Make it as much as “count_least” or more.");
        }
        let mut either = fields.words("either", Stiffener::WORDS);
        if either.is_empty() {
            either.push(Stiffener::Gusset);
        }
        fields.finish();
        Some(Self { rule: rule?, at, count_least, count_most, either })
    }

    /// True when a gusset between these two bars is one that is asked for: both are among those that the rule names, or of
    /// one that names a single bar, one of them is.
    pub fn between(&self, pair: [MemberRole; 2]) -> bool {
        let many = |list: &[MemberRole], role: MemberRole| list.iter().filter(|other| **other == role).count();
        match self.at.as_slice() {
            [only] => pair.contains(only),
            at => pair.iter().all(|role| many(at, *role) >= many(&pair, *role)),
        }
    }

    /// True when a joint of these bars is meant.
    pub fn meant(&self, bars: &[MemberRole]) -> bool {
        let many = |list: &[MemberRole], role: MemberRole| list.iter().filter(|other| **other == role).count();
        !self.at.is_empty() && self.at.iter().all(|role| many(bars, *role) >= many(&self.at, *role))
    }
}
