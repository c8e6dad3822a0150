//! What the sheet about trusting the certificate shows.

use askama::Template;

use crate::domain::words::fingerprint::Fingerprint;
use crate::web::page::Sheet;
use crate::web::qr::Code;
use crate::web::reached::Reached;

/// How a phone comes to trust the shop's certificate.
#[derive(Template)]
#[template(path = "certificate/trust.html")]
pub(super) struct Trust {
    sheet: Sheet,
    sealed: bool,
    /// The authority's SHA-256, two letters at a time; empty where the shop has no authority of its own.
    fingerprint: String,
    /// This sheet on plain http, for a phone that trusts nothing yet.
    here: Option<Code>,
    /// The shop.
    there: Option<Code>,
    address: String,
}

impl Trust {
    /// For how the server is reached.
    pub(super) fn of(reached: &Reached) -> Self {
        let pairs = |authority: &Vec<u8>| {
            let text = Fingerprint::of(authority).text().to_ascii_uppercase();
            text.as_bytes().chunks(2).map(String::from_utf8_lossy).collect::<Vec<_>>().join(" ")
        };
        Self {
            sheet: Sheet::outside("Trust this shop's certificate"),
            sealed: reached.sealed(),
            fingerprint: reached.authority.as_ref().map(pairs).unwrap_or_default(),
            here: Code::of(&format!("{}/trust", reached.plain)).filter(|_| !reached.plain.is_empty()),
            there: Code::of(&reached.address).filter(|_| !reached.address.is_empty()),
            address: reached.address.clone(),
        }
    }
}
