//! Making a backup while the shop is open: the records first, then every file they name, the list last.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use jiff::Timestamp;

use super::{KEPT, List, Listed, LogEnd, Tell, VERSION, as_text, list_of, lists, put_text, remember};
use crate::domain::words::fingerprint::Fingerprint;
use crate::store::engine::{self, sync_folder};
use crate::store::error::StoreError;
use crate::store::found;
use crate::store::recorded::build_log;
use crate::store::shop::health::{Named, named_files};
use crate::store::vault::{blocking, disk};

/// A backup that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    /// What it consists of.
    pub list: List,
    /// How many of its files were not in the folder before.
    pub copied: usize,
    /// The backup before it, where that has files which this one has not: it is kept, however many follow.
    pub fewer: Option<Fewer>,
    /// The backup before it, where the log does not go on from that one's: entries were taken away or replaced. It is kept.
    pub parted: Option<String>,
}

/// A backup that has files which the one after it has not. A shop gives nothing up: something was lost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fewer {
    /// The name of its list.
    pub before: String,
    /// How many such files.
    pub files: usize,
}

/// Where things of one backup lie.
#[derive(Debug, Clone)]
struct Places {
    shop: PathBuf,
    to: PathBuf,
}

/// Makes a backup of the shop in a folder into another one. Works while the shop is served: files are only ever added, so
/// whatever the records of a moment name is there afterwards. Every file of it was read again and compared when this is done.
///
/// # Errors
/// `Folder` where there is no shop, or one folder lies in the other; `Full`; the disk's and the database's trouble.
pub async fn take(shop: &Path, to: &Path, at: Timestamp, tell: Tell<'_>) -> Result<Taken, StoreError> {
    found::is_there(shop)?;
    found::is_no_shop(shop, to)?;
    engine::known_form(&mut engine::read_only(shop).await?).await?;
    fs::create_dir_all(to)?;
    let places = Places { shop: shop.canonicalize()?, to: to.canonicalize()? };
    if places.shop.starts_with(&places.to) || places.to.starts_with(&places.shop) {
        let why = "A backup lies in a folder of its own, best on another disk: not in the shop's, nor around it";
        return Err(StoreError::Folder(why.to_owned()));
    }
    fs::create_dir_all(places.to.join("arriving"))?;
    sync_folder(&places.to)?;
    let records = snapshot(&places).await?;
    let earlier = all_in(&places.to).await?;
    let (named, log, parted_from) = read_in(&places.to.join(&records.path), &earlier).await?;
    let mut list = List {
        tackbook_backup: VERSION,
        made: at,
        number: earlier.last().map_or(0, |(_, list)| list.number).saturating_add(1),
        log: Some(log),
        parted_from,
        records,
        files: Vec::new(),
        lost: Vec::new(),
    };
    let (all, mut copied) = (named.len(), 0);
    for (done, (path, file)) in named.into_iter().enumerate() {
        tell(done, all);
        let (places, whose) = (places.clone(), file.whose);
        let Some(sha256) = file.item.sha256().cloned() else { continue };
        let kept = blocking(move || one(&places, path, &sha256)).await?;
        match kept {
            One::There(listed) => list.files.push(listed),
            One::Copied(listed) => {
                copied += 1;
                list.files.push(listed);
            }
            One::Lost(path, how) => list.lost.push(format!("{path}, {whose}, {how}.")),
        }
    }
    tell(all, all);
    let (places, written) = (places, list.clone());
    let before = earlier.last().map(|(name, _)| name.clone());
    let parted = before.clone().filter(|name| list.parted_from.contains(name));
    let fewer = blocking(move || finish(&places, &written, before)).await?;
    Ok(Taken { list, copied, fewer, parted })
}

/// The records as they are now, in one file, named for what it says.
async fn snapshot(places: &Places) -> Result<Listed, StoreError> {
    let part = places.to.join("arriving").join("records.part");
    disk::discard(&part)?;
    let mut shop = engine::read_only(&places.shop).await?;
    engine::snapshot(&mut shop, &part).await?;
    let to = places.to.clone();
    blocking(move || {
        let (sha256, size) = (disk::fingerprint(&part)?, disk::length(&part)?);
        let path = format!("records-{}.db", sha256.text().get(..16).unwrap_or_default());
        disk::place(&part, &to.join(&path))?;
        Ok(Listed { path, size, sha256 })
    })
    .await
}

/// The backups that lie in a folder already, oldest first, by the names of their lists.
async fn all_in(to: &Path) -> Result<Vec<(String, List)>, StoreError> {
    let to = to.to_owned();
    blocking(move || {
        let read = |name: String| list_of(&to, &name).ok().map(|list| (name, list));
        Ok(lists(&to)?.into_iter().filter_map(read).collect())
    })
    .await
}

/// Of records that were copied: every file that they name, once, by its path; where their log ends; and the backups whose logs
/// it does not go on from.
async fn read_in(
    records: &Path,
    earlier: &[(String, List)],
) -> Result<(BTreeMap<String, Named>, LogEnd, Vec<String>), StoreError> {
    let mut records = engine::backed_up(records).await?;
    let mut named = BTreeMap::new();
    for file in named_files(&mut records).await? {
        named.entry(file.item.path()).or_insert(file);
    }
    let (entries, head) = build_log::last(&mut records).await?;
    let mut parted_from = Vec::new();
    for (name, list) in earlier {
        let Some(then) = list.log.as_ref().filter(|end| end.entries > 0) else { continue };
        let there: Option<String> = sqlx::query_scalar("SELECT hash FROM log WHERE number = $1")
            .bind(then.entries)
            .fetch_optional(&mut records)
            .await?;
        if there.as_ref() != Some(&then.head) {
            parted_from.push(name.clone());
        }
    }
    Ok((named, LogEnd { entries, head }, parted_from))
}

enum One {
    There(Listed),
    Copied(Listed),
    Lost(String, &'static str),
}

/// One file: left where it lies whole already, copied where it does not, and read again after that.
fn one(places: &Places, path: String, sha256: &Fingerprint) -> Result<One, StoreError> {
    let (from, place) = (places.shop.join(&path), places.to.join(&path));
    let listed = |path: String| -> Result<Listed, StoreError> {
        Ok(Listed { path, size: disk::length(&place)?, sha256: sha256.clone() })
    };
    if place.is_file() && disk::fingerprint(&place)? == *sha256 {
        return Ok(One::There(listed(path)?));
    }
    if !from.is_file() {
        return Ok(One::Lost(path, "is missing"));
    }
    disk::room_for(&places.to, disk::length(&from)?)?;
    let part = places.to.join("arriving").join(format!("{sha256}.part"));
    if disk::copy(&from, &part)? != *sha256 {
        disk::discard(&part)?;
        return Ok(One::Lost(path, "is not the file that was kept"));
    }
    disk::place(&part, &place)?;
    if disk::fingerprint(&place)? != *sha256 {
        return Err(StoreError::NotKept(format!("{} reads otherwise than it was written", place.display())));
    }
    Ok(One::Copied(listed(path)?))
}

/// The list, which makes it a backup; then the oldest go. Says what the backup before it has beyond it.
fn finish(places: &Places, list: &List, before: Option<String>) -> Result<Option<Fewer>, StoreError> {
    let fewer = before.and_then(|name| beyond(&list_of(&places.to, &name).ok()?, list).map(|files| (name, files)));
    let name = format!("backup-{}.json", list.made.strftime("%Y-%m-%dT%H%M%SZ"));
    put_text(&places.to, &name, &as_text(list)?)?;
    drop_oldest(&places.to)?;
    remember(&places.shop, &places.to, list)?;
    Ok(fewer.filter(|(before, _)| *before != name).map(|(before, files)| Fewer { before, files }))
}

/// How many files a backup has that the one after it has not; none where it has no such.
fn beyond(before: &List, after: &List) -> Option<usize> {
    let there: BTreeSet<&str> = after.files.iter().map(|file| file.path.as_str()).collect();
    let beyond = before.files.iter().filter(|file| !there.contains(file.path.as_str())).count();
    (beyond > 0).then_some(beyond)
}

/// Takes the oldest backups away, but none that has files which the one after it has not, or whose log that one does not go
/// on from.
fn drop_oldest(to: &Path) -> Result<(), StoreError> {
    let names = lists(to)?;
    let too_many = names.len().saturating_sub(KEPT);
    for (old, after) in names.iter().zip(names.iter().skip(1)).take(too_many) {
        let Ok(old_list) = list_of(to, old) else { continue };
        let Ok(after) = list_of(to, after) else { continue };
        if beyond(&old_list, &after).is_some() || after.parted_from.contains(old) {
            continue;
        }
        let records = old_list.records.path;
        disk::discard(&to.join(old))?;
        let needed = lists(to)?.iter().any(|name| list_of(to, name).is_ok_and(|list| list.records.path == records));
        if !needed {
            disk::discard(&to.join(records))?;
        }
    }
    Ok(())
}
