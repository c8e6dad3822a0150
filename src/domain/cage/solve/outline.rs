//! Where everything of a cage is, without the cuts of its bars: enough for figures, and cheap enough to be asked for often.

use super::ends::{end_of, joint};
use super::plates::plates;
use crate::domain::cage::lay::draft::{Bar, Label};
use crate::domain::cage::lay::joints;
use crate::domain::cage::lay::laid_out::{lay_out, wholly_laid_out};
use crate::domain::cage::lay::numbers::Numbers;
use crate::domain::cage::parts::{Cage, Member, Uncut};
use crate::domain::cage::record::CageRecord;
use crate::domain::cage::record::fittings::Tubes;

/// Where everything is: bars without their cuts, joints, plates. Numbers are those that were given out already.
pub fn outline(record: &CageRecord, tubes: &Tubes) -> Cage {
    let draft = lay_out(record, tubes);
    let numbers = Numbers(record.numbers.clone());
    let uncut = |bar: &Bar| {
        let Label { key, role, side } = bar.label.clone();
        let ends = bar.ends.each_ref().map(|landing| end_of(landing, &numbers));
        let (balloon, tube, line) = (numbers.of(&key)?, bar.tube, bar.line.clone());
        let (copes, round) = ([None, None], [Vec::new(), Vec::new()]);
        Some(Uncut { key, balloon, role, side, tube, grade: None, line, ends, copes, round }.cut())
    };
    let members: Vec<Member> = draft.bars.iter().filter_map(uncut).collect();
    let joints = joints::meetings(&draft).iter().filter_map(|meeting| joint(meeting, &members, &numbers)).collect();
    let (plates, whole) =
        (plates(record, &draft, &numbers, &mut Vec::new()), wholly_laid_out(record, &draft, &members));
    Cage { members, joints, plates, whole, ..Cage::default() }
}
