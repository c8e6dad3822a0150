//! What is still open in a round that is approved: an approval that passes over it says so, and is recorded with it.

use super::contents::{Change, Contents, FORMAT};
use super::hold::counted;
use crate::domain::judge::verdicts::Word;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::rounds::Round;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, QuestionId};

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
    let asked_about = |of: Balloon| contents.early.is_empty() || early_parts(&contents).contains(&of);
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

/// The joints of an early round and the bars that are named with them: "M2 onto M1".
fn early_parts(contents: &Contents) -> Vec<Balloon> {
    let bars = contents.early.values().flat_map(|welds| welds.split(' ')).filter_map(|word| word.parse().ok());
    contents.early.keys().copied().chain(bars).collect()
}

/// The rules that are not met, by their words.
fn by_verdict(contents: &Contents, asked_about: &dyn Fn(Balloon) -> bool) -> Vec<String> {
    let lines: Vec<(Balloon, String, &str)> = contents
        .told()
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
    for (word, told) in
        [(Word::NotMeasured, "Not measured"), (Word::NoPhoto, "Without the photograph that the rule asks for")]
    {
        let named: Vec<&str> =
            lines.iter().filter(|(_, _, line)| begins(line, word)).map(|(_, name, _)| name.as_str()).collect();
        if !named.is_empty() {
            open.push(format!("{told}, {}: {}", named.len(), named.join("; ")));
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
