//! The steps of a lowering: whichever evidence is there, a step is done by its own alone, and never before what it rests on.

use std::sync::LazyLock;

use proptest::prelude::*;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::hold::EarlyRelease;
use tackbook::domain::derived::lowering_steps::{State, TICK, Task};
use tackbook::domain::derived::release::Release;
use tackbook::domain::recorded::lowering::Look;
use tackbook::domain::work::lowering::{Plan, UNDER, UP};
use tackbook::quantity::Units;

use crate::full_build;

static PLAN: LazyLock<Plan> =
    LazyLock::new(|| Findings::of(&full_build::facts(), jiff::civil::date(2026, 5, 4)).worked.lowering.unwrap());

fn look(place: String, ticked: Vec<String>, looked: Vec<f64>, plan: String) -> Look {
    let at = jiff::Timestamp::UNIX_EPOCH;
    Look { place, looked, ticked, plan, note: String::new(), at, by: "fabricator".to_owned() }
}

/// The evidence of a step: what a person ticks, or looks under every hole.
fn evidence(plan: &Plan, task: Task) -> Vec<Look> {
    let all = |list: &[(&str, &str)]| list.iter().map(|(key, _)| (*key).to_owned()).collect::<Vec<_>>();
    match task {
        Task::Release => Vec::new(),
        Task::Look => {
            let under = |hole: &tackbook::domain::work::lowering::Hole| {
                look(hole.plate.to_string(), all(&UNDER), hole.mark(), plan.mark())
            };
            plan.holes.iter().map(under).collect()
        }
        Task::Up => vec![look(task.key().to_owned(), all(&UP), Vec::new(), plan.mark())],
        ticked => vec![look(ticked.key().to_owned(), vec![TICK.to_owned()], Vec::new(), plan.mark())],
    }
}

fn given(there: bool) -> Release {
    if there {
        Release::Given(EarlyRelease { round: 1, joints: Vec::new(), given_by: "scrutineer A".to_owned() })
    } else {
        Release::NotAsked
    }
}

#[test]
fn without_evidence_nothing_is_done_and_with_all_of_it_everything_is() {
    let plan = &*PLAN;
    assert!(!plan.welds.is_empty());
    let states = |release: &Release, looks: &[Look]| -> Vec<State> {
        plan.steps(release, looks, Units::Metric).iter().map(|step| step.state).collect()
    };
    assert!(!states(&given(false), &[]).contains(&State::Done));
    let all: Vec<Look> = Task::ALL.into_iter().flat_map(|task| evidence(plan, task)).collect();
    assert_eq!(states(&given(true), &all), [State::Done; 9]);
    // One piece of evidence taken away: its step is not done, nor any that rests on it.
    for task in Task::ALL {
        let rest: Vec<Look> =
            Task::ALL.into_iter().filter(|one| *one != task).flat_map(|one| evidence(plan, one)).collect();
        let steps = plan.steps(&given(task != Task::Release), &rest, Units::Metric);
        let own = steps.iter().find(|step| step.task == task).unwrap();
        assert!(matches!(own.state, State::Open | State::Blocked), "{task:?}: {own:?}");
        let after = steps.iter().filter(|step| step.state == State::OutOfTurn);
        assert!(after.clone().all(|step| !step.missing.is_empty()));
        assert!(task == Task::Fit || after.count() > 0, "{task:?}");
    }
}

proptest! {
    #[test]
    fn a_step_is_done_by_its_own_evidence_and_not_before_its_turn(there in proptest::array::uniform9(any::<bool>()), stale in any::<bool>()) {
        let plan = &*PLAN;
        let has = |task: Task| Task::ALL.into_iter().zip(there).any(|(one, there)| one == task && there);
        let mut looks: Vec<Look> =
            Task::ALL.into_iter().filter(|task| has(*task)).flat_map(|task| evidence(plan, task)).collect();
        if stale {
            for look in &mut looks {
                look.plan.push('x');
            }
        }
        let steps = plan.steps(&given(has(Task::Release)), &looks, Units::Metric);
        for step in &steps {
            let ticked = Task::ticked_at(step.task.key()).is_some();
            let evident = has(step.task) && !(stale && ticked);
            prop_assert_eq!(matches!(step.state, State::Done | State::OutOfTurn), evident, "{:?}", step);
            prop_assert_eq!(step.void, has(step.task) && stale && ticked);
        }
        let done = |task: Task| steps.iter().any(|step| step.task == task && step.state == State::Done);
        prop_assert!(!done(Task::Cut) || (done(Task::Release) && done(Task::Look) && done(Task::Stand)));
        prop_assert!(!done(Task::Weld) || (done(Task::Release) && done(Task::Down)));
        prop_assert!(!done(Task::Fit) || done(Task::Up));
    }
}
