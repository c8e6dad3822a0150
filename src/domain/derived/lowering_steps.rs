//! The order of work: what comes after what, how far each step is, and what blocks it.

use super::release::Release;
use crate::domain::recorded::lowering::Look;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::Balloon;
use crate::domain::words::limits;
use crate::domain::work::lowering::{Hole, Placed, Plan, UNDER, UP, WAY_UP};
use crate::quantity::Units;

/// A hole that moved by more than this was not looked at, mm (own choice).
const MOVED: f64 = 10.0;

/// One of the steps of the work, by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Task {
    /// The bars are tacked.
    Tack,
    /// The joints that are welded while the cage is down are released.
    Release,
    /// The car is put on stands.
    Stand,
    /// Somebody looks under each hole.
    Look,
    /// The holes are cut.
    Cut,
    /// The cage is let down.
    Down,
    /// The joints are welded.
    Weld,
    /// The cage is brought up again.
    Up,
    /// The bars that stayed out are fitted.
    Fit,
}

/// The one tick of a step that has no list of its own.
pub const TICK: &str = "done";

impl Task {
    /// All of them, in the order of the work.
    pub const ALL: [Self; 9] =
        [Self::Tack, Self::Release, Self::Stand, Self::Look, Self::Cut, Self::Down, Self::Weld, Self::Up, Self::Fit];

    /// Its place among the looks, and in addresses.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Tack => "tack",
            Self::Release => "release",
            Self::Stand => "stand",
            Self::Look => "look",
            Self::Cut => "cut",
            Self::Down => "down",
            Self::Weld => "weld",
            Self::Up => WAY_UP,
            Self::Fit => "fit",
        }
    }

    /// The step that a person ticks at this place; none for what is told by the hold and by the looks under the holes.
    pub fn ticked_at(place: &str) -> Option<Self> {
        let ticked = |task: &Self| !matches!(task, Self::Release | Self::Look) && task.key() == place;
        Self::ALL.into_iter().find(ticked)
    }

    /// What is there once it is done.
    pub const fn gives(self) -> &'static str {
        match self {
            Self::Tack => "the bars tacked",
            Self::Release => "the release",
            Self::Stand => "the car on stands",
            Self::Look => "the look under each hole",
            Self::Cut => "the holes cut",
            Self::Down => "the cage let down",
            Self::Weld => "the joints welded",
            Self::Up => "the cage standing on its plates again",
            Self::Fit => "the other bars tacked",
        }
    }

    /// What must be done before it.
    const fn rests_on(self) -> &'static [Self] {
        match self {
            Self::Tack | Self::Release | Self::Stand => &[],
            Self::Look => &[Self::Stand],
            Self::Cut => &[Self::Tack, Self::Release, Self::Stand, Self::Look],
            Self::Down => &[Self::Stand, Self::Cut],
            Self::Weld => &[Self::Release, Self::Down],
            Self::Up => &[Self::Down, Self::Weld],
            Self::Fit => &[Self::Up],
        }
    }
}

/// How far a step is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// Its own evidence is there, and that of all it rests on.
    Done,
    /// Its own evidence is there, and something that it rests on is not done.
    OutOfTurn,
    /// It can be done, or nobody says when it was.
    Open,
    /// Something blocks it.
    Blocked,
}

/// One step of the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// Which.
    pub task: Task,
    /// What is done, in a sentence.
    pub what: String,
    /// The parts it is about.
    pub parts: Vec<Balloon>,
    /// How far it is.
    pub state: State,
    /// What blocks it; empty when nothing does.
    pub blocked_by: String,
    /// What it rests on and is not done, where it was ticked before its turn.
    pub missing: String,
    /// Whether it was ticked for a plan that has been changed since, so that the tick counts no more.
    pub void: bool,
}

/// How the tick of a step stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ticked {
    /// Nobody ticked it, or it was taken back.
    No,
    /// It was ticked for another plan.
    Void,
    /// It was ticked for this plan.
    Current,
}

impl Plan {
    /// The look that counts for a hole: everything ticked, at a hole that has not moved since.
    pub fn looked_at<'l>(&self, hole: &Hole, looks: &'l [Look]) -> Option<&'l Look> {
        let look = looks.iter().find(|look| look.place == hole.plate.to_string())?;
        let now = hole.mark();
        let stays = look.looked.len() == now.len()
            && look.looked.iter().zip(&now).all(|(then, now)| (then - now).abs() <= MOVED);
        let all = UNDER.iter().all(|(key, _)| look.ticked.iter().any(|ticked| ticked == key));
        (stays && all).then_some(look)
    }

    /// The look that says the cage is up again, everything ticked, for this plan.
    pub fn up_again<'l>(&self, looks: &'l [Look]) -> Option<&'l Look> {
        let look = looks.iter().find(|look| look.place == WAY_UP)?;
        (self.ticked(Task::Up, looks) == Ticked::Current).then_some(look)
    }

    /// Whether the way back up was ticked for a plan that has been changed since.
    pub fn up_is_void(&self, looks: &[Look]) -> bool {
        self.ticked(Task::Up, looks) == Ticked::Void
    }

    fn ticked(&self, task: Task, looks: &[Look]) -> Ticked {
        let Some(look) = looks.iter().find(|look| look.place == task.key()) else { return Ticked::No };
        let has = |wanted: &str| look.ticked.iter().any(|ticked| ticked == wanted);
        let all = if task == Task::Up { UP.iter().all(|(key, _)| has(key)) } else { has(TICK) };
        match (all, look.plan == self.mark()) {
            (false, _) => Ticked::No,
            (true, true) => Ticked::Current,
            (true, false) => Ticked::Void,
        }
    }

    /// The work in its order. A step is done by its own evidence alone: the release by the hold, the looks by what was
    /// looked at, each other one by its own tick for this plan.
    pub fn steps(&self, release: &Release, looks: &[Look], units: Units) -> Vec<Step> {
        let waits = Waits::of(self, release, looks, units);
        // Where no joint is welded while it is down, nothing is to be released and nothing welded.
        let tasks = Task::ALL.into_iter().filter(|task| match task {
            Task::Release | Task::Weld => !self.welds.is_empty(),
            _ => true,
        });
        let mut steps: Vec<Step> = Vec::new();
        for task in tasks {
            let evidence = match task {
                Task::Release => {
                    if release.blocks() {
                        Ticked::No
                    } else {
                        Ticked::Current
                    }
                }
                Task::Look => {
                    if waits.looks.is_empty() {
                        Ticked::Current
                    } else {
                        Ticked::No
                    }
                }
                ticked => self.ticked(ticked, looks),
            };
            let undone = |on: &&Task| steps.iter().any(|step| step.task == **on && step.state != State::Done);
            let missing: Vec<&str> = task.rests_on().iter().filter(undone).map(|task| task.gives()).collect();
            let missing = missing.join(", ");
            let blocked_by = waits.of_task(task, &missing);
            let (state, blocked_by, missing) = match (evidence, missing.is_empty(), blocked_by.is_empty()) {
                (Ticked::Current, true, _) => (State::Done, String::new(), missing),
                (Ticked::Current, false, _) => (State::OutOfTurn, String::new(), missing),
                (_, _, true) => (State::Open, blocked_by, String::new()),
                (_, _, false) => (State::Blocked, blocked_by, String::new()),
            };
            let (what, parts) = self.step(task, units);
            steps.push(Step { task, what, parts, state, blocked_by, missing, void: evidence == Ticked::Void });
        }
        steps
    }

    /// What is done in a step, in a sentence, and to which parts.
    fn step(&self, task: Task, units: Units) -> (String, Vec<Balloon>) {
        match task {
            Task::Tack => (
                "Tack these bars in place, feet at the height of their plates, each after those it stands on."
                    .to_owned(),
                bars(&self.first),
            ),
            Task::Release => (
                "Photograph these joints tacked, and ask for the release of just these in a round.".to_owned(),
                self.joints_welded(),
            ),
            Task::Stand => (
                format!(
                    "Put the car on stands: its floor at least {} over the shop's, nobody under it.",
                    self.under.by_tape_at_least(units)
                ),
                Vec::new(),
            ),
            Task::Look => (
                "Look under the floor at each foot, photograph it from below, tick what is not there.".to_owned(),
                self.plates(),
            ),
            Task::Cut => (
                "Cut the holes. Nothing that lies under them is in the way of saw or sparks.".to_owned(),
                self.plates(),
            ),
            Task::Down => (
                format!(
                    "Take the plates away, let the cage down by {}, and block it there.",
                    self.drop.by_tape_at_least(units)
                ),
                Vec::new(),
            ),
            Task::Weld => ("Weld these joints, and no others.".to_owned(), self.joints_welded()),
            Task::Up => ("Bring the cage up: plates under, feet on plates, heights checked.".to_owned(), self.plates()),
            Task::Fit => (
                "Fit and tack these bars, each after those it stands on; then the whole cage goes to the scrutineer."
                    .to_owned(),
                bars(&self.after),
            ),
        }
    }

    fn plates(&self) -> Vec<Balloon> {
        self.holes.iter().map(|hole| hole.plate).collect()
    }

    fn joints_welded(&self) -> Vec<Balloon> {
        self.welds.iter().map(|weld| weld.joint).collect()
    }

    /// What the plan is, in one name: a tick stands for the plan that has it. Lengths count to a tenth of a millimetre.
    pub fn mark(&self) -> String {
        // Exhaustive: a figure that is added is part of the plan, or follows from the others.
        let Self {
            settings: _, // what they come to stands in the rest
            roof: _,
            joints: _,
            drop,
            under,
            holes,
            first,
            after,
            left_out: _, // the reasons of `after`
            welds,
            out_of_reach: _,
            heights,
            diagonals: _, // follow from the feet, over which the holes are
        } = self;
        let tenths = |mm: f64| format!("{:.1}", mm + 0.0);
        let mut description = vec![tenths(drop.mm()), tenths(under.mm())];
        for hole in holes {
            let mark: Vec<String> = hole.mark().into_iter().map(tenths).collect();
            description.push(format!("{} {} {}", hole.plate, hole.bar, mark.join(" ")));
        }
        description.extend([named(&bars(first)), named(&bars(after))]);
        description.extend(welds.iter().map(|weld| format!("{} {}", weld.joint, weld.describe())));
        description.extend(heights.iter().map(|height| format!("{} {}", height.what, tenths(height.is.mm()))));
        Fingerprint::of(description.join("\n").as_bytes()).text().to_owned()
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
        let room = plan.short_under().map(|by| format!("room under the car, {} short", by.by_tape_at_least(units)));
        Self {
            release: if release.blocks() { said("the release of", &plan.joints_welded()) } else { String::new() },
            looks: if open.is_empty() { String::new() } else { said("the look under", &open) },
            room: room.unwrap_or_default(),
        }
    }

    /// What blocks a step; `lacks` is what it rests on and is not done.
    fn of_task(&self, task: Task, missing: &str) -> String {
        match task {
            Task::Tack | Task::Release | Task::Stand | Task::Look | Task::Up => String::new(),
            Task::Cut => both(&self.release, &self.looks),
            Task::Down => both(&both(&self.release, &self.looks), &self.room),
            Task::Weld => self.release.clone(),
            Task::Fit => missing.to_owned(),
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

/// What was looked at, as it is entered.
#[derive(Debug, Clone, PartialEq)]
pub struct NewLook {
    /// The plate over which the hole is, or the step that is ticked.
    pub place: String,
    /// The plan it is ticked for, by its mark.
    pub plan: String,
    /// The hole as it is planned; empty for a step.
    pub looked: Vec<f64>,
    /// What was ticked, by key.
    pub ticked: Vec<String>,
    /// What there is to say.
    pub note: String,
}

impl NewLook {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::text_faults("note", &self.note);
        let known: Vec<&str> = match Task::ticked_at(&self.place) {
            Some(Task::Up) => UP.iter().map(|(key, _)| *key).collect(),
            Some(_) => vec![TICK],
            None => UNDER.iter().map(|(key, _)| *key).collect(),
        };
        if !self.ticked.iter().all(|key| known.contains(&key.as_str())) {
            faults.push(Fault::new("ticked", "This is not on the list. Open the sheet again."));
        }
        faults
    }
}
