//! Which photographs what was asked with a reply points at.

use super::Reply;
use crate::domain::recorded::questions::Question;
use crate::domain::recorded::reviews::PhotoMark;

/// The marks that were made with what became this question; none of one that came otherwise. What came with a reply was asked
/// at the moment the reply was received.
pub fn marks_of<'r>(question: &Question, replies: &'r [Reply]) -> &'r [PhotoMark] {
    let with = replies.iter().filter(|reply| question.from_reply && reply.received == question.asked);
    let mut answers = with.flat_map(|reply| reply.answers.iter().flatten());
    let asks = |text: String| text.trim() == question.text;
    let found = answers.find(|one| Some(one.part) == question.about && one.item().is_some_and(asks));
    found.map_or(&[], |one| one.marks.as_slice())
}
