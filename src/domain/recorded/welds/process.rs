//! The words of a weld: process, position, quality level, what an inspection came to.

use serde::{Deserialize, Serialize};

use crate::domain::steel::heat_input::Process;

/// How a seam is welded, by its number in ISO 4063.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum WeldProcess {
    /// Solid wire under active gas.
    #[serde(rename = "135")]
    Gmaw,
    /// Tungsten under inert gas, filler from a rod.
    #[serde(rename = "141")]
    Gtaw,
    /// Covered electrode.
    #[serde(rename = "111")]
    Smaw,
    /// Flux-cored wire under active gas.
    #[serde(rename = "136")]
    Fcaw,
}

impl WeldProcess {
    /// All of them, as they are offered.
    pub const ALL: [Self; 4] = [Self::Gmaw, Self::Gtaw, Self::Smaw, Self::Fcaw];

    /// Its number in ISO 4063, as stored and in forms.
    pub const fn number(self) -> &'static str {
        match self {
            Self::Gmaw => "135",
            Self::Gtaw => "141",
            Self::Smaw => "111",
            Self::Fcaw => "136",
        }
    }

    /// Its letters and its number.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Gmaw => "GMAW (135)",
            Self::Gtaw => "GTAW (141)",
            Self::Smaw => "SMAW (111)",
            Self::Fcaw => "FCAW (136)",
        }
    }

    /// Letters, number and name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Gmaw => "GMAW, 135: solid wire under active gas (MAG)",
            Self::Gtaw => "GTAW, 141: tungsten under inert gas (TIG)",
            Self::Smaw => "SMAW, 111: covered electrode (stick)",
            Self::Fcaw => "FCAW, 136: flux-cored wire under active gas",
        }
    }

    /// The process of a number.
    pub fn of(number: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|process| process.number() == number)
    }

    /// As its heat input is reckoned. EN 1011-1 has one figure for solid and flux-cored wire under gas.
    pub const fn arc(self) -> Process {
        match self {
            Self::Gmaw | Self::Fcaw => Process::Wire,
            Self::Gtaw => Process::Tungsten,
            Self::Smaw => Process::Electrode,
        }
    }
}

/// A position of welding by ISO 6947. A seam round a tube that stands still runs through several.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[expect(missing_docs, reason = "the words beside the letters say what each is")]
pub enum Position {
    PA,
    PB,
    PC,
    PD,
    PE,
    PF,
    PG,
}

impl Position {
    /// All of them, in the order of their letters.
    pub const ALL: [Self; 7] = [Self::PA, Self::PB, Self::PC, Self::PD, Self::PE, Self::PF, Self::PG];

    /// Its letters, as stored and in forms.
    pub const fn letters(self) -> &'static str {
        match self {
            Self::PA => "PA",
            Self::PB => "PB",
            Self::PC => "PC",
            Self::PD => "PD",
            Self::PE => "PE",
            Self::PF => "PF",
            Self::PG => "PG",
        }
    }

    /// What it is.
    pub const fn word(self) -> &'static str {
        match self {
            Self::PA => "flat",
            Self::PB => "horizontal, fillet",
            Self::PC => "horizontal",
            Self::PD => "overhead, fillet",
            Self::PE => "overhead",
            Self::PF => "vertical, upwards",
            Self::PG => "vertical, downwards",
        }
    }

    /// The position of these letters.
    pub fn of(letters: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|position| position.letters() == letters)
    }

    /// Whether the weld hangs over the welder.
    pub const fn overhead(self) -> bool {
        matches!(self, Self::PD | Self::PE)
    }
}

/// A quality level of ISO 5817, B the strictest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[expect(missing_docs, reason = "the standard names them by their letters alone")]
pub enum Level {
    B,
    C,
    D,
}

impl Level {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::B, Self::C, Self::D];

    /// Its letter, as stored and in forms.
    pub const fn letter(self) -> &'static str {
        match self {
            Self::B => "B",
            Self::C => "C",
            Self::D => "D",
        }
    }

    /// The level of this letter.
    pub fn of(letter: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|level| level.letter() == letter)
    }
}

/// What a visual inspection came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// It may stay.
    Accepted,
    /// It has to be repaired.
    Repair,
}

impl Outcome {
    /// Both of them.
    pub const ALL: [Self; 2] = [Self::Accepted, Self::Repair];

    /// The word for it, as in forms.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Accepted => "accepted",
            Self::Repair => "repair",
        }
    }

    /// The outcome of a word.
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|outcome| outcome.word() == word)
    }
}
