//! Whatever is recorded, taken apart to its last values: each stands under its path, so that none can be left out
//! but by name.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use serde_json::Value;

/// One value, as it is compared and as it is read.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Leaf {
    /// Compared and read alike.
    Plain(String),
    /// A value in its base unit, and the text it was typed as: the same value in other units is no change.
    Typed([String; 2]),
}

impl Leaf {
    /// What it is compared by.
    pub fn is(&self) -> &str {
        match self {
            Self::Plain(text) | Self::Typed([text, _]) => text,
        }
    }

    /// How it is read.
    pub fn describe(&self) -> &str {
        match self {
            Self::Plain(text) | Self::Typed([_, text]) => text,
        }
    }
}

/// Values by their paths.
pub type Leaves = BTreeMap<String, Leaf>;

/// Every value of a thing by its path; what is empty or not there has none.
pub(super) fn leaves(thing: &impl Serialize) -> Leaves {
    let mut leaves = Leaves::new();
    // What is recorded came out of rows and JSON; should any of it not be written, its thing has no values, which is
    // a change too.
    let value = serde_json::to_value(thing).unwrap_or(Value::Null);
    flatten("", &value, &mut leaves);
    leaves
}

fn flatten(at: &str, value: &Value, leaves: &mut Leaves) {
    let under = |name: &str| if at.is_empty() { name.to_owned() } else { format!("{at}/{name}") };
    match value {
        Value::Object(fields) => {
            if let (2, Some(value), Some(Value::String(text))) = (fields.len(), fields.get("value"), fields.get("text"))
            {
                let is = plain(value);
                let description = if text.is_empty() { is.clone() } else { text.clone() };
                leaves.insert(at.to_owned(), Leaf::Typed([is, description]));
            } else {
                for (name, value) in fields {
                    flatten(&under(name), value, leaves);
                }
            }
        }
        Value::Array(list) if list.iter().any(|one| one.is_object() || one.is_array()) => {
            for (number, value) in (1..).zip(list) {
                let number: u32 = number;
                flatten(&under(&number.to_string()), value, leaves);
            }
        }
        other => {
            let text = plain(other);
            if !text.is_empty() {
                leaves.insert(at.to_owned(), Leaf::Plain(text));
            }
        }
    }
}

/// A value in one text.
fn plain(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        Value::String(text) => text.clone(),
        Value::Number(number) if number.is_f64() => rounded(number.as_f64().unwrap_or_default()),
        Value::Number(number) => number.to_string(),
        Value::Array(list) => list.iter().map(plain).collect::<Vec<_>>().join(", "),
        Value::Object(fields) => {
            let each = fields.iter().map(|(name, value)| format!("{name} {}", plain(value)));
            each.collect::<Vec<_>>().join(", ")
        }
    }
}

/// A number to nine significant figures: an inch and its millimetres are the same, and no tape reads finer.
fn rounded(number: f64) -> String {
    let short: f64 = format!("{number:.8e}").parse().unwrap_or(number);
    if short == 0.0 { "0".to_owned() } else { short.to_string() }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn every_value_has_its_path_and_typed_ones_compare_by_value() {
        let inch = leaves(&json!({
            "leg": {"value": 25.4, "text": "1 in"}, "arms": [{"on": "a"}, {"on": "b"}], "keys": ["x", "y"],
            "none": null, "empty": "", "yes": true, "count": 3,
        }));
        let paths: Vec<(&str, &str)> = inch.iter().map(|(path, leaf)| (path.as_str(), leaf.describe())).collect();
        let wanted =
            [("arms/1/on", "a"), ("arms/2/on", "b"), ("count", "3"), ("keys", "x, y"), ("leg", "1 in"), ("yes", "yes")];
        assert_eq!(paths, wanted);
        let metric = leaves(&json!({"leg": {"value": 25.400_000_000_01, "text": "25.4 mm"}}));
        assert_eq!(inch.get("leg").map(Leaf::is), metric.get("leg").map(Leaf::is));
        assert_ne!(leaves(&json!(1.0)), leaves(&json!(1.000_001)));
    }
}
