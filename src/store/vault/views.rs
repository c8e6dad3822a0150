//! Views carry, behind their picture, which photograph they were made of and the SHA-256 of the picture itself: what does not
//! read so is no view, whatever lies under its name, and is made again. The mark stands behind the end of the JPEG, where
//! whoever looks at the file beside the shop passes over it.

use std::fs::File;
use std::io::Read as _;
use std::path::Path;

use super::kept::View;
use crate::domain::words::fingerprint::Fingerprint;
use crate::store::error::StoreError;

/// Most bytes of a view's file; what is longer was not made here.
const MOST_BYTES: u64 = 64 << 20;
/// How a JPEG begins and ends (ITU-T T.81, B.1.1.3: SOI and EOI).
const JPEG: ([u8; 2], [u8; 2]) = ([0xff, 0xd8], [0xff, 0xd9]);

/// How the file of a view is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ViewState {
    /// It is the picture that was made of its photograph.
    Good,
    /// A whole JPEG without a mark, as earlier programs made them: of which photograph it is, nobody knows.
    Unmarked,
    /// It is not what was made.
    Wrong,
}

/// A view's file under its name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ViewFile {
    /// Its path in the shop's folder, with `/` between.
    pub path: String,
    /// How it is; none of a file whose name is no view's.
    pub state: Option<ViewState>,
}

fn mark(of: &Fingerprint, view: View, picture: &[u8]) -> Vec<u8> {
    format!("\ntackbook view 1\nof {of}\n{view} {}\n", Fingerprint::of(picture)).into_bytes()
}

/// A picture with the mark of what it is.
pub(super) fn marked(of: &Fingerprint, view: View, mut picture: Vec<u8>) -> Vec<u8> {
    let mark = mark(of, view, &picture);
    picture.extend(mark);
    picture
}

/// The picture of a view's file, without its mark; none where it is not this view of this photograph, bit for bit.
pub(super) fn checked(of: &Fingerprint, view: View, mut file: Vec<u8>) -> Option<Vec<u8>> {
    let at = file.len().checked_sub(mark(of, view, &[]).len())?;
    let (picture, read) = file.split_at_checked(at)?;
    if read != mark(of, view, picture) {
        return None;
    }
    file.truncate(at);
    Some(file)
}

/// A view's file read whole and checked: its picture; none where there is no file, or where it is another's or altered.
pub(super) fn read(of: &Fingerprint, view: View, place: &Path) -> Result<Option<Vec<u8>>, StoreError> {
    let Some(file) = bytes(place)? else { return Ok(None) };
    let picture = checked(of, view, file);
    if picture.is_none() {
        tracing::warn!(view = %place.display(), "this is not the view that was made of the photograph; it is made again");
    }
    Ok(picture)
}

/// What lies there, and no more than a view can have.
fn bytes(place: &Path) -> Result<Option<Vec<u8>>, StoreError> {
    let mut read = Vec::new();
    match File::open(place) {
        Ok(file) => file.take(MOST_BYTES).read_to_end(&mut read)?,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(error.into()),
    };
    Ok(Some(read))
}

/// How the file at a path of the shop's folder is.
pub(super) fn state(folder: &Path, path: String) -> Result<ViewFile, StoreError> {
    let Some((of, view)) = named(&path) else { return Ok(ViewFile { path, state: None }) };
    let file = bytes(&folder.join(&path))?.unwrap_or_default();
    let whole = file.starts_with(&JPEG.0) && file.ends_with(&JPEG.1);
    let state = match checked(&of, view, file) {
        Some(_) => ViewState::Good,
        None if whole => ViewState::Unmarked,
        None => ViewState::Wrong,
    };
    Ok(ViewFile { path, state: Some(state) })
}

/// Of which photograph, and which view, a path names.
fn named(path: &str) -> Option<(Fingerprint, View)> {
    let (of, view) = path.strip_prefix("views/")?.strip_suffix(".jpg")?.split_once('.')?;
    let view = [View::Screen, View::Thumb, View::Print].into_iter().find(|one| one.to_string() == view)?;
    Some((of.parse().ok()?, view))
}

#[cfg(test)]
mod tests {
    use super::{ViewState, checked, mark, marked, named, state};
    use crate::domain::words::fingerprint::Fingerprint;
    use crate::store::vault::{Item, View};

    #[test]
    fn every_single_bit_of_a_views_file_counts_and_no_other_view_passes_for_it() {
        let (one, other) = (Fingerprint::of(b"one"), Fingerprint::of(b"other"));
        let picture = b"\xff\xd8 a picture \xff\xd9".to_vec();
        let file = marked(&one, View::Screen, picture.clone());
        assert_eq!(checked(&one, View::Screen, file.clone()), Some(picture.clone()));
        assert_eq!(checked(&other, View::Screen, file.clone()), None);
        assert_eq!(checked(&one, View::Thumb, file.clone()), None);
        for bit in 0..file.len() * 8 {
            let mut altered = file.clone();
            altered[bit / 8] ^= 1 << (bit % 8);
            assert_eq!(checked(&one, View::Screen, altered), None, "bit {bit}");
        }
        for long in 0..file.len() {
            assert_eq!(checked(&one, View::Screen, file[..long].to_vec()), None, "the first {long}");
        }
        assert_eq!(checked(&one, View::Screen, [file.clone(), b"\n".to_vec()].concat()), None);
        assert_eq!(checked(&one, View::Screen, picture), None, "without a mark");
        assert_eq!(mark(&one, View::Print, b"").len(), mark(&one, View::Print, b"long").len());
    }

    #[test]
    fn only_the_names_that_views_have_are_views() {
        let one = Fingerprint::of(b"one");
        for view in [View::Screen, View::Thumb, View::Print] {
            assert_eq!(named(&Item::View(one.clone(), view).path()), Some((one.clone(), view)));
        }
        for other in ["views/one.screen.jpg", "views/notes.txt", &format!("views/{one}.huge.jpg"), "photos/x"] {
            assert_eq!(named(other), None, "{other}");
        }
        let nowhere = std::path::Path::new("/no-such-folder");
        let path = Item::View(one, View::Screen).path();
        assert_eq!(state(nowhere, path).unwrap().state, Some(ViewState::Wrong));
    }
}
