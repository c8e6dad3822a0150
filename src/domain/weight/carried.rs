//! What goes into the weighed car and comes out of it, with its plus-minus.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::domain::words::faults::Fault;
use crate::domain::words::limits;
use crate::quantity::{Mass, Typed};

/// Whether a thing goes into the car or comes out of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Way {
    /// It was not in the car on the scale and will be.
    In,
    /// It was in the car on the scale and will not be.
    Out,
}

impl Way {
    /// Both of them.
    pub const BOTH: [Self; 2] = [Self::In, Self::Out];

    /// As stored and sent.
    pub const fn key(self) -> &'static str {
        match self {
            Self::In => "in",
            Self::Out => "out",
        }
    }

    /// The words for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::In => "goes in",
            Self::Out => "comes out",
        }
    }
}

impl std::str::FromStr for Way {
    type Err = ();
    fn from_str(text: &str) -> Result<Self, ()> {
        Self::BOTH.into_iter().find(|way| way.key() == text).ok_or(())
    }
}

/// What a plus-minus means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum SpreadIs {
    /// The mass lies within it, anywhere alike (GUM 4.3.7).
    Limits,
    /// It is one standard deviation, as a scale's paper states it (GUM 4.3.3).
    Deviation,
}

impl SpreadIs {
    /// Both of them.
    pub const BOTH: [Self; 2] = [Self::Limits, Self::Deviation];

    /// As stored and sent.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Limits => "limits",
            Self::Deviation => "deviation",
        }
    }

    /// The words for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Limits => "at most so much off",
            Self::Deviation => "one standard deviation",
        }
    }
}

impl std::str::FromStr for SpreadIs {
    type Err = ();
    fn from_str(text: &str) -> Result<Self, ()> {
        Self::BOTH.into_iter().find(|is| is.key() == text).ok_or(())
    }
}

/// A plus-minus as typed, and what it means.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// The figure, never less than nothing.
    pub mass: Typed<Mass>,
    /// What it means.
    pub is: SpreadIs,
}

impl Spread {
    /// One standard deviation: of a rectangle the half width over √3 (GUM 4.3.7).
    pub fn deviation(&self) -> Mass {
        match self.is {
            SpreadIs::Limits => self.mass.value / 3.0_f64.sqrt(),
            SpreadIs::Deviation => self.mass.value,
        }
    }
}

/// A thing that goes in or comes out, as it is entered.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Thing {
    /// What it is.
    pub name: String,
    /// Into the car or out of it.
    pub way: Way,
    /// What it weighs, always more than nothing.
    pub mass: Typed<Mass>,
    /// How far that may be off; none where nobody said.
    pub spread: Option<Spread>,
}

impl Thing {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("thing", &self.name);
        let mass = self.mass.value;
        if mass <= Mass::default() || mass > limits::CARRIED || !mass.is_finite() {
            faults.push(Fault::new(
                "mass",
                "This weighs more than nothing and at most 1,000 kg (2,200 lb). Whether it comes out is chosen above.",
            ));
        } else if let Some(spread) = &self.spread
            && (spread.mass.value < Mass::default() || spread.mass.value > mass)
        {
            faults.push(Fault::new("spread", "A plus-minus is not more than the thing itself weighs."));
        }
        faults
    }

    /// In words: "seats goes in, 46 lb".
    pub fn describe(&self) -> String {
        format!("{} {}, {}", self.name, self.way.words(), self.mass.text)
    }

    /// What it adds to the car; less than nothing where it comes out.
    pub(in crate::domain) fn signed(&self) -> Mass {
        match self.way {
            Way::In => self.mass.value,
            Way::Out => -self.mass.value,
        }
    }
}

/// A thing that stands on the list of a build.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Listed {
    /// Its place on the list, from 1; never given out twice.
    pub place: u32,
    /// The thing.
    pub thing: Thing,
    /// The number of the weigh-in it was listed against; none before the first.
    pub weigh_in: Option<u32>,
    /// When it was listed.
    pub added: Timestamp,
    /// Who listed it.
    pub by: String,
}

impl Listed {
    /// Whether the car was weighed since it was listed, the newest weigh-in having this number.
    pub fn before(&self, newest: u32) -> bool {
        self.weigh_in.is_none_or(|number| number < newest)
    }

    /// Where it was listed, in words: "at W1", "before the first weighing".
    pub fn listed_at(&self) -> String {
        self.weigh_in.map_or_else(|| "before the first weighing".to_owned(), |number| format!("at W{number}"))
    }
}
