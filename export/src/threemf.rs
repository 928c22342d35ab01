//! Solids as 3MF (3D Manufacturing Format, Core specification 1.3): a zip of three parts.
//!
//! ```text
//! [Content_Types].xml    what each part is
//! _rels/.rels            which of them is the model
//! 3D/3dmodel.model       base materials (id 1), one object for each piece (2 …), their assembly
//! ```
//! Base materials stand first, because an object may name only what stands before it; ids are
//! counted in one sequence. The zip's times are fixed: the same pieces give the same bytes. Must not
//! know how pieces are cut or coloured.

use crate::{ExportError, marked};
use quarterturn_geometry::board::Board;
use quarterturn_geometry::solid::{CutPiece, Mesh};
use std::borrow::Cow;
use std::fmt::Write as _;
use std::io::{Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

/// One object: a closed mesh with its name and its material.
#[derive(Clone, Debug)]
pub struct Part<'a> {
    /// The object's name.
    pub name: String,
    /// The material's name.
    pub material: String,
    /// The material's colour, sRGB.
    pub colour: [u8; 3],
    /// The solid, mm.
    pub mesh: &'a Mesh,
}

/// The pieces of a board as parts, named by strip and blank, each in the mean colour of its wood.
#[must_use]
pub fn parts<'a>(board: &Board, pieces: &'a [CutPiece]) -> Vec<Part<'a>> {
    let part = |cut: &'a CutPiece| {
        let piece = &cut.piece;
        let strip = board.strips().get(piece.place)?;
        let blank = &board.panels().get(strip.place.panel)?.blanks.get(piece.blank)?.blank;
        Some(Part {
            name: format!("strip {}, blank {}", marked::number(board, piece.place), blank.letter),
            material: blank.figure.wood().name.clone(),
            colour: board.mean_colour(piece)?.to_srgb8(),
            mesh: &cut.mesh,
        })
    };
    pieces.iter().filter_map(part).collect()
}

const CONTENT_TYPES: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
 <Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
 <Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>
</Types>
"#;
const RELATIONSHIPS: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
 <Relationship Target="/3D/3dmodel.model" Id="model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>
</Relationships>
"#;

/// Writes parts as objects of one assembly, which is the only thing to build.
///
/// # Errors
/// [`ExportError`] without a part, for a mesh that is empty or names a vertex that it has not, or
/// where the writer refuses.
///
/// ```
/// use nalgebra::Point3;
/// use quarterturn_export::threemf::{self, Part};
/// use quarterturn_geometry::solid::Mesh;
/// let mesh = Mesh::cuboid(&Point3::origin(), &Point3::new(3.0, 2.0, 1.0));
/// let (name, material) = ("strip 1, blank A".to_owned(), "cherry".to_owned());
/// let mut bytes = Vec::new();
/// threemf::write("A board", &[Part { name, material, colour: [150, 90, 60], mesh: &mesh }], &mut bytes).unwrap();
/// assert_eq!(bytes[..2], *b"PK");
/// ```
pub fn write(name: &str, parts: &[Part], mut out: impl Write) -> Result<(), ExportError> {
    let model = model(name, parts)?;
    let mut zip = ZipWriter::new(Cursor::new(Vec::with_capacity(model.len() / 4)));
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::DEFAULT)
        .unix_permissions(0o644);
    let files =
        [("[Content_Types].xml", CONTENT_TYPES), ("_rels/.rels", RELATIONSHIPS), ("3D/3dmodel.model", model.as_str())];
    for (path, text) in files {
        zip.start_file(path, options).map_err(std::io::Error::from)?;
        zip.write_all(text.as_bytes())?;
    }
    let bytes = zip.finish().map_err(std::io::Error::from)?.into_inner();
    Ok(out.write_all(&bytes)?)
}

const MATERIALS: usize = 1;
const FIRST_OBJECT: usize = 2;

/// The model part. Writing to a `String` can't fail, so those results are of no interest.
fn model(name: &str, parts: &[Part]) -> Result<String, ExportError> {
    if parts.is_empty() {
        return Err(ExportError::NoMesh(0));
    }
    let mut text = String::from(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<model unit=\"millimeter\" xml:lang=\"en-US\" \
         xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n",
    );
    let _ = writeln!(text, " <metadata name=\"Title\">{}</metadata>\n <resources>", escaped(name));
    add_materials(&mut text, parts);
    for (i, part) in parts.iter().enumerate() {
        add_object(&mut text, i, part)?;
    }
    let assembly = FIRST_OBJECT + parts.len();
    let _ = writeln!(text, "  <object id=\"{assembly}\" type=\"model\" name=\"{}\">\n   <components>", escaped(name));
    for i in 0..parts.len() {
        let _ = writeln!(text, "    <component objectid=\"{}\"/>", FIRST_OBJECT + i);
    }
    text.push_str("   </components>\n  </object>\n </resources>\n <build>\n");
    let _ = writeln!(text, "  <item objectid=\"{assembly}\"/>\n </build>\n</model>");
    Ok(text)
}

fn add_materials(text: &mut String, parts: &[Part]) {
    let _ = writeln!(text, "  <basematerials id=\"{MATERIALS}\">");
    for Part { material, colour: [r, g, b], .. } in parts {
        let name = escaped(material);
        let _ = writeln!(text, "   <base name=\"{name}\" displaycolor=\"#{r:02X}{g:02X}{b:02X}\"/>");
    }
    text.push_str("  </basematerials>\n");
}

fn add_object(text: &mut String, i: usize, Part { name, mesh, .. }: &Part) -> Result<(), ExportError> {
    let (count, id) = (mesh.triangles.len(), FIRST_OBJECT + i);
    let known = |triangle: &[u32; 3]| triangle.iter().all(|v| (*v as usize) < mesh.vertices.len());
    if count == 0 || !mesh.triangles.iter().all(known) {
        return Err(ExportError::NoMesh(count));
    }
    let name = escaped(name);
    let _ = writeln!(text, "  <object id=\"{id}\" type=\"model\" name=\"{name}\" pid=\"{MATERIALS}\" pindex=\"{i}\">");
    text.push_str("   <mesh>\n    <vertices>\n");
    for v in &mesh.vertices {
        // Shortest decimals that give the same f64 again, so that shared corners stay equal.
        let [x, y, z] = [v.x + 0.0, v.y + 0.0, v.z + 0.0];
        if !(x.is_finite() && y.is_finite() && z.is_finite()) {
            return Err(ExportError::NoMesh(count));
        }
        let _ = writeln!(text, "     <vertex x=\"{x}\" y=\"{y}\" z=\"{z}\"/>");
    }
    text.push_str("    </vertices>\n    <triangles>\n");
    for [a, b, c] in &mesh.triangles {
        let _ = writeln!(text, "     <triangle v1=\"{a}\" v2=\"{b}\" v3=\"{c}\"/>");
    }
    text.push_str("    </triangles>\n   </mesh>\n  </object>\n");
    Ok(())
}

/// Text as XML holds it: no control characters, the five marks escaped.
fn escaped(text: &str) -> String {
    let clean = crate::lettering::plain(text, 400);
    let mark = |c: char| match c {
        '&' => Cow::Borrowed("&amp;"),
        '<' => Cow::Borrowed("&lt;"),
        '>' => Cow::Borrowed("&gt;"),
        '"' => Cow::Borrowed("&quot;"),
        '\'' => Cow::Borrowed("&apos;"),
        other => Cow::Owned(other.to_string()),
    };
    clean.chars().map(mark).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::Point3;
    use std::io::Read;

    fn cuboid() -> Mesh {
        Mesh::cuboid(&Point3::origin(), &Point3::new(3.0, 2.0, 1.0))
    }

    fn part<'a>(name: &str, mesh: &'a Mesh) -> Part<'a> {
        Part { name: name.into(), material: "ash".into(), colour: [0, 171, 255], mesh }
    }

    fn written(name: &str, parts: &[Part]) -> Result<Vec<u8>, ExportError> {
        let mut bytes = Vec::new();
        write(name, parts, &mut bytes)?;
        Ok(bytes)
    }

    #[test]
    fn ids_run_on_and_names_are_escaped() {
        let mesh = cuboid();
        let parts = [part("strip 1, blank <A>", &mesh), part("strip 1, blank \"B\"", &mesh)];
        let bytes = written("Tom & Ann's\u{0} board", &parts).unwrap();
        let mut zip = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
        let mut text = String::new();
        zip.by_name("3D/3dmodel.model").unwrap().read_to_string(&mut text).unwrap();
        let ids: Vec<&str> = text.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
        assert_eq!(ids, ["1", "2", "3", "4"]);
        for has in ["Tom &amp; Ann&apos;s  board", "blank &lt;A&gt;", "blank &quot;B&quot;", "#00ABFF", "pindex=\"1\""]
        {
            assert!(text.contains(has), "{has}");
        }
        assert!(text.find("<basematerials") < text.find("<object"));
    }

    #[test]
    fn the_same_parts_give_the_same_bytes() {
        let mesh = cuboid();
        let once = || written("x", &[part("p", &mesh)]).unwrap();
        assert_eq!(once(), once());
    }

    #[test]
    fn what_is_no_solid_is_refused() {
        assert!(matches!(written("x", &[]), Err(ExportError::NoMesh(0))));
        let (mut wrong, mut infinite) = (cuboid(), cuboid());
        wrong.triangles[0] = [0, 1, 8];
        infinite.vertices[0].x = f64::INFINITY;
        for mesh in [Mesh::default(), wrong, infinite] {
            assert!(written("x", &[part("p", &mesh)]).is_err());
        }
    }
}
