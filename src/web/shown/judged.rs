//! A verdict as sheets show it: its word, its figure beside the limit, what it rests on.

use crate::domain::judge::verdicts::{Verdict, Word};
use crate::web::gate::Seen;

/// One verdict as a part's own sheet shows it.
pub(crate) struct Judged {
    pub(crate) word: Word,
    pub(crate) description: String,
    pub(crate) words: String,
    pub(crate) figure: String,
    pub(crate) limit: String,
    pub(crate) margin: String,
    pub(crate) to_do: &'static str,
    pub(crate) clause: String,
    pub(crate) evidence: String,
}

impl Judged {
    pub(crate) fn of(seen: &Seen, verdict: &Verdict) -> Self {
        let units = seen.who.units;
        Self {
            word: verdict.word,
            description: verdict.describe(units),
            words: verdict.words.clone(),
            figure: verdict.describe_figure(units),
            limit: verdict.limit.as_ref().map(|limit| limit.text.clone()).unwrap_or_default(),
            margin: verdict.describe_margin(units),
            to_do: verdict.to_do(),
            clause: verdict.clause.clone(),
            evidence: verdict.basis(),
        }
    }
}
