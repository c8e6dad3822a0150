//! A vehicle in the shop.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use unicode_normalization::UnicodeNormalization as _;
use unicode_normalization::char::is_combining_mark;

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
        if faults.is_empty() && known_by(&self.name).is_empty() {
            faults.push(Fault::new("name", "A name needs at least one letter or figure."));
        }
        faults.extend(limits::text_faults("about", &self.about));
        faults
    }
}

/// A name's letters and figures, of any script, in lower case and without their marks, the rest a single dash: by it a name is
/// known again however it is typed.
pub fn known_by(name: &str) -> String {
    dashed(name, char::is_alphanumeric)
}

/// A name as it stands in an address: the same of letters and figures that every keyboard has. Where there are none, `build`.
pub fn slug(name: &str) -> String {
    let slug: String = dashed(name, |letter| letter.is_ascii_alphanumeric()).chars().take(60).collect();
    if slug.is_empty() { "build".to_owned() } else { slug }
}

/// Last parts of addresses that are sheets of their own, which no build's address may hide behind.
pub const NO_SLUGS: [&str; 1] = ["new"];

fn dashed(name: &str, keep: impl Fn(char) -> bool) -> String {
    let mut dashed = String::new();
    let plain = name.nfkd().filter(|letter| !is_combining_mark(*letter)).flat_map(char::to_lowercase);
    for letter in plain {
        if keep(letter) {
            dashed.push(letter);
        } else if !dashed.is_empty() && !dashed.ends_with('-') {
            dashed.push('-');
        }
    }
    dashed.trim_end_matches('-').to_owned()
}

#[cfg(test)]
mod tests {
    use super::{NewBuild, known_by, slug};

    #[test]
    fn a_name_becomes_an_address_people_can_read() {
        for (name, expected) in [
            ("Teasel Coupe", "teasel-coupe"),
            ("  No. 7 / rally!", "no-7-rally"),
            ("…", "build"),
            ("Öland 2", "oland-2"),
            ("東京 号", "build"),
            ("Гараж 7", "7"),
        ] {
            assert_eq!(slug(name), expected);
        }
    }

    #[test]
    fn a_build_is_named_in_any_script_and_two_names_stay_two() {
        for name in ["東京ガレージ", "Гараж", "مرآب", "ÅÄÖ"] {
            let new = NewBuild { name: name.to_owned(), about: String::new(), book: None, event_day: None };
            assert!(new.faults().is_empty(), "{name}");
        }
        assert_ne!(known_by("東京"), known_by("大阪"));
        assert_eq!(known_by("Teasel  COUPE!"), known_by("teasel coupe"));
        let new = NewBuild { name: "…".to_owned(), about: String::new(), book: None, event_day: None };
        assert_eq!(new.faults().len(), 1);
    }
}
