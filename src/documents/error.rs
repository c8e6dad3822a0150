//! Why a paper could not be made.

use thiserror::Error;

/// Why a paper could not be made.
#[derive(Debug, Error, PartialEq, Eq)]
pub enum DocumentError {
    /// A sheet shows a picture that was not handed over.
    #[error("The picture “{0}” is missing. Take it off the sheet or photograph again, then make the document again.")]
    NoSuchPicture(String),
    /// A picture is no JPEG that can stand in a document.
    #[error("The picture “{0}” is no JPEG that can be printed. Photograph again, then make the document again.")]
    NoJpeg(String),
    /// A link leads to a place that no sheet has.
    #[error("A link leads to “{0}”, which stands on no sheet.")]
    NoSuchPlace(String),
    /// Two places have one name.
    #[error("Two places are called “{0}”; links could not tell them apart.")]
    TwoPlaces(String),
    /// An address is longer than a code holds.
    #[error("The address “{0}” is too long for a code. Give a shorter name to the machine.")]
    TooLongForACode(String),
    /// The type could not be read, or the writer refused.
    #[error("The document could not be written: {0}. Report it; nothing was changed.")]
    Writer(String),
}
