//! What a camera wrote beside the picture: which way is up and when it was taken. Where it was taken is never asked for.

use std::io::Cursor;

use exif::{Exif, In, Reader, Tag, Value};

/// What a camera wrote beside a picture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CameraNotes {
    /// How the picture is stored, 1 to 8 (EXIF 2.3 tag 0x0112); 1 where nothing is said.
    pub orientation: u8,
    /// When it was taken: `2026-05-04 10:11:12 +02:00`, the offset only where the camera knew it.
    pub taken: Option<String>,
}

/// Reads the notes of a JPEG, PNG or WebP; a picture without any, or with unreadable ones, has orientation 1 and no time.
pub fn camera_notes(bytes: &[u8]) -> CameraNotes {
    let read = Reader::new().continue_on_error(true).read_from_container(&mut Cursor::new(bytes));
    let Ok(exif) = read.or_else(|error| error.distill_partial_result(|_| ())) else {
        return CameraNotes { orientation: 1, taken: None };
    };
    let orientation = exif
        .get_field(Tag::Orientation, In::PRIMARY)
        .and_then(|field| field.value.get_uint(0))
        .and_then(|stored| u8::try_from(stored).ok())
        .filter(|stored| (1..=8).contains(stored))
        .unwrap_or(1);
    CameraNotes { orientation, taken: taken(&exif) }
}

fn taken(exif: &Exif) -> Option<String> {
    let description = exif::DateTime::from_ascii(ascii(exif, Tag::DateTimeOriginal)?).ok()?;
    let (month, day) = (i8::try_from(description.month).ok()?, i8::try_from(description.day).ok()?);
    let (hour, minute, second) = (
        i8::try_from(description.hour).ok()?,
        i8::try_from(description.minute).ok()?,
        i8::try_from(description.second).ok()?,
    );
    let at =
        jiff::civil::DateTime::new(i16::try_from(description.year).ok()?, month, day, hour, minute, second, 0).ok()?;
    let mut text = at.strftime("%Y-%m-%d %H:%M:%S").to_string();
    if let Some(offset) = ascii(exif, Tag::OffsetTimeOriginal).and_then(offset_text) {
        text.push(' ');
        text.push_str(&offset);
    }
    Some(text)
}

fn ascii(exif: &Exif, tag: Tag) -> Option<&[u8]> {
    match &exif.get_field(tag, In::PRIMARY)?.value {
        Value::Ascii(parts) => parts.first().map(Vec::as_slice),
        _ => None,
    }
}

/// The offset as `+02:00`, when it is one.
fn offset_text(offset: &[u8]) -> Option<String> {
    match offset {
        [b'+' | b'-', b'0'..=b'1', b'0'..=b'9', b':', b'0'..=b'5', b'0'..=b'9'] => {
            String::from_utf8(offset.to_vec()).ok()
        }
        _ => None,
    }
}
