//! What the lowering sheet shows.

use askama::Template;

use crate::domain::cage::Cage;
use crate::domain::derived::findings::Findings;
use crate::domain::derived::lowering_steps::{State, Step, Task};
use crate::domain::derived::release::Release;
use crate::domain::recorded::lowering::Look;
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::cautions;
use crate::domain::words::ids::Balloon;
use crate::domain::work::lowering::{GUSSETS, Hole, Plan, RoofJoint, TAKEN, UNDER, UP, WAY_UP, shot_under};
use crate::drawing::Mark;
use crate::drawing::lowering::{Drawing, from_above, hole as draw_hole, side};
use crate::quantity::{Length, Show as _, Units};
use crate::web::form::{Field, Form, Keeping};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address, walk_address};
use crate::web::shown::picture::{Picture, kept_pictures};
use crate::web::svg::Svg;

/// The drawings' frame and type; on a phone their words stay readable.
const FRAME: (Length, Length) = (Length::from_mm(150.0), Length::from_mm(105.0));
/// The side view's frame: it has the roof's line, the shop's floor and their names as well.
const SIDE: (Length, Length) = (Length::from_mm(150.0), Length::from_mm(135.0));
const SIZE: Length = Length::from_mm(4.2);

/// The plan of one cage.
#[derive(Template)]
#[template(path = "lowering/lowering.html")]
pub(crate) struct LoweringSheet {
    sheet: Sheet,
    base: String,
    rounds: String,
    cage: String,
    wanted: bool,
    chosen: bool,
    may_plan: bool,
    plan: Option<Shown>,
    /// What somebody else chose meanwhile, where that is not what is chosen here.
    theirs: &'static str,
    keeping: Keeping,
    fields: Vec<Field>,
    faults: Vec<String>,
}

struct Shown {
    drop: String,
    drop_reckoned: String,
    under: String,
    under_reckoned: String,
    taken: &'static str,
    gussets: &'static str,
    short_under: String,
    held: String,
    hole_count: usize,
    weld_count: usize,
    lowers: bool,
    roof: String,
    release: String,
    blocked: bool,
    drawings: Vec<Svg>,
    joints: Vec<Joint>,
    holes: Vec<HoleShown>,
    left_out: Vec<(Part, String, String)>,
    welds: Vec<(Part, String, Vec<Part>)>,
    out_of_reach: Vec<(Part, Part)>,
    steps: Vec<StepShown>,
    heights: Vec<(String, String, String)>,
    diagonals: String,
    up: Ticks,
    /// Whether the way back up was ticked for another plan.
    up_void: bool,
}

struct Part {
    balloon: String,
    to: String,
}

struct Joint {
    part: Part,
    bars: Vec<Part>,
    top: String,
    roof: String,
    gap: String,
    short: String,
}

struct HoleShown {
    place: String,
    plate: Part,
    bar: Part,
    saw: String,
    wide: String,
    long: String,
    reckoned: String,
    /// Which way it lies and where its middle is.
    lies: String,
    svg: Svg,
    covered: String,
    uncovered: bool,
    moved: bool,
    ticks: Ticks,
    photograph: String,
    pictures: Vec<Picture>,
}

struct Ticks {
    done: bool,
    description: String,
    note: Field,
    lines: Vec<(&'static str, &'static str, bool)>,
    why: String,
}

struct StepShown {
    what: String,
    parts: Vec<Part>,
    sign: &'static str,
    word: &'static str,
    blocked_by: String,
    /// What it rests on and is not there, where it was ticked all the same.
    missing: String,
    /// Whether it was ticked for another plan.
    void: bool,
    /// Its place among the ticks; empty where it has no tick of its own here.
    place: &'static str,
    /// Whether it is ticked for this plan.
    on: bool,
    /// Who ticked it last, and when.
    description: String,
}

impl LoweringSheet {
    /// From the plan, what was looked at, and what was typed so far; `faulty` is the place of a look that was refused.
    pub(crate) fn of(
        seen: &Seen,
        found: &Findings,
        plan: Option<&(Plan, Release)>,
        (form, faulty): (&Form, Option<&str>),
    ) -> Self {
        let blank = Form::empty(seen.who.units);
        let own = if faulty.is_none() { form } else { &blank };
        let fields = vec![
            own.field("room", "Room over a joint for the torch").hint("Torch, hand and a look at it: 6 in or 150 mm."),
            own.field("over", "Hole over the tube's diameter").hint("Our own choice: 1/4 in, half of it at each side."),
            own.field("roof_front", "Roof: height inside, at the windscreen header")
                .hint("From the floor's level to the roof over the header. Left empty, no room is taken to be there."),
            own.field("under", "The car's floor over the shop's, on the stands")
                .hint("As it can be put: 24 in or 600 mm."),
        ];
        let faults = own.other_faults(&fields.iter().collect::<Vec<_>>());
        Self {
            sheet: seen.sheet("Lowering"),
            base: seen.address("/lowering"),
            rounds: seen.address("/rounds"),
            cage: seen.address("/cage"),
            wanted: found.worked.lowering.is_some(),
            chosen: own.text("wanted") == "yes",
            may_plan: may(seen.who.ctx.by.role, Deed::SetUpBuilds),
            plan: plan.map(|planned| Shown::of(seen, found, planned, (form, faulty))),
            theirs: match own.theirs("wanted") {
                None => "",
                Some("yes") => "Theirs: this cage is lowered.",
                Some(_) => "Theirs: this cage is not lowered.",
            },
            keeping: own.keeping(),
            fields,
            faults,
        }
    }
}

fn part(seen: &Seen, balloon: Balloon) -> Part {
    Part { balloon: balloon.to_string(), to: seen.address(&part_address(balloon)) }
}

impl Shown {
    fn of(seen: &Seen, found: &Findings, (plan, release): &(Plan, Release), typed: (&Form, Option<&str>)) -> Self {
        let (cage, units, looks) = (&found.worked.cage, seen.who.units, &seen.facts.looks);
        let part = |balloon: &Balloon| part(seen, *balloon);
        let parts = |balloons: &[Balloon]| balloons.iter().map(part).collect::<Vec<_>>();
        let role = |bar: Balloon| cage.member(bar).map_or("bar", |bar| bar.role.word()).to_owned();
        let (up_void, mut up) =
            (plan.up_is_void(looks), Ticks::of(seen, WAY_UP, (&UP, plan.up_again(looks).is_some()), typed));
        if up_void && typed.1 != Some(WAY_UP) {
            // What was ticked for another plan is ticked anew, one by one.
            up.lines.iter_mut().for_each(|line| line.2 = false);
        }
        let drawn = |draw: fn(&Cage, &Plan, Drawing) -> Vec<Mark>, frame| {
            let marks = draw(cage, plan, Drawing { frame, size: SIZE, units });
            Svg::of(&marks, frame, |balloon| Some(seen.address(&part_address(*balloon))))
        };
        Self {
            drop: plan.drop.by_tape_at_least(units),
            drop_reckoned: plan.drop_reckoned(units),
            under: plan.under.by_tape_at_least(units),
            under_reckoned: plan.under_reckoned(units),
            taken: TAKEN,
            gussets: GUSSETS,
            held: cautions::held(&cage.mass().show(units)),
            short_under: plan.short_under().map(|by| by.by_tape_at_least(units)).unwrap_or_default(),
            hole_count: plan.holes.len(),
            weld_count: plan.welds.len(),
            lowers: plan.drop > Length::default(),
            roof: plan.roof.map(|roof| roof.by_tape(units)).unwrap_or_default(),
            release: release.describe(),
            blocked: release.blocks(),
            drawings: vec![drawn(side, SIDE), drawn(from_above, FRAME)],
            joints: plan.joints.iter().map(|joint| Joint::of(seen, joint, units)).collect(),
            holes: plan.holes.iter().map(|hole| HoleShown::of(seen, (cage, plan), hole, typed)).collect(),
            left_out: plan
                .left_out
                .iter()
                .map(|left| (part(&left.bar), role(left.bar), left.why.describe(units)))
                .collect(),
            welds: plan.welds.iter().map(|weld| (part(&weld.joint), weld.describe(), parts(&weld.later))).collect(),
            out_of_reach: plan.out_of_reach.iter().map(|(joint, bar)| (part(joint), part(bar))).collect(),
            steps: plan.steps(release, looks, units).iter().map(|step| StepShown::of(seen, step)).collect(),
            heights: plan
                .heights
                .iter()
                .map(|height| (height.what.clone(), height.is.by_tape(units), height.typed.clone()))
                .collect(),
            diagonals: plan.diagonals.as_ref().map(|across| across.describe(units)).unwrap_or_default(),
            up,
            up_void,
        }
    }
}

impl Joint {
    fn of(seen: &Seen, joint: &RoofJoint, units: Units) -> Self {
        Self {
            part: part(seen, joint.joint),
            bars: joint.ends.iter().map(|bar| part(seen, *bar)).collect(),
            top: joint.top.by_tape(units),
            roof: joint.roof.map(|roof| roof.by_tape(units)).unwrap_or_default(),
            gap: joint.gap.by_tape_at_most(units),
            short: if joint.short > Length::default() { joint.short.by_tape_at_least(units) } else { String::new() },
        }
    }
}

impl HoleShown {
    fn of(seen: &Seen, (cage, plan): (&Cage, &Plan), hole: &Hole, typed: (&Form, Option<&str>)) -> Self {
        let (units, looks, place) = (seen.who.units, &seen.facts.looks, hole.plate.to_string());
        let done = plan.looked_at(hole, looks).is_some();
        let last = looks.iter().find(|look| look.place == place);
        let all = last.is_some_and(|look| UNDER.iter().all(|(key, _)| look.ticked.iter().any(|one| one == key)));
        let lies = cage.plate(hole.plate).map(|plate| hole.lies(plate, units)).unwrap_or_default();
        let frame = (Length::from_mm(60.0), Length::from_mm(44.0));
        let drawn = draw_hole(cage, hole, Drawing { frame, size: SIZE, units });
        let uncovered = hole.covered < Length::default();
        Self {
            plate: part(seen, hole.plate),
            bar: part(seen, hole.bar),
            saw: hole.saw.by_tape_at_least(units),
            wide: hole.wide.by_tape_at_least(units),
            long: hole.long.by_tape_at_least(units),
            reckoned: hole.reckoned(&plan.settings.over, units),
            lies,
            svg: Svg::of(&drawn, frame, |_| None),
            covered: if uncovered {
                (-hole.covered).by_tape_at_least(units)
            } else {
                hole.covered.by_tape_at_most(units)
            },
            uncovered,
            moved: all && !done,
            ticks: Ticks::of(seen, &place, (&UNDER, done), typed),
            photograph: seen.address(&walk_address(&shot_under(hole.plate))),
            pictures: kept_pictures(seen, &shot_under(hole.plate)),
            place,
        }
    }
}

impl Ticks {
    fn of(
        seen: &Seen,
        place: &str,
        (list, done): (&[(&'static str, &'static str)], bool),
        (form, faulty): (&Form, Option<&str>),
    ) -> Self {
        let clock = &seen.who.ctx.clock;
        let last: Option<&Look> = seen.facts.looks.iter().find(|look| look.place == place);
        let refused = faulty == Some(place);
        let ticked =
            if refused { form.chosen("ticked") } else { last.map(|look| look.ticked.clone()).unwrap_or_default() };
        let name = format!("note_{place}");
        let recorded = vec![(name.clone(), last.map(|look| look.note.clone()).unwrap_or_default())];
        let recorded = Form::filled(seen.who.units, recorded);
        let own = if refused { form } else { &recorded };
        let note = own.field_named(name, "A note");
        let why = own.other_faults(&[&note]).join(" ");
        Self {
            done,
            description: last.map(|look| format!("{}, {}", look.by, clock.minute_of(look.at))).unwrap_or_default(),
            lines: list.iter().map(|(key, words)| (*key, *words, ticked.iter().any(|one| one == key))).collect(),
            note,
            why,
        }
    }
}

impl StepShown {
    fn of(seen: &Seen, step: &Step) -> Self {
        let (key, clock) = (step.task.key(), &seen.who.ctx.clock);
        // The way back up has a list of its own further down.
        let own = step.task != Task::Up && Task::ticked_at(key).is_some();
        let last = seen.facts.looks.iter().find(|look| look.place == key && !look.ticked.is_empty());
        let (sign, word) = match step.state {
            State::Done => ("full", "done"),
            State::OutOfTurn => ("stop", "ticked before its turn"),
            State::Open => ("open", "to do"),
            State::Blocked => ("stop", "blocked"),
        };
        Self {
            what: step.what.clone(),
            parts: step.parts.iter().map(|balloon| part(seen, *balloon)).collect(),
            sign,
            word,
            blocked_by: step.blocked_by.clone(),
            missing: step.missing.clone(),
            void: step.void,
            place: if own { key } else { "" },
            on: last.is_some() && !step.void,
            description: last.map(|look| format!("{}, {}", look.by, clock.minute_of(look.at))).unwrap_or_default(),
        }
    }
}
