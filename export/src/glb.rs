//! The whole board as a binary glTF 2.0 file (Khronos): metres, Y up, the front toward +Z, with its
//! wood as pictures on the surface, or as colours at the vertices.
//!
//! ```text
//! header │ JSON: scene ─► node ─► mesh ─► primitives ─► accessors ─► views │ BIN: numbers, PNGs
//! ```
//! One primitive for each page of the surface. A vertex stands once for each normal and place on a
//! page that it has, so that the mesh is closed by positions and not by indices. The same board gives
//! the same bytes. Must not know what cut the mesh, nor how wood is drawn.

use crate::{ExportError, png};
use nalgebra::{Point3, Vector3};
use quarterturn_geometry::board::Board;
use quarterturn_geometry::solid::Mesh;
use quarterturn_geometry::surface::{Atlas, refined, smooth_normals};
use quarterturn_geometry::wood::Colour;
use serde_json::{Value, json};
use std::collections::HashMap;
use std::io::Write;

/// Writes a mesh of the board with the wood as pictures, texels about `pixel` mm.
///
/// # Errors
/// [`ExportError`] for an empty mesh, a pixel without size, or where the writer refuses.
pub fn write_textured(
    name: &str,
    board: &Board,
    mesh: &Mesh,
    pixel: f64,
    workers: usize,
    out: impl Write,
) -> Result<(), ExportError> {
    let none = || ExportError::NoMesh(mesh.triangles.len());
    let atlas = Atlas::of(mesh, pixel).ok_or_else(none)?;
    let mut primitives: Vec<Primitive> = vec![Primitive::default(); atlas.pages().len()];
    for (i, (points, normals)) in mesh.corners().zip(smooth_normals(mesh)).enumerate() {
        let (page, places) = atlas.corners(i).ok_or_else(none)?;
        let corner = |k: usize| (points[k], normals[k], Dress::Place(places[k].map(single)));
        primitives[page].add([corner(0), corner(1), corner(2)]);
    }
    let pages = atlas.baked(board, workers);
    let pictures = std::thread::scope(|scope| {
        let encode = |picture| {
            scope.spawn(move || {
                let mut bytes = Vec::new();
                png::write(picture, atlas_pixel(pixel), &mut bytes).map(|()| bytes)
            })
        };
        let threads: Vec<_> = pages.iter().map(encode).collect();
        let joined = threads.into_iter().map(|t| t.join().unwrap_or_else(|_| Err(none())));
        joined.collect::<Result<Vec<Vec<u8>>, ExportError>>()
    })?;
    File::of(name, &primitives, pictures)?.write(out)
}

/// A PNG's own size has no meaning here, but has to be one.
fn atlas_pixel(pixel: f64) -> f64 {
    pixel.clamp(0.01, 10.0)
}

/// Writes a mesh of the board with the wood's colour at its vertices, after splitting edges longer
/// than `spacing` mm.
///
/// # Errors
/// [`ExportError`] for an empty mesh, or where the writer refuses.
pub fn write_coloured(
    name: &str,
    board: &Board,
    mesh: &Mesh,
    spacing: f64,
    out: impl Write,
) -> Result<(), ExportError> {
    let mesh = refined(mesh, spacing);
    let size = board.finished();
    let most = Point3::new(size.length, size.width, size.thickness);
    let colour = |at: &Point3<f64>| board.colour(&at.sup(&Point3::origin()).inf(&most), spacing);
    let none = || ExportError::NoMesh(mesh.triangles.len());
    let colours = mesh.vertices.iter().map(|v| colour(v).map(shares).ok_or_else(none));
    let colours = colours.collect::<Result<Vec<[u16; 4]>, ExportError>>()?;
    let mut primitive = Primitive::default();
    for ((points, normals), triangle) in mesh.corners().zip(smooth_normals(&mesh)).zip(&mesh.triangles) {
        let corner = |k: usize| (points[k], normals[k], Dress::Colour(colours[triangle[k] as usize]));
        primitive.add([corner(0), corner(1), corner(2)]);
    }
    File::of(name, &[primitive], Vec::new())?.write(out)
}

/// Linear light as whole shares of 65 535, opaque.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn shares(Colour { r, g, b }: Colour) -> [u16; 4] {
    [r, g, b, 1.0].map(|part| (part.clamp(0.0, 1.0) * 65_535.0).round() as u16)
}

/// What a vertex wears.
#[derive(Clone, Copy)]
enum Dress {
    /// Its place on a page.
    Place([f32; 2]),
    /// Its colour.
    Colour([u16; 4]),
}

impl Dress {
    fn bytes(self) -> [u8; 8] {
        let mut bytes = [0; 8];
        let put = |(to, from): (&mut u8, u8)| *to = from;
        match self {
            Self::Place(place) => bytes.iter_mut().zip(place.map(f32::to_le_bytes).concat()).for_each(put),
            Self::Colour(colour) => bytes.iter_mut().zip(colour.map(u16::to_le_bytes).concat()).for_each(put),
        }
        bytes
    }
}

/// One drawable part: vertices without twins, and triangles over them.
#[derive(Clone, Default)]
struct Primitive {
    positions: Vec<[f32; 3]>,
    normals: Vec<[f32; 3]>,
    dresses: Vec<[u8; 8]>,
    coloured: bool,
    indices: Vec<u32>,
    known: HashMap<([u32; 6], [u8; 8]), u32>,
}

type Corner = (Point3<f64>, Vector3<f64>, Dress);

impl Primitive {
    /// Adds a triangle; one of which rounding to f32 leaves two corners in one place is left out: its
    /// two other sides then fall together, so that a closed mesh stays closed.
    fn add(&mut self, corners: [Corner; 3]) {
        let [a, b, c] = corners.map(|(at, ..)| position(&at));
        if a != b && b != c && c != a {
            let indices = corners.map(|corner| self.vertex(corner));
            self.indices.extend(indices);
        }
    }

    fn vertex(&mut self, (at, normal, dress): Corner) -> u32 {
        let (position, normal) = (position(&at), upright([normal.x, normal.y, normal.z].map(single)));
        let bits = [position, normal].concat().iter().map(|x| x.to_bits()).collect::<Vec<u32>>();
        let mut key = ([0; 6], dress.bytes());
        key.0.copy_from_slice(&bits);
        *self.known.entry(key).or_insert_with(|| {
            self.positions.push(position);
            self.normals.push(normal);
            self.dresses.push(key.1);
            self.coloured = matches!(dress, Dress::Colour(_));
            u32::try_from(self.positions.len() - 1).unwrap_or(u32::MAX)
        })
    }
}

/// From millimetres, Z up, to metres, Y up.
fn position(at: &Point3<f64>) -> [f32; 3] {
    upright([at.x, at.y, at.z].map(|mm| single(mm / 1000.0)))
}

/// From Z up to Y up: a quarter turn about X. Never a negative zero, so that equal points have equal bits.
fn upright([x, y, z]: [f32; 3]) -> [f32; 3] {
    [x, z, -y].map(|c| c + 0.0)
}

#[allow(clippy::cast_possible_truncation)]
const fn single(x: f64) -> f32 {
    x as f32
}

/// Constants of the glTF 2.0 specification.
const FLOAT: u32 = 5126;
const UNSIGNED_INT: u32 = 5125;
const UNSIGNED_SHORT: u32 = 5123;
const ARRAY_BUFFER: u32 = 34_962;
const ELEMENT_ARRAY_BUFFER: u32 = 34_963;
const LINEAR: u32 = 9729;
const LINEAR_MIPMAP_LINEAR: u32 = 9987;
const CLAMP_TO_EDGE: u32 = 33_071;

/// The file's two chunks while they grow.
struct File {
    json: Value,
    binary: Vec<u8>,
    views: Vec<Value>,
    accessors: Vec<Value>,
}

impl File {
    fn of(name: &str, primitives: &[Primitive], pictures: Vec<Vec<u8>>) -> Result<Self, ExportError> {
        let count = primitives.iter().map(|p| p.indices.len() / 3).sum();
        if count == 0 {
            return Err(ExportError::NoMesh(count));
        }
        let mut file = Self { json: Value::Null, binary: Vec::new(), views: Vec::new(), accessors: Vec::new() };
        let textured = !pictures.is_empty();
        let filled = primitives.iter().enumerate().filter(|(_, p)| !p.indices.is_empty());
        let described: Vec<Value> = filled.map(|(i, p)| file.primitive(p, if textured { i } else { 0 })).collect();
        let materials: Vec<Value> = (0..pictures.len().max(1)).map(|i| material(textured.then_some(i))).collect();
        let images: Vec<Value> = pictures.iter().map(|bytes| file.image(bytes)).collect();
        let name = crate::lettering::plain(name, 400);
        file.json = json!({
            "asset": { "version": "2.0", "generator": "quarterturn" },
            "scene": 0,
            "scenes": [{ "name": name, "nodes": [0] }],
            "nodes": [{ "name": name, "mesh": 0 }],
            "meshes": [{ "name": name, "primitives": described }],
            "materials": materials,
            "accessors": file.accessors,
            "bufferViews": file.views,
            "buffers": [{ "byteLength": file.binary.len() }],
        });
        if textured {
            let textures: Vec<Value> = (0..images.len()).map(|i| json!({ "sampler": 0, "source": i })).collect();
            file.json["images"] = json!(images);
            file.json["textures"] = json!(textures);
            file.json["samplers"] = json!([{
                "magFilter": LINEAR, "minFilter": LINEAR_MIPMAP_LINEAR, "wrapS": CLAMP_TO_EDGE, "wrapT": CLAMP_TO_EDGE,
            }]);
        }
        Ok(file)
    }

    fn primitive(&mut self, part: &Primitive, material: usize) -> Value {
        let count = part.positions.len();
        let ends = |pick: fn(f32, f32) -> f32| {
            let first = part.positions.first().copied().unwrap_or_default();
            let most = part.positions.iter().fold(first, |m, p| [0, 1, 2].map(|k| pick(m[k], p[k])));
            most.map(f64::from)
        };
        let floats = |of: &[[f32; 3]]| of.iter().flatten().flat_map(|x| x.to_le_bytes()).collect::<Vec<u8>>();
        let position = self.accessor(&floats(&part.positions), ARRAY_BUFFER, FLOAT, count, "VEC3");
        self.accessors[position]["min"] = json!(ends(f32::min));
        self.accessors[position]["max"] = json!(ends(f32::max));
        let normal = self.accessor(&floats(&part.normals), ARRAY_BUFFER, FLOAT, count, "VEC3");
        let (kind, of, dress) =
            if part.coloured { (UNSIGNED_SHORT, "VEC4", "COLOR_0") } else { (FLOAT, "VEC2", "TEXCOORD_0") };
        let dresses = self.accessor(&part.dresses.concat(), ARRAY_BUFFER, kind, count, of);
        if part.coloured {
            self.accessors[dresses]["normalized"] = json!(true);
        }
        let (indices, kind) = indices(&part.indices, count);
        let indices = self.accessor(&indices, ELEMENT_ARRAY_BUFFER, kind, part.indices.len(), "SCALAR");
        let mut attributes = json!({ "POSITION": position, "NORMAL": normal });
        attributes[dress] = json!(dresses);
        json!({ "attributes": attributes, "indices": indices, "material": material })
    }

    fn accessor(&mut self, bytes: &[u8], target: u32, kind: u32, count: usize, of: &str) -> usize {
        let view = self.view(bytes);
        self.views[view]["target"] = json!(target);
        self.accessors.push(json!({ "bufferView": view, "componentType": kind, "count": count, "type": of }));
        self.accessors.len() - 1
    }

    fn image(&mut self, bytes: &[u8]) -> Value {
        json!({ "bufferView": self.view(bytes), "mimeType": "image/png" })
    }

    /// Adds bytes, beginning at a multiple of four.
    fn view(&mut self, bytes: &[u8]) -> usize {
        self.binary.resize(self.binary.len().next_multiple_of(4), 0);
        self.views.push(json!({ "buffer": 0, "byteOffset": self.binary.len(), "byteLength": bytes.len() }));
        self.binary.extend_from_slice(bytes);
        self.views.len() - 1
    }

    fn write(mut self, mut out: impl Write) -> Result<(), ExportError> {
        let mut json = self.json.to_string().into_bytes();
        json.resize(json.len().next_multiple_of(4), b' ');
        self.binary.resize(self.binary.len().next_multiple_of(4), 0);
        let total = 12 + 8 + json.len() + 8 + self.binary.len();
        let long = |of: usize| u32::try_from(of).map(u32::to_le_bytes).map_err(|_| ExportError::NoMesh(of));
        let mut head = [&b"glTF"[..], &2_u32.to_le_bytes(), &long(total)?, &long(json.len())?, b"JSON"].concat();
        head.append(&mut json);
        head.extend([&long(self.binary.len())?[..], b"BIN\0"].concat());
        out.write_all(&head)?;
        Ok(out.write_all(&self.binary)?)
    }
}

/// Indices as short as they may be (65 535 is no index: it would restart a strip).
fn indices(of: &[u32], count: usize) -> (Vec<u8>, u32) {
    if count > usize::from(u16::MAX) {
        return (of.iter().flat_map(|i| i.to_le_bytes()).collect(), UNSIGNED_INT);
    }
    let short = |i: &u32| u16::try_from(*i).unwrap_or(u16::MAX).to_le_bytes();
    (of.iter().flat_map(short).collect(), UNSIGNED_SHORT)
}

/// Oiled wood: no metal, not glossy; in a page's picture, or in its vertices' colours.
fn material(page: Option<usize>) -> Value {
    let mut surface = json!({ "metallicFactor": 0.0, "roughnessFactor": 0.7 });
    if let Some(page) = page {
        surface["baseColorTexture"] = json!({ "index": page });
    }
    json!({ "name": "wood", "pbrMetallicRoughness": surface })
}
