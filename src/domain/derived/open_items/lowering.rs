//! What is open on a cage that will be lowered: the release it waits for, the looks under its holes, what does not fit.

use super::{OpenItem, Place, Sort, Waits};
use crate::domain::derived::findings::Findings;
use crate::domain::derived::hold::named;
use crate::domain::derived::lowering_steps::{State, Step};
use crate::domain::derived::release::Release;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::work::lowering::Plan;
use crate::quantity::{Length, Units};

/// Until the cage is up again.
pub(super) fn lowering(facts: &BuildFacts, found: &Findings, units: Units) -> Vec<OpenItem> {
    let Some(plan) = &found.worked.lowering else { return Vec::new() };
    let steps = plan.steps(&found.release, &facts.looks, units);
    if steps.iter().all(|step| step.state == State::Done) || plan.drop == Length::default() {
        return Vec::new();
    }
    let mut open = Vec::new();
    let item = |what: String, waits: Waits| OpenItem::missing(what, waits, Place::Lowering);
    open.extend(of_release(plan, &found.release));
    open.extend(of_steps(&steps));
    for hole in plan.holes.iter().filter(|hole| hole.covered < Length::default()) {
        let by = (-hole.covered).by_tape_at_least(units);
        let what = format!("The plate does not cover the hole under it: {by} of the hole stay open");
        open.push(OpenItem::missing(what, Waits::Fabricator, Place::Lowering).at(hole.plate).sort(Sort::Fails));
    }
    for hole in plan.holes.iter().filter(|hole| plan.looked_at(hole, &facts.looks).is_none()) {
        let what = "Look under the floor where the hole is cut: lines, tank, harness, frame".to_owned();
        open.push(item(what, Waits::Fabricator).at(hole.plate));
    }
    if plan.settings.under.is_none() {
        let what = format!(
            "Say how far the car's floor is over the shop's on its stands: the legs want {}",
            plan.under.by_tape_at_least(units)
        );
        open.push(item(what, Waits::Fabricator));
    }
    if let Some(by) = plan.short_under() {
        let what =
            format!("The car stands {} too low for the legs that come through its floor", by.by_tape_at_least(units));
        open.push(item(what, Waits::Fabricator).sort(Sort::Fails));
    }
    for (joint, bar) in &plan.out_of_reach {
        let what = format!(
            "{bar} comes to this joint when the cage is up again, and its upper seam has no room there: settle how it is reached"
        );
        open.push(item(what, Waits::Fabricator).at(*joint));
    }
    open
}

/// What the plan waits for of the scrutineer's release.
fn of_release(plan: &Plan, release: &Release) -> Option<OpenItem> {
    let joints = named(plan.welds.iter().map(|weld| &weld.joint));
    let (what, waits, place) = match release {
        Release::NotAsked => (
            format!(
                "Lowering is blocked: {joints} would be fully welded before the cage is approved. Ask for the release of just these in a round"
            ),
            Waits::Office,
            Place::Rounds,
        ),
        Release::Waits(round) => (
            format!("Lowering is blocked: round {round} asks for the release of {joints}, and the reply is awaited"),
            Waits::Scrutineer,
            Place::Rounds,
        ),
        Release::Refused(round) => (
            format!("Lowering is blocked: the reply to round {round} did not release {joints}"),
            Waits::Office,
            Place::Rounds,
        ),
        Release::Conditions(round) => (
            format!(
                "Lowering is blocked: what round {round} released of {joints} waits for a condition that is not met"
            ),
            Waits::Office,
            Place::Questions,
        ),
        Release::Unreadable(round) => (
            format!(
                "Lowering is blocked: what round {round} asked cannot be read. Ask for the release of {joints} in a new round"
            ),
            Waits::Office,
            Place::Rounds,
        ),
        Release::Partly { given, missing } => (
            format!(
                "Lowering is blocked: round {} released less than is welded then; {} waits",
                given.round,
                named(missing)
            ),
            Waits::Office,
            Place::Rounds,
        ),
        Release::Lapsed { round, what } => (
            format!("Lowering is blocked: not as released in round {round}. {}", what.join(" ")),
            Waits::Office,
            Place::Lowering,
        ),
        Release::NothingToAsk | Release::Given(_) | Release::WholeCage => return None,
    };
    Some(OpenItem::missing(what, waits, place))
}

/// What was ticked before its turn or for another plan, and what comes next.
fn of_steps(steps: &[Step]) -> Vec<OpenItem> {
    let item = |what: String| OpenItem::missing(what, Waits::Fabricator, Place::Lowering);
    let early = steps.iter().filter(|step| step.state == State::OutOfTurn).map(|step| {
        item(format!("Lowering: {} is ticked, and this is not there: {}", step.task.gives(), step.missing))
            .sort(Sort::Fails)
    });
    let void = steps.iter().filter(|step| step.void).map(|step| {
        item(format!(
            "Lowering: {} was ticked for an earlier plan, which does not count: look at the plan, and tick it again",
            step.task.gives()
        ))
    });
    let done = steps.iter().filter(|step| step.state == State::Done).count();
    let next = steps.iter().find(|step| step.state == State::Open);
    let next = next.map(|step| {
        item(format!("Lowering, {done} of {} steps done; next: {}", steps.len(), step.what.trim_end_matches('.')))
    });
    early.chain(void).chain(next).collect()
}
