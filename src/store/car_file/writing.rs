//! Writing a car's file: first every content is read once, for its check sum and to see that it is whole; then all is known,
//! its length too, and the file is written from its beginning to its end, wherever to.

use sha2::{Digest as _, Sha256};
use tokio::io::{AsyncReadExt as _, AsyncWrite, AsyncWriteExt as _};

use super::archive::{Directory, Header};
use crate::domain::words::fingerprint::Fingerprint;
use crate::store::error::StoreError;
use crate::store::vault::{Item, Vault};

/// How much is read at a time, in bytes.
const AT_A_TIME: usize = 1 << 20;

/// What a thing's bytes are taken from.
#[derive(Debug)]
enum Source {
    /// They are here.
    Bytes(Vec<u8>),
    /// They lie in the vault.
    Kept(Item),
}

/// A thing of the file, looked through and ready to be written.
#[derive(Debug)]
pub struct Ready {
    header: Header,
    sha256: Fingerprint,
    source: Source,
}

impl Ready {
    /// Its length in bytes.
    pub fn size(&self) -> u64 {
        u64::from(self.header.size)
    }

    /// Its name in the file.
    pub fn name(&self) -> &str {
        &self.header.name
    }

    /// Its SHA-256.
    pub fn sha256(&self) -> &Fingerprint {
        &self.sha256
    }

    /// Of a text.
    pub fn of_bytes(name: &str, bytes: Vec<u8>) -> Result<Self, StoreError> {
        let size = u32::try_from(bytes.len()).map_err(|_| too_large(name))?;
        let header = Header { name: name.to_owned(), size, crc: crc32fast::hash(&bytes) };
        Ok(Self { header, sha256: Fingerprint::of(&bytes), source: Source::Bytes(bytes) })
    }

    /// Of what lies in the vault; none where it is missing, or is not what it was when it was kept. `name` says what it is
    /// called in the file, by its first bytes.
    pub async fn of_kept(
        vault: &Vault,
        item: Item,
        name: impl Fn(&[u8]) -> String + Send + Sync,
    ) -> Result<Option<Self>, StoreError> {
        let Some(mut held) = vault.get(&item).await? else { return Ok(None) };
        let name = name(&held.first_bytes(16).await?);
        let size = u32::try_from(held.length()).map_err(|_| too_large(&name))?;
        let (mut reading, mut buffer) = (held.whole(), vec![0_u8; AT_A_TIME]);
        let (mut sha256, mut crc) = (Sha256::new(), crc32fast::Hasher::new());
        loop {
            let read = reading.read(&mut buffer).await?;
            let bytes = buffer.get(..read).unwrap_or_default();
            if bytes.is_empty() {
                break;
            }
            sha256.update(bytes);
            crc.update(bytes);
        }
        let sha256 = Fingerprint::of_hasher(sha256);
        if item.sha256() != Some(&sha256) {
            return Ok(None);
        }
        Ok(Some(Self { header: Header { name, size, crc: crc.finalize() }, sha256, source: Source::Kept(item) }))
    }
}

fn too_large(name: &str) -> StoreError {
    StoreError::NotKept(format!("{name} is too large for a car's file"))
}

/// A car's file that is ready to be written.
#[derive(Debug)]
pub struct Writing {
    vault: Vault,
    things: Vec<Ready>,
    directory: Directory,
}

impl Writing {
    /// Of things in the order they stand in.
    pub fn of(vault: &Vault, things: Vec<Ready>) -> Self {
        let mut directory = Directory::default();
        for thing in &things {
            directory.add(&thing.header);
        }
        Self { vault: vault.clone(), things, directory }
    }

    /// How many bytes the file has.
    pub fn length(&self) -> u64 {
        self.directory.length()
    }

    /// Writes it; `told` is called with the bytes that are written so far.
    ///
    /// # Errors
    /// The other side's trouble; `NotKept` where something is not any more what it was a moment ago.
    pub async fn write_to(
        self,
        to: &mut (impl AsyncWrite + Unpin + Send),
        told: &(dyn Fn(u64) + Send + Sync),
    ) -> Result<(), StoreError> {
        let (mut written, mut buffer) = (0, vec![0_u8; AT_A_TIME]);
        for Ready { header, source, .. } in self.things {
            let local = header.local();
            to.write_all(&local).await?;
            written += local.len() as u64 + u64::from(header.size);
            match source {
                Source::Bytes(bytes) => to.write_all(&bytes).await?,
                Source::Kept(item) => {
                    let gone = || StoreError::NotKept(format!("{} is not what it was a moment ago", item.path()));
                    let mut reading = self.vault.get(&item).await?.ok_or_else(gone)?.whole();
                    let (mut crc, mut size) = (crc32fast::Hasher::new(), 0_usize);
                    loop {
                        let read = reading.read(&mut buffer).await?;
                        let bytes = buffer.get(..read).unwrap_or_default();
                        if bytes.is_empty() {
                            break;
                        }
                        crc.update(bytes);
                        size += read;
                        to.write_all(bytes).await?;
                    }
                    if crc.finalize() != header.crc || u32::try_from(size) != Ok(header.size) {
                        return Err(gone());
                    }
                }
            }
            told(written);
        }
        to.write_all(&self.directory.end()).await?;
        to.flush().await?;
        told(self.directory.length());
        Ok(())
    }
}
