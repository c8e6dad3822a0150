//! The people of a shop, their roles, and the one table of who may do what.

use serde::{Deserialize, Serialize};

use crate::domain::words::ids::PersonId;

/// What a person is to the shop.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Role {
    /// On the shop floor, with a phone.
    Fabricator,
    /// At the desk; often the owner.
    Office,
    /// The body's own inspector: sees issued rounds and replies.
    Scrutineer,
}

impl Role {
    /// All of them, as offered in a form.
    pub const ALL: [Self; 3] = [Self::Fabricator, Self::Office, Self::Scrutineer];

    /// The word for it, as stored and shown.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Fabricator => "fabricator",
            Self::Office => "office",
            Self::Scrutineer => "scrutineer",
        }
    }

    /// The role of a stored word.
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|role| role.word() == word)
    }
}

/// What people do, as far as the answer differs between roles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Deed {
    /// See a build: its sheets, photographs and figures.
    SeeBuilds,
    /// See an issued round and its packet.
    SeeRounds,
    /// Record work: photographs, measures, sticks, log entries, questions and answers.
    RecordWork,
    /// Begin a build, weigh in, choose the book, lay out the cage.
    SetUpBuilds,
    /// Set the order in which a cage is welded.
    OrderWelds,
    /// Say that a photograph was looked at before it goes out.
    LookOver,
    /// Withdraw a photograph.
    Withdraw,
    /// Issue a round.
    IssueRounds,
    /// Record the scrutineer's reply to a round.
    Reply,
    /// Answer a round part by part and sign it: the scrutineer alone, in his own name.
    Review,
    /// Add people and rule books.
    RunShop,
}

impl Deed {
    /// All of them.
    pub const ALL: [Self; 11] = [
        Self::SeeBuilds,
        Self::SeeRounds,
        Self::RecordWork,
        Self::SetUpBuilds,
        Self::OrderWelds,
        Self::LookOver,
        Self::Withdraw,
        Self::IssueRounds,
        Self::Reply,
        Self::Review,
        Self::RunShop,
    ];
}

/// Whether a role may do a deed: the whole of the shop's rules of access.
pub const fn may(role: Role, deed: Deed) -> bool {
    match role {
        Role::Office => !matches!(deed, Deed::Review),
        Role::Fabricator => {
            matches!(deed, Deed::SeeBuilds | Deed::SeeRounds | Deed::RecordWork | Deed::SetUpBuilds)
        }
        Role::Scrutineer => matches!(deed, Deed::SeeRounds | Deed::Reply | Deed::Review),
    }
}

/// A person with a sign-in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Person {
    /// The store's name for them.
    pub id: PersonId,
    /// The name they sign in with.
    pub name: String,
    /// What they are to the shop.
    pub role: Role,
}
