//! Judging the weight class and every bar's tube against it.

use crate::domain::figures::Amount;
use crate::domain::rule_books::kinds::TubeRow;
use crate::domain::rule_books::{ClassAnswer, ClassTubes, Rule, RuleBook};
use crate::domain::tube::TubeSize;

use super::known::{Bar, CAR, Known};
use super::verdict::{LimitText, Verdict, Word};

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
    match known.class.and_then(|answer| Some((answer, rule_of(book, answer)?))) {
        Some((answer, rule)) => {
            let judged = known.members.iter().map(|bar| of_bar(rule, answer, bar, hoops.contains(&&bar.role)));
            verdicts.extend(judged.map(|verdict| verdict.settled(rule, known)));
            verdicts.extend(of_making(rule, answer, known));
        }
        None => verdicts.extend(book.weight_classes.iter().map(|class| {
            let because = "The car's class is not known, so no tube can be compared. Weigh the car.";
            Verdict::new(&class.rule, None, Word::NotMeasured).because(because)
        })),
    }
    verdicts
}

fn rule_of<'a>(book: &'a RuleBook, answer: &ClassAnswer) -> Option<&'a Rule> {
    book.weight_classes.iter().map(|class| &class.rule).find(|rule| rule.id == answer.rule_id)
}

fn of_class(rule: &Rule, known: &Known<'_>) -> Verdict {
    let Some(answer) = known.class else {
        return Verdict::new(rule, None, Word::NotMeasured).because("No weigh-in gives a class yet.");
    };
    let word = if answer.too_close { Word::TooClose } else { Word::Meets };
    let mut verdict = Verdict::new(rule, None, word).limited(LimitText::words(answer.edges.clone()));
    verdict.figure = Some(Amount::Mass(answer.total));
    verdict.margin = answer.edge.map(|edge| Amount::Mass(edge.abs()));
    let verdict = verdict.because(format!("The car is in the class “{}”.", answer.class));
    if answer.too_close {
        verdict.because("The edge is within the doubt of the scale; the body's own scale decides.")
    } else {
        verdict
    }
}

fn rows(tubes: &ClassTubes, hoop: bool) -> &[TubeRow] {
    if hoop { &tubes.hoop } else { &tubes.other }
}

fn of_bar(rule: &Rule, answer: &ClassAnswer, bar: &Bar, hoop: bool) -> Verdict {
    let wanted = rows(&answer.tubes, hoop);
    let reaches = |rows: &[TubeRow]| rows.iter().any(|row| row.reached_by(&bar.tube));
    let here = reaches(wanted);
    // within the doubt of the scale the car may be in the class beside: the tube must do in both, or in neither
    let differs = answer.neighbours.iter().find(|beside| reaches(rows(&beside.tubes, hoop)) != here);
    let limit = LimitText::words(format!("at least {}", TubeRow::sizes(wanted)));
    let of = Some(bar.balloon);
    let told = format!("{} is {} of {}.", bar.balloon, bar.role.word(), bar.tube);
    if let Some(beside) = differs {
        let because =
            format!("By the scale's doubt the car may be in the class “{}”, which answers otherwise.", beside.class);
        return Verdict::new(rule, of, Word::TooClose).limited(limit).because(told).because(because);
    }
    if here {
        return Verdict::new(rule, of, Word::Meets).limited(limit).because(told);
    }
    short(Verdict::new(rule, of, Word::ShortBy).limited(limit).because(told), &bar.tube, wanted)
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
    let shown = (known.photographed)(&format!("{}/{MADE}", rule.id), &CAR);
    let word = if shown { Word::Meets } else { Word::NoPhoto };
    let because = if shown {
        "There is a photograph of the certificate or mark that says how the tube was made."
    } else {
        "How the tube was made is not judged from its size. Photograph its certificate or mark."
    };
    let limit = LimitText::words(format!("made as {}", ways.join(" or ")));
    Some(Verdict::new(rule, None, word).limited(limit).because(because))
}
