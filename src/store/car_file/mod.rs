//! Cars' files: a build's records and evidence out of a shop, and into another.

mod archive;
mod reading;
mod rows;
mod spool;
mod tables;
mod writing;

use jiff::Timestamp;
use serde_json::json;
use uuid::Uuid;

pub use reading::{Asked, AskedOfPacket, NotRead, Texts, WholeFile, read};
pub use rows::{BuildRecords, follows, text_of};
pub use spool::Spool;
pub(super) use spool::clear;
pub use tables::STAY;
pub use writing::{Ready, Writing};

use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;
use crate::store::engine;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::recorded::facts::facts_of;
use crate::store::recorded::pattern;
use crate::store::shop::builds;
use crate::store::text::{moment, parsed};
use crate::store::vault::{Item, blocking};

/// The names of the tables that go with a car.
pub fn tables() -> impl Iterator<Item = &'static str> {
    tables::TABLES.iter().map(|table| table.name)
}

/// By which file a build came into this shop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CameWith {
    /// The address it had in the shop that saved it.
    pub slug: String,
    /// The file's list, as it stands in it.
    pub manifest: String,
    /// The list's signature, armoured.
    pub signature: String,
    /// The public key that made it.
    pub public: String,
    /// When it was loaded.
    pub loaded: Timestamp,
    /// Who loaded it.
    pub by: String,
}

#[derive(Debug, sqlx::FromRow)]
struct Row {
    slug: String,
    manifest: String,
    signature: String,
    public: String,
    loaded: String,
    by: String,
}

/// Tries a file's records out where nothing can come to harm: puts them into records of their own form, brings these into
/// this program's, and reads all that is recorded of the build. Gives that, and the records in this program's form. Works
/// for a while, on a thread of its own.
///
/// # Errors
/// What does not fit, or does not read.
pub async fn tried(build: BuildId, from: BuildRecords) -> Result<(BuildFacts, BuildRecords), StoreError> {
    let here = tokio::runtime::Handle::current();
    blocking(move || here.block_on(try_out(build, &from))).await
}

async fn try_out(build: BuildId, from: &BuildRecords) -> Result<(BuildFacts, BuildRecords), StoreError> {
    let mut aside = engine::in_memory().await?;
    engine::to_form(&mut aside, from.records.form).await?;
    rows::put_in(&mut aside, build, from).await?;
    engine::to_form(&mut aside, engine::form()).await?;
    let facts = facts_of(&mut aside, build).await?;
    // it is no fact of the build, but it is shown and drawn like one
    pattern::of_build(&mut aside, build).await?;
    let records = rows::taken_out(&mut aside, build).await?;
    Ok((facts, records))
}

impl Store {
    /// All that is recorded of a build, as the program reads it and row by row, as of one moment.
    pub async fn records_of_build(&self, build: BuildId) -> Result<(BuildFacts, BuildRecords), StoreError> {
        let mut at_once = self.readers().begin().await?;
        let facts = facts_of(&mut at_once, build).await?;
        let records = rows::taken_out(&mut at_once, build).await?;
        Ok((facts, records))
    }

    /// By which file a build came; none of one that was begun here.
    pub async fn came_with(&self, build: BuildId) -> Result<Option<CameWith>, StoreError> {
        let row: Option<Row> = sqlx::query_as("SELECT * FROM car_files WHERE build = $1")
            .bind(build.to_string())
            .fetch_optional(self.readers())
            .await?;
        let came = |Row { slug, manifest, signature, public, loaded, by }: Row| {
            Ok(CameWith { slug, manifest, signature, public, loaded: parsed("car_files", "loaded", &loaded)?, by })
        };
        row.map(came).transpose()
    }

    /// A place for the evidence of a car's file while it is read.
    pub fn spool(&self, name: Uuid) -> Spool {
        Spool::of(self.folder(), name)
    }

    /// Puts the evidence of a file that was read whole in its places in the vault.
    pub async fn place_all(&self, mut spool: Spool, items: Vec<Item>) -> Result<(), StoreError> {
        self.vault().usable()?;
        blocking(move || items.iter().try_for_each(|item| spool.place(item))).await
    }
}

impl Write {
    /// Whether a build is in the shop.
    pub async fn has_build(&mut self, build: BuildId) -> Result<bool, StoreError> {
        Ok(builds::by_id(&mut self.connection, build).await?.is_some())
    }

    /// Puts a car's records into the shop; gives its address here, which has a number behind it where the plain one is another's.
    pub async fn load_car(
        &mut self,
        build: BuildId,
        mut from: BuildRecords,
        came: &CameWith,
    ) -> Result<String, StoreError> {
        let slug = self.free_slug(&came.slug).await?;
        let tables = from.records.tables.iter_mut().filter(|table| table.table == "builds");
        for row in tables.flat_map(|table| &mut table.rows) {
            row.insert("slug".to_owned(), json!(slug));
        }
        rows::put_in(&mut self.connection, build, &from).await?;
        sqlx::query(
            "INSERT INTO car_files (build, slug, manifest, signature, public, loaded, by)
             VALUES ($1, $2, $3, $4, $5, $6, $7)",
        )
        .bind(build.to_string())
        .bind(&came.slug)
        .bind(&came.manifest)
        .bind(&came.signature)
        .bind(&came.public)
        .bind(moment(came.loaded))
        .bind(&came.by)
        .execute(&mut self.connection)
        .await?;
        Ok(slug)
    }
}

/// The photographs, packets and mails that a build's records name: what must be in its file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Evidence {
    /// The photographs, each once, in the order of their fingerprints.
    pub photos: Vec<Fingerprint>,
    /// The packets, by their rounds.
    pub packets: Vec<(u32, Fingerprint)>,
    /// What replies were typed from, each once, in the order of their fingerprints.
    pub mails: Vec<Fingerprint>,
}

/// What of evidence a build's records name.
pub fn named(records: &BuildRecords) -> Result<Evidence, StoreError> {
    let received = records.rows("photos").iter().filter(|row| !text_of(row, "received").is_empty());
    let mut photos: Vec<Fingerprint> =
        received.map(|row| parsed("photos", "sha256", text_of(row, "sha256"))).collect::<Result<_, _>>()?;
    photos.sort();
    photos.dedup();
    let packet = |row| {
        let number = serde_json::Map::get(row, "round").and_then(serde_json::Value::as_u64);
        let number = number.and_then(|number| u32::try_from(number).ok());
        let number = number.ok_or(StoreError::Damaged { table: "rounds", column: "round" })?;
        Ok((number, parsed("rounds", "packet_sha256", text_of(row, "packet_sha256"))?))
    };
    let packets = records.rows("rounds").iter().map(packet).collect::<Result<_, StoreError>>()?;
    let mails = records.rows("reply_mails").iter().map(|row| parsed("reply_mails", "sha256", text_of(row, "sha256")));
    let mut mails: Vec<Fingerprint> = mails.collect::<Result<_, _>>()?;
    mails.sort();
    mails.dedup();
    Ok(Evidence { photos, packets, mails })
}
