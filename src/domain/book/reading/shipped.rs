//! Books that come with the program: published regulations restated in our own words, offered and never added unasked.

/// A book that comes with the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shipped {
    /// Its name in addresses.
    pub key: &'static str,
    /// What to know before adding it, in a sentence.
    pub about: &'static str,
    /// Its text, TOML.
    pub toml: &'static str,
}

/// All of them.
pub const SHIPPED: &[Shipped] = &[Shipped {
    key: "cage-article-253",
    about: "The international regulation's cage article, restated; most of it is not confirmed, and each rule says how it is known.",
    toml: include_str!("cage-article-253.toml"),
}];

/// The demo's invented book: no body's, and no figure of it is. It is offered as a draft to write one's own rules over, never as
/// an edition.
pub const EXAMPLE: &str = include_str!("../../../demo/book.toml");
