//! Why a picture could not be looked at, in words for the person who sent it.

use serde::{Deserialize, Serialize};

use super::kind::Kind;

/// Why a picture could not be looked at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub enum ImageError {
    /// Its end is missing.
    CutOff,
    /// It has more dots than are decoded here; said before decoding.
    TooLarge {
        /// Dots across, as stored.
        width: u32,
        /// Dots down, as stored.
        height: u32,
    },
    /// It is no picture that is kept as a photograph.
    NotAPicture(Kind),
    /// It begins as a picture and goes wrong later, or is of a rare sort that is not read here.
    Damaged,
    /// Its file is not the one that was received any more.
    Altered,
    /// Its copies could not be put into the shop's folder.
    NotPut,
    /// The process that looked at it did not come to an end.
    NoPreview,
    /// The same, in a room that may have been too small for it.
    NoRoom,
}

impl std::fmt::Display for ImageError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::CutOff => f.write_str("The end of this picture is missing. Send it again from the phone or camera."),
            Self::TooLarge { width, height } => write!(
                f,
                "This picture is {width} × {height} dots, too large for a preview: each side may have 20,000 dots and \
                 the whole 110 million. Take it at a smaller size if people must see it here."
            ),
            Self::NotAPicture(kind) => match kind.refusal() {
                Some(refusal) => f.write_str(&refusal),
                None => f.write_str("This is not a picture that can be read here. Send a JPEG, PNG or WebP."),
            },
            Self::Damaged => f.write_str("This picture is damaged and cannot be read. Send it again or take it again."),
            Self::Altered => f.write_str(
                "The file of this picture is not the one that was received any more. Look for it in a backup: `tackbook \
                 verify` names it.",
            ),
            Self::NotPut => f.write_str(
                "The smaller copies of this picture could not be kept in the shop's folder. The file itself is untouched.",
            ),
            Self::NoPreview | Self::NoRoom => f.write_str(
                "No preview could be made of this picture. The file itself is untouched; if people must see it here, \
                 take the photo again.",
            ),
        }
    }
}

impl std::error::Error for ImageError {}
