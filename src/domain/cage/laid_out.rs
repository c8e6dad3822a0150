//! The bars of a record laid out, before anything is cut.

use super::draft::Draft;
use super::fittings::Tubes;
use super::parts::Member;
use super::record::CageRecord;
use super::{bracing, by_hand, structures};

/// The bars of the structure and the options.
pub(super) fn lay_out<'a>(record: &'a CageRecord, tubes: &'a Tubes) -> Draft<'a> {
    let mut draft = Draft::new(record, tubes);
    structures::lay(&mut draft);
    bracing::lay(&mut draft);
    by_hand::lay(&mut draft);
    draft
}

/// Whether every bar that is wanted is there.
pub(super) fn wholly_laid_out(record: &CageRecord, draft: &Draft<'_>, members: &[Member]) -> bool {
    let laid = |key: &String| members.iter().any(|member| member.key == *key);
    record.missing().is_empty() && draft.wanted.iter().all(laid)
}
