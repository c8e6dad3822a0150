//! What every paper of a build says of its book and its hold point.

use crate::documents::fabrication::Fabrication;
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::facts::BookText;
use crate::domain::work::cut_plan::CutPlan;
use crate::domain::work::seams::Rates;
use crate::drawing::Paper;
use crate::drawing::wrap::Wall;
use crate::web::gate::Seen;

/// What every sheet of a build says of its book and its hold point.
pub(crate) struct SheetHead {
    book: String,
    hold: String,
    rates: Rates,
    cuts: CutPlan,
}

impl SheetHead {
    /// Of a build.
    pub(crate) fn of(seen: &Seen) -> Self {
        let book = seen.facts.book.as_ref().map(BookText::describe).unwrap_or_default();
        Self { book, hold: seen.describe_hold(), rates: Rates::usual(), cuts: CutPlan::default() }
    }

    /// The build's sheets, without a die or a cut plan, at the usual rates, for the outer wall.
    pub(crate) fn sheets<'a>(&'a self, seen: &'a Seen, found: &'a Findings) -> Fabrication<'a> {
        Fabrication {
            cage: &found.worked.cage,
            dies: &[],
            rates: &self.rates,
            cuts: &self.cuts,
            name: &seen.facts.build.name,
            book: &self.book,
            hold: &self.hold,
            made_by: &seen.who.ctx.by.name,
            day: seen.who.ctx.clock.today(),
            units: seen.who.units,
            wall: Wall::Outer,
            paper: Paper::usual(seen.who.units),
        }
    }
}
