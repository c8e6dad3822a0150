//! The hold point: which work waits, and for whose yes.

use crate::domain::book::Rule;
use crate::domain::book::terms::fields::Fields;

/// The hold point.
#[derive(Debug, Clone, PartialEq)]
pub struct HoldRule {
    /// What every rule carries.
    pub rule: Rule,
    /// The work that waits.
    pub stops_work: Vec<String>,
    /// Whose yes it waits for.
    pub released_by: String,
}

impl HoldRule {
    pub(in crate::domain::book) fn read(fields: &Fields<'_>) -> Option<Self> {
        let rule = Rule::read(fields);
        let stops_work = fields.texts("stops_work");
        if stops_work.is_empty() {
            fields.slip("stops_work", "No work is named that waits.", "Write stops_work = [\"full welding\"].");
        }
        let released_by = fields.title("released_by");
        fields.finish();
        Some(Self { rule: rule?, stops_work, released_by: released_by? })
    }
}
