//! The things in a car's file: what each is called there, in which order they stand, and how large one may be.

use std::fmt;
use std::str::FromStr;

use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::limits;

/// Most bytes of one text in a file (own choice: some ten times a build of a thousand photographs).
const TEXT: u64 = 64 << 20;
/// Most bytes of a packet in a file (own choice: ten times the largest that is made).
const PACKET: u64 = 200_000_000;
/// Most bytes of a signature.
const SIGNATURE: u64 = 10_000;

/// What a photograph is packed as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PhotoKind {
    /// JPEG (ITU-T T.81).
    Jpeg,
    /// PNG (ISO/IEC 15948).
    Png,
    /// WebP (RFC 9649).
    WebP,
}

impl PhotoKind {
    /// By the first bytes, which each kind has of its own; a JPEG where they tell nothing.
    pub fn of(first: &[u8]) -> Self {
        if first.starts_with(b"\x89PNG") {
            Self::Png
        } else if first.starts_with(b"RIFF") {
            Self::WebP
        } else {
            Self::Jpeg
        }
    }

    const fn ending(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Png => "png",
            Self::WebP => "webp",
        }
    }
}

/// A thing in a car's file, beside its list and the list's signature, in the order they stand in.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// The whole record to be read in a browser.
    Index,
    /// The build file, which `judge` reads.
    Build,
    /// The rule book it is built to.
    Book,
    /// Every row that is recorded of it.
    Records,
    /// Its log.
    Log,
    /// What a round showed.
    Contents(u32),
    /// A round's packet as it was issued.
    Packet(u32),
    /// The signature of that.
    Signature(u32),
    /// A photograph as it was sent.
    Photo(Fingerprint, PhotoKind),
    /// What a reply was typed from, as it came.
    Mail(Fingerprint),
}

impl Part {
    /// Most bytes it may have.
    pub const fn most(&self) -> u64 {
        match self {
            Self::Index | Self::Build | Self::Book | Self::Records | Self::Log | Self::Contents(_) => TEXT,
            Self::Packet(_) => PACKET,
            Self::Signature(_) => SIGNATURE,
            Self::Photo(..) => limits::PHOTO_BYTES,
            Self::Mail(_) => limits::MAIL_BYTES,
        }
    }

    /// Of which round it is the packet; none where it is something else.
    pub const fn round_of_packet(&self) -> Option<u32> {
        if let Self::Packet(round) = self { Some(*round) } else { None }
    }

    /// Whether it is evidence that lies in the shop's vault, not a text that is made of its records.
    pub const fn is_kept(&self) -> bool {
        matches!(self, Self::Packet(_) | Self::Photo(..) | Self::Mail(_))
    }
}

impl fmt::Display for Part {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Index => f.write_str("index.html"),
            Self::Build => f.write_str("build.json"),
            Self::Book => f.write_str("book.toml"),
            Self::Records => f.write_str("records.json"),
            Self::Log => f.write_str("log.json"),
            Self::Contents(round) => write!(f, "rounds/{round}/contents.json"),
            Self::Packet(round) => write!(f, "rounds/{round}/packet.pdf"),
            Self::Signature(round) => write!(f, "rounds/{round}/packet.pdf.sig"),
            Self::Photo(name, kind) => write!(f, "photos/{name}.{}", kind.ending()),
            Self::Mail(name) => write!(f, "mails/{name}"),
        }
    }
}

/// The name is none that a car's file has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("it is nothing that a car's file has")]
pub struct NoPart;

impl FromStr for Part {
    type Err = NoPart;

    fn from_str(path: &str) -> Result<Self, NoPart> {
        let part = match path.split('/').collect::<Vec<_>>().as_slice() {
            ["index.html"] => Self::Index,
            ["build.json"] => Self::Build,
            ["book.toml"] => Self::Book,
            ["records.json"] => Self::Records,
            ["log.json"] => Self::Log,
            ["rounds", round, name] => {
                let round = round.parse().map_err(|_| NoPart)?;
                match *name {
                    "contents.json" => Self::Contents(round),
                    "packet.pdf" => Self::Packet(round),
                    "packet.pdf.sig" => Self::Signature(round),
                    _ => return Err(NoPart),
                }
            }
            ["mails", name] => Self::Mail(name.parse().map_err(|_| NoPart)?),
            ["photos", name] => {
                let (name, ending) = name.split_once('.').ok_or(NoPart)?;
                let kinds = [PhotoKind::Jpeg, PhotoKind::Png, PhotoKind::WebP];
                let kind = kinds.into_iter().find(|kind| kind.ending() == ending).ok_or(NoPart)?;
                Self::Photo(name.parse().map_err(|_| NoPart)?, kind)
            }
            _ => return Err(NoPart),
        };
        // one name for each: a round is never called 01
        if part.to_string() == path { Ok(part) } else { Err(NoPart) }
    }
}
