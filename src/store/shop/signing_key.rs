//! The key that packets are signed by: the private one in a file that only its owner reads, the public ones and the
//! signatures in rows that are only added to.

use std::fs;
use std::path::{Path, PathBuf};

use jiff::Timestamp;
use sqlx::FromRow;

use super::certificate::put_private;
use crate::domain::shop::signing::{RoundSignature, SigningKey};
use crate::domain::words::ids::{BuildId, RoundId};
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{moment, parsed};
use crate::store::vault::blocking;

#[derive(Debug, FromRow)]
struct Row {
    number: i64,
    public: String,
    recorded: String,
    by: String,
}

#[derive(Debug, FromRow)]
struct SignatureRow {
    round: String,
    public: String,
    signature: String,
}

/// Where the private key lies in a shop's folder; backups take nothing of that place.
pub fn place(folder: &Path) -> PathBuf {
    folder.join("keys").join("packets_ed25519")
}

async fn all(on: impl Executor<'_>) -> Result<Vec<SigningKey>, StoreError> {
    let rows: Vec<Row> =
        sqlx::query_as("SELECT * FROM signing_keys WHERE brought = 0 ORDER BY number").fetch_all(on).await?;
    let key = |row: Row| {
        let recorded = parsed("signing_keys", "recorded", &row.recorded)?;
        Ok(SigningKey { number: row.number, public: row.public, recorded, by: row.by })
    };
    rows.into_iter().map(key).collect()
}

impl Store {
    /// The private key in OpenSSH's own form; none where none was made, or it was taken away.
    pub async fn private_key(&self) -> Result<Option<String>, StoreError> {
        let place = place(self.folder());
        blocking(move || match fs::read_to_string(place) {
            Ok(text) => Ok(Some(text)),
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error.into()),
        })
        .await
    }

    /// Keeps a private key, in the place of the one before.
    pub async fn keep_private_key(&self, text: String) -> Result<(), StoreError> {
        let folder = self.folder().to_owned();
        blocking(move || put_private(&folder, &place(&folder), &text)).await
    }

    /// The public keys by which packets were signed, the one in use last.
    pub async fn signing_keys(&self) -> Result<Vec<SigningKey>, StoreError> {
        all(self.readers()).await
    }

    /// The signatures of a build's packets; rounds from before there were any have none.
    pub async fn round_signatures(&self, build: BuildId) -> Result<Vec<RoundSignature>, StoreError> {
        let rows: Vec<SignatureRow> = sqlx::query_as(
            "SELECT rounds.id AS round, public, signature FROM rounds
             JOIN round_signatures ON round_signatures.round = rounds.id
             JOIN signing_keys ON signing_keys.number = round_signatures.key
             WHERE build = $1",
        )
        .bind(build.to_string())
        .fetch_all(self.readers())
        .await?;
        let signature = |row: SignatureRow| {
            let round = parsed("round_signatures", "round", &row.round)?;
            Ok(RoundSignature { round, public: row.public, signature: row.signature })
        };
        rows.into_iter().map(signature).collect()
    }
}

impl Write {
    /// The public keys, as the writer finds them.
    pub async fn signing_keys(&mut self) -> Result<Vec<SigningKey>, StoreError> {
        all(&mut self.connection).await
    }

    /// Adds a public key, which is the one in use from now on.
    pub async fn add_signing_key(&mut self, public: &str, at: Timestamp, by: &str) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO signing_keys (public, recorded, by) VALUES ($1, $2, $3)")
            .bind(public)
            .bind(moment(at))
            .bind(by)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Adds the signature of a round's packet by a key that is recorded.
    pub async fn add_round_signature(&mut self, round: RoundId, key: i64, signature: &str) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO round_signatures (round, key, signature) VALUES ($1, $2, $3)")
            .bind(round.to_string())
            .bind(key)
            .bind(signature)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}
