//! What is open by the records alone: the weighing, photographs on a phone, questions, rounds, waiting-on notes.

use jiff::ToSpan as _;
use jiff::civil::Date;

use super::{OpenItem, Place, Sort, Waits};
use crate::domain::derived::findings::Findings;
use crate::domain::derived::hold::{Hold, counted};
use crate::domain::derived::weighed_after::Compared;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::kit::moves::RunsOut;
use crate::domain::recorded::photos::{Photo, bytes_in_words};
use crate::domain::recorded::questions::Condition;
use crate::domain::recorded::rounds::marked::marks_of;
use crate::domain::weight::foreseen::Outlook;
use crate::domain::weight::weigh_in::WeighIn;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::limits;
use crate::domain::words::wording::capital;
use crate::quantity::Units;

type DayOf<'a> = &'a dyn Fn(jiff::Timestamp) -> Date;

/// A book that does not read: nothing can be judged.
pub(super) fn book(found: &Findings) -> Option<OpenItem> {
    let first = found.worked.unread_book.first()?;
    let what = format!(
        "The text of this build's rule book does not read: nothing is judged by it. Line {}: {} {}",
        first.line, first.what, first.wanted
    );
    Some(OpenItem::missing(what, Waits::Office, Place::Verdicts).sort(Sort::Fails))
}

/// An edition that is not in force on the day of the event.
pub(super) fn out_of_force(found: &Findings) -> Option<OpenItem> {
    let description = found.worked.out_of_force.as_ref()?.describe();
    let what = format!("{description} Move the build to the edition that is, or ask the scrutineer which one counts");
    Some(OpenItem::missing(what, Waits::Office, Place::Verdicts).sort(Sort::Fails))
}

/// The day that labels and the edition are judged for.
pub(super) fn event_day(facts: &BuildFacts, found: &Findings) -> Option<OpenItem> {
    let goes_by_it = found.worked.rules.as_ref().is_some_and(|rules| !rules.kit.is_empty());
    let what = "Say the day of the first event: kit is judged for it";
    (goes_by_it && facts.build.event_day.is_none()).then(|| OpenItem::missing(what, Waits::Office, Place::Build))
}

/// The car's weight, and the class that follows from it.
pub(super) fn weighing(facts: &BuildFacts, found: &Findings) -> Vec<OpenItem> {
    let Some(newest) = facts.weigh_ins.first() else {
        let what = "Weigh the car: the tube sizes follow from its weight";
        return vec![OpenItem::missing(what, Waits::Fabricator, Place::WeighIn)];
    };
    let at = Balloon::new(Kind::WeighIn, newest.number);
    let item = |what: String, waits| OpenItem::missing(what, waits, Place::WeighIn).at(at).since(newest.day);
    match &found.worked.class {
        Some(Err(why)) => vec![item(format!("No weight class yet. {why}"), Waits::Fabricator).sort(Sort::Fails)],
        Some(Ok(answer)) if answer.too_close => {
            let near: Vec<&str> = answer.neighbours.iter().map(|near| near.class.as_str()).collect();
            let what = format!(
                "The weight is inside the edge of the class “{}” by less than the scale can tell; the next is “{}”",
                answer.class,
                near.join("”, “")
            );
            vec![item(what, Waits::Office).sort(Sort::TooClose)]
        }
        _ => Vec::new(),
    }
}

/// What the finished car's weighing left open, and a finished weight foreseen too near the edge of its class, or over it.
pub(super) fn finished(facts: &BuildFacts, found: &Findings, units: Units) -> Vec<OpenItem> {
    let Some(newest) = facts.weigh_ins.first() else { return Vec::new() };
    let weighed = found.compared.as_ref().and_then(|compared| weighed_after(compared, units));
    weighed.map(|item| item.since(newest.day)).into_iter().chain(foreseen(newest, found, units)).collect()
}

/// A finished weight foreseen too near the edge of its class, or over it: what is bought now may be too thin then.
fn foreseen(newest: &WeighIn, found: &Findings, units: Units) -> Option<OpenItem> {
    let foreseen = found.worked.foreseen.as_ref()?;
    let sort = match foreseen.outlook {
        Outlook::Crosses => Sort::Fails,
        Outlook::TooClose => Sort::TooClose,
        Outlook::Stays | Outlook::NoClass => return None,
    };
    let settle = if newest.reading.cage_in { "it with the scrutineer" } else { "it before tube is bought" };
    let what = format!("{}. Settle {settle}", foreseen.describe(units)?);
    let at = Balloon::new(Kind::WeighIn, newest.number);
    Some(OpenItem::missing(what, Waits::Office, Place::WeighIn).at(at).since(newest.day).sort(sort))
}

/// A finished car in another class than its tube was chosen by, or apart from what was foreseen.
fn weighed_after(compared: &Compared, units: Units) -> Option<OpenItem> {
    let at = Balloon::new(Kind::WeighIn, compared.number);
    let item = |what: String| OpenItem::missing(what, Waits::Office, Place::WeighIn).at(at);
    match compared.describe_class() {
        Some(description) => Some(item(format!("{description}. Ask the scrutineer")).sort(Sort::Fails)),
        None if compared.fits() => None,
        None => {
            Some(item(format!("{}. Find out which figure was wrong", compared.describe(units))).sort(Sort::TooClose))
        }
    }
}

/// Kit that is good for the event and runs out within the season.
pub(super) fn running_out(found: &Findings) -> Vec<OpenItem> {
    let one = |out: &RunsOut| {
        let what = format!(
            "{}: {}. Plan its successor (clause {})",
            capital(&out.item),
            out.describe().to_lowercase(),
            out.clause
        );
        OpenItem::missing(what, Waits::Office, Place::Kit).at(Balloon::new(Kind::Kit, out.number))
    };
    found.worked.runs_out.iter().map(one).collect()
}

/// Photographs that are told of and did not arrive yet: first the photographer's, after some days the office's to ask for.
pub(super) fn unsent(facts: &BuildFacts, found: &Findings, day_of: DayOf<'_>) -> Vec<OpenItem> {
    let long = |photo: &&Photo| {
        let until = day_of(photo.declared).checked_add(limits::PHONE_DAYS.days());
        until.is_ok_and(|until| until <= found.worked.day)
    };
    let (old, new): (Vec<&Photo>, Vec<&Photo>) = facts.photos.iter().filter(|photo| photo.waits()).partition(long);
    let item = |photos: &[&Photo], waits_on, end: &str| {
        let oldest = photos.iter().map(|photo| photo.declared).min()?;
        let (count, verb) = match photos.len() {
            1 => ("1 photograph".to_owned(), "is"),
            count => (format!("{count} photographs"), "are"),
        };
        let what = format!("{count} {verb} still on somebody's phone, unsent{end}");
        Some(OpenItem::missing(what, waits_on, Place::Photos).since(day_of(oldest)))
    };
    let mut names: Vec<&str> = old.iter().map(|photo| photo.by.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    let days = limits::PHONE_DAYS;
    let asked = format!(
        " for {days} days or more: ask {} to open the shop's pages on it, before its browser clears them",
        names.join(", ")
    );
    item(&old, Waits::Office, &asked).into_iter().chain(item(&new, Waits::Fabricator, "")).collect()
}

/// More photographs than a build is meant to have.
pub(super) fn bulk(facts: &BuildFacts) -> Option<OpenItem> {
    let bytes: u64 = facts.photos.iter().filter(|photo| photo.received.is_some()).map(|photo| photo.size).sum();
    let (now, meant) = (bytes_in_words(bytes), bytes_in_words(limits::BUILD_BYTES));
    let what =
        format!("The photographs have {now}, more than the {meant} a build is meant for: look at disk and backup");
    (bytes > limits::BUILD_BYTES).then(|| OpenItem::missing(what, Waits::Office, Place::Photos))
}

/// Questions that are not settled.
pub(super) fn questions(facts: &BuildFacts, day_of: DayOf<'_>) -> Vec<OpenItem> {
    let open = facts.questions.iter().filter(|question| question.settled.is_none());
    open.map(|question| {
        let at = question.about.unwrap_or(Balloon::new(Kind::Question, question.number));
        let asks = match (question.answers.is_empty(), question.from_reply) {
            _ if question.condition == Some(Condition::Holds) => "Meet the condition, then settle it; welding waits",
            _ if question.condition.is_some() => "Meet the condition, then settle it",
            (true, true) => "Answer the scrutineer",
            (true, false) => "Answer",
            (false, true) => "Answered; goes to the scrutineer with the next round",
            (false, false) => "Answered; settle it or ask on",
        };
        let marked = match marks_of(question, &facts.replies).len() {
            0 => String::new(),
            1 => " (1 mark on a photograph)".to_owned(),
            many => format!(" ({many} marks on photographs)"),
        };
        let what = format!("{asks}: {}{marked}", question.text);
        OpenItem::missing(what, Waits::Office, Place::Questions).at(at).since(day_of(question.asked))
    })
    .collect()
}

/// What the newest round waits for.
pub(super) fn rounds(facts: &BuildFacts, found: &Findings, day_of: DayOf<'_>) -> Option<OpenItem> {
    match &found.hold {
        Hold::NothingIssued | Hold::JointsOnly(_) | Hold::Released { .. } => None,
        Hold::Lapsed { round, changes, .. } => {
            let what = format!(
                "{} since the scrutineer approved round {round}, which releases nothing any more: issue a new round",
                counted(changes)
            );
            Some(OpenItem::missing(what, Waits::Office, Place::Rounds).sort(Sort::Fails))
        }
        Hold::Unreadable(round) => {
            let what =
                format!("What round {round} asked cannot be read; its approval releases nothing: issue a new round");
            Some(OpenItem::missing(what, Waits::Office, Place::Rounds).sort(Sort::Fails))
        }
        Hold::Waiting(round) => {
            let what = format!("Round {round} is out; the reply is awaited");
            let item = OpenItem::missing(what, Waits::Scrutineer, Place::Rounds);
            Some(match facts.rounds.last() {
                Some(round) => item.since(day_of(round.issued)),
                None => item,
            })
        }
        Hold::Refused(round) => {
            let what = format!("The scrutineer refused round {round}: change what is said, and issue the next round");
            Some(OpenItem::missing(what, Waits::Office, Place::Rounds).sort(Sort::Fails))
        }
        Hold::Conditions { round, open, .. } => {
            let what = format!("Round {round} is approved once this is met: {}", open.join("; "));
            Some(OpenItem::missing(what, Waits::Office, Place::Questions).sort(Sort::Fails))
        }
        Hold::NotYet(round) => {
            let what = format!("The scrutineer has questions on round {round}: answer them and issue the next round");
            Some(OpenItem::missing(what, Waits::Office, Place::Rounds))
        }
    }
}

/// What is waited for, the longest first: each until somebody says that it is over.
pub(super) fn waiting(facts: &BuildFacts) -> Vec<OpenItem> {
    let mut waits: Vec<(Date, &str)> =
        facts.notes.iter().rev().filter_map(|note| Some((note.day, note.waits_on()?))).collect();
    waits.sort_by_key(|wait| wait.0);
    let item =
        |(day, on): (Date, &str)| OpenItem::missing(format!("Waiting on: {on}"), Waits::Outside, Place::Log).since(day);
    waits.into_iter().map(item).collect()
}
