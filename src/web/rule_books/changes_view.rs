//! What changes for a build under another edition, as a sheet tells it.

use crate::domain::derived::editions::{EditionChange, VerdictChange};
use crate::domain::judge::shots::Shot;
use crate::domain::judge::verdicts::Verdict;
use crate::quantity::Units;

/// What changes for a build.
pub(super) struct Changes {
    /// In a sentence.
    pub(super) short: String,
    pub(super) nothing: bool,
    pub(super) unread: bool,
    /// How many rules would be broken that are not broken now.
    pub(super) breaks: usize,
    /// What it is about, before and after: class and tubes.
    pub(super) pairs: Vec<(&'static str, String, String)>,
    pub(super) rules: Vec<Rule>,
    pub(super) other_limits: usize,
    /// Photographs more and less, by what they are asked under: the key, how many, of what.
    pub(super) shots_new: Vec<(String, usize, String)>,
    pub(super) shots_gone: Vec<(String, usize, String)>,
    /// Of those that are asked for no longer, how many are taken.
    pub(super) taken: usize,
}

/// A rule whose verdicts are others.
pub(super) struct Rule {
    pub(super) clause: String,
    pub(super) words: String,
    pub(super) turns: Vec<Turn>,
}

/// Verdicts of one rule that turn alike.
pub(super) struct Turn {
    pub(super) was: String,
    pub(super) is: String,
    /// Whether it breaks the rule now.
    pub(super) breaks: bool,
    /// The figure and the limit, and the parts of which they are.
    pub(super) parts: Vec<(String, String)>,
}

impl Changes {
    /// In the reader's units.
    pub(super) fn of(change: &EditionChange, units: Units) -> Self {
        let pair =
            |what, pair: &Option<(String, String)>| pair.as_ref().map(|(was, is)| (what, was.clone(), is.clone()));
        Self {
            short: change.in_short(),
            nothing: change.is_nothing(),
            unread: change.unread,
            breaks: change.breaks(),
            pairs: pair("Class", &change.class).into_iter().chain(pair("Tube, at least", &change.tubes)).collect(),
            rules: rules(&change.verdicts, units),
            other_limits: change.other_limits,
            shots_new: by_key(&change.shots_new),
            shots_gone: by_key(&change.shots_gone),
            taken: change.shots_gone.iter().filter(|shot| shot.taken()).count(),
        }
    }
}

fn rules(changes: &[VerdictChange], units: Units) -> Vec<Rule> {
    let mut rules: Vec<(String, Rule)> = Vec::new();
    for change in changes {
        let Some(verdict) = change.either() else { continue };
        if rules.last().is_none_or(|rule| rule.0 != verdict.rule_id) {
            let (clause, words) = (verdict.clause.clone(), verdict.words.clone());
            rules.push((verdict.rule_id.clone(), Rule { clause, words, turns: Vec::new() }));
        }
        let word = |verdict: &Option<Verdict>, in_book: bool| {
            let without = if in_book { "not asked of this car" } else { "not in the book" };
            verdict.as_ref().map_or(without, word_of).to_owned()
        };
        let (was, is) = (word(&change.was, change.in_book.0), word(&change.is, change.in_book.1));
        let Some((_, rule)) = rules.last_mut() else { continue };
        let (lines, of) = part(change, units);
        let at = rule.turns.iter().position(|turn| turn.was == was && turn.is == is).unwrap_or(rule.turns.len());
        if at == rule.turns.len() {
            rule.turns.push(Turn { was, is, breaks: change.breaks(), parts: Vec::new() });
        }
        let Some(turn) = rule.turns.get_mut(at) else { continue };
        match turn.parts.iter_mut().find(|part| part.0 == lines) {
            Some(part) => part.1 = format!("{} {of}", part.1),
            None => turn.parts.push((lines, of)),
        }
    }
    rules.into_iter().map(|rule| rule.1).collect()
}

fn word_of(verdict: &Verdict) -> &'static str {
    if verdict.state().fails() { "does not meet" } else { verdict.state().word() }
}

/// What is found of a part, and the part: "60 cm², at least 120 cm²" and "P3".
fn part(change: &VerdictChange, units: Units) -> (String, String) {
    let Some(verdict) = change.either() else { return Default::default() };
    let of = verdict.of.map_or_else(|| "the car".to_owned(), |of| of.to_string());
    let figure = verdict.describe_figure(units);
    let limit = verdict.limit.as_ref().map(|limit| limit.text.clone()).unwrap_or_default();
    let lines: Vec<String> = [figure, limit].into_iter().filter(|word| !word.is_empty()).collect();
    (lines.join(", "), of)
}

fn by_key(shots: &[Shot]) -> Vec<(String, usize, String)> {
    const NAMED: usize = 8;
    let mut keys: Vec<(String, Vec<String>)> = Vec::new();
    for shot in shots {
        let view = shot.view.as_ref().map(|view| format!(", {view}")).unwrap_or_default();
        let what = format!("{}{view}", shot.what.trim_end_matches('.'));
        match keys.iter_mut().find(|key| key.0 == what) {
            Some(key) => key.1.push(shot.of.to_string()),
            None => keys.push((what, vec![shot.of.to_string()])),
        }
    }
    let describe = |(key, of): (String, Vec<String>)| {
        let more = if of.len() > NAMED { " …" } else { "" };
        (key, of.len(), format!("{}{more}", of.iter().take(NAMED).cloned().collect::<Vec<_>>().join(", ")))
    };
    keys.into_iter().map(describe).collect()
}
