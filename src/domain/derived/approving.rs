//! What is still open in a round that is approved: an approval that passes over it says so, and is recorded with it.

use super::contents::{Change, Contents, FORMAT};
use super::hold::{counted, named};
use crate::domain::derived::contents::Asks;
use crate::domain::judge::verdicts::Word;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::reviews::standing;
use crate::domain::recorded::rounds::Decision;
use crate::domain::recorded::rounds::NewReply;
use crate::domain::recorded::rounds::Round;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, QuestionId};
use crate::domain::words::limits;

/// What a reply asks and settles beside its decision.
#[derive(Debug, Clone, Copy)]
pub struct Beside<'a> {
    /// What it asks, item by item.
    pub items: &'a [(Option<Balloon>, String)],
    /// The questions that it settles.
    pub settles: &'a [QuestionId],
}

/// The list as one confirms it: another list is another confirmation.
pub fn fingerprint(open: &[String]) -> Fingerprint {
    Fingerprint::of(open.join("\n").as_bytes())
}

/// What is open in a round as it was put before the scrutineer, and on the build beside it, each in a sentence. Of a round
/// that asks for single joints, what is open of these and of the bars that are welded there. `changes` is what is not as
/// the newest round showed it.
pub fn still_open(facts: &BuildFacts, changes: &[Change], round: &Round, beside: Beside<'_>) -> Vec<String> {
    let number = round.number;
    let Some(contents) = Contents::read(&round.contents) else {
        return vec![format!("What round {number} showed cannot be read: its approval releases nothing.")];
    };
    let asked_about = |of: Balloon| contents.early.is_empty() || contents.early_parts().contains(&of);
    let mut open = by_verdict(&contents, &asked_about);
    open.extend(photographs(&contents, &asked_about));
    let questions = facts.questions.iter().filter(|question| question.settled.is_none());
    let questions = questions.filter(|question| !beside.settles.contains(&question.id));
    open.extend(questions.map(|question| format!("Question Q{} is open: {}", question.number, question.text)));
    open.extend(beside.items.iter().map(|(about, text)| {
        let about = about.map(|about| format!(" of {about}")).unwrap_or_default();
        format!("This reply itself asks{about}: {text}")
    }));
    if facts.rounds.last().is_some_and(|newest| newest.id == round.id) && !changes.is_empty() {
        open.push(format!("{} since round {number} was issued: its approval will not hold.", counted(changes)));
    }
    open
}

/// The rules that are not met, by their words.
fn by_verdict(contents: &Contents, asked_about: &dyn Fn(Balloon) -> bool) -> Vec<String> {
    let lines: Vec<(Balloon, String, &str)> = contents
        .describe()
        .filter(|(of, _, _)| asked_about(*of))
        .map(|(of, rule, line)| (of, format!("{of}, {rule}"), line))
        .collect();
    let begins = |line: &str, word: Word| line.starts_with(word.word());
    let fails =
        |line: &str| begins(line, Word::ShortBy) || begins(line, Word::OverBy) || line.starts_with("does not meet");
    let each = |word: &'static str, is: &dyn Fn(&str) -> bool| {
        lines.iter().filter(|(_, _, line)| is(line)).map(|(_, name, line)| format!("{word}: {name}: {line}")).collect()
    };
    let mut open: Vec<String> = each("Fails", &fails);
    open.extend::<Vec<String>>(each("Too close to call", &|line| begins(line, Word::TooClose)));
    for (word, description) in
        [(Word::NotMeasured, "Not measured"), (Word::NoPhoto, "Without the photograph that the rule asks for")]
    {
        let named: Vec<&str> =
            lines.iter().filter(|(_, _, line)| begins(line, word)).map(|(_, name, _)| name.as_str()).collect();
        if !named.is_empty() {
            open.push(format!("{description}, {}: {}", named.len(), named.join("; ")));
        }
    }
    let left = contents.found_failing().filter(|(of, _)| asked_about(*of));
    open.extend(left.map(|(of, rule)| format!("Left to the scrutineer, found failing: {of}, {rule}")));
    open
}

/// The photographs that were asked for and were not there.
fn photographs(contents: &Contents, asked_about: &dyn Fn(Balloon) -> bool) -> Option<String> {
    if contents.tackbook_round < FORMAT {
        return Some(format!("Which photographs were missing was not kept with round {}.", contents.round));
    }
    let missing = contents.missing.iter().filter(|(of, _)| of.parse().is_ok_and(asked_about));
    let named: Vec<String> =
        missing.flat_map(|(of, views)| views.iter().map(move |view| format!("{of} {view}"))).collect();
    (!named.is_empty()).then(|| format!("Photographs missing, {}: {}", named.len(), named.join("; ")))
}

impl NewReply {
    /// An early round is answered joint by joint; one about the whole cage releases no single joint.
    pub fn released_faults(&self, round: &Round) -> Vec<Fault> {
        let (asked, approved) = (Asks::of(round).joints(), self.decision == Decision::Approved);
        let why = if self.released.iter().any(|joint| !asked.contains_key(joint)) {
            "This round does not ask for the release of such a joint. Open the sheet again."
        } else if approved && !asked.is_empty() && self.released.is_empty() {
            "Tick the joints that were released; with none of them the decision is “not yet”."
        } else if !approved && !self.released.is_empty() {
            "A joint is released by “approved” only. Choose that, or untick it."
        } else {
            return Vec::new();
        };
        vec![Fault::new("released", why)]
    }

    /// What is asked is asked of something that the round showed.
    pub fn item_faults(&self, round: &Round) -> Vec<Fault> {
        let Some(contents) = Contents::read(&round.contents) else { return Vec::new() };
        let of = |at: &'static str, about: Option<Balloon>| {
            let part = about.filter(|part| !contents.shows(*part))?;
            Some(Fault::new(at, not_shown(round.number, part)))
        };
        let items = self.items.iter().filter_map(|(about, _)| of("items", *about));
        items.chain(self.conditions.iter().filter_map(|one| of("conditions", one.about))).collect()
    }

    /// A reply that was answered part by part approves only what was accepted: whoever signs cannot pass over a part.
    pub fn answer_faults(&self, round: &Round) -> Vec<Fault> {
        let Some(answers) = self.answers.as_ref().filter(|_| self.decision == Decision::Approved) else {
            return Vec::new();
        };
        let one = |why: String| vec![Fault::new("decision", why)];
        let Some(contents) = Contents::read(&round.contents) else {
            return one(format!("What round {} showed cannot be read: it cannot be approved here.", round.number));
        };
        let not = contents.not_accepted(&standing(answers), &self.released);
        if not.is_empty() { Vec::new() } else { one(format!("Not accepted, so not released: {}.", named(&not))) }
    }

    /// An approval over what is open is confirmed by somebody who read the list, and says why.
    pub fn despite_faults(&self, open: &[String]) -> Vec<Fault> {
        if open.is_empty() {
            return Vec::new();
        }
        let one = |at: &str, why: String| vec![Fault::new(at, why)];
        match &self.despite {
            None => one(
                "despite",
                format!(
                    "{} still open in this round. Nothing is recorded yet: read the list, tick that it was read, and write why \
                     the scrutineer approves all the same.",
                    things(open.len())
                ),
            ),
            Some((read, _)) if *read != fingerprint(open) => {
                one("despite", "What is open is not what was read. Read the list again, and tick it again.".to_owned())
            }
            Some((_, words)) if words.trim().is_empty() => {
                one("despite_words", "Write why it is approved all the same, in the scrutineer's words.".to_owned())
            }
            Some((_, words)) => limits::text_faults("despite_words", words),
        }
    }
}

/// What is said of a number that a round does not show.
pub fn not_shown(round: u32, part: Balloon) -> String {
    format!("{part} is not in round {round}. Look at the packet; leave it empty for the whole car.")
}

/// "1 thing is", "3 things are".
pub fn things(count: usize) -> String {
    if count == 1 { "1 thing is".to_owned() } else { format!("{count} things are") }
}
