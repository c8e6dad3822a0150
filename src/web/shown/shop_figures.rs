//! The figures that the shop says of itself: how it cuts and how it welds, and whether it said so.

use crate::domain::shop::saw::Saw;
use crate::domain::work::seams::Rates;
use crate::web::gate::{Seen, SignedIn};
use crate::web::problem::Problem;

/// How the shop cuts, and whether it said so itself.
pub(crate) async fn saw(who: &SignedIn) -> Result<(Saw, bool), Problem> {
    let own = who.ctx.store.saw().await?;
    let stated = own.is_some();
    Ok((own.unwrap_or_default(), stated))
}

/// How the shop welds, and whether it said so itself.
pub(crate) async fn rates(seen: &Seen) -> Result<(Rates, bool), Problem> {
    let own = seen.who.ctx.store.weld_rates().await?;
    let stated = own.is_some();
    Ok((own.unwrap_or_else(Rates::usual), stated))
}
