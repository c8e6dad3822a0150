//! Judging the section of a plate's bolts against another foot's.

use std::f64::consts::FRAC_PI_4;

use crate::domain::book::Rule;
use crate::domain::book::kinds::SectionShare;
use crate::domain::measure::amounts::{Amount, LimitText};
use crate::domain::measure::measures::Measure;
use crate::domain::words::basis::Basis;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::roles::MemberRole;
use crate::quantity::Area;

use super::known::Known;
use super::verdict::{Answer, Verdict};

/// True when a plate is under a foot of this bar.
pub(super) fn under(part: Balloon, role: MemberRole, known: &Known<'_>) -> bool {
    known.figures.iter().any(|figure| figure.of == part && figure.role == Some(role))
}

/// The cross section of a plate's bolts by their nominal diameter, or what of it is not known.
fn of_plate(part: Balloon, double_counts_twice: bool, known: &Known<'_>) -> Result<Area, Vec<(Measure, Balloon)>> {
    let amount = |measure| known.of_part(measure, part).last().map(|figure| figure.amount);
    let (count, size) = (amount(Measure::BoltCount), amount(Measure::BoltSize));
    let (Some(Amount::Count(count)), Some(Amount::Length(size))) = (count, size) else {
        let missing = [(Measure::BoltCount, count), (Measure::BoltSize, size)];
        return Err(missing.into_iter().filter(|entry| entry.1.is_none()).map(|entry| (entry.0, part)).collect());
    };
    let planes = match amount(Measure::BoltShear) {
        Some(Amount::Count(2)) if double_counts_twice => 2.0,
        _ => 1.0,
    };
    Ok(size.times(size) * (FRAC_PI_4 * f64::from(count) * planes))
}

/// Judges a plate's bolts together against the largest of the feet that the rule names.
pub(super) fn section(rule: &Rule, share: &SectionShare, part: Balloon, known: &Known<'_>) -> Verdict {
    let twice = share.double_shear_counts_twice;
    let feet = known.balloons(Kind::Plate).into_iter().filter(|foot| under(*foot, share.of, known));
    let feet: Vec<Balloon> = feet.filter(|foot| !known.welded.contains(foot)).collect();
    let limit =
        LimitText::words(format!("at least {} of the bolts' section at a {} foot", share.printed, share.of.word()));
    let mut also: Vec<(Measure, Balloon)> = Vec::new();
    for foot in feet.iter().chain([&part]) {
        also.extend([(Measure::BoltCount, *foot), (Measure::BoltSize, *foot)]);
    }
    if twice {
        also.push((Measure::BoltShear, part));
    }
    let verdict = |answer| {
        let verdict = Verdict::new(rule, Some(part), answer).limited(limit.clone());
        Verdict { measure: Some(Measure::BoltSection), also: also.clone(), ..verdict }
    };
    if feet.is_empty() {
        let because = format!("No bolted {} foot is known, so there is no section to compare with.", share.of.word());
        return verdict(Answer::NotMeasured).because(because).settled(rule, known);
    }
    let (mut greatest, mut missing) = (Area::default(), Vec::new());
    for foot in &feet {
        match of_plate(*foot, false, known) {
            Ok(area) => greatest = if area > greatest { area } else { greatest },
            Err(unknown) => missing.extend(unknown),
        }
    }
    let own = of_plate(part, twice, known).unwrap_or_else(|unknown| {
        missing.extend(unknown);
        Area::default()
    });
    if !missing.is_empty() {
        let words: Vec<String> = missing.iter().map(|(measure, of)| format!("{} of {of}", measure.word())).collect();
        let because = format!("Not known yet: {}.", words.join(", "));
        return verdict(Answer::NotMeasured).because(because).settled(rule, known);
    }
    let edge = greatest * share.share;
    let answer = if own >= edge { Answer::Meets(Basis::Recorded) } else { Answer::ShortBy };
    let mut description = verdict(answer);
    description.figure = Some(Amount::Area(own));
    description.margin = Some(Amount::Area((own - edge).abs()));
    if let Some(limit) = &mut description.limit {
        limit.amount = Some(Amount::Area(edge));
    }
    let description = description.because("The section is that of the bolts' nominal diameters.");
    let description = if answer == Answer::ShortBy && twice {
        description.because(
            "A bolt in double shear through a welded bush counts twice: say so under “shear planes of each bolt”.",
        )
    } else {
        description
    };
    description.settled(rule, known)
}
