//! Reads the copied check values of one group.

use serde_json::Value;

/// One check value: its name, what goes in, what must come out, and how near.
pub(crate) struct Oracle {
    /// The name, `bend.lra.3`.
    pub(crate) id: String,
    /// What goes in.
    pub(crate) inputs: Value,
    /// What must come out.
    pub(crate) expected: Value,
    /// How near: `{"abs": …}` or `{"rel": …}` or `"exact"`.
    pub(crate) tolerance: Value,
}

/// All check values of a copied data file whose name begins with `prefix`; there must be some.
pub(crate) fn oracles(data: &str, prefix: &str) -> Vec<Oracle> {
    let all: Vec<Value> = serde_json::from_str(data).unwrap();
    let found: Vec<Oracle> = all
        .into_iter()
        .filter(|entry| entry["id"].as_str().unwrap().starts_with(prefix))
        .map(|entry| Oracle {
            id: entry["id"].as_str().unwrap().to_owned(),
            inputs: entry["inputs"].clone(),
            expected: entry["expected"].clone(),
            tolerance: entry["tolerance"].clone(),
        })
        .collect();
    assert!(!found.is_empty(), "no check values called {prefix}");
    found
}

impl Oracle {
    /// Fails unless `got` is the expected figure called `key`, within the tolerance.
    pub(crate) fn near(&self, key: &str, got: f64) {
        let want = self.expected[key].as_f64().unwrap_or_else(|| panic!("{}: no figure {key}", self.id));
        let (abs, rel) = (self.tolerance["abs"].as_f64(), self.tolerance["rel"].as_f64());
        let room = abs.unwrap_or(0.0).max(rel.unwrap_or(0.0) * want.abs()).max(1e-9 * want.abs().max(1.0));
        assert!((got - want).abs() <= room, "{} {key}: got {got}, expected {want} within {room}", self.id);
    }
}
