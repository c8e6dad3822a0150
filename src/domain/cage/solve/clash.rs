//! Bars that would run into each other where they do not meet.

use glam::DVec3;

use super::clearing;
use crate::domain::cage::lay::draft::{Bar, Draft};
use crate::domain::cage::lay::joints::Meeting;
use crate::domain::cage::record::key_words::words;
use crate::domain::words::faults::Fault;
use crate::geometry::distance::nearest_of_chords;
use crate::quantity::Length;

/// Bends are taken as chords no further than this from the arc.
const SAGITTA: Length = Length::from_mm(0.5);
/// Overlaps up to this are left to the fitter (own choice).
const FITTED: Length = Length::from_mm(1.0);

/// A bar as chords, and the box round them.
struct Boxed<'a> {
    bar: &'a Bar,
    chords: Vec<DVec3>,
    least: DVec3,
    most: DVec3,
}

impl<'a> Boxed<'a> {
    fn new(bar: &'a Bar) -> Self {
        let chords = bar.line.chords(SAGITTA);
        let first = chords.first().copied().unwrap_or_default();
        let (least, most) =
            chords.iter().fold((first, first), |(least, most), point| (least.min(*point), most.max(*point)));
        Self { bar, chords, least, most }
    }

    /// True when the boxes alone show that the bars stand clear of each other.
    fn clear_of(&self, other: &Self) -> bool {
        let reach = (self.bar.tube.outside + other.bar.tube.outside).mm() / 2.0;
        let apart = (self.least - other.most).max(other.least - self.most);
        apart.max_element() > reach
    }
}

/// Each pair of bars that overlap without a joint in common, named at the later bar. `fitted` has the places of bars that
/// are cut to each other.
pub(in crate::domain::cage) fn clashes(
    draft: &Draft<'_>,
    meetings: &[Meeting],
    fitted: &[(usize, usize)],
) -> Vec<Fault> {
    let bars: Vec<Boxed<'_>> = draft.bars.iter().map(Boxed::new).collect();
    let mut faults = Vec::new();
    for (number, later) in bars.iter().enumerate() {
        let near = bars.iter().enumerate().take(number).filter(|(_, earlier)| !later.clear_of(earlier));
        for (before, earlier) in near {
            if fitted.contains(&(number, before)) || fitted.contains(&(before, number)) {
                continue;
            }
            let (one, other) = (&later.bar.label.key, &earlier.bar.label.key);
            if meetings.iter().any(|meeting| meeting.has(one) && meeting.has(other)) {
                continue;
            }
            let Some(nearest) = nearest_of_chords(&later.chords, &earlier.chords) else { continue };
            let missing = -nearest.gap(later.bar.tube.outside, earlier.bar.tube.outside);
            if missing > FITTED {
                let reach = (later.bar.tube.outside + earlier.bar.tube.outside) / 2.0;
                let out = clearing::describe(&later.chords, &earlier.chords, reach);
                let why = format!("It runs into the {} by {}. {out}", words(other), missing.in_both());
                faults.push(Fault::new(one.clone(), why));
            }
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::record::measures::TapeMeasure;
    use crate::domain::cage::solve;
    use crate::quantity::{Length, Typed};

    /// A dash bar so low that it runs through the door bars' and struts' room is told so.
    #[test]
    fn bars_that_run_into_each_other_are_named() {
        let mut record = example_record();
        let low = Typed::of(Length::from_inches(4.5), "4 1/2 in");
        record.measures.insert(TapeMeasure::DashBarHeight, low);
        let cage = solve(&record, &TUBES);
        assert!(cage.faults.iter().any(|fault| fault.why.contains("runs into the")), "{:?}", cage.faults);
    }
}
