//! Stickers for the parts of a build: the short code each carries, and which parts get one.

use std::fmt;
use std::str::FromStr;

use crate::domain::cage::Cage;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, BuildId, Kind};

/// The letters of a code: figures and capitals without I, L, O and U, which are misread.
const LETTERS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/// How many letters name a build: 40 bits, so that two builds of a shop never share a code by chance.
const LONG: usize = 8;
/// The longest tag that is read at all.
const LONGEST: usize = LONG + 1 + 6;

/// What a sticker's code says: the build by its short code, and the part. `4K7QP2MD-J12`
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tag {
    code: String,
    /// The part.
    pub of: Balloon,
}

impl Tag {
    /// Of a build's part; the same for as long as the build lives, whatever it is called.
    pub fn of(build: BuildId, of: Balloon) -> Self {
        Self { code: code(build), of }
    }

    /// Whether it is of this build.
    pub fn names(&self, build: BuildId) -> bool {
        self.code == code(build)
    }
}

/// A build's short code, from the digest of its name in the store: it tells nothing of other builds, nor of how many there are.
fn code(build: BuildId) -> String {
    let digest = Fingerprint::of(format!("sticker {build}").as_bytes());
    let bits = digest.text().get(..10).and_then(|ten| u64::from_str_radix(ten, 16).ok()).unwrap_or_default();
    let letter = |place: usize| {
        let five = (bits >> (5 * (LONG - 1 - place))) & 31;
        usize::try_from(five).ok().and_then(|five| LETTERS.get(five)).map_or('0', |letter| char::from(*letter))
    };
    (0..LONG).map(letter).collect()
}

impl fmt::Display for Tag {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}", self.code, self.of)
    }
}

/// The text is no code of a sticker.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("a sticker's code is eight letters and figures, a dash and the part's number, like 4K7QP2MD-J12")]
pub struct NoTag;

impl FromStr for Tag {
    type Err = NoTag;
    /// Reads it as people type it: small letters too, and O for 0, I or L for 1.
    fn from_str(text: &str) -> Result<Self, NoTag> {
        if text.len() > LONGEST {
            return Err(NoTag);
        }
        let (code, of) = text.split_once('-').ok_or(NoTag)?;
        let plain = |letter: char| match letter.to_ascii_uppercase() {
            'O' => '0',
            'I' | 'L' => '1',
            other => other,
        };
        let code: String = code.chars().map(plain).collect();
        let known = |letter: char| u8::try_from(letter).is_ok_and(|letter| LETTERS.contains(&letter));
        if code.chars().count() != LONG || !code.chars().all(known) {
            return Err(NoTag);
        }
        Ok(Self { code, of: of.parse().map_err(|_| NoTag)? })
    }
}

/// The parts of a cage that get a sticker, all or those of one kind.
pub fn parts(cage: &Cage, only: Option<Kind>) -> Vec<Balloon> {
    let bars = cage.members.iter().map(|part| part.balloon);
    let joints = cage.joints.iter().map(|part| part.balloon);
    let gussets = cage.gussets.iter().map(|part| part.balloon);
    let plates = cage.plates.iter().map(|part| part.balloon);
    let all = bars.chain(joints).chain(gussets).chain(plates);
    all.filter(|part| only.is_none_or(|kind| part.kind == kind)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_reads_as_it_prints_and_as_people_type_it() {
        let build: BuildId = "0198c3f0-0000-7000-8000-000000000001".parse().unwrap();
        let other: BuildId = "0198c3f0-0000-7000-8000-000000000002".parse().unwrap();
        let tag = Tag::of(build, Balloon::new(Kind::Joint, 12));
        let text = tag.to_string();
        assert_eq!(text.len(), LONG + 4);
        let (code, of) = text.split_once('-').unwrap();
        let typed = format!("{}-{of}", code.replace('0', "o").replace('1', "l")).to_lowercase();
        for text in [&text, &typed] {
            assert_eq!(text.parse(), Ok(tag.clone()), "{text}");
        }
        assert!(tag.names(build) && !tag.names(other));
    }

    #[test]
    fn what_is_no_code_is_refused() {
        for text in ["", "J12", "4K7QP2MD", "4K7QP2MD-", "4K7QP2M-J12", "4K7QP2MU-J12", "4K7QP2MD-J12-J12", "éééé-J1"]
        {
            assert_eq!(text.parse::<Tag>(), Err(NoTag), "{text}");
        }
        assert_eq!(format!("4K7QP2MD-J{}", "1".repeat(90)).parse::<Tag>(), Err(NoTag));
    }
}
