//! Files together as one zip (PKWARE's APPNOTE). The zip's times are fixed: the same files give the same bytes.
//!
//! Must not know what is in the files.

use crate::ExportError;
use std::io::{Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

/// Endings of files that are packed already.
const PACKED: [&str; 4] = [".png", ".3mf", ".pdf", ".glb"];

/// Writes files, each under its name, in their order.
///
/// # Errors
/// [`ExportError`] where the writer refuses, or a name stands twice.
///
/// ```
/// use quarterturn_export::zipped;
/// let mut bytes = Vec::new();
/// zipped::write(&[("a.txt".to_owned(), b"hello".to_vec())], &mut bytes).unwrap();
/// assert_eq!(bytes[..4], *b"PK\x03\x04");
/// ```
pub fn write(files: &[(String, Vec<u8>)], mut out: impl Write) -> Result<(), ExportError> {
    let all: usize = files.iter().map(|(_, bytes)| bytes.len()).sum();
    let mut zip = ZipWriter::new(Cursor::new(Vec::with_capacity(all / 2)));
    for (name, bytes) in files {
        let packed = PACKED.iter().any(|ending| name.ends_with(ending));
        let how = if packed { CompressionMethod::Stored } else { CompressionMethod::Deflated };
        let options = SimpleFileOptions::default()
            .compression_method(how)
            .last_modified_time(DateTime::DEFAULT)
            .unix_permissions(0o644);
        zip.start_file(name.as_str(), options).map_err(std::io::Error::from)?;
        zip.write_all(bytes)?;
    }
    let bytes = zip.finish().map_err(std::io::Error::from)?.into_inner();
    Ok(out.write_all(&bytes)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Read as _;

    #[test]
    fn every_file_comes_back_as_it_was() {
        let files: Vec<(String, Vec<u8>)> = [("a.txt", 0), ("b.png", 70_000), ("c.stl", 70_000)]
            .map(|(name, size)| (name.to_owned(), (0..size).map(|i: u32| (i % 251 * (i % 7)) as u8).collect()))
            .into();
        let mut bytes = Vec::new();
        write(&files, &mut bytes).unwrap();
        let mut zip = zip::ZipArchive::new(Cursor::new(&bytes)).unwrap();
        assert_eq!(zip.len(), files.len());
        for (i, (name, bytes)) in files.iter().enumerate() {
            let mut file = zip.by_index(i).unwrap();
            let mut back = Vec::new();
            file.read_to_end(&mut back).unwrap();
            assert_eq!((&*file.name().unwrap(), &back), (name.as_str(), bytes));
        }
        let mut again = Vec::new();
        write(&files, &mut again).unwrap();
        assert_eq!(again, bytes);
        assert!(write(&[files[0].clone(), files[0].clone()], Vec::new()).is_err());
    }
}
