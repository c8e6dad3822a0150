//! The cage as it is cut, and what the rules say of it.

use std::cell::RefCell;

use jiff::civil::Date;

use crate::domain::cage::{Cage, CageRecord, Fixing, figures as of_the_model, gap_figures};
use crate::domain::facts::BuildFacts;
use crate::domain::figures::{Figure, Measure, Measured};
use crate::domain::ids::{Balloon, Kind};
use crate::domain::rule_books::{ClassAnswer, RuleBook};
use crate::domain::shots::{self, Shot};
use crate::domain::verdicts::{Bar, GussetAt, JointOf, Known, Verdict, judge};
use crate::quantity::Length;

/// The cage with every bar that is cut in its stick's tube, whatever tube the class asks for by now: a re-weigh never makes a
/// wall thicker. Lines, copes and lengths stay as they were worked out. And the cage as it was worked out, but with gaps
/// that count from the tubes the bars are cut from.
pub(super) fn as_cut(cage: Cage, record: &CageRecord, facts: &BuildFacts) -> (Cage, Cage) {
    let built = cage.in_tubes(record, |bar| facts.stick_of(bar).map(|stick| stick.size.value));
    let cage = cage.beside_as(&built);
    (built, cage)
}

/// What the model and the sticks know, and what people read off the car.
pub(super) fn figures(facts: &BuildFacts, cage: &Cage, record: &CageRecord) -> Vec<Figure> {
    let mut figures = of_the_model::figures(cage, record);
    for figure in &mut figures {
        if let (Measure::TubeOutside | Measure::TubeWall, Some(stick)) = (figure.measure, facts.stick_of(figure.of)) {
            figure.from = format!("the stick S{} it is cut from", stick.number);
        }
    }
    let read = measured(facts, cage);
    // What a person read off the car stands instead of what follows from the places of the body and the seats.
    let unread = |own: &Figure| !read.iter().any(|read| (read.measure, read.of) == (own.measure, own.of));
    figures.extend(gap_figures(cage).into_iter().filter(unread));
    figures.extend(read);
    figures
}

/// What people read off the car, as figures of the parts that are still there.
fn measured(facts: &BuildFacts, cage: &Cage) -> Vec<Figure> {
    let figure = |measured: &Measured| {
        let plate = if measured.of.kind == Kind::Plate { Some(cage.plate(measured.of)?) } else { None };
        let bar = match measured.of.kind {
            Kind::Member => Some(cage.member(measured.of)?),
            _ => plate.and_then(|plate| cage.member(plate.under)),
        };
        Some(Figure {
            measure: measured.measure,
            of: measured.of,
            role: bar.map(|bar| bar.role),
            diameter: bar.map_or(Length::default(), |bar| bar.tube.outside),
            amount: measured.amount,
            from: match measured.tool {
                Some(tool) => format!("measuring, by {}, {}: “{}”", measured.by, tool.word(), measured.text),
                None => format!("measuring, by {}: “{}”", measured.by, measured.text),
            },
            tool: measured.tool,
        })
    };
    facts.measured.iter().filter_map(figure).collect()
}

/// What every rule says, and the photographs that were looked for.
pub(super) fn judged(
    rules: &RuleBook,
    facts: &BuildFacts,
    cage: &Cage,
    figures: &[Figure],
    (class, today): (Option<&ClassAnswer>, Date),
) -> (Vec<Verdict>, Vec<Shot>) {
    let members: Vec<Bar> = cage.members.iter().map(Bar::from).collect();
    let joints: Vec<JointOf> = cage.joints.iter().map(|joint| JointOf::of(cage, joint)).collect();
    let gussets: Vec<GussetAt> = cage.gussets.iter().map(GussetAt::from).collect();
    let plates = cage.plates.iter().map(|plate| plate.balloon);
    let sticks = facts.sticks.iter().map(|stick| Balloon::new(Kind::Stick, stick.number));
    // A weigh-in that another followed is history; only the newest decides.
    let weighed = facts.weigh_ins.first().map(|weigh_in| Balloon::new(Kind::WeighIn, weigh_in.number));
    let parts: Vec<Balloon> = plates.chain(sticks).chain(weighed).collect();
    let welded: Vec<Balloon> =
        cage.plates.iter().filter(|plate| plate.fixed == Fixing::Welded).map(|plate| plate.balloon).collect();
    // The judging itself says which photographs it looked for: there is no second list that could differ.
    let asked: RefCell<Vec<(String, Balloon)>> = RefCell::default();
    let photographed = |key: &str, of: &Balloon| {
        let entry = (key.to_owned(), *of);
        let mut asked = asked.borrow_mut();
        if !asked.contains(&entry) {
            asked.push(entry);
        }
        !shots::answers(facts, key, *of).is_empty()
    };
    let verdicts = judge(
        rules,
        &Known {
            figures,
            members: &members,
            joints: &joints,
            gussets: &gussets,
            parts: &parts,
            class,
            welded: &welded,
            car: &facts.car,
            met: RefCell::default(),
            kit: &facts.kit,
            event_day: facts.build.event_day,
            today,
            photographed: &photographed,
        },
    );
    let shots = shots::list(rules, cage, facts, &asked.into_inner());
    (verdicts, shots)
}
