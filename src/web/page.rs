//! What every sheet has: its title block, the ways on, and how it is shown.

use askama::Template;
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};

use super::light::Light;
use super::problem::Problem;
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::ids::{Balloon, Kind};

/// The parts that every sheet shares.
#[derive(Debug, Clone)]
pub(crate) struct Sheet {
    /// What the sheet is.
    pub(crate) title: String,
    /// Who is looking; empty when nobody is signed in.
    pub(crate) person: String,
    /// Where their own sheet is.
    pub(crate) own: String,
    /// Today, in the shop's zone.
    pub(crate) date: String,
    /// The build it is about; none for the shop as a whole.
    pub(crate) build: Option<Head>,
    /// The ways on.
    pub(crate) links: Vec<Link>,
    /// The sheets beside this one under the same way on; none where it stands alone.
    pub(crate) within: Vec<Link>,
    /// Whether inches are shown.
    pub(crate) inch: bool,
    /// The light that its ink and paper are made for.
    pub(crate) light: Light,
    /// Whether photographs may wait on this reader's phone to be sent.
    pub(crate) phone: bool,
    /// What the program does meanwhile, in a sentence; empty where it does nothing.
    pub(crate) under_way: String,
}

/// The build's part of a title block.
#[derive(Debug, Clone)]
pub(crate) struct Head {
    /// The build's name.
    pub(crate) name: String,
    /// Its address's last part.
    pub(crate) slug: String,
    /// Where this reader's way to the build leads: its open items, or its rounds for a scrutineer.
    pub(crate) to: String,
    /// The rule book and edition, or that there is none.
    pub(crate) book: String,
    /// Whether the rule book's text can be read; without a book it is.
    pub(crate) book_reads: bool,
    /// The newest round.
    pub(crate) revision: String,
    /// How the hold point stands, in a sentence.
    pub(crate) hold: String,
    /// Whether anything is held.
    pub(crate) held: bool,
}

/// A way on.
#[derive(Debug, Clone)]
pub(crate) struct Link {
    /// What is read.
    pub(crate) words: &'static str,
    /// Where it leads.
    pub(crate) to: String,
    /// Whether it is the sheet one is on.
    pub(crate) here: bool,
}

impl Sheet {
    /// A sheet before anybody is signed in.
    pub(crate) fn outside(title: &str) -> Self {
        Self {
            title: title.to_owned(),
            person: String::new(),
            own: String::new(),
            date: String::new(),
            build: None,
            links: Vec::new(),
            within: Vec::new(),
            inch: true,
            light: Light::default(),
            phone: true,
            under_way: String::new(),
        }
    }
}

/// All but the unreserved letters of an address (RFC 3986, 2.3).
const RESERVED: &AsciiSet = &NON_ALPHANUMERIC.remove(b'-').remove(b'.').remove(b'_').remove(b'~');

/// A text as it may stand in an address's query (RFC 3986, section 2).
pub(crate) fn in_address(text: &str) -> String {
    utf8_percent_encode(text, RESERVED).to_string()
}

/// The end of the walk's address at a shot.
pub(crate) fn walk_address(shot: &str) -> String {
    format!("/walk?shot={}", in_address(shot))
}

/// The end of a part's address, below its build's.
pub(crate) fn part_address(part: Balloon) -> String {
    match part.kind {
        Kind::Joint => format!("/joints/{part}"),
        Kind::Member => format!("/members/{part}"),
        Kind::Gusset => format!("/gussets/{part}"),
        Kind::Plate => format!("/plates/{part}"),
        Kind::Stick => "/tube".to_owned(),
        Kind::Kit => format!("/kit/{part}"),
        Kind::WeighIn => "/weigh-in".to_owned(),
        Kind::Question => format!("/questions#{part}"),
        Kind::Car => String::new(),
    }
}

/// A PDF, shown in the browser. Its name is made of a slug and numbers: letters, figures and dashes can stand in a header.
pub(crate) fn show_pdf(name: &str, pdf: Vec<u8>) -> Response {
    let headers = [
        (header::CONTENT_TYPE, "application/pdf".to_owned()),
        (header::CONTENT_DISPOSITION, format!("inline; filename=\"{name}\"")),
        (header::CACHE_CONTROL, "private, no-store".to_owned()),
    ];
    (headers, pdf).into_response()
}

/// Data for a script of ours; no browser keeps it by itself.
pub(crate) fn as_data(value: &serde_json::Value) -> Response {
    let kind = [(header::CONTENT_TYPE, "application/json"), (header::CACHE_CONTROL, "no-store")];
    (kind, value.to_string()).into_response()
}

/// A page with its status.
pub(crate) fn show(status: StatusCode, page: &impl Template) -> Result<Response, Problem> {
    Ok((status, Html(page.render()?)).into_response())
}

/// The address of two tubes side by side, with the first, or both, filled in.
pub(crate) fn two_tubes_address(one: &TubeSize, other: Option<&TubeSize>) -> String {
    let other = other.map(|other| format!("&other={}", in_address(&other.to_string()))).unwrap_or_default();
    format!("/two-tubes?one={}{other}", in_address(&one.to_string()))
}
