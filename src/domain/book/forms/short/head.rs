//! A book with nothing in it but what it says of itself.

use crate::domain::book::forms::editing::Editing;
use crate::domain::book::terms::rule_kinds::RuleKind;
use crate::domain::words::faults::Fault;
use crate::domain::words::limits;
use crate::quantity::Units;

/// What a book that is begun says of itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewBook {
    /// Its name: "Build Rules".
    pub name: String,
    /// The organiser whose rules it restates.
    pub body: String,
    /// Which edition.
    pub edition: String,
    /// The units it prints first.
    pub units: Units,
}

impl NewBook {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let fields = [("name", &self.name), ("body", &self.body), ("edition", &self.edition)];
        let mut faults: Vec<Fault> =
            fields.into_iter().flat_map(|(at, text)| limits::title_faults(at, text.trim())).collect();
        // Both stand together wherever the book is named.
        if faults.is_empty() && limits::title_faults("name", &format!("{} {}", self.body, self.name)).len() == 1 {
            faults.push(Fault::new(
                "name",
                format!("Organiser and name together have at most {} letters.", limits::TITLE),
            ));
        }
        faults
    }

    /// Its text; none when it cannot be written.
    pub fn text(&self) -> Option<String> {
        let units = if self.units == Units::Inch { "inch" } else { "metric" };
        let pairs = [("name", self.name.trim()), ("body", self.body.trim()), ("edition", self.edition.trim())];
        let pairs = pairs.into_iter().chain([("units", units)]);
        let typed = pairs.map(|(name, text)| (name.to_owned(), text.to_owned())).collect();
        Some(Editing::of("")?.add(RuleKind::Head, &typed)?.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::book::read;

    #[test]
    fn an_empty_book_reads_and_says_what_was_typed() {
        let new = NewBook {
            name: "Build \"Rules\" [hold] \\".to_owned(),
            body: " Fernside Hill League ".to_owned(),
            edition: "2026".to_owned(),
            units: Units::Inch,
        };
        assert_eq!(new.faults(), []);
        let book = new.text().and_then(|text| read(&text).ok());
        let head = book.as_ref().map(|book| (book.book.full_name(), book.book.edition.clone(), book.book.units));
        let name = "Fernside Hill League Build \"Rules\" [hold] \\".to_owned();
        assert_eq!(head, Some((name, "2026".to_owned(), Units::Inch)));
        assert_eq!(book.map(|book| (book.rules().count(), book.hold.is_some())), Some((0, false)));
        let two_lines = NewBook { name: "Build\n[hold]".to_owned(), ..new.clone() };
        assert_eq!(two_lines.faults().iter().map(|fault| fault.at.as_str()).collect::<Vec<_>>(), ["name"]);
        let empty = NewBook { name: " ".to_owned(), body: "x".repeat(201), ..new };
        assert_eq!(empty.faults().iter().map(|fault| fault.at.as_str()).collect::<Vec<_>>(), ["name", "body"]);
    }
}
