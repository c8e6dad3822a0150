//! The figures over a build's list: weight, measures, bars, photographs, the days to its event.

use super::lines::ago;
use crate::domain::derived::findings::Findings;
use crate::domain::derived::open_items::Sort;
use crate::domain::weight::foreseen::{CagePart, Outlook};
use crate::quantity::Show as _;
use crate::web::gate::Seen;

/// One figure: what it is, how much, and what that means.
pub(super) struct Figure {
    pub(super) label: &'static str,
    pub(super) figure: String,
    /// Its doubt, kept on one line with itself.
    pub(super) doubt: String,
    pub(super) sort: Option<Sort>,
    pub(super) remark: String,
    /// Where it is looked at.
    pub(super) to: String,
    /// Whether a phone has room for it.
    pub(super) small: bool,
}

/// All that there is to tell; nothing of a build that is only logged.
pub(super) fn of(seen: &Seen, found: &Findings) -> Vec<Figure> {
    let (facts, worked) = (&seen.facts, &found.worked);
    if facts.book.is_none() {
        return Vec::new();
    }
    let plain = |label, figure: String, remark: String, last: &str| Figure {
        label,
        figure,
        doubt: String::new(),
        sort: None,
        remark,
        to: seen.address(last),
        small: label == "Photographed",
    };
    let total = facts.weigh_ins.first().map(|weighed| weighed.reading.total().show(seen.who.units));
    let mut all =
        vec![plain("Weighed", total.unwrap_or_else(|| "not yet".to_owned()), margin(seen, found), "/weigh-in")];
    all.extend(finished(seen, found));
    // Of the weights the later one.
    if let Some(weight) = all.last_mut() {
        weight.small = true;
    }
    let bars = &worked.cage.members;
    let missing = worked.record.missing().len();
    if missing > 0 || bars.is_empty() {
        let taken = worked.record.measures.len();
        all.push(plain("Measured", taken.to_string(), format!("{missing} left to measure"), "/cage"));
    } else {
        let cut = bars.iter().filter(|bar| facts.cuts.iter().any(|cut| cut.member == bar.balloon)).count();
        let left = match bars.len() - cut {
            0 => "each has its stick".to_owned(),
            left => format!("{left} without a stick"),
        };
        all.push(plain("Cut", format!("{cut} of {} bars", bars.len()), left, "/tube"));
    }
    let unsent = facts.photos.iter().filter(|photo| photo.waits()).count();
    let unsent = if unsent > 0 { format!("{unsent} on a phone, unsent") } else { String::new() };
    all.push(plain("Photographed", format!("{} of {}", worked.taken(), worked.shots.len()), unsent, "/photos"));
    all.push(event(seen));
    all
}

fn event(seen: &Seen) -> Figure {
    let today = seen.who.ctx.clock.today();
    let (figure, remark) = match seen.facts.build.event_day {
        None => ("no day".to_owned(), "say it under “What it is”".to_owned()),
        Some(day) if day < today => (format!("{} ago", ago(day, today)), day.to_string()),
        Some(day) => (ago(today, day), day.to_string()),
    };
    let to = seen.address("/about");
    Figure { label: "Event", figure, doubt: String::new(), sort: None, remark, to, small: true }
}

/// How the weight stands to its class's edge, in a few words.
fn margin(seen: &Seen, found: &Findings) -> String {
    match (&found.worked.weighed, &found.worked.class) {
        (Some(weighed), _) => weighed.describe(seen.who.units),
        (None, Some(_)) => "no class yet".to_owned(),
        (None, None) => String::new(),
    }
}

/// The finished weight that is predicted, its shape, and how it stands in a few words; none while there is nothing to tell.
fn finished(seen: &Seen, found: &Findings) -> Option<Figure> {
    let foreseen = found.worked.foreseen.as_ref().filter(|foreseen| foreseen.tells())?;
    let answer = foreseen.then.as_ref().and_then(|then| then.as_ref().ok());
    let (sort, words) = match (foreseen.outlook, answer) {
        (Outlook::Crosses, Some(answer)) => (Some(Sort::Fails), format!("over the edge: class {}", answer.class)),
        (Outlook::Crosses, None) => (Some(Sort::Fails), "in no class of the book".to_owned()),
        (Outlook::TooClose, _) => (Some(Sort::TooClose), "too close to call".to_owned()),
        (Outlook::Stays, Some(answer)) => {
            let edge = answer.edge.map(|edge| format!(", {} from its edge", edge.show(seen.who.units)));
            (None, format!("class {}{}", answer.class, edge.unwrap_or_default()))
        }
        (Outlook::Stays, None) | (Outlook::NoClass, _) => (None, String::new()),
    };
    let missing = if foreseen.cage == CagePart::NotLaidOut { "the cage not counted; " } else { "" };
    let (figure, doubt) = foreseen.figures(seen.who.units);
    let (remark, to) = (format!("{missing}{words}"), seen.address("/weigh-in#finished"));
    Some(Figure { label: "Predicted finished weight", figure, doubt, sort, remark, to, small: true })
}
