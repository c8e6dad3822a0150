//! How phones reach the server, and what they are given to trust.

use jiff::civil::Date;

/// How the server is reached.
#[derive(Debug, Clone, Default)]
pub struct Reached {
    /// Where a phone on the shop's network finds it; with https where it has a certificate.
    pub address: String,
    /// The same on plain http.
    pub plain: String,
    /// The certificate of the shop's own authority, in DER; none where the certificate is somebody else's, or there is none.
    pub authority: Option<Vec<u8>>,
    /// The day on which the server's certificate ends; none where there is none or it does not say.
    pub until: Option<Date>,
}

impl Reached {
    /// Whether it is reached by https.
    pub(crate) fn sealed(&self) -> bool {
        self.address.starts_with("https:")
    }
}
