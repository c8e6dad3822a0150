//! Bars that would run into each other where they do not meet.

use glam::DVec3;

use super::draft::{Bar, Draft, words};
use super::joints::Meeting;
use crate::domain::faults::Fault;
use crate::geometry::distance::nearest_of_chords;
use crate::quantity::Length;

/// Bends are taken as chords no further than this from the arc.
const SAGITTA: Length = Length::from_mm(0.5);
/// Overlaps up to this are left to the fitter (own choice).
const FITTED: Length = Length::from_mm(1.0);

/// Each pair of bars that overlap without a joint in common, named at the later bar.
pub(super) fn clashes(draft: &Draft<'_>, meetings: &[Meeting]) -> Vec<Fault> {
    let lines: Vec<(&Bar, Vec<DVec3>)> = draft.bars.iter().map(|bar| (bar, bar.line.chords(SAGITTA))).collect();
    let mut faults = Vec::new();
    for (number, (later, chords)) in lines.iter().enumerate() {
        for (earlier, others) in lines.iter().take(number) {
            let (one, other) = (&later.label.key, &earlier.label.key);
            if meetings.iter().any(|meeting| meeting.has(one) && meeting.has(other)) {
                continue;
            }
            let Some(nearest) = nearest_of_chords(chords, others) else { continue };
            let missing = -nearest.gap(later.tube.outside, earlier.tube.outside);
            if missing > FITTED {
                let why = format!("It runs into the {} by {:.0} mm. Move one of them.", words(other), missing.mm());
                faults.push(Fault::new(one.clone(), why));
            }
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use crate::domain::cage::example::{TUBES, example_record};
    use crate::domain::cage::measures::TapeMeasure;
    use crate::domain::cage::solve::solve;
    use crate::quantity::{Length, Typed};

    /// A dash bar so low that it runs through the door bars' and struts' room is told so.
    #[test]
    fn bars_that_run_into_each_other_are_named() {
        let mut record = example_record();
        let low = Typed { value: Length::from_inches(4.5), text: "4 1/2 in".to_owned() };
        record.measures.insert(TapeMeasure::DashBarHeight, low);
        let cage = solve(&record, &TUBES);
        assert!(cage.faults.iter().any(|fault| fault.why.contains("runs into the")), "{:?}", cage.faults);
    }
}
