//! What was typed of a rule, field by field.

/// What was typed, by field: `least`, `needed_if.value`, `tube.0.wall`. Several entries of a list are lines.
pub type Pairs = Vec<(String, String)>;

/// What is typed under a name, without the space around it; empty when it is not there.
pub(super) fn under<'p>(typed: &'p [(String, String)], name: &str) -> &'p str {
    typed.iter().find(|entry| entry.0 == name).map_or("", |entry| entry.1.trim())
}
