//! Reading a car's file from its beginning to its end, once, never the whole of it in memory: what is evidence goes into part
//! files, and nothing is taken before the last byte was compared.

use std::fs::File;
use std::io::{Read, Write as _};

use sha2::{Digest as _, Sha256};

use super::archive::{BEGINS, CRC_AT, Directory, Header, LOCAL, NAME_LENGTH_AT, SIZE_AT};
use super::spool::Spool;
use crate::domain::recorded::car_file::{CarFault, Manifest, Part};
use crate::domain::words::fingerprint::Fingerprint;
use crate::store::error::StoreError;

/// Why a file was not read to its end.
#[derive(Debug, thiserror::Error)]
pub enum NotRead {
    /// It is none, or is not whole.
    #[error(transparent)]
    Fault(#[from] CarFault),
    /// The trouble is here: the disk's, or that of whoever sends it.
    #[error(transparent)]
    Here(#[from] StoreError),
}

impl From<std::io::Error> for NotRead {
    fn from(error: std::io::Error) -> Self {
        if error.kind() == std::io::ErrorKind::UnexpectedEof {
            Self::Fault(CarFault::Cut)
        } else {
            Self::Here(error.into())
        }
    }
}

/// A car's file whose every byte was compared: with its list, and its list with the signature.
#[derive(Debug)]
pub struct WholeFile {
    /// The list.
    pub manifest: Manifest,
    /// The list as it stands in the file, and its signature, armoured.
    pub list: String,
    /// The signature of that.
    pub signature: String,
    /// Its texts, by what they are.
    pub texts: Texts,
    /// The evidence in it, each in a part file; empty where it was only looked through.
    pub spool: Spool,
}

impl WholeFile {
    /// One of the texts.
    pub fn text(&self, part: &Part) -> Option<&[u8]> {
        self.texts.iter().find(|(one, _)| one == part).map(|(_, bytes)| bytes.as_slice())
    }
}

/// The texts of a file, by what they are.
pub type Texts = Vec<(Part, Vec<u8>)>;

/// Asked of each packet as it goes by: its round, its bytes and the texts that stand before it.
pub type AskedOfPacket<'a> = &'a mut dyn FnMut(u32, &[u8], &Texts) -> Result<(), CarFault>;

/// Whoever is asked while a file is read, about what only they can tell.
pub struct Asked<'a> {
    /// Whether a list is the one that was signed.
    pub signed: &'a dyn Fn(&[u8], &str) -> bool,
    /// Whether a round's packet fits the texts that stand before it. Asked of each packet as it goes by, where none is kept
    /// aside: one is in memory at a time.
    pub packet: AskedOfPacket<'a>,
}

/// Reads a file whose records are in a form up to `ours`. `told` is called with the bytes that were read so far.
pub fn read(
    from: &mut dyn Read,
    ours: i64,
    Asked { signed, packet: asked }: Asked<'_>,
    mut spool: Spool,
    told: &dyn Fn(u64),
) -> Result<WholeFile, NotRead> {
    let mut reading = Reading { from, directory: Directory::default() };
    let list = reading.first(Manifest::PATH, Manifest::MOST.0)?;
    let signature = reading.first(Manifest::SIGNATURE, Manifest::MOST.1)?;
    let signature = String::from_utf8(signature).map_err(|_| CarFault::Signature)?;
    let manifest = Manifest::read(&list, ours)?;
    if !signed(&list, &signature) {
        return Err(CarFault::Signature.into());
    }
    let (mut texts, mut so_far) = (Vec::new(), 0);
    for (part, listed) in manifest.parts()? {
        let size = u32::try_from(listed.size).map_err(|_| CarFault::List(format!("{part} is too large")))?;
        let header = reading.header(&listed.path, size)?;
        let sha256 = if part.is_kept() {
            let mut file = spool.begin(&listed.sha256, listed.size)?;
            let (round, mut packet) = (part.round_of_packet().filter(|_| file.is_none()), Vec::new());
            let sha256 = reading.content(&header, &mut |bytes| {
                if let Some(file) = &mut file {
                    return file.write_all(bytes);
                }
                packet.extend_from_slice(round.map_or(&[], |_| bytes));
                Ok(())
            })?;
            Spool::end(file)?;
            // what is not even what the list says is told as that, below
            if let Some(round) = round.filter(|_| sha256 == listed.sha256) {
                asked(round, &packet, &texts)?;
            }
            sha256
        } else {
            let mut text = Vec::new();
            let sha256 = reading.content(&header, &mut |bytes| {
                text.extend_from_slice(bytes);
                Ok(())
            })?;
            texts.push((part.clone(), text));
            sha256
        };
        if sha256 != listed.sha256 {
            return Err(CarFault::Altered(listed.path.clone()).into());
        }
        so_far += listed.size;
        told(so_far);
    }
    reading.end()?;
    let list = String::from_utf8(list).map_err(|_| CarFault::NotOne)?;
    Ok(WholeFile { manifest, list, signature, texts, spool })
}

struct Reading<'r> {
    from: &'r mut dyn Read,
    directory: Directory,
}

impl Reading<'_> {
    /// A small thing whose length its own header tells, and nothing vouches for yet.
    fn first(&mut self, name: &str, most: u64) -> Result<Vec<u8>, NotRead> {
        let mut bytes = vec![0_u8; LOCAL];
        self.from.read_exact(&mut bytes)?;
        if !bytes.starts_with(&BEGINS) {
            return Err(CarFault::NotOne.into());
        }
        let size = figure(&bytes, SIZE_AT);
        if figure(&bytes, NAME_LENGTH_AT) & 0xffff != u32::try_from(name.len()).unwrap_or_default()
            || u64::from(size) > most
        {
            return Err(CarFault::NotOne.into());
        }
        let header = self.compared(bytes, name, size).map_err(|why| match why {
            NotRead::Fault(CarFault::Unlisted(_)) => NotRead::Fault(CarFault::NotOne),
            other => other,
        })?;
        let mut content = Vec::new();
        self.content(&header, &mut |bytes| {
            content.extend_from_slice(bytes);
            Ok(())
        })?;
        Ok(content)
    }

    /// The next header, which must be the one of this name and length.
    fn header(&mut self, name: &str, size: u32) -> Result<Header, NotRead> {
        let mut bytes = vec![0_u8; LOCAL];
        self.from.read_exact(&mut bytes)?;
        self.compared(bytes, name, size)
    }

    fn compared(&mut self, mut bytes: Vec<u8>, name: &str, size: u32) -> Result<Header, NotRead> {
        let header = Header { name: name.to_owned(), size, crc: figure(&bytes, CRC_AT) };
        let mut called = vec![0_u8; name.len()];
        self.from.read_exact(&mut called)?;
        bytes.extend(called);
        if bytes != header.local() {
            return Err(CarFault::Unlisted(format!("where {name} should begin")).into());
        }
        self.directory.add(&header);
        Ok(header)
    }

    /// The content behind a header, bit by bit; gives its fingerprint.
    fn content(
        &mut self,
        header: &Header,
        take: &mut dyn FnMut(&[u8]) -> std::io::Result<()>,
    ) -> Result<Fingerprint, NotRead> {
        let (mut left, mut buffer) = (header.size as usize, vec![0_u8; 1 << 20]);
        let (mut sha256, mut crc) = (Sha256::new(), crc32fast::Hasher::new());
        while left > 0 {
            let most = left.min(buffer.len());
            let read = self.from.read(buffer.get_mut(..most).unwrap_or_default())?;
            let bytes = buffer.get(..read).unwrap_or_default();
            if bytes.is_empty() {
                return Err(CarFault::Cut.into());
            }
            sha256.update(bytes);
            crc.update(bytes);
            take(bytes).map_err(StoreError::from)?;
            left -= read;
        }
        if crc.finalize() != header.crc {
            return Err(CarFault::Altered(header.name.clone()).into());
        }
        Ok(Fingerprint::of_hasher(sha256))
    }

    /// The end, and nothing behind it.
    fn end(&mut self) -> Result<(), NotRead> {
        let wanted = self.directory.end();
        let mut bytes = vec![0_u8; wanted.len()];
        self.from.read_exact(&mut bytes)?;
        if bytes != wanted {
            return Err(CarFault::Unlisted("in the directory at its end".to_owned()).into());
        }
        match self.from.read(&mut [0_u8])? {
            0 => Ok(()),
            _ => Err(CarFault::Unlisted("behind its end".to_owned()).into()),
        }
    }
}

/// Four bytes as a whole number, the least first.
fn figure(bytes: &[u8], at: usize) -> u32 {
    let four = bytes.get(at..at + 4).and_then(|four| four.try_into().ok());
    four.map(u32::from_le_bytes).unwrap_or_default()
}

/// A part file that is open, where one is kept.
pub(super) type Open = Option<File>;
