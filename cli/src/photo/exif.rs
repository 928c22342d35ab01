//! How the camera was held: the tag Orientation, 0x0112, of the first directory of a TIFF block (TIFF 6.0; Exif, CIPA
//! DC-008). Everything else in the block is passed over.

use quarterturn_geometry::photo::Upright;

const ORIENTATION: u16 = 0x0112;
/// The type SHORT: two bytes.
const SHORT: u16 = 3;

/// How the picture stands upright; as stored where the block doesn't say, or can't be read.
pub(super) fn upright(block: &[u8]) -> Upright {
    let block = block.strip_prefix(b"Exif\0\0").unwrap_or(block);
    orientation(block).and_then(Upright::by_number).unwrap_or_default()
}

/// The tag's number.
fn orientation(block: &[u8]) -> Option<u16> {
    let order = match block.get(..2)? {
        b"II" => u16::from_le_bytes,
        b"MM" => u16::from_be_bytes,
        _ => return None,
    };
    let short = |at: usize| Some(order(block.get(at..at.checked_add(2)?)?.try_into().ok()?));
    let long = |at: usize| {
        let (one, two) = (usize::from(short(at)?), usize::from(short(at.checked_add(2)?)?));
        Some(if block.starts_with(b"II") { two << 16 | one } else { one << 16 | two })
    };
    if short(2)? != 42 {
        return None;
    }
    let directory = long(4)?;
    let entries = usize::from(short(directory)?);
    (0..entries).find_map(|i| {
        let entry = directory + 2 + 12 * i;
        (short(entry)? == ORIENTATION && short(entry + 2)? == SHORT).then(|| short(entry + 8))?
    })
}
