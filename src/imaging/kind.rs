//! What a file is by its first bytes, whatever its name says.

use serde::{Deserialize, Serialize};

/// How many first bytes tell the kind of a file.
pub const FIRST_BYTES: usize = 512;

/// What a file is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub enum Kind {
    /// A JPEG picture (ITU-T T.81).
    Jpeg,
    /// A PNG picture (ISO/IEC 15948).
    Png,
    /// A WebP picture (RFC 9649).
    WebP,
    /// A PDF document (ISO 32000).
    Pdf,
    /// A HEIF picture (ISO/IEC 23008-12), which many telephones make unless told otherwise.
    Heif,
    /// Anything else, by what it looks like: "a text file".
    Other(String),
}

/// Beginnings of files that are none of ours, and what to call them.
const OTHERS: &[(&[u8], &str)] = &[
    (b"GIF8", "a GIF picture"),
    (b"II*\0", "a TIFF or a camera's raw picture"),
    (b"MM\0*", "a TIFF or a camera's raw picture"),
    (b"BM", "a BMP picture"),
    (b"PK\x03\x04", "an archive, or an office document"),
    (b"PK\x05\x06", "an empty archive"),
    (b"\x1f\x8b", "an archive"),
    (b"7z\xbc\xaf\x27\x1c", "an archive"),
    (b"Rar!", "an archive"),
    (b"\xfd7zXZ\0", "an archive"),
    (b"\x1a\x45\xdf\xa3", "a video"),
    (b"ID3", "a sound recording"),
    (b"\x7fELF", "a program"),
    (b"MZ", "a program"),
];

/// The brands of HEIF files (ISO/IEC 23008-12 annex B; ISO/IEC 14496-12 4.3 for where the brand stands).
const HEIF_BRANDS: &[&[u8]] =
    &[b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs", b"mif1", b"msf1"];

impl Kind {
    /// The kind of a file that begins with these bytes; [`FIRST_BYTES`] of them are enough.
    pub fn of(first_bytes: &[u8]) -> Self {
        let png = [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1a, b'\n'];
        match first_bytes {
            [] => Self::Other("an empty file".to_owned()),
            [0xff, 0xd8, 0xff, ..] => Self::Jpeg,
            [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => Self::WebP,
            [_, _, _, _, b'f', b't', b'y', b'p', rest @ ..] => Self::of_brand(rest),
            start if start.starts_with(&png) => Self::Png,
            start if start.starts_with(b"%PDF-") => Self::Pdf,
            start => {
                let known = OTHERS.iter().find(|(beginning, _)| start.starts_with(beginning));
                Self::Other(known.map_or_else(|| text_or_unknown(start), |(_, name)| *name).to_owned())
            }
        }
    }

    fn of_brand(brand: &[u8]) -> Self {
        if HEIF_BRANDS.iter().any(|known| brand.starts_with(known)) {
            return Self::Heif;
        }
        let picture = brand.starts_with(b"avif") || brand.starts_with(b"avis");
        Self::Other(if picture { "an AVIF picture" } else { "a video" }.to_owned())
    }

    /// True for the kinds that are kept as photographs.
    pub fn is_photo(&self) -> bool {
        matches!(self, Self::Jpeg | Self::Png | Self::WebP)
    }

    /// Why a file of this kind is not kept as a photograph and what to do; none when it is.
    pub fn refusal(&self) -> Option<String> {
        match self {
            Self::Jpeg | Self::Png | Self::WebP => None,
            Self::Pdf => Some(
                "This is a PDF, not a photo. Add papers such as certificates where certificates are kept; \
                 photos come as JPEG, PNG or WebP."
                    .to_owned(),
            ),
            Self::Heif => Some(
                "This is a HEIF picture, which cannot be shown here. In the camera's settings, under formats, choose \
                 JPEG (it may be called “most compatible”) instead of HEIF (“high efficiency”), and take the photo \
                 again."
                    .to_owned(),
            ),
            Self::Other(what) => Some(format!(
                "This looks like {what}, not a photo. Photos come as JPEG, PNG or WebP; choose one of those."
            )),
        }
    }
}

/// Names what begins like none of the known kinds: text of some sort, or nothing we know.
fn text_or_unknown(start: &[u8]) -> &'static str {
    let readable = match std::str::from_utf8(start) {
        Ok(text) => text,
        // the last letter may be cut through by where the first bytes end
        Err(cut) if cut.error_len().is_none() => {
            start.get(..cut.valid_up_to()).and_then(|whole| std::str::from_utf8(whole).ok()).unwrap_or_default()
        }
        Err(_) => "",
    };
    let text = readable.trim_start_matches('\u{feff}').trim_start();
    if readable.is_empty() || readable.chars().any(|letter| letter.is_control() && !"\t\r\n\x0c".contains(letter)) {
        return "a file of a kind not known here";
    }
    let lower = text.to_ascii_lowercase();
    if lower.starts_with("<svg") || (lower.starts_with("<?xml") && lower.contains("<svg")) {
        "a drawing in SVG"
    } else if lower.starts_with("<!doctype html") || lower.starts_with("<html") {
        "a web page"
    } else {
        "a text file"
    }
}

#[cfg(test)]
mod tests {
    use super::Kind;

    #[test]
    fn photos_are_known_by_content() {
        assert_eq!(Kind::of(&[0xff, 0xd8, 0xff, 0xe1, 0, 16]), Kind::Jpeg);
        assert_eq!(Kind::of(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"), Kind::Png);
        assert_eq!(Kind::of(b"RIFF\x24\0\0\0WEBPVP8 "), Kind::WebP);
        for kind in [Kind::Jpeg, Kind::Png, Kind::WebP] {
            assert!(kind.is_photo() && kind.refusal().is_none(), "{kind:?}");
        }
    }

    #[test]
    fn every_other_kind_is_refused_in_words() {
        for (bytes, words) in [
            (b"%PDF-1.7\n".as_slice(), "PDF"),
            (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", "most compatible"),
            (b"\0\0\0\x18ftypmif1\0\0\0\0", "most compatible"),
            (b"\0\0\0\x1cftypavif\0\0\0\0", "an AVIF picture"),
            (b"\0\0\0\x18ftypmp42\0\0\0\0", "a video"),
            (b"", "an empty file"),
            (b"GIF89a", "a GIF picture"),
            (b"PK\x03\x04\x14\0", "an archive"),
            ("Fußnote: kein Bild\n".as_bytes(), "a text file"),
            (b"  <!DOCTYPE html><html>", "a web page"),
            (b"<?xml version=\"1.0\"?>\n<svg xmlns=\"\">", "a drawing in SVG"),
            (b"\x01\x02\x03\x04\xfe\xff", "not known here"),
            (b"\xff\xd8", "not known here"),
        ] {
            let refusal = Kind::of(bytes).refusal().unwrap();
            assert!(refusal.contains(words), "{refusal}");
        }
    }

    #[test]
    fn a_letter_cut_through_is_still_text() {
        let text = "a plain note ü".as_bytes();
        assert_eq!(Kind::of(&text[..text.len() - 1]), Kind::Other("a text file".to_owned()));
    }
}
