//! The bytes that stand around the contents of a car's file: those of a ZIP archive (PKWARE APPNOTE 6.3.10) of stored
//! entries, in one form alone. Whoever knows names, lengths and check sums knows every one of them, so that reading is
//! comparing, and a file that is otherwise by one byte is refused.

/// A thing in the archive, as its headers tell of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Header {
    /// What it is called: plain letters, figures, `.`, `-` and `/`.
    pub(super) name: String,
    /// How many bytes it has: fewer than 4 GiB.
    pub(super) size: u32,
    /// Its CRC-32 (APPNOTE 4.4.7).
    pub(super) crc: u32,
}

/// How long a header before its name is.
pub(super) const LOCAL: usize = 30;
/// Where in it the check sum and the length stand.
pub(super) const CRC_AT: usize = 14;
pub(super) const SIZE_AT: usize = 22;
pub(super) const NAME_LENGTH_AT: usize = 26;
/// How every archive begins.
pub(super) const BEGINS: [u8; 4] = *b"PK\x03\x04";

/// 1980-01-01, the first day that an archive can name (APPNOTE 4.4.6): the same for all, whenever it is made.
const DAY: u16 = 0x0021;
/// What is needed to read it: 2.0, or 4.5 where a place is beyond 4 GiB (APPNOTE 4.4.3).
const PLAIN: u16 = 20;
const LARGE: u16 = 45;
/// Made on a system whose files have an owner's, a group's and everybody's rights (APPNOTE 4.4.2).
const UNIX: u16 = 3 << 8;
/// A plain file that everybody may read.
const RIGHTS: u32 = 0o100_644 << 16;
/// From here on a place is told in a field of its own (APPNOTE 4.4.1.4).
const TOLD_ELSEWHERE: u32 = u32::MAX;

impl Header {
    /// The header that stands before the content.
    pub(super) fn local(&self) -> Vec<u8> {
        let mut bytes = BEGINS.to_vec();
        self.common(&mut bytes, PLAIN);
        bytes.extend(0_u16.to_le_bytes());
        bytes.extend(self.name.as_bytes());
        bytes
    }

    /// What both headers say: version, no flags, stored, the day, check sum, length twice, the name's length.
    fn common(&self, bytes: &mut Vec<u8>, needed: u16) {
        for word in [needed, 0, 0, 0, DAY] {
            bytes.extend(word.to_le_bytes());
        }
        for figure in [self.crc, self.size, self.size] {
            bytes.extend(figure.to_le_bytes());
        }
        let length = u16::try_from(self.name.len()).unwrap_or(u16::MAX);
        bytes.extend(length.to_le_bytes());
    }

    /// The entry of the directory at the archive's end, for a content whose header lies at a place.
    fn central(&self, at: u64) -> Vec<u8> {
        let near = u32::try_from(at).ok().filter(|at| *at != TOLD_ELSEWHERE);
        let needed = if near.is_some() { PLAIN } else { LARGE };
        let mut bytes = b"PK\x01\x02".to_vec();
        bytes.extend((UNIX | needed).to_le_bytes());
        self.common(&mut bytes, needed);
        // the length of what is told elsewhere, no comment, the first disk, no attributes of text
        for word in [if near.is_some() { 0 } else { 12 }, 0, 0, 0_u16] {
            bytes.extend(word.to_le_bytes());
        }
        bytes.extend(RIGHTS.to_le_bytes());
        bytes.extend(near.unwrap_or(TOLD_ELSEWHERE).to_le_bytes());
        bytes.extend(self.name.as_bytes());
        if near.is_none() {
            bytes.extend([1, 0, 8, 0]);
            bytes.extend(at.to_le_bytes());
        }
        bytes
    }
}

/// What was written, or read, of an archive so far: what its end follows from.
#[derive(Debug, Default)]
pub(super) struct Directory {
    central: Vec<u8>,
    entries: u64,
    at: u64,
}

impl Directory {
    /// Takes in the next thing; its header lies where the one before it ended.
    pub(super) fn add(&mut self, header: &Header) {
        self.central.extend(header.central(self.at));
        self.entries += 1;
        self.at += (LOCAL + header.name.len()) as u64 + u64::from(header.size);
    }

    /// The archive's end: the directory, and where it lies.
    pub(super) fn end(&self) -> Vec<u8> {
        let mut bytes = self.central.clone();
        let size = bytes.len() as u64;
        let few = u16::try_from(self.entries).ok().filter(|few| *few != u16::MAX);
        let near = u32::try_from(self.at).ok().filter(|at| *at != TOLD_ELSEWHERE);
        if few.is_none() || near.is_none() {
            bytes.extend(self.large_end(size));
        }
        bytes.extend(b"PK\x05\x06");
        bytes.extend([0; 4]);
        bytes.extend(few.unwrap_or(u16::MAX).to_le_bytes());
        bytes.extend(few.unwrap_or(u16::MAX).to_le_bytes());
        // the directory itself is small: some hundred bytes for each thing
        bytes.extend(u32::try_from(size).unwrap_or(TOLD_ELSEWHERE).to_le_bytes());
        bytes.extend(near.unwrap_or(TOLD_ELSEWHERE).to_le_bytes());
        bytes.extend([0; 2]);
        bytes
    }

    /// The end of an archive that is larger than the plain one can tell (APPNOTE 4.3.14 and 4.3.15).
    fn large_end(&self, size: u64) -> Vec<u8> {
        let mut bytes = b"PK\x06\x06".to_vec();
        bytes.extend(44_u64.to_le_bytes());
        bytes.extend((UNIX | LARGE).to_le_bytes());
        bytes.extend(LARGE.to_le_bytes());
        bytes.extend([0; 8]);
        for figure in [self.entries, self.entries, size, self.at] {
            bytes.extend(figure.to_le_bytes());
        }
        bytes.extend(b"PK\x06\x07");
        bytes.extend([0; 4]);
        bytes.extend((self.at + size).to_le_bytes());
        bytes.extend(1_u32.to_le_bytes());
        bytes
    }

    /// How long the whole archive is.
    pub(super) fn length(&self) -> u64 {
        self.at + self.end().len() as u64
    }
}
