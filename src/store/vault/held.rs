//! Something kept and found: its length is known, and any part of it can be read. Evidence is read from where it lies; a
//! view was read already, when it was checked.

use std::fmt::Debug;
use std::io::Cursor;
use std::path::Path;

use sha2::{Digest as _, Sha256};
use tokio::fs::File;
use tokio::io::{AsyncRead, AsyncReadExt as _, AsyncSeek, AsyncSeekExt as _};

use crate::domain::words::fingerprint::Fingerprint;
use crate::store::error::StoreError;

/// How much is read at a time, in bytes.
const AT_A_TIME: usize = 128 << 10;

/// A file, or the bytes of one.
trait Source: AsyncRead + AsyncSeek + Debug + Send + Unpin {}
impl Source for File {}
impl Source for Cursor<Vec<u8>> {}

/// A thing of the vault.
#[derive(Debug)]
pub struct Held {
    file: Box<dyn Source>,
    length: u64,
}

impl Held {
    pub(super) async fn open(place: &Path) -> Result<Option<Self>, StoreError> {
        match File::open(place).await {
            Ok(file) => Ok(Some(Self { length: file.metadata().await?.len(), file: Box::new(file) })),
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error.into()),
        }
    }

    pub(super) fn of(bytes: Vec<u8>) -> Self {
        Self { length: bytes.len() as u64, file: Box::new(Cursor::new(bytes)) }
    }

    /// How many bytes it has.
    pub fn length(&self) -> u64 {
        self.length
    }

    /// Up to so many of its first bytes; it can be read from its beginning afterwards.
    pub async fn first_bytes(&mut self, most: u64) -> Result<Vec<u8>, StoreError> {
        let mut first = Vec::new();
        (&mut self.file).take(most).read_to_end(&mut first).await?;
        self.file.rewind().await?;
        Ok(first)
    }

    /// All of it, bit by bit.
    pub fn whole(self) -> impl AsyncRead + Send + Unpin + 'static {
        self.file.take(self.length)
    }

    /// So many bytes from one on, bit by bit.
    pub async fn part(mut self, from: u64, length: u64) -> Result<impl AsyncRead + Send + Unpin + 'static, StoreError> {
        self.file.seek(std::io::SeekFrom::Start(from)).await?;
        Ok(self.file.take(length))
    }

    /// All of it at once, for what needs it so.
    pub async fn bytes(mut self) -> Result<Vec<u8>, StoreError> {
        let mut bytes = Vec::with_capacity(usize::try_from(self.length).unwrap_or_default());
        self.file.read_to_end(&mut bytes).await?;
        Ok(bytes)
    }

    /// The fingerprint of what is read.
    pub async fn fingerprint(mut self) -> Result<Fingerprint, StoreError> {
        let (mut hasher, mut buffer) = (Sha256::new(), vec![0_u8; AT_A_TIME]);
        loop {
            let read = self.file.read(&mut buffer).await?;
            let bytes = buffer.get(..read).unwrap_or_default();
            if bytes.is_empty() {
                return Ok(Fingerprint::of_hasher(hasher));
            }
            hasher.update(bytes);
        }
    }
}
