//! Checking everything kept against what was recorded of it.

use std::collections::{BTreeMap, BTreeSet};

use crate::actions::error::ActionError;
use crate::actions::shop::signing::{Checked, check, same_key};
use crate::documents::packet::contents_in;
use crate::domain::derived::contents::Contents;
use crate::domain::words::fingerprint::Fingerprint;
use crate::store::covered::RowFault;
use crate::store::recorded::build_log::LogCheck;
use crate::store::vault::{Item, ViewState};
use crate::store::{Store, StoreError};

/// So many records that are not as the log says are told one by one.
const MOST_ROWS: usize = 50;

/// What checking a shop's records and files found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Report {
    /// How many different photographs were read.
    pub photos: usize,
    /// How many packets were read.
    pub packets: usize,
    /// How many different mails that replies were typed from were read.
    pub mails: usize,
    /// How many views were read that are what was made of their photographs.
    pub views: usize,
    /// How many whole views an earlier program made, which do not say of which photograph they are: none of them is shown or
    /// printed, they are made again. They are not bad.
    pub unmarked_views: usize,
    /// How many rows were compared with the log.
    pub rows: usize,
    /// The log's chain.
    pub log: LogCheck,
    /// Each bad state in a sentence.
    pub bad: Vec<String>,
    /// Files that no row names, by path: left by a cut between file and row. They harm nothing and are not bad.
    pub strays: Vec<String>,
}

impl Report {
    /// Whether everything is as it was recorded.
    pub fn good(&self) -> bool {
        self.bad.is_empty()
    }
}

/// The rounds whose signature is not one of their packet by the key that is recorded with it, each in a sentence.
async fn unsigned(store: &Store) -> Result<Vec<String>, ActionError> {
    let mut bad = Vec::new();
    for build in store.builds().await? {
        let signatures = store.round_signatures(build.id).await?;
        for round in store.rounds(build.id).await? {
            let Some(signed) = signatures.iter().find(|one| one.round == round.id) else { continue };
            let Some(held) = store.vault().get(&Item::Packet(round.packet_sha256.clone())).await? else { continue };
            let packet = held.bytes().await?;
            // one that is not the packet that was kept is told of already
            if Fingerprint::of(&packet) != round.packet_sha256 {
                continue;
            }
            let said = check(&packet, &signed.signature);
            if !matches!(said, Checked::Unaltered { public } if same_key(&public, &signed.public)) {
                let number = round.number;
                bad.push(format!("The signature of round {number} of {} is not one of its packet.", build.name));
            }
        }
    }
    Ok(bad)
}

/// What says that the log was longer, or another, than it is: packets in the shop's folder, whether a row names them or not,
/// and the note of the last backup carry the head that the log had then.
async fn cut_short(store: &Store, paths: &[String]) -> Result<Vec<String>, ActionError> {
    let hashes = store.log_hashes().await?;
    let mut bad = Vec::new();
    let gone = "which the log has no more: entries were taken away, or others put in their place.";
    for path in paths {
        let name = path.strip_prefix("packets/").and_then(|name| name.strip_suffix(".pdf"));
        let Some(sha256) = name.and_then(|name| name.parse::<Fingerprint>().ok()) else { continue };
        let Some(held) = store.vault().get(&Item::Packet(sha256)).await? else { continue };
        let packet = held.bytes().await?;
        // reading a packet takes a while in which pages are not to wait
        let read = tokio::task::spawn_blocking(move || contents_in(&packet)).await;
        let Some((contents, _)) = read.map_err(|error| ActionError::NotWorked(error.to_string()))? else { continue };
        let Contents { round, build, as_of, log_head, .. } = contents;
        if !log_head.is_empty() && !hashes.contains(&log_head) {
            bad.push(format!(
                "{path}, round {round} of {build}, was made when the log had an entry {as_of}, {log_head}, {gone}"
            ));
        }
    }
    if let Some(head) = store.last_backup().await?.and_then(|last| last.log)
        && head.entries > 0
        && !hashes.contains(&head.head)
    {
        bad.push(format!("The last backup has a log of {} entries that ends with {}, {gone}", head.entries, head.head));
    }
    Ok(bad)
}

/// Rows that are not as the log tells of them, each in a sentence; beyond the first so many their number alone.
async fn altered(store: &Store, faults: &[RowFault]) -> Result<Vec<String>, ActionError> {
    let mut bad = Vec::new();
    for fault in faults.iter().take(MOST_ROWS) {
        let entry = match fault.entry() {
            Some(number) => store.log_entry(number).await?,
            None => None,
        };
        let said = entry.map(|entry| format!(" (“{}”, {}, {})", entry.what, entry.by, entry.at)).unwrap_or_default();
        bad.push(match fault {
            RowFault::List { entry } => {
                format!("What log entry {entry}{said} says of its records is not what it was written with.")
            }
            RowFault::Gone { table, entry } => {
                format!("A record in {table} is not there any more as log entry {entry}{said} wrote it: altered, or taken away.")
            }
            RowFault::Unknown { table } => {
                format!("A record in {table} stands there as no log entry wrote it: altered, or put in.")
            }
        });
    }
    if let Some(more) = faults.len().checked_sub(MOST_ROWS).filter(|more| *more > 0) {
        bad.push(format!("{more} more records are not as the log says."));
    }
    Ok(bad)
}

/// Reads every photograph, packet and mail whole and compares it with its recorded SHA-256, and every row with the log.
pub async fn verify(store: &Store) -> Result<Report, ActionError> {
    // The files are listed before the rows: one that arrives in between has its row and is no stray.
    let there = store.vault().list().await?;
    let log = store.verify_log().await?;
    let mut bad = store.row_faults().await?;
    if let Some(number) = log.broken_at {
        bad.push(format!("Log entry {number} does not follow from the one before: it, or that one, was altered."));
    }
    // One content may be several captures: read once, named for the first.
    let mut named = BTreeMap::new();
    for file in store.named_files().await? {
        named.entry(file.item).or_insert(file.whose);
    }
    let mut paths = BTreeSet::new();
    for (item, whose) in &named {
        let path = item.path();
        match store.vault().get(item).await? {
            None => bad.push(format!("{path}, {whose}, is missing.")),
            Some(held) => {
                if Some(&held.fingerprint().await?) != item.sha256() {
                    bad.push(format!("{path}, {whose}, is not the file that was kept."));
                }
            }
        }
        paths.insert(path);
    }
    bad.extend(unsigned(store).await?);
    bad.extend(cut_short(store, &there).await?);
    let rows = store.verify_rows().await?;
    bad.extend(altered(store, &rows.faults).await?);
    let count = |is: fn(&Item) -> bool| named.keys().filter(|item| is(item)).count();
    let (packets, mails) = (count(|item| matches!(item, Item::Packet(_))), count(|item| matches!(item, Item::Mail(_))));
    let strays = there.into_iter().filter(|path| !paths.contains(path)).collect();
    let (photos, rows) = (named.len() - packets - mails, rows.rows);
    let report = Report { photos, packets, mails, views: 0, unmarked_views: 0, rows, log, bad, strays };
    Ok(with_views(report, store).await?)
}

/// The same with what the views say of themselves.
async fn with_views(mut report: Report, store: &Store) -> Result<Report, StoreError> {
    for file in store.view_files().await? {
        let path = file.path;
        match file.state {
            Some(ViewState::Good) => report.views += 1,
            Some(ViewState::Unmarked) => report.unmarked_views += 1,
            Some(ViewState::Wrong) => report.bad.push(format!(
                "{path} is not the view that was made of its photograph. It is shown to nobody, and made again."
            )),
            None => report.strays.push(path),
        }
    }
    Ok(report)
}
