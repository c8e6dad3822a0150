//! Rows of the codes that pair phones, and of what sessions are signed in on.

use jiff::Timestamp;

use crate::domain::words::ids::PersonId;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{moment, parsed};

/// Something that somebody is signed in on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Device {
    /// The session's number.
    pub number: i64,
    /// What its browser said it runs on; empty where it was not asked.
    pub name: String,
    /// When it was signed in.
    pub begun: Timestamp,
    /// When it was last used, to within the step it is noted in.
    pub seen: Timestamp,
    /// Whether it is the session of the token that was asked by.
    pub here: bool,
}

/// What is kept of a code that pairs a phone: hashes alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewPairing {
    /// Who will be signed in.
    pub person: PersonId,
    /// Hash of the long code.
    pub token: String,
    /// Hash of the letters to type.
    pub letters: String,
    /// When it was made.
    pub made: Timestamp,
}

/// Which of its two codes a phone gave, by its hash.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum GivenCode {
    /// The long one.
    Token(String),
    /// The letters.
    Letters(String),
}

impl Store {
    /// The sessions of a person that go on, the latest used first; `asking` is the hash of one's own token.
    pub async fn devices(&self, person: PersonId, asking: &str) -> Result<Vec<Device>, StoreError> {
        let rows: Vec<(i64, String, String, String, bool)> = sqlx::query_as(
            "SELECT number, device, begun, seen, token_hash = $2 FROM sessions WHERE person = $1 AND ended IS NULL
             ORDER BY seen DESC, number DESC",
        )
        .bind(person.to_string())
        .bind(asking)
        .fetch_all(self.readers())
        .await?;
        let device = |(number, name, begun, seen, here): (i64, String, String, String, bool)| {
            let [begun, seen] = [("begun", begun), ("seen", seen)].map(|(column, at)| parsed("sessions", column, &at));
            Ok(Device { number, name, begun: begun?, seen: seen?, here })
        };
        rows.into_iter().map(device).collect()
    }

    /// Whose code this long one is, while it is good: unused, and made no earlier than `since`.
    pub async fn pairing_of(&self, token: &str, since: Timestamp) -> Result<Option<PersonId>, StoreError> {
        let row: Option<String> = sqlx::query_scalar(
            "SELECT person FROM pairings JOIN people ON people.id = person
             WHERE token_hash = $1 AND used IS NULL AND made >= $2 AND removed IS NULL",
        )
        .bind(token)
        .bind(moment(since))
        .fetch_optional(self.readers())
        .await?;
        row.map(|id| parsed("pairings", "person", &id)).transpose()
    }
}

impl Write {
    /// Adds a code; the person's earlier ones are good no more.
    pub async fn add_pairing(&mut self, new: &NewPairing) -> Result<(), StoreError> {
        self.end_pairings_of(new.person, new.made).await?;
        sqlx::query("INSERT INTO pairings (person, token_hash, letters_hash, made) VALUES ($1, $2, $3, $4)")
            .bind(new.person.to_string())
            .bind(&new.token)
            .bind(&new.letters)
            .bind(moment(new.made))
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Ends the codes of a person that nobody used.
    pub async fn end_pairings_of(&mut self, person: PersonId, at: Timestamp) -> Result<(), StoreError> {
        sqlx::query("UPDATE pairings SET used = $2 WHERE person = $1 AND used IS NULL")
            .bind(person.to_string())
            .bind(moment(at))
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Uses a code made no earlier than `since`; gives whose it was.
    pub async fn use_pairing(
        &mut self,
        code: &GivenCode,
        (since, at): (Timestamp, Timestamp),
    ) -> Result<Option<PersonId>, StoreError> {
        let (token, letters) = match code {
            GivenCode::Token(hash) => (Some(hash), None),
            GivenCode::Letters(hash) => (None, Some(hash)),
        };
        let row: Option<String> = sqlx::query_scalar(
            "UPDATE pairings SET used = $1 WHERE used IS NULL AND made >= $2
             AND (token_hash = $3 OR letters_hash = $4)
             AND person IN (SELECT id FROM people WHERE removed IS NULL) RETURNING person",
        )
        .bind(moment(at))
        .bind(moment(since))
        .bind(token)
        .bind(letters)
        .fetch_optional(&mut self.connection)
        .await?;
        row.map(|id| parsed("pairings", "person", &id)).transpose()
    }

    /// Ends one session of a person; gives what it was signed in on, or nothing where it had ended.
    pub async fn end_device(
        &mut self,
        person: PersonId,
        number: i64,
        at: Timestamp,
    ) -> Result<Option<String>, StoreError> {
        Ok(sqlx::query_scalar(
            "UPDATE sessions SET ended = $3 WHERE person = $1 AND number = $2 AND ended IS NULL RETURNING device",
        )
        .bind(person.to_string())
        .bind(number)
        .bind(moment(at))
        .fetch_optional(&mut self.connection)
        .await?)
    }
}
