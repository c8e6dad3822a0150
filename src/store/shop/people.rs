//! Rows of people, their sessions, their failed sign-ins and the one-time links.

use jiff::Timestamp;

use crate::domain::shop::people::{Person, Role};
use crate::domain::words::ids::PersonId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{moment, parsed};

/// A person with the hash of their password (a PHC string).
#[derive(Debug, Clone)]
pub struct SignIn {
    /// The person.
    pub person: Person,
    /// The password's hash, as a PHC string.
    pub password: String,
}

/// A session and whose it is.
#[derive(Debug, Clone)]
pub struct Session {
    /// Whose it is.
    pub person: Person,
    /// When it was begun.
    pub begun: Timestamp,
    /// When it was last used, to within the step it is noted in.
    pub seen: Timestamp,
}

/// Guesses under one name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Failures {
    /// How many since the last that worked.
    pub count: i64,
    /// When the latest was.
    pub latest: Timestamp,
}

type PersonRow = (String, String, String);

fn person((id, name, role): PersonRow) -> Result<Person, StoreError> {
    let role = Role::of(&role).ok_or(StoreError::Damaged { table: "people", column: "role" })?;
    Ok(Person { id: parsed("people", "id", &id)?, name, role })
}

async fn count(on: impl Executor<'_>) -> Result<i64, StoreError> {
    Ok(sqlx::query_scalar("SELECT COUNT(*) FROM people WHERE removed IS NULL").fetch_one(on).await?)
}

impl Store {
    /// How many people have a sign-in.
    pub async fn people_count(&self) -> Result<i64, StoreError> {
        count(self.readers()).await
    }

    /// Everybody with a sign-in, by name.
    pub async fn people(&self) -> Result<Vec<Person>, StoreError> {
        let rows: Vec<PersonRow> =
            sqlx::query_as("SELECT id, name, role FROM people WHERE removed IS NULL ORDER BY name")
                .fetch_all(self.readers())
                .await?;
        rows.into_iter().map(person).collect()
    }

    /// The person of a name (capitals or not), with the hash of their password.
    pub async fn person_by_name(&self, name: &str) -> Result<Option<SignIn>, StoreError> {
        let row: Option<(String, String, String, String)> =
            sqlx::query_as("SELECT id, name, role, password FROM people WHERE name = $1 AND removed IS NULL")
                .bind(name)
                .fetch_optional(self.readers())
                .await?;
        row.map(|(id, name, role, password)| Ok(SignIn { person: person((id, name, role))?, password })).transpose()
    }

    /// The session of a token's hash, unless it was ended.
    pub async fn session(&self, token_hash: &str) -> Result<Option<Session>, StoreError> {
        let row: Option<(String, String, String, String, String)> = sqlx::query_as(
            "SELECT people.id, name, role, begun, seen FROM sessions JOIN people ON people.id = person
             WHERE token_hash = $1 AND ended IS NULL AND removed IS NULL",
        )
        .bind(token_hash)
        .fetch_optional(self.readers())
        .await?;
        row.map(|(id, name, role, begun, seen)| {
            Ok(Session {
                person: person((id, name, role))?,
                begun: parsed("sessions", "begun", &begun)?,
                seen: parsed("sessions", "seen", &seen)?,
            })
        })
        .transpose()
    }

    /// Whether a one-time link was made no earlier than `since` and is not used. Looking uses nothing up.
    pub async fn setup_link_is_good(&self, token_hash: &str, since: Timestamp) -> Result<bool, StoreError> {
        let found: Option<i64> =
            sqlx::query_scalar("SELECT number FROM setup_links WHERE token_hash = $1 AND used IS NULL AND made >= $2")
                .bind(token_hash)
                .bind(moment(since))
                .fetch_optional(self.readers())
                .await?;
        Ok(found.is_some())
    }
}

impl Write {
    /// How many people have a sign-in, as the writer finds it.
    pub async fn people_count(&mut self) -> Result<i64, StoreError> {
        count(&mut self.connection).await
    }

    /// Adds a person; `Taken("name")` when the name is somebody's.
    pub async fn add_person(&mut self, person: &Person, password: &str, at: Timestamp) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO people (id, name, role, password, added) VALUES ($1, $2, $3, $4, $5)")
            .bind(person.id.to_string())
            .bind(&person.name)
            .bind(person.role.word())
            .bind(password)
            .bind(moment(at))
            .execute(&mut self.connection)
            .await
            .map_err(|error| StoreError::taken(error, "name"))?;
        Ok(())
    }

    /// The person of an id, as the writer finds it, unless they were removed.
    pub async fn person(&mut self, id: PersonId) -> Result<Person, StoreError> {
        let row: Option<PersonRow> =
            sqlx::query_as("SELECT id, name, role FROM people WHERE id = $1 AND removed IS NULL")
                .bind(id.to_string())
                .fetch_optional(&mut self.connection)
                .await?;
        row.map(person).transpose()?.ok_or(StoreError::NotFound("person"))
    }

    /// How many people of a role have a sign-in, as the writer finds it.
    pub async fn people_of_role(&mut self, role: Role) -> Result<i64, StoreError> {
        Ok(sqlx::query_scalar("SELECT COUNT(*) FROM people WHERE role = $1 AND removed IS NULL")
            .bind(role.word())
            .fetch_one(&mut self.connection)
            .await?)
    }

    /// Gives a person another password, by its hash.
    pub async fn set_password(&mut self, id: PersonId, password: &str) -> Result<(), StoreError> {
        sqlx::query("UPDATE people SET password = $2 WHERE id = $1")
            .bind(id.to_string())
            .bind(password)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Removes a person's sign-in. The name stays theirs, so that the log never speaks of two people by one name.
    pub async fn remove_person(&mut self, id: PersonId, at: Timestamp) -> Result<(), StoreError> {
        sqlx::query("UPDATE people SET removed = $2 WHERE id = $1 AND removed IS NULL")
            .bind(id.to_string())
            .bind(moment(at))
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Ends all sessions of a person.
    pub async fn end_sessions_of(&mut self, id: PersonId, at: Timestamp) -> Result<(), StoreError> {
        sqlx::query("UPDATE sessions SET ended = $2 WHERE person = $1 AND ended IS NULL")
            .bind(id.to_string())
            .bind(moment(at))
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Begins a session on a device, by what its browser said; empty where it was not asked.
    pub async fn add_session(
        &mut self,
        token_hash: &str,
        person: PersonId,
        device: &str,
        at: Timestamp,
    ) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO sessions (token_hash, person, device, begun, seen) VALUES ($1, $2, $3, $4, $4)")
            .bind(token_hash)
            .bind(person.to_string())
            .bind(device)
            .bind(moment(at))
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Notes that a session was used.
    pub async fn session_seen(&mut self, token_hash: &str, at: Timestamp) -> Result<(), StoreError> {
        sqlx::query("UPDATE sessions SET seen = $2 WHERE token_hash = $1 AND seen < $2")
            .bind(token_hash)
            .bind(moment(at))
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Ends a session; says whether it was still going.
    pub async fn end_session(&mut self, token_hash: &str, at: Timestamp) -> Result<bool, StoreError> {
        let done = sqlx::query("UPDATE sessions SET ended = $2 WHERE token_hash = $1 AND ended IS NULL")
            .bind(token_hash)
            .bind(moment(at))
            .execute(&mut self.connection)
            .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Adds a one-time link.
    pub async fn add_setup_link(&mut self, token_hash: &str, at: Timestamp) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO setup_links (token_hash, made) VALUES ($1, $2)")
            .bind(token_hash)
            .bind(moment(at))
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Uses a one-time link made no earlier than `since`; says whether it was good.
    pub async fn use_setup_link(
        &mut self,
        token_hash: &str,
        since: Timestamp,
        at: Timestamp,
    ) -> Result<bool, StoreError> {
        let done =
            sqlx::query("UPDATE setup_links SET used = $3 WHERE token_hash = $1 AND used IS NULL AND made >= $2")
                .bind(token_hash)
                .bind(moment(since))
                .bind(moment(at))
                .execute(&mut self.connection)
                .await?;
        Ok(done.rows_affected() == 1)
    }

    /// The names of everybody who ever had a sign-in, as the writer finds them.
    pub async fn everybodys_names(&mut self) -> Result<Vec<String>, StoreError> {
        Ok(sqlx::query_scalar("SELECT name FROM people ORDER BY number").fetch_all(&mut self.connection).await?)
    }

    /// Guesses under a name's hash, as the writer finds them.
    pub async fn failures(&mut self, name_hash: &str) -> Result<Option<Failures>, StoreError> {
        let row: Option<(i64, String)> =
            sqlx::query_as("SELECT failures, latest FROM sign_in_failures WHERE name_hash = $1")
                .bind(name_hash)
                .fetch_optional(&mut self.connection)
                .await?;
        row.map(|(count, latest)| Ok(Failures { count, latest: parsed("sign_in_failures", "latest", &latest)? }))
            .transpose()
    }

    /// Counts the wait of a name from another moment, where its latest guess lies ahead of a clock that was set back.
    pub async fn count_wait_from(&mut self, name_hash: &str, at: Timestamp) -> Result<(), StoreError> {
        sqlx::query("UPDATE sign_in_failures SET latest = $2 WHERE name_hash = $1")
            .bind(name_hash)
            .bind(moment(at))
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Counts a guess, and forgets those that are older than `since`.
    pub async fn count_failure(&mut self, name_hash: &str, since: Timestamp, at: Timestamp) -> Result<(), StoreError> {
        sqlx::query("DELETE FROM sign_in_failures WHERE latest < $1")
            .bind(moment(since))
            .execute(&mut self.connection)
            .await?;
        sqlx::query(
            "INSERT INTO sign_in_failures (name_hash, failures, latest) VALUES ($1, 1, $2)
             ON CONFLICT (name_hash) DO UPDATE SET failures = sign_in_failures.failures + 1, latest = excluded.latest",
        )
        .bind(name_hash)
        .bind(moment(at))
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// Forgets guesses under a name.
    pub async fn forget_failures(&mut self, name_hash: &str) -> Result<(), StoreError> {
        sqlx::query("DELETE FROM sign_in_failures WHERE name_hash = $1")
            .bind(name_hash)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}
