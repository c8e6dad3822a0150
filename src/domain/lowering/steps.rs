//! The order of work: what comes after what, how far each step is, and what blocks it.

use super::{Look, Placed, Plan, Release, UNDER, UP, WAY_UP};
use crate::domain::ids::Balloon;
use crate::quantity::Units;

/// A hole that moved by more than this was not looked at, mm (own choice).
const MOVED: f64 = 10.0;

/// How far a step is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// It was done and said so.
    Done,
    /// It can be done, or nobody says when it was.
    Open,
    /// Something blocks it.
    Blocked,
}

/// One step of the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// What is done, in a sentence.
    pub what: String,
    /// The parts it is about.
    pub parts: Vec<Balloon>,
    /// How far it is.
    pub state: State,
    /// What blocks it; empty when nothing does.
    pub blocked_by: String,
}

impl Plan {
    /// The look that counts for a hole: everything ticked, at a hole that has not moved since.
    pub fn looked_at<'l>(&self, hole: &super::Hole, looks: &'l [Look]) -> Option<&'l Look> {
        let look = looks.iter().find(|look| look.place == hole.plate.to_string())?;
        let now = hole.mark();
        let stays = look.looked.len() == now.len()
            && look.looked.iter().zip(&now).all(|(then, now)| (then - now).abs() <= MOVED);
        let all = UNDER.iter().all(|(key, _)| look.ticked.iter().any(|ticked| ticked == key));
        (stays && all).then_some(look)
    }

    /// The look that says the cage is up again, everything ticked.
    pub fn up_again<'l>(&self, looks: &'l [Look]) -> Option<&'l Look> {
        let look = looks.iter().find(|look| look.place == WAY_UP)?;
        UP.iter().all(|(key, _)| look.ticked.iter().any(|ticked| ticked == key)).then_some(look)
    }

    /// The work in its order.
    pub fn steps(&self, release: &Release, looks: &[Look], units: Units) -> Vec<Step> {
        let up = self.up_again(looks).is_some();
        let waits = Waits::of(self, release, looks, units);
        let mut steps = self.steps_down(&waits, units);
        steps.extend(self.steps_up(&waits, up));
        if up {
            for step in &mut steps {
                (step.state, step.blocked_by) = (State::Done, String::new());
            }
        }
        steps
    }

    /// Until the cage hangs as low as it must.
    fn steps_down(&self, waits: &Waits, units: Units) -> Vec<Step> {
        let plates = self.plates();
        let room = self.under.by_tape_at_least(units);
        let down = both(&both(&waits.release, &waits.looks), &waits.room);
        vec![
            Step::open("Tack these bars in place, feet at the height of their plates, each after those it stands on.")
                .with(bars(&self.first)),
            Step::open("Photograph these joints tacked, and ask for the release of just these in a round.")
                .with(self.joints_welded())
                .done_when(waits.release.is_empty()),
            Step::open("Look under the floor at each foot, photograph it from below, tick what is not there.")
                .with(plates.clone())
                .done_when(waits.looks.is_empty()),
            Step::open("Cut the holes. Nothing that lies under them is in the way of saw or sparks.")
                .with(plates)
                .waiting_for(both(&waits.release, &waits.looks)),
            Step::open(&format!("Put the car on stands: its floor at least {room} over the shop's, nobody under it.")),
            Step::open(&format!(
                "Take the plates away, let the cage down by {}, and block it there.",
                self.drop.by_tape_at_least(units)
            ))
            .waiting_for(down),
        ]
    }

    /// From the weld on.
    fn steps_up(&self, waits: &Waits, up: bool) -> Vec<Step> {
        let stands = if up { "" } else { "the cage standing on its plates again" };
        vec![
            Step::open("Weld these joints, and no others.")
                .with(self.joints_welded())
                .waiting_for(waits.release.clone()),
            Step::open("Bring the cage up: plates under, feet on plates, heights checked.").with(self.plates()),
            Step::open(
                "Fit and tack these bars, each after those it stands on; then the whole cage goes to the scrutineer.",
            )
            .with(bars(&self.after))
            .waiting_for(stands.to_owned()),
        ]
    }

    fn plates(&self) -> Vec<Balloon> {
        self.holes.iter().map(|hole| hole.plate).collect()
    }

    fn joints_welded(&self) -> Vec<Balloon> {
        self.welds.iter().map(|weld| weld.joint).collect()
    }
}

impl Step {
    fn open(what: &str) -> Self {
        Self { what: what.to_owned(), parts: Vec::new(), state: State::Open, blocked_by: String::new() }
    }

    fn with(self, parts: Vec<Balloon>) -> Self {
        Self { parts, ..self }
    }

    fn done_when(self, done: bool) -> Self {
        Self { state: if done { State::Done } else { self.state }, ..self }
    }

    fn waiting_for(self, what: String) -> Self {
        Self { state: if what.is_empty() { self.state } else { State::Blocked }, blocked_by: what, ..self }
    }
}

/// What the work waits for; each empty when it is there.
struct Waits {
    release: String,
    looks: String,
    room: String,
}

impl Waits {
    fn of(plan: &Plan, release: &Release, looks: &[Look], units: Units) -> Self {
        let open = plan.holes.iter().filter(|hole| plan.looked_at(hole, looks).is_none());
        let open: Vec<Balloon> = open.map(|hole| hole.plate).collect();
        let said = |what: &str, parts: &[Balloon]| format!("{what} {}", named(parts));
        let room = plan.short_under().map(|by| format!("room under the car, {} short", by.by_tape(units)));
        Self {
            release: if release.blocks() { said("the release of", &plan.joints_welded()) } else { String::new() },
            looks: if open.is_empty() { String::new() } else { said("the look under", &open) },
            room: room.unwrap_or_default(),
        }
    }
}

fn both(one: &str, other: &str) -> String {
    let there: Vec<&str> = [one, other].into_iter().filter(|why| !why.is_empty()).collect();
    there.join(" and ")
}

fn bars(placed: &[Placed]) -> Vec<Balloon> {
    placed.iter().map(|placed| placed.bar).collect()
}

fn named(parts: &[Balloon]) -> String {
    parts.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
}
