//! Where everything of a cage is, without the cuts of its bars: enough for figures, and cheap enough to be asked for often.

use super::draft::{Bar, Label};
use super::ends::{end_of, joint};
use super::fittings::Tubes;
use super::joints;
use super::laid_out::{lay_out, wholly_laid_out};
use super::numbers::Numbers;
use super::parts::{Cage, Member, Uncut};
use super::plates::plates;
use super::record::CageRecord;

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
