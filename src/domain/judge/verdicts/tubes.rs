//! Judging the weight class and every bar's tube against it.

use crate::domain::book::kinds::TubeRow;
use crate::domain::book::{ClassAnswer, ClassTubes, Rule, RuleBook};
use crate::domain::measure::amounts::{Amount, LimitText};
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::basis::Basis;

use super::known::{Bar, BarTube, CAR, Known};
use super::verdict::{Answer, Verdict};
use super::weighed::{Finished, Weighed};

/// The view under which the photograph of a certificate or mark is kept that says how the tube was made.
pub(in crate::domain) const MADE: &str = "made";

/// The class itself, then each bar's tube, then how the tube was made.
pub(super) fn judge(book: &RuleBook, known: &Known<'_>) -> Vec<Verdict> {
    let mut verdicts: Vec<Verdict> = Vec::new();
    if let Some(weight) = &book.weight
        && !book.weight_classes.is_empty()
    {
        verdicts.push(of_class(&weight.rule, known).settled(&weight.rule, known));
    }
    let hoops = book.weight.iter().flat_map(|weight| &weight.hoop_bars).collect::<Vec<_>>();
    match known.class.and_then(Weighed::asks).and_then(|answer| Some((answer, rule_of(book, answer)?))) {
        Some((answer, rule)) => {
            let judged = known.members.iter().map(|bar| of_bar(rule, answer, bar, hoops.contains(&&bar.role)));
            verdicts.extend(judged.map(|verdict| verdict.settled(rule, known)));
            verdicts.extend(of_making(rule, answer, known));
        }
        None => verdicts.extend(book.weight_classes.iter().map(|class| {
            let because = match known.class {
                Some(_) => "The finished car is in no class of the book, so no tube can be compared.",
                None => "The car's class is not known, so no tube can be compared. Weigh the car.",
            };
            Verdict::new(&class.rule, None, Answer::NotMeasured).because(because)
        })),
    }
    verdicts
}

fn rule_of<'a>(book: &'a RuleBook, answer: &ClassAnswer) -> Option<&'a Rule> {
    book.weight_classes.iter().map(|class| &class.rule).find(|rule| rule.id == answer.rule_id)
}

/// The class, by the scale alone where the finished car stood on it, else by what it is foreseen to finish at.
fn of_class(rule: &Rule, known: &Known<'_>) -> Verdict {
    let Some(weighed) = known.class else {
        return Verdict::new(rule, None, Answer::NotMeasured).because("No weigh-in gives a class yet.");
    };
    let now = &weighed.now;
    let description = format!("The car weighed in the class “{}”.", now.class);
    match &weighed.finished {
        Finished::OnTheScale => {
            let verdict = by_scale(rule, now).because(description);
            if now.too_close {
                verdict.because("The edge is within the doubt of the scale; the body's own scale decides.")
            } else {
                verdict
            }
        }
        Finished::Foreseen(then) => foreseen(rule, now, then, description),
        Finished::InNoClass(why) => {
            let verdict = Verdict::new(rule, None, Answer::ScrutineerDecides).on(Basis::Drawn).because(description);
            verdict.because(UNFINISHED).because(format!("The finished car would be in no class: {why}"))
        }
        Finished::NotKnown => {
            let verdict = Verdict::new(rule, None, Answer::NotMeasured).on(Basis::Measured);
            let verdict = verdict.limited(LimitText::words(now.edges.clone())).because(description);
            verdict.because(UNFINISHED).because("How much the cage adds is not known before it is wholly laid out.")
        }
    }
}

const UNFINISHED: &str = "Its cage was not in it on the scale; the finished car decides.";

fn by_scale(rule: &Rule, now: &ClassAnswer) -> Verdict {
    let answer = if now.too_close { Answer::TooClose } else { Answer::Meets(Basis::Measured) };
    let mut verdict = Verdict::new(rule, None, answer).on(Basis::Measured);
    verdict.figure = Some(Amount::Mass(now.total));
    verdict.margin = now.edge.map(|edge| Amount::Mass(edge.abs()));
    verdict.limited(LimitText::words(now.edges.clone()))
}

/// The class of a car that was weighed without its cage: what it finishes at, against the class it weighed in.
fn foreseen(rule: &Rule, now: &ClassAnswer, then: &ClassAnswer, description: String) -> Verdict {
    let (answer, because) = if then.too_close {
        let because = format!(
            "By the finished weight foreseen it is in the class “{}”, nearer to the edge than can be told before it is \
             finished and weighed.",
            then.class
        );
        (Answer::TooClose, because)
    } else if then.rule_id == now.rule_id {
        (Answer::Meets(Basis::Measured), "It is predicted to finish in the same class.".to_owned())
    } else {
        let side = if then.total > now.total { Answer::OverBy } else { Answer::ShortBy };
        (side, format!("It is predicted to finish in the class “{}”, and that class's tube is asked for.", then.class))
    };
    let mut verdict = Verdict::new(rule, None, answer).on(Basis::Measured).on(Basis::Drawn);
    verdict.figure = Some(Amount::Mass(then.total));
    verdict.margin = then.edge.map(|edge| Amount::Mass(edge.abs()));
    verdict.limited(LimitText::words(now.edges.clone())).because(description).because(UNFINISHED).because(because)
}

fn rows(tubes: &ClassTubes, hoop: bool) -> &[TubeRow] {
    if hoop { &tubes.hoop } else { &tubes.other }
}

/// The tube of a bar that is cut, by its stick; one that is only planned may fall short by its plan, and never meets.
fn of_bar(rule: &Rule, asks: &ClassAnswer, bar: &Bar, hoop: bool) -> Verdict {
    let wanted = rows(&asks.tubes, hoop);
    let (tube, answer, description) = match bar.tube {
        BarTube::OfStick(size, stick) => {
            let description = format!("{} is {} of {size}, cut from {stick}.", bar.balloon, bar.role.word());
            (size, Answer::Meets(Basis::Recorded), description)
        }
        BarTube::Planned(size) => {
            let description = format!(
                "{} is {}, planned in {size}; no stick is recorded that it is cut from.",
                bar.balloon,
                bar.role.word()
            );
            (size, Answer::NotMeasured, description)
        }
    };
    let basis = if matches!(bar.tube, BarTube::OfStick(..)) { Basis::Recorded } else { Basis::Drawn };
    let limit = LimitText::words(format!("at least {}", TubeRow::sizes(wanted)));
    let verdict = |answer| {
        Verdict::new(rule, Some(bar.balloon), answer).on(basis).limited(limit.clone()).because(description.clone())
    };
    let reaches = |rows: &[TubeRow]| rows.iter().any(|row| row.reached_by(&tube));
    let here = reaches(wanted);
    // within the doubt the car may be in the class beside: the tube must do in both, or in neither
    let differs = asks.neighbours.iter().find(|beside| reaches(rows(&beside.tubes, hoop)) != here);
    if let Some(beside) = differs {
        let because = format!("By the doubt the car may be in the class “{}”, which answers otherwise.", beside.class);
        return verdict(Answer::TooClose).because(because);
    }
    let planned = matches!(bar.tube, BarTube::Planned(_));
    if here { Verdict { uncut: planned, ..verdict(answer) } } else { short(verdict(Answer::ShortBy), &tube, wanted) }
}

/// By how much a tube falls short of the row it comes nearest to.
fn short(mut verdict: Verdict, tube: &TubeSize, wanted: &[TubeRow]) -> Verdict {
    let lack = |row: &TubeRow| {
        let outside = (row.size.outside - tube.outside).mm().max(0.0);
        let wall = (row.size.wall - tube.wall).mm().max(0.0);
        (outside, wall)
    };
    let share = |row: &TubeRow| {
        let (outside, wall) = lack(row);
        outside / row.size.outside.mm() + wall / row.size.wall.mm()
    };
    let Some(nearest) = wanted.iter().min_by(|one, two| share(one).total_cmp(&share(two))) else { return verdict };
    let (outside, wall) = lack(nearest);
    let (what, have, want) = if wall > 0.0 {
        ("wall", tube.wall, nearest.size.wall)
    } else {
        ("outside diameter", tube.outside, nearest.size.outside)
    };
    verdict.figure = Some(Amount::Length(have));
    verdict.margin = Some(Amount::Length((want - have).abs()));
    if let Some(limit) = &mut verdict.limit {
        limit.amount = Some(Amount::Length(want));
    }
    let both = if outside > 0.0 && wall > 0.0 { "; its outside diameter is short too" } else { "" };
    verdict.because(format!("Its {what} is short of {}{both}.", nearest.size))
}

/// How a tube was made is on its certificate, not in its size: a paper must show it.
fn of_making(rule: &Rule, answer: &ClassAnswer, known: &Known<'_>) -> Option<Verdict> {
    let rows = answer.tubes.hoop.iter().chain(&answer.tubes.other);
    let mut ways: Vec<&str> = rows.flat_map(|row| &row.made).map(|made| made.word()).collect();
    ways.sort_unstable();
    ways.dedup();
    if ways.is_empty() || known.members.is_empty() {
        return None;
    }
    let key = format!("{}/{MADE}", rule.id);
    let shown = (known.photographed)(&key, &CAR);
    let answer = if shown { Answer::Meets(Basis::Seen) } else { Answer::NoPhoto };
    let because = if shown {
        "There is a photograph of the certificate or mark that says how the tube was made."
    } else {
        "How the tube was made is not judged from its size. Photograph its certificate or mark."
    };
    let limit = LimitText::words(format!("made as {}", ways.join(" or ")));
    Some(Verdict::new(rule, None, answer).limited(limit).because(because).looked_for([key], CAR))
}
