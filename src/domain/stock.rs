//! Tube stock: sticks, their marks, and the bars that are cut from them.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::ids::{Balloon, BuildId, CaptureId, StickId};
use super::tube::TubeSize;
use crate::quantity::{Length, Typed};

/// A stick of tube.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stick {
    /// The store's name for it.
    pub id: StickId,
    /// S1, S2 … in the shop.
    pub number: u32,
    /// Its size, as typed and as meant.
    pub size: Typed<TubeSize>,
    /// The steel's grade, as printed on it.
    pub grade: String,
    /// The heat number, as printed on it; empty when there is none.
    pub heat: String,
    /// How long it is.
    pub length: Typed<Length>,
    /// The photograph of its certificate.
    pub certificate: Option<CaptureId>,
    /// The build it was given to.
    pub given_to: Option<BuildId>,
    /// When it was added.
    pub added: Timestamp,
    /// Who added it.
    pub by: String,
}

impl Stick {
    /// Its heat in words: "heat 48211", or that it has none.
    pub fn heat_told(&self) -> String {
        if self.heat.is_empty() { "no heat number".to_owned() } else { format!("heat {}", self.heat) }
    }
}

/// A bar cut from a stick, which gives it its heat; a bar's newest one counts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Cut {
    /// The bar.
    pub member: Balloon,
    /// The stick it came from.
    pub stick: StickId,
    /// When it was recorded.
    pub at: Timestamp,
    /// Who recorded it.
    pub by: String,
}
