//! Whether the records can be written, and what they say ought to be on the disk.

use crate::domain::words::fingerprint::Fingerprint;
use crate::store::engine;
use crate::store::engine::Connection;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::recorded::build_log::{self, LogEntry};
use crate::store::text::parsed;
use crate::store::vault::disk::room;
use crate::store::vault::{Item, Room, ViewFile, blocking};

/// A file that rows name.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Named {
    /// Which it is: a photograph, a packet, or what a reply was typed from.
    pub item: Item,
    /// Who needs it, in words: "round 1 of Teasel Coupe".
    pub whose: String,
}

/// The same of any connection to a shop's records.
pub(in crate::store) async fn named_files(records: &mut Connection) -> Result<Vec<Named>, StoreError> {
    let photos: Vec<(String, String)> = sqlx::query_as(
        "SELECT sha256, builds.name FROM photos JOIN builds ON builds.id = build
         WHERE received IS NOT NULL ORDER BY photos.number",
    )
    .fetch_all(&mut *records)
    .await?;
    let packets: Vec<(String, u32, String)> = sqlx::query_as(
        "SELECT packet_sha256, round, builds.name FROM rounds JOIN builds ON builds.id = build
         ORDER BY rounds.number",
    )
    .fetch_all(&mut *records)
    .await?;
    let mails: Vec<(String, String, String)> = sqlx::query_as(
        "SELECT reply_mails.sha256, reply_mails.name, builds.name FROM reply_mails
         JOIN replies ON replies.id = reply JOIN rounds ON rounds.id = replies.round JOIN builds ON builds.id = build
         ORDER BY reply_mails.number",
    )
    .fetch_all(records)
    .await?;
    let mut named = Vec::with_capacity(photos.len() + packets.len() + mails.len());
    for (sha256, build) in photos {
        let item = Item::Photo(parsed("photos", "sha256", &sha256)?);
        named.push(Named { item, whose: format!("a photo of {build}") });
    }
    for (sha256, round, build) in packets {
        let item = Item::Packet(parsed("rounds", "packet_sha256", &sha256)?);
        named.push(Named { item, whose: format!("round {round} of {build}") });
    }
    for (sha256, name, build) in mails {
        let item = Item::Mail(parsed("reply_mails", "sha256", &sha256)?);
        named.push(Named { item, whose: format!("“{name}”, with a reply to a round of {build}") });
    }
    Ok(named)
}

impl Store {
    /// Writes a row and waits until it is on the disk; says why not.
    pub async fn healthy(&self) -> Result<(), StoreError> {
        self.vault().usable()?;
        self.change::<_, StoreError, _>(|write| {
            Box::pin(async move {
                sqlx::query(
                    "INSERT INTO heartbeat (number, beats) VALUES (1, 1)
                     ON CONFLICT (number) DO UPDATE SET beats = heartbeat.beats + 1",
                )
                .execute(&mut write.connection)
                .await?;
                Ok(((), None))
            })
        })
        .await
    }

    /// The version of the engine that keeps the records.
    pub async fn engine_version(&self) -> Result<String, StoreError> {
        engine::version(&mut *self.readers().acquire().await?).await
    }

    /// How much room there is on the disk of the shop's folder; none where the system does not say.
    pub async fn room(&self) -> Result<Option<Room>, StoreError> {
        let folder = self.folder().to_owned();
        blocking(move || room(&folder)).await
    }

    /// The last entry of the log; none before the first.
    pub async fn last_entry(&self) -> Result<Option<LogEntry>, StoreError> {
        let (number, _) = build_log::last(&mut *self.readers().acquire().await?).await?;
        if number == 0 { Ok(None) } else { self.log_entry(number).await }
    }

    /// Every file that a row names: photographs received, packets issued, what replies were typed from. Files are kept before rows name them, so each
    /// must be there.
    pub async fn named_files(&self) -> Result<Vec<Named>, StoreError> {
        named_files(&mut *self.readers().acquire().await?).await
    }

    /// How each file among the views is, in the order of their names; all are read whole.
    pub async fn view_files(&self) -> Result<Vec<ViewFile>, StoreError> {
        self.vault().views().await
    }

    /// What is wrong within the rows themselves, in words: pages of the database, receipts without their log entry,
    /// contents lists that are not the ones issued.
    pub async fn row_faults(&self) -> Result<Vec<String>, StoreError> {
        let mut faults = engine::page_faults(self.readers()).await?;
        let unlogged: Vec<String> = sqlx::query_scalar(
            "SELECT capture FROM photos LEFT JOIN log ON log.number = entry AND log.build = photos.build
             WHERE received IS NOT NULL AND log.number IS NULL",
        )
        .fetch_all(self.readers())
        .await?;
        faults.extend(unlogged.into_iter().map(|capture| format!("The receipt of photo {capture} has no log entry.")));
        let cut_off: Vec<u32> = sqlx::query_scalar(
            "SELECT round FROM rounds LEFT JOIN log ON log.number = as_of AND log.build = rounds.build
             WHERE log.number IS NULL ORDER BY rounds.number",
        )
        .fetch_all(self.readers())
        .await?;
        faults.extend(
            cut_off.into_iter().map(|round| format!("A round {round} was issued as of a log entry that is gone.")),
        );
        let contents: Vec<(u32, String, String)> =
            sqlx::query_as("SELECT round, contents, contents_sha256 FROM rounds ORDER BY number")
                .fetch_all(self.readers())
                .await?;
        faults.extend(
            contents
                .into_iter()
                .filter(|(_, contents, sha256)| Fingerprint::of(contents.as_bytes()).text() != sha256)
                .map(|(round, ..)| format!("The contents list of a round {round} is not the one that was issued.")),
        );
        Ok(faults)
    }
}
