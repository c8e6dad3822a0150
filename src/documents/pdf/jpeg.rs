//! A JPEG as it is put into a document: its bytes, and what its header says of its colours.

use printpdf::{DictItem, ExternalStream, ExternalXObject, XObject};

/// A photograph for print, upright (a PDF ignores the camera's note of which way is up).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Jpeg {
    /// The file's bytes; they stand in the document as they are.
    pub bytes: Vec<u8>,
    /// How many pixels wide.
    pub width: u32,
    /// How many pixels high.
    pub height: u32,
}

impl Jpeg {
    /// A JPEG with the size that its frame header says (ITU-T T.81, B.2.2); none if there is no such header.
    pub fn of(bytes: Vec<u8>) -> Option<Self> {
        let header = frame_header(&bytes)?;
        let side = |at: usize| Some(u32::from(u16::from_be_bytes(*header.get(at..)?.first_chunk::<2>()?)));
        let (height, width) = (side(3)?, side(5)?);
        Some(Self { bytes, width, height })
    }

    /// The number of colour components in the frame header; none if there is no such header.
    pub(super) fn components(&self) -> Option<u8> {
        frame_header(&self.bytes)?.get(7).copied()
    }

    /// As it stands in a document, its bytes as they are. None for unknown colours.
    pub(super) fn stream(self) -> Option<XObject> {
        let name = |text: &str| DictItem::Name(text.as_bytes().to_vec());
        let colours = match self.components()? {
            1 => "DeviceGray",
            3 => "DeviceRGB",
            _ => return None,
        };
        let dict = [
            ("Type", name("XObject")),
            ("Subtype", name("Image")),
            ("Width", DictItem::Int(i64::from(self.width))),
            ("Height", DictItem::Int(i64::from(self.height))),
            ("BitsPerComponent", DictItem::Int(8)),
            ("Filter", name("DCTDecode")),
            ("ColorSpace", name(colours)),
        ];
        let dict = dict.map(|(key, value)| (key.to_owned(), value)).into();
        let stream = ExternalStream { dict, content: self.bytes, compress: false };
        Some(XObject::External(ExternalXObject { stream, width: None, height: None, dpi: None }))
    }
}

/// What follows the marker of the frame header: length, precision, height, width, components (ITU-T T.81, B.2.2).
fn frame_header(bytes: &[u8]) -> Option<&[u8]> {
    let mut rest = bytes.strip_prefix(&[0xff, 0xd8])?;
    loop {
        let (&[0xff, marker], after) = rest.split_first_chunk::<2>()? else { return None };
        if marker == 0xff {
            rest = rest.get(1..)?;
            continue;
        }
        let length = usize::from(u16::from_be_bytes(*after.first_chunk::<2>()?));
        // Frame headers are C0 to CF but for the tables C4 and CC and the reserved C8.
        if (0xc0..=0xcf).contains(&marker) && !matches!(marker, 0xc4 | 0xc8 | 0xcc) {
            return Some(after);
        }
        rest = after.get(length..)?;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_are_read_from_the_frame_header_past_other_segments() {
        let head = |components: u8| {
            let mut bytes = vec![0xff, 0xd8, 0xff, 0xe0, 0, 4, 1, 2, 0xff, 0xc4, 0, 3, 9];
            bytes.extend([0xff, 0xc2, 0, 17, 8, 0, 16, 0, 16, components]);
            Jpeg { bytes, width: 16, height: 16 }
        };
        assert_eq!(head(1).components(), Some(1));
        assert_eq!(head(3).components(), Some(3));
        assert!(head(4).stream().is_none(), "four inks are no photograph from a phone");
        let cut = Jpeg { bytes: vec![0xff, 0xd8, 0xff, 0xe0, 0, 9], width: 1, height: 1 };
        assert_eq!(cut.components(), None);
        assert_eq!(Jpeg { bytes: b"PNG".to_vec(), width: 1, height: 1 }.components(), None);
    }
}
