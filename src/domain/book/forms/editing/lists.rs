//! A list of texts with some entries added or taken out; the others stay as they are laid out.

use toml_edit::{Array, RawString, Value};

/// What stands before an entry.
fn before(value: &Value) -> &str {
    value.decor().prefix().and_then(RawString::as_str).unwrap_or_default()
}

/// How the entries of a list stand.
struct Layout {
    /// The space before an entry on a line of its own; none where the list stands in one line.
    own_line: Option<String>,
}

impl Layout {
    fn of(list: &Array) -> Self {
        let spread = list.iter().map(before).find(|space| space.contains('\n'));
        let indent = spread.and_then(|space| space.rsplit('\n').next()).filter(|indent| indent.trim().is_empty());
        Self { own_line: spread.map(|_| format!("\n{}", indent.unwrap_or("  "))) }
    }

    /// An entry that is new at this place.
    fn entry(&self, value: Value, at: usize) -> Value {
        let space = match &self.own_line {
            Some(space) => space.as_str(),
            None if at == 0 => "",
            None => " ",
        };
        value.decorated(space, "")
    }
}

/// A list laid out as this one, of these texts.
pub(super) fn of_texts(old: &Array, wanted: &[&str]) -> Array {
    let layout = Layout::of(old);
    let mut left: Vec<Option<Value>> = old.iter().cloned().map(Some).collect();
    let mut new = Array::new();
    for (at, text) in wanted.iter().enumerate() {
        let kept = left.iter_mut().find(|value| value.as_ref().and_then(Value::as_str) == Some(*text));
        let value = match kept.and_then(Option::take) {
            // What stood first in a line has no space before it, and what did not has.
            Some(value) if layout.own_line.is_none() && !before(&value).contains('#') => layout.entry(value, at),
            Some(value) => value,
            None => layout.entry(Value::from(*text), at),
        };
        new.push_formatted(value);
    }
    let comments: String = left.iter().flatten().filter_map(|value| comment(before(value))).collect();
    let trailing = old.trailing().as_str().unwrap_or_default();
    new.set_trailing(format!("{comments}{trailing}"));
    new.set_trailing_comma(old.trailing_comma() && !new.is_empty());
    *new.decor_mut() = old.decor().clone();
    new
}

/// What stands before an entry up to its last comment; none without one.
fn comment(space: &str) -> Option<&str> {
    let last = space.rfind('#')?;
    let end = space.get(last..)?.find('\n').map_or(space.len(), |end| last + end);
    space.get(..end)
}

/// Adds a table to a list of tables within lines.
pub(super) fn push_row(list: &mut Array, row: Value) {
    let layout = if list.is_empty() { Layout { own_line: Some("\n  ".to_owned()) } } else { Layout::of(list) };
    let row = layout.entry(row, list.len());
    if list.is_empty() {
        list.set_trailing("\n");
        list.set_trailing_comma(true);
    }
    list.push_formatted(row);
}

/// Takes a table out of a list of tables within lines; a comment before it stays.
pub(super) fn take_row(list: &mut Array, at: usize) {
    let said = list.get(at).and_then(|value| comment(before(value))).map(str::to_owned);
    list.remove(at);
    let Some(said) = said else { return };
    if let Some(next) = list.get_mut(at) {
        let space = format!("{said}{}", before(next));
        next.decor_mut().set_prefix(space);
    } else {
        let trailing = format!("{said}{}", list.trailing().as_str().unwrap_or_default());
        list.set_trailing(trailing);
    }
}
