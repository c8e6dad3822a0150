//! Names and passwords that people sign in with: which names are one, and which passwords are guessed first.

use unicode_normalization::UnicodeNormalization as _;
use unicode_security::confusable_detection::skeleton;
use zxcvbn::{Score, zxcvbn};

use crate::domain::words::faults::Fault;
use crate::domain::words::limits;

/// A name as it is kept: letters in their plain form (Unicode's NFKC), one space between words, nothing that does not show.
pub fn plain(name: &str) -> String {
    let seen: String = name.nfkc().filter(|letter| !is_unseen(*letter)).collect();
    seen.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What a name is looked up and its guesses are counted by: small letters or capitals, with what does not show or without.
pub fn looked_up_by(name: &str) -> String {
    plain(&plain(name).to_lowercase())
}

/// Whether two names would be taken for each other: they read alike letter by letter (the skeletons of Unicode's UTS 39, 4),
/// as they stand or in small letters.
pub fn read_alike(one: &str, other: &str) -> bool {
    let bare = |name: &str| skeleton(name).collect::<String>();
    let (one, other) = (plain(one), plain(other));
    let small = |name: &str| bare(&name.to_lowercase()).to_lowercase();
    bare(&one) == bare(&other) || small(&one) == small(&other)
}

/// Whether a letter takes no place of its own on a screen: controls, and what Unicode 17 calls ignorable by default
/// (`DerivedCoreProperties`).
fn is_unseen(letter: char) -> bool {
    let ignorable = matches!(letter,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}'..='\u{1160}' | '\u{17b4}'..='\u{17b5}' | '\u{180b}'..='\u{180f}'
        | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{3164}'
        | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{ffa0}' | '\u{fff0}'..='\u{fff8}' | '\u{1bca0}'..='\u{1bca3}'
        | '\u{1d173}'..='\u{1d17a}' | '\u{e0000}'..='\u{e0fff}');
    ignorable || (letter.is_control() && !letter.is_whitespace())
}

/// What is wrong with a new sign-in's name or password, if anything.
pub fn sign_in_faults(name: &str, password: &str) -> Vec<Fault> {
    let mut faults = limits::title_faults("name", &plain(name));
    faults.extend(password_faults(name, password));
    faults
}

/// What is wrong with a new password of somebody, if anything. That it is one of those that are tried first is found by the
/// lists of common passwords, names and words, keyboards' rows, dates and repeats that the program carries in itself.
pub fn password_faults(name: &str, password: &str) -> Vec<Fault> {
    let length = password.chars().count();
    let why = if length < limits::PASSWORD_LEAST {
        format!("A password has at least {} characters.", limits::PASSWORD_LEAST)
    } else if length > limits::PASSWORD_MOST {
        format!("A password has at most {} characters.", limits::PASSWORD_MOST)
    } else if zxcvbn(password, &[name, "tackbook"]).score() < Score::Three {
        "This is one of the passwords that are tried first: common words, a row of keys, a date, a name. Take four words that \
         have nothing to do with each other."
            .to_owned()
    } else {
        return Vec::new();
    };
    vec![Fault::new("password", why)]
}

#[cfg(test)]
mod tests {
    use super::{looked_up_by, password_faults, plain, read_alike};

    #[test]
    fn a_name_with_letters_that_do_not_show_is_the_name_without_them() {
        for name in [
            "office\u{200b}",
            "of\u{ad}fice",
            "\u{feff}Office",
            "OFFICE",
            " office\u{2060} ",
            "ｏｆｆｉｃｅ",
            "o\u{202e}ffice",
        ] {
            assert_eq!(looked_up_by(name), "office", "{name:?}");
            assert!(read_alike(name, "office"), "{name:?}");
        }
        assert_eq!(plain("Anne\u{a0}\u{200d} Marie"), "Anne Marie");
    }

    #[test]
    fn names_that_read_alike_are_told_and_others_are_not() {
        // Cyrillic о and с, a nought, a one
        for name in ["\u{43e}ffi\u{441}e", "0ffice", "OFFlCE"] {
            assert!(read_alike(name, "office") || read_alike(name, "OFFICE"), "{name:?}");
        }
        for (one, other) in
            [("office", "office 2"), ("Ann", "Anna"), ("Øystein", "Oystein"), ("\u{5d3}\u{5df}", "\u{5d3}\u{5e0}")]
        {
            assert!(!read_alike(one, other), "{one} {other}");
        }
    }

    #[test]
    fn passwords_that_are_tried_first_are_refused_however_long() {
        for common in [
            "password1234",
            "Password2026",
            "qwertyuiop123",
            "123456789012",
            "aaaaaaaaaaaaaaaa",
            "1q2w3e4r5t6y",
            "P4ssw0rd1234",
        ] {
            assert_eq!(password_faults("office", common).len(), 1, "{common}");
        }
        assert_eq!(password_faults("Margarethe Ulm", "margarethe ulm").len(), 1);
        for good in ["four walls and a floor", "six red clamps", "drawn demo office", "HJKM-PQRS-TVWX-ABCD"] {
            assert!(password_faults("office", good).is_empty(), "{good}");
        }
    }
}
