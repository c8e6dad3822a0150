//! A vehicle in the shop.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{BookId, BuildId};
use crate::domain::words::limits;

/// A vehicle in the shop, with a rule book or none.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Build {
    /// The store's name for it.
    pub id: BuildId,
    /// Its name in addresses: `teasel-coupe`.
    pub slug: String,
    /// Its name in the shop: "Teasel Coupe".
    pub name: String,
    /// What it is, in a sentence.
    pub about: String,
    /// The rule book it is built to; none for a vehicle that is only logged.
    pub book: Option<BookId>,
    /// The first event it must be ready for.
    pub event_day: Option<Date>,
    /// Counts up with each edit.
    pub version: i64,
}

/// What a person enters to begin a build.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewBuild {
    /// Its name in the shop.
    pub name: String,
    /// What it is, in a sentence.
    pub about: String,
    /// The rule book, or none.
    pub book: Option<BookId>,
    /// The first event it must be ready for.
    pub event_day: Option<Date>,
}

impl NewBuild {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("name", &self.name);
        if faults.is_empty() && slug(&self.name).is_empty() {
            faults.push(Fault::new("name", "A name needs at least one letter or figure."));
        }
        faults.extend(limits::text_faults("about", &self.about));
        faults
    }
}

/// A name as it stands in an address: letters and figures in lower case, the rest a single dash.
pub fn slug(name: &str) -> String {
    let mut slug = String::new();
    for letter in name.chars().flat_map(char::to_lowercase) {
        if letter.is_ascii_alphanumeric() {
            slug.push(letter);
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
    }
    slug.trim_end_matches('-').chars().take(60).collect()
}

#[cfg(test)]
mod tests {
    use super::slug;

    #[test]
    fn a_name_becomes_an_address_people_can_read() {
        for (name, expected) in
            [("Teasel Coupe", "teasel-coupe"), ("  No. 7 / rally!", "no-7-rally"), ("…", ""), ("Öland 2", "land-2")]
        {
            assert_eq!(slug(name), expected);
        }
    }
}
