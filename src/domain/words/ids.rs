//! Names of things: what the store calls them (never shown) and the balloons people call them by.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};
use uuid::Uuid;

macro_rules! id {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(Uuid);

        impl From<Uuid> for $name {
            fn from(id: Uuid) -> Self {
                Self(id)
            }
        }
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.as_hyphenated().fmt(f)
            }
        }
        impl FromStr for $name {
            type Err = uuid::Error;
            fn from_str(text: &str) -> Result<Self, Self::Err> {
                Uuid::parse_str(text).map(Self)
            }
        }
    )+};
}

id!(
    /// A person with a sign-in.
    PersonId,
    /// A vehicle in the shop.
    BuildId,
    /// A rule book, one edition of one body's.
    BookId,
    /// A rule book that is being written.
    DraftId,
    /// One weighing of a car.
    WeighInId,
    /// A stick of tube.
    StickId,
    /// A photograph, named on the phone when the shutter closed.
    CaptureId,
    /// A line of the weld log, named on the phone that kept it until the shop answered.
    WeldLineId,
    /// An item of kit.
    KitId,
    /// A bending die.
    DieId,
    /// A figure that a person measured.
    ReadingId,
    /// A question asked of the build.
    QuestionId,
    /// A round sent to the scrutineer.
    RoundId,
    /// A reading link to a round.
    LinkId,
    /// A dated entry of the shop's log about a vehicle.
    NoteId,
);

/// What a balloon's letter stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Kind {
    /// M: a bar of the cage.
    Member,
    /// J: where bars meet.
    Joint,
    /// G: a gusset.
    Gusset,
    /// P: a foot plate.
    Plate,
    /// S: a stick of tube.
    Stick,
    /// K: an item of kit.
    Kit,
    /// W: a weigh-in.
    WeighIn,
    /// C: the car as a whole.
    Car,
    /// Q: a question.
    Question,
}

impl Kind {
    const ALL: [(Self, char, &'static str); 9] = [
        (Self::Member, 'M', "member"),
        (Self::Joint, 'J', "joint"),
        (Self::Gusset, 'G', "gusset"),
        (Self::Plate, 'P', "plate"),
        (Self::Stick, 'S', "stick"),
        (Self::Kit, 'K', "kit"),
        (Self::WeighIn, 'W', "weigh-in"),
        (Self::Car, 'C', "car"),
        (Self::Question, 'Q', "question"),
    ];

    /// Its letter in a balloon.
    pub fn letter(self) -> char {
        Self::ALL.into_iter().find(|entry| entry.0 == self).map_or('?', |entry| entry.1)
    }

    /// Its word in a sentence.
    pub fn word(self) -> &'static str {
        Self::ALL.into_iter().find(|entry| entry.0 == self).map_or("", |entry| entry.2)
    }
}

/// The number a thing carries on screen, on paper, on the sticker on the tube and in the scrutineer's question (after ISO 6433).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Balloon {
    /// What it stands for.
    pub kind: Kind,
    /// From 1; never given out twice in a build.
    pub number: u32,
}

impl Balloon {
    /// The balloon of a kind and a number.
    pub const fn new(kind: Kind, number: u32) -> Self {
        Self { kind, number }
    }
}

impl fmt::Display for Balloon {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.kind.letter(), self.number)
    }
}

/// The text is no balloon, which is a letter and a number: `J7`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoBalloon(pub String);

impl fmt::Display for NoBalloon {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "“{}” is no balloon number. One is a letter and a number, like J7.", self.0)
    }
}

impl FromStr for Balloon {
    type Err = NoBalloon;
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let mut letters = text.trim().chars();
        let first = letters.next().map(|letter| letter.to_ascii_uppercase());
        let kind = Kind::ALL.into_iter().find(|entry| Some(entry.1) == first).map(|entry| entry.0);
        let number = letters.as_str().parse::<u32>().ok().filter(|number| (1..=99_999).contains(number));
        match (kind, number) {
            (Some(kind), Some(number)) if letters.as_str().bytes().all(|b| b.is_ascii_digit()) => {
                Ok(Self { kind, number })
            }
            _ => Err(NoBalloon(text.to_owned())),
        }
    }
}

impl Serialize for Balloon {
    fn serialize<S: serde::Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        out.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Balloon {
    fn deserialize<D: serde::Deserializer<'de>>(input: D) -> Result<Self, D::Error> {
        String::deserialize(input)?.parse().map_err(|no: NoBalloon| serde::de::Error::custom(no.to_string()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_balloon_reads_as_it_prints() {
        for text in ["M1", "J7", "G4", "P2", "S31", "K1", "W1", "C1", "Q12"] {
            assert_eq!(text.parse::<Balloon>().map(|balloon| balloon.to_string()), Ok(text.to_owned()));
        }
        assert_eq!("j7".parse(), Ok(Balloon::new(Kind::Joint, 7)));
    }

    #[test]
    fn what_is_no_balloon_is_refused() {
        for text in ["", "J", "7", "J0", "J+7", "X1", "J7a", "J 7", "J100000"] {
            assert!(text.parse::<Balloon>().is_err(), "{text}");
        }
    }
}
