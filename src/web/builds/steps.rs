//! The first steps of a build, in order: what to do, how long it takes, what it gives.

use crate::domain::derived::findings::Findings;
use crate::domain::derived::open_items::Group;
use crate::domain::recorded::facts::BuildFacts;
use crate::web::gate::Seen;

use super::lines::Line;

/// One of them.
pub(super) struct Step {
    pub(super) number: usize,
    pub(super) verb: &'static str,
    pub(super) how: String,
    pub(super) gives: String,
    pub(super) to: String,
    /// The thing done, on the button.
    pub(super) button: &'static str,
}

/// Whether a build is only begun: it has a book, and its cage is not laid out yet.
pub(super) fn begun(facts: &BuildFacts, found: &Findings) -> bool {
    let worked = &found.worked;
    let laid_out = worked.record.missing().is_empty() && !worked.cage.members.is_empty();
    worked.rules.is_some() && worked.cage_reads && !(facts.cage.is_some() && laid_out)
}

/// The five steps: what to do, where, and what the button says.
const STEPS: [(&str, &str, &str); 5] = [
    ("Weigh the car", "/weigh-in", "Weigh-in"),
    ("Say what goes in and comes out", "/weigh-in#finished", "Goes in, out"),
    ("Choose shape and bars", "/cage", "Cage"),
    ("Measure with the tape", "/cage/tape", "Measure"),
    ("Lay the bars on sticks", "/tube", "Tube"),
];

/// The steps that are left of the five to a cage that can be cut. How long each takes is common practice.
pub(super) fn left(seen: &Seen, found: &Findings) -> Vec<Step> {
    let (facts, worked) = (&seen.facts, &found.worked);
    let measures = match worked.record.missing().len() {
        1 => "1 measure".to_owned(),
        more => format!("{more} measures, about an hour"),
    };
    let rules = worked.rules.as_ref().map_or(0, |rules| rules.rules().count());
    let first = format!("your cage: lengths, joints, a first verdict on {rules} rules");
    let carried = !facts.foreseen.is_empty() || facts.weigh_ins.iter().any(|weighed| weighed.reading.cage_in);
    // Whether it is done, how long it takes, what it gives.
    let each = [
        (!facts.weigh_ins.is_empty(), "four pads, ten minutes", "its class, and with it the tube for every bar"),
        (carried, "from a list, five minutes", "the finished weight, before tube is bought"),
        (facts.cage.is_some(), "ten minutes", "the bars that your book asks for, and what to measure"),
        (worked.record.missing().is_empty(), measures.as_str(), first.as_str()),
        (false, "after the tape", "what to buy, what each offcut is for"),
    ];
    let all = (1..).zip(STEPS).zip(each).filter(|(_, (done, ..))| !done);
    all.map(|((number, (verb, last, button)), (_, how, gives))| Step {
        number,
        verb,
        how: how.to_owned(),
        gives: gives.to_owned(),
        to: seen.address(last),
        button,
    })
    .collect()
}

/// How many of these open things no step settles.
pub(super) fn besides(lines: &[Line]) -> usize {
    let settled = |line: &&Line| {
        line.balloons.is_empty() && ["/weigh-in", "/cage", "/tube"].iter().any(|last| line.to.ends_with(last))
    };
    lines.iter().filter(|line| line.group != Group::Scrutineer && !settled(line)).map(|line| line.things).sum()
}
