//! Figures of a build, worked out or measured, with the doubt that a tool's step leaves in them.

use serde::{Deserialize, Serialize};

use super::amounts::Amount;
use super::measures::Measure;
use super::tools::Tool;
use crate::domain::words::basis::{Basis, Diameter};
use crate::domain::words::ids::Balloon;
use crate::domain::words::roles::MemberRole;
use crate::quantity::Units;

/// One figure of one part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Figure {
    /// What was measured.
    pub measure: Measure,
    /// Of which part: a bar, a joint, a gusset, a plate.
    pub of: Balloon,
    /// The role of the bar it is of, or that the plate or gusset belongs to.
    pub role: Option<MemberRole>,
    /// The outside diameter that a limit in diameters refers to: the bar's own, or the larger one joined.
    pub diameter: Diameter,
    /// The figure.
    pub amount: Amount,
    /// Where it comes from: "the model", "measured by the fabricator".
    pub from: String,
    /// What it rests on.
    pub basis: Basis,
    /// What it was read with; none of what follows from the model, or when nobody said.
    pub tool: Option<Tool>,
    /// One standard deviation that a worked out figure has from the tape measurements it follows from; none where that is
    /// not worked out, and of what was read.
    pub spread: Option<Amount>,
}

/// A figure that a person read off the car; the newest of a measure and a part counts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// What was measured.
    pub measure: Measure,
    /// Of which part.
    pub of: Balloon,
    /// The figure.
    pub amount: Amount,
    /// As typed.
    pub text: String,
    /// When.
    pub at: jiff::Timestamp,
    /// By whom.
    pub by: String,
    /// What it was read with; figures recorded before there was a choice have none.
    pub tool: Option<Tool>,
}

impl Figure {
    /// The tool that a figure's doubt goes by: the one it was read with, and where nobody said which, the coarsest that such a
    /// figure is read with, since nothing shows that it was a finer one. None of what was not read off the car.
    pub fn taken_as(&self) -> Option<Tool> {
        let unsaid = || {
            let all = [Units::Inch, Units::Metric].map(|units| Tool::of(self.measure, units)).concat();
            all.into_iter().max_by(|one, other| one.deviation().total_cmp(&other.deviation()))
        };
        self.tool.or_else(|| (self.basis == Basis::Measured).then(unsaid).flatten())
    }

    /// One standard deviation of a figure, in its own base unit: of one that was read, by its tool; of one that was worked out,
    /// from the tape measurements it follows from. Of a quotient of
    /// two diameters each is read with the tool, so that u² = (u/D)² (1 + r²) (GUM 5.1.2).
    pub fn doubt(&self) -> Option<f64> {
        let Some(tool) = self.taken_as() else { return self.spread.map(Amount::in_base_unit) };
        let (one, around) = (tool.deviation(), self.diameter.length().mm());
        Some(match self.amount {
            Amount::Ratio(ratio) if around > 0.0 => one / around * ratio.hypot(1.0),
            Amount::Ratio(_) | Amount::Count(_) | Amount::Percent(_) | Amount::Stress(_) | Amount::Grade(_) => 0.0,
            _ => one,
        })
    }
}
