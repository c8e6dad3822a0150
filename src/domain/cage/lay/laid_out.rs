//! The bars of a record laid out, before anything is cut.

use super::draft::Draft;
use super::{bracing, by_hand, structures};
use crate::domain::cage::parts::Member;
use crate::domain::cage::record::CageRecord;
use crate::domain::cage::record::fittings::Tubes;

/// The bars of the structure and the options.
pub(in crate::domain::cage) fn lay_out<'a>(record: &'a CageRecord, tubes: &'a Tubes) -> Draft<'a> {
    let mut draft = Draft::new(record, tubes);
    structures::lay(&mut draft);
    bracing::lay(&mut draft);
    by_hand::lay(&mut draft);
    draft
}

/// Whether every bar that is wanted is there.
pub(in crate::domain::cage) fn wholly_laid_out(record: &CageRecord, draft: &Draft<'_>, members: &[Member]) -> bool {
    let laid = |key: &String| members.iter().any(|member| member.key == *key);
    record.missing().is_empty() && draft.wanted.iter().all(laid)
}
