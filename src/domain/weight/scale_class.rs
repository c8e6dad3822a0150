//! What a verified scale may be wrong by, by its accuracy class (OIML R 76-1:2006, table 6).

use serde::{Deserialize, Serialize};

use crate::quantity::Mass;

/// An accuracy class of scales that cars are weighed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum ScaleClass {
    /// Medium accuracy, III: shop and weighbridge scales.
    #[serde(rename = "III")]
    Medium,
    /// Ordinary accuracy, IIII.
    #[serde(rename = "IIII")]
    Ordinary,
}

/// When a scale is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Looked {
    /// When it is first verified.
    First,
    /// While it is in use: twice as much is allowed.
    InService,
}

impl Looked {
    /// The words for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::First => "when verified",
            Self::InService => "in service",
        }
    }
}

impl ScaleClass {
    /// Both of them.
    pub const ALL: [Self; 2] = [Self::Medium, Self::Ordinary];

    /// As it is marked on a scale.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Medium => "III",
            Self::Ordinary => "IIII",
        }
    }

    /// Up to how many steps half a step, one step and one and a half are allowed.
    const fn edges(self) -> [f64; 3] {
        match self {
            Self::Medium => [500.0, 2_000.0, 10_000.0],
            Self::Ordinary => [50.0, 200.0, 1_000.0],
        }
    }

    /// The error allowed, without a sign, at a load on a scale of this step; none above what the class may weigh at all.
    pub fn permissible(self, load: Mass, step: Mass, looked: Looked) -> Option<Mass> {
        // Rounded as masses are compared, so that 250 kg on a scale of 0.5 kg are 500 steps and not a hair more.
        let at_most = |steps: &(f64, f64)| load <= step * steps.0;
        let [half, one, more] = self.edges();
        let allowed = [(half, 0.5), (one, 1.0), (more, 1.5)].into_iter().find(at_most)?.1;
        let twice = if looked == Looked::InService { 2.0 } else { 1.0 };
        Some(step * (allowed * twice))
    }
}
