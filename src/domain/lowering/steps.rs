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
        let bars = |placed: &[Placed]| placed.iter().map(|placed| placed.bar).collect::<Vec<_>>();
        let joints: Vec<Balloon> = self.welds.iter().map(|weld| weld.joint).collect();
        let up = self.up_again(looks).is_some();
        let open: Vec<Balloon> =
            self.holes.iter().filter(|hole| self.looked_at(hole, looks).is_none()).map(|hole| hole.plate).collect();
        let step = |what: String, parts: Vec<Balloon>, done: bool, blocked_by: String| {
            let state = match (done || up, blocked_by.is_empty()) {
                (true, _) => State::Done,
                (false, true) => State::Open,
                (false, false) => State::Blocked,
            };
            Step { what, parts, state, blocked_by: if state == State::Blocked { blocked_by } else { String::new() } }
        };
        let named = |parts: &[Balloon]| parts.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
        let held = if release.blocks() { format!("the release of {}", named(&joints)) } else { String::new() };
        let unseen = if open.is_empty() { String::new() } else { format!("the look under {}", named(&open)) };
        let both = [held.as_str(), unseen.as_str()].into_iter().filter(|why| !why.is_empty());
        let both = both.collect::<Vec<_>>().join(" and ");
        let short = self.short_under().map(|by| format!("room under the car, {} short", by.by_tape(units)));
        let down = [Some(both.clone()).filter(|why| !why.is_empty()), short].into_iter().flatten();
        let down = down.collect::<Vec<_>>().join(" and ");
        let plates: Vec<Balloon> = self.holes.iter().map(|hole| hole.plate).collect();
        vec![
            step(
                "Tack these bars in place, feet at the height of their plates, each after those it stands on."
                    .to_owned(),
                bars(&self.first),
                false,
                String::new(),
            ),
            step(
                "Photograph these joints tacked, and ask for the release of just these in a round.".to_owned(),
                joints.clone(),
                !release.blocks(),
                String::new(),
            ),
            step(
                "Look under the floor at each foot, photograph it from below, tick what is not there.".to_owned(),
                plates.clone(),
                open.is_empty(),
                String::new(),
            ),
            step(
                "Cut the holes. Nothing that lies under them is in the way of saw or sparks.".to_owned(),
                plates.clone(),
                false,
                both,
            ),
            step(
                format!(
                    "Put the car on stands: its floor at least {} over the shop's, nobody under it.",
                    self.under.by_tape(units)
                ),
                Vec::new(),
                false,
                String::new(),
            ),
            step(
                format!("Take the plates away, let the cage down by {}, and block it there.", self.drop.by_tape(units)),
                Vec::new(),
                false,
                down,
            ),
            step("Weld these joints, and no others.".to_owned(), joints, false, held),
            step(
                "Bring the cage up: plates under, feet on plates, heights checked.".to_owned(),
                plates,
                up,
                String::new(),
            ),
            step(
                "Fit and tack these bars, each after those it stands on; then the whole cage goes to the scrutineer."
                    .to_owned(),
                bars(&self.after),
                false,
                if up { String::new() } else { "the cage standing on its plates again".to_owned() },
            ),
        ]
    }
}
