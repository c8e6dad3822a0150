//! A bar that must be there.

use crate::domain::book::Rule;
use crate::domain::book::terms::fields::Fields;
use crate::domain::words::roles::MemberRole;

/// Most bars of one role that a book may ask for.
const MOST: u32 = 50;

/// A bar that must be there, so many times.
#[derive(Debug, Clone, PartialEq)]
pub struct MemberNeeded {
    /// What every rule carries.
    pub rule: Rule,
    /// Which bar.
    pub role: MemberRole,
    /// Roles that do as well.
    pub either: Vec<MemberRole>,
    /// How many, at least.
    pub count: u32,
    /// Whether so many are asked for on the left and on the right.
    pub each_side: bool,
}

impl MemberNeeded {
    pub(in crate::domain::book) fn read(fields: &Fields<'_>) -> Option<Self> {
        let rule = Rule::read(fields);
        let role = fields.role("role");
        let either = fields.roles("either");
        let count = fields.whole_maybe("count", MOST).unwrap_or(1);
        let each_side = fields.flag("each_side", false);
        if count == 0 {
            fields.slip("count", "None are asked for.", "Write a count of 1 or more.");
        }
        fields.finish();
        Some(Self { rule: rule?, role: role?, either, count, each_side })
    }

    /// The bars that do, in words: "front hoop or lateral hoop".
    pub fn bars(&self) -> String {
        let roles = std::iter::once(&self.role).chain(&self.either).map(|role| role.word());
        roles.collect::<Vec<_>>().join(" or ")
    }

    /// True when a bar of this role does.
    pub fn takes(&self, role: MemberRole) -> bool {
        self.role == role || self.either.contains(&role)
    }
}
