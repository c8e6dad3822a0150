//! The cage as it is cut, and what the rules say of it.

use jiff::civil::Date;

use crate::domain::book::RuleBook;
use crate::domain::cage::figures::{gap_figures, of_lines as of_the_model};
use crate::domain::cage::{Around, BasicStructure, Cage, CageRecord, Fixing, Member};
use crate::domain::judge::pieces::Standing;
use crate::domain::judge::shots;
use crate::domain::judge::shots::Shot;
use crate::domain::judge::verdicts::{
    Bar, CAR, FootOf, GussetAt, JointOf, Judged, Known, Verdict, Weighed, Word, judge,
};
use crate::domain::measure::amounts::Amount;
use crate::domain::measure::figures::{Figure, Measured};
use crate::domain::measure::measures::Measure;
use crate::domain::measure::tools::Tool;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::basis::{Basis, Diameter};
use crate::domain::words::ids::{Balloon, Kind};

/// The cage with every bar that is cut in its stick's tube, whatever tube the class asks for by now: a re-weigh never makes a
/// wall thicker. Lines, copes and lengths stay as they were worked out.
pub(super) fn as_cut(cage: &Cage, facts: &BuildFacts) -> Cage {
    cage.in_tubes(|bar| facts.stick_of(bar).map(|stick| stick.size.value))
}

/// What the model and the sticks know, and what people read off the car.
pub(super) fn figures(
    (facts, standing): (&BuildFacts, Standing<'_>),
    (cage, around): (&Cage, &Around),
    record: &CageRecord,
) -> Vec<Figure> {
    let read = measured(standing, cage);
    // What a person read off the car stands instead of what follows from the places of the body and the seats, and of a
    // door's height as it was measured for the cage.
    let unread = |own: &Figure| !read.iter().any(|read| (read.measure, read.of) == (own.measure, own.of));
    let mut figures: Vec<Figure> = of_the_model::figures(cage, record).into_iter().filter(unread).collect();
    figures.extend(cage.members.iter().flat_map(|bar| of_stick(facts, bar)));
    figures.extend(gap_figures(cage, around).into_iter().filter(unread));
    figures.extend(read);
    figures.extend(of_heats(facts));
    for figure in &mut figures {
        figure.diameter = diameter(facts, cage, figure.of);
    }
    figures
}

/// The tube of a bar that is cut, by its stick. Of one that is only planned there is no such figure.
fn of_stick(facts: &BuildFacts, bar: &Member) -> Vec<Figure> {
    let Some(stick) = facts.stick_of(bar.balloon) else { return Vec::new() };
    let size = stick.size.value;
    let of = |(measure, length)| Figure {
        measure,
        of: bar.balloon,
        role: Some(bar.role),
        diameter: Diameter::None,
        amount: Amount::Length(length),
        from: format!("the stick S{} it is cut from", stick.number),
        basis: Basis::Recorded,
        tool: None,
        spread: None,
    };
    [(Measure::TubeOutside, size.outside), (Measure::TubeWall, size.wall)].map(of).into()
}

/// The diameter that a limit on a part goes by: of its bar, or the larger of the bars that a gusset joins.
fn diameter(facts: &BuildFacts, cage: &Cage, of: Balloon) -> Diameter {
    let of_bar = |balloon: Balloon| {
        let stick = facts.stick_of(balloon).map(|stick| Diameter::OfStick(stick.size.value.outside));
        let planned = || cage.member(balloon).map(|bar| Diameter::Planned(bar.tube.outside));
        stick.or_else(planned).unwrap_or_default()
    };
    match of.kind {
        Kind::Member => of_bar(of),
        Kind::Plate => cage.plate(of).map(|plate| of_bar(plate.under)).unwrap_or_default(),
        Kind::Gusset => {
            let gusset = cage.gusset(of);
            gusset.map(|gusset| of_bar(gusset.between.0).larger(of_bar(gusset.between.1))).unwrap_or_default()
        }
        _ => Diameter::None,
    }
}

/// What people read off the car, as figures of the parts that are still there and still the pieces they were read off.
fn measured(standing: Standing<'_>, cage: &Cage) -> Vec<Figure> {
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
            diameter: Diameter::None,
            amount: measured.amount,
            from: match measured.tool {
                Some(tool) => format!("measuring, by {}, {}: “{}”", measured.by, tool.word(), measured.text),
                None => format!("measuring, by {}: “{}”", measured.by, measured.text),
            },
            basis: if measured.tool == Some(Tool::Print) { Basis::Recorded } else { Basis::Measured },
            tool: measured.tool,
            spread: None,
        })
    };
    standing.measured().filter_map(figure).collect()
}

/// Shares of the steel that were read off the paper of a heat once, as figures of the other sticks of that heat.
fn of_heats(facts: &BuildFacts) -> impl Iterator<Item = Figure> {
    let cast = Measure::ALL.iter().copied().filter(|measure| measure.of_cast());
    let asked = cast.flat_map(|measure| facts.sticks.iter().map(move |stick| (measure, stick)));
    asked.filter_map(|(measure, stick)| {
        let of = Balloon::new(Kind::Stick, stick.number);
        let read = facts.of_heat(measure, of)?;
        Some(Figure {
            measure,
            of,
            role: None,
            diameter: Diameter::None,
            amount: read.amount,
            from: format!("the paper of heat {}, read for {} by {}: “{}”", stick.heat, read.of, read.by, read.text),
            basis: Basis::Recorded,
            tool: read.tool,
            spread: None,
        })
    })
}

/// What every rule says, and the photographs that were looked for.
pub(super) fn judged(
    rules: &RuleBook,
    (facts, standing): (&BuildFacts, Standing<'_>),
    (cage, structure): (&Cage, BasicStructure),
    figures: &[Figure],
    (class, today): (Option<&Weighed>, Date),
) -> (Vec<Verdict>, Vec<Shot>) {
    let members = Bar::all(cage, |bar| facts.stick_of(bar));
    let joints: Vec<JointOf> = cage.joints.iter().map(|joint| JointOf::of(joint, &members)).collect();
    let gussets: Vec<GussetAt> = cage.gussets.iter().filter_map(|gusset| GussetAt::of(cage, gusset)).collect();
    let feet = FootOf::all(cage, |foot| foot.word(structure));
    let plates = cage.plates.iter().map(|plate| plate.balloon);
    let sticks = facts.sticks.iter().map(|stick| Balloon::new(Kind::Stick, stick.number));
    // A weigh-in that another followed is history; only the newest decides.
    let weighed = facts.weigh_ins.first().map(|weigh_in| Balloon::new(Kind::WeighIn, weigh_in.number));
    let parts: Vec<Balloon> = plates.chain(sticks).chain(weighed).collect();
    let welded: Vec<Balloon> =
        cage.plates.iter().filter(|plate| plate.fixed == Fixing::Welded).map(|plate| plate.balloon).collect();
    let photographed = |key: &str, of: &Balloon| !shots::answers(standing, key, *of).is_empty();
    let Judged { mut verdicts, looked_for } = judge(
        rules,
        &Known {
            figures,
            members: &members,
            whole: cage.whole,
            joints: &joints,
            gussets: &gussets,
            feet: &feet,
            parts: &parts,
            class,
            welded: &welded,
            car: &facts.car,
            kit: &facts.kit,
            event_day: facts.build.event_day,
            today,
            photographed: &photographed,
        },
    );
    let shots = shots::list(rules, cage, (facts, standing), &looked_for);
    for verdict in &mut verdicts {
        of_earlier_piece(verdict, standing, &shots);
    }
    (verdicts, shots)
}

/// What a verdict says of figures and photographs that it does not rest on, being of the earlier piece.
fn of_earlier_piece(verdict: &mut Verdict, standing: Standing<'_>, shots: &[Shot]) {
    if verdict.word == Word::NotAsked {
        return;
    }
    let own = verdict.measure.zip(verdict.of);
    let figures: Vec<String> = own
        .into_iter()
        .chain(verdict.also.iter().copied())
        .filter_map(|(measure, of)| Some((of, standing.earlier_figure(measure, of)?)))
        .map(|(of, (read, since))| {
            let (what, text) = (read.measure.word(), &read.text);
            format!(
                "Of the earlier piece and not counted: {what} of {of}, “{text}”, measured before {}.",
                since.describe_in_both()
            )
        })
        .collect();
    let of = verdict.of.unwrap_or(CAR);
    let of_it = |shot: &&Shot| shot.of == of && !shot.taken() && shot.key.split('/').next() == Some(&verdict.rule_id);
    let photos: Vec<String> = shots
        .iter()
        .filter(of_it)
        .filter_map(|shot| Some((shot, shot.earlier.as_ref()?)))
        .map(|(shot, since)| {
            let view = shot.view.as_ref().map(|view| format!(", {view}")).unwrap_or_default();
            format!(
                "Of the earlier piece and not counted: a photograph{view}, taken before {}.",
                since.describe_in_both()
            )
        })
        .collect();
    for sentence in figures.into_iter().chain(photos) {
        verdict.rests_not_on(sentence);
    }
}
