//! What the sheet of stickers asks.

use askama::Template;

use super::KINDS;
use crate::documents::stickers::Paper;
use crate::domain::derived::findings::Findings;
use crate::domain::work::stickers::parts;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::Sheet;

/// Which stickers to print, on which paper, leading where.
#[derive(Template)]
#[template(path = "stickers/stickers.html")]
pub(crate) struct Stickers {
    sheet: Sheet,
    base: String,
    any: bool,
    of: Field,
    paper: Field,
    at: Field,
    /// Whether the address is one that only this machine reaches.
    only_here: bool,
}

impl Stickers {
    /// From the cage and what was typed.
    pub(crate) fn of(seen: &Seen, found: &Findings, form: &Form) -> Self {
        let kinds = KINDS.map(|(value, kind)| {
            let count = parts(&found.worked.cage, kind).len();
            (value.to_owned(), format!("{}: {count}", if kind.is_none() { "all parts" } else { value }))
        });
        let papers = [("a4", Paper::A4), ("letter", Paper::Letter)];
        let at = form.text("at");
        let host = at.split_once("://").map_or(at, |(_, host)| host);
        Self {
            sheet: seen.sheet("Stickers"),
            base: seen.address(""),
            any: !parts(&found.worked.cage, None).is_empty(),
            of: form.field("of", "Stickers for").choice(kinds),
            paper: form
                .field("paper", "Paper")
                .choice(papers.map(|(value, paper)| (value.to_owned(), paper.words().to_owned()))),
            only_here: ["localhost", "127.", "[::1]"].iter().any(|own| host.starts_with(own)),
            at: form.field("at", "How phones reach this shop").hint("The code holds this address. Use one that stays."),
        }
    }
}
