//! The solid with its wood on it, and its pictures: what a reader finds in them.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use common::*;
use nalgebra::Vector3;
use quarterturn_export::{glb, seen, threemf};
use quarterturn_geometry::cut::Edge;
use quarterturn_geometry::solid::{Body, Mesh};
use serde_json::Value;
use std::collections::HashMap;

/// The two chunks of a GLB.
fn chunks(bytes: &[u8]) -> (Value, Vec<u8>) {
    let long = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap()) as usize;
    assert_eq!((&bytes[..4], long(4), long(8)), (&b"glTF"[..], 2, bytes.len()));
    let json = long(12);
    assert_eq!((&bytes[16..20], &bytes[24 + json..28 + json]), (&b"JSON"[..], &b"BIN\0"[..]));
    assert_eq!(28 + json + long(20 + json), bytes.len());
    (serde_json::from_slice(&bytes[20..20 + json]).unwrap(), bytes[28 + json..].to_vec())
}

/// The corners of all triangles, mm, Z up again.
fn triangles(json: &Value, binary: &[u8]) -> Vec<[[u32; 3]; 3]> {
    let whole = |value: &Value| usize::try_from(value.as_u64().unwrap()).unwrap();
    let begins =
        |accessor: usize| whole(&json["bufferViews"][whole(&json["accessors"][accessor]["bufferView"])]["byteOffset"]);
    let mut found = Vec::new();
    for primitive in json["meshes"][0]["primitives"].as_array().unwrap() {
        let (position, indices) = (whole(&primitive["attributes"]["POSITION"]), whole(&primitive["indices"]));
        let short = json["accessors"][indices]["componentType"] == 5123;
        let point = |i: usize| {
            let at = begins(position) + i * 12;
            [0, 4, 8].map(|k| u32::from_le_bytes(binary[at + k..at + k + 4].try_into().unwrap()))
        };
        let index = |i: usize| {
            let at = begins(indices) + i * if short { 2 } else { 4 };
            let low = u16::from_le_bytes(binary[at..at + 2].try_into().unwrap());
            if short { usize::from(low) } else { u32::from_le_bytes(binary[at..at + 4].try_into().unwrap()) as usize }
        };
        let count = whole(&json["accessors"][indices]["count"]);
        found.extend((0..count).step_by(3).map(|i| [0, 1, 2].map(|k| point(index(i + k)))));
    }
    found
}

/// Closed by positions, and the volume in mm³.
fn closed_volume(triangles: &[[[u32; 3]; 3]]) -> f64 {
    let mut sides: HashMap<([u32; 3], [u32; 3]), i32> = HashMap::new();
    let mut volume = 0.0;
    for triangle in triangles {
        for k in 0..3 {
            *sides.entry((triangle[k], triangle[(k + 1) % 3])).or_default() += 1;
        }
        let [a, b, c] = triangle.map(|p| Vector3::from(p.map(|bits| f64::from(f32::from_bits(bits)) * 1000.0)));
        volume += a.dot(&b.cross(&c)) / 6.0;
    }
    assert!(sides.iter().all(|((a, b), n)| *n == 1 && sides.get(&(*b, *a)) == Some(&1)));
    volume
}

fn meshed(made: &Made) -> (Body, Mesh) {
    let body = Body::of(made.board().finished(), &made.job.handholds).unwrap();
    let mesh = body.mesh(0.05).unwrap();
    (body, mesh)
}

#[test]
fn a_glb_is_closed_in_metres_with_its_wood_either_way() {
    let made = Made::of(job());
    let (_, mesh) = meshed(&made);
    let write = |textured: bool| {
        let mut bytes = Vec::new();
        match textured {
            true => glb::write_textured("A board", made.board(), &mesh, 1.0, 2, &mut bytes).unwrap(),
            false => glb::write_coloured("A board", made.board(), &mesh, 6.0, &mut bytes).unwrap(),
        }
        bytes
    };
    for textured in [true, false] {
        let bytes = write(textured);
        assert!(bytes == write(textured), "the same board gives the same bytes");
        let (json, binary) = chunks(&bytes);
        let volume = closed_volume(&triangles(&json, &binary));
        assert!((volume - mesh.volume()).abs() < 1e-5 * mesh.volume(), "{volume} for {}", mesh.volume());
        let size = made.board().finished();
        let ends = |end: &str| {
            let of = json["accessors"].as_array().unwrap().iter().filter_map(|a| a[end].as_array());
            of.map(|v| [0, 1, 2].map(|k| v[k].as_f64().unwrap())).collect::<Vec<_>>()
        };
        let most = ends("max").into_iter().fold([f64::MIN; 3], |m, p| [0, 1, 2].map(|k| m[k].max(p[k])));
        let least = ends("min").into_iter().fold([f64::MAX; 3], |m, p| [0, 1, 2].map(|k| m[k].min(p[k])));
        for (found, wanted) in most.iter().chain(&least).zip([size.length, size.thickness, 0.0, 0.0, 0.0, -size.width])
        {
            assert!((found - wanted / 1000.0).abs() < 1e-7, "{found} for {wanted}");
        }
        assert_eq!(json["images"].is_array(), textured);
        let dress = if textured { "TEXCOORD_0" } else { "COLOR_0" };
        assert!(json["meshes"][0]["primitives"][0]["attributes"][dress].is_u64());
    }
}

#[test]
fn nothing_is_no_solid() {
    let made = Made::of(job());
    let empty = Mesh::default();
    assert!(glb::write_textured("x", made.board(), &empty, 1.0, 1, Vec::new()).is_err());
    assert!(glb::write_coloured("x", made.board(), &empty, 1.0, Vec::new()).is_err());
    let corner = seen::Corner::showing(&[]);
    assert!(seen::whole(made.board(), &empty, corner, ["x", "y"], 1).is_err());
}

#[test]
fn every_piece_is_a_part_with_a_name_of_its_own() {
    let made = Made::of(job());
    let (body, _) = meshed(&made);
    let pieces = body.cut_pieces(&made.board().pieces(), 0.05).unwrap();
    let parts = threemf::parts(made.board(), &pieces);
    assert_eq!(parts.len(), pieces.len());
    let mut names: Vec<&str> = parts.iter().map(|part| part.name.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), parts.len());
    let colours: Vec<[u8; 3]> = parts.iter().map(|part| part.colour).collect();
    assert!(colours.iter().any(|c| *c != colours[0]));
}

#[test]
fn the_corner_shows_most_handholds() {
    let of = |edges: &[Edge]| {
        let corner = seen::Corner::showing(edges);
        (corner.broad, corner.side)
    };
    assert_eq!(of(&[]), (Edge::Front, Edge::Right));
    assert_eq!(of(&[Edge::Left, Edge::Right, Edge::Back]), (Edge::Back, Edge::Right));
    assert_eq!(of(&[Edge::Left, Edge::Front]), (Edge::Front, Edge::Left));
}

#[test]
fn the_pictures_name_what_they_show() {
    let made = Made::of(job());
    let (body, mesh) = meshed(&made);
    let corner = seen::Corner::showing(&[Edge::Front]);
    let whole = seen::whole(made.board(), &mesh, corner, ["A board", "caption"], 2).unwrap();
    assert!(whole.svg.contains("seen from its front right corner") && whole.svg.contains("data:image/png;base64,"));
    let pieces = body.cut_pieces(&made.board().pieces(), 0.05).unwrap();
    for edge in [Edge::Front, Edge::Back] {
        let corner = seen::Corner::showing(&[edge]);
        let apart = seen::pulled_apart(made.board(), &pieces, corner, ["A board", "caption"], 2).unwrap();
        for strip in made.board().strips() {
            let number = format!(">\n{}\n<", strip.place.strip + 1);
            assert!(apart.svg.contains(&number), "{number}");
        }
        let dark = apart.picture.bytes.chunks_exact(3).filter(|p| p.iter().all(|c| *c < 120)).count();
        assert!(dark * 20 > apart.picture.bytes.len() / 3, "only {dark} dark pixels");
        assert_eq!(apart.picture.bytes.len(), apart.picture.width * apart.picture.height * 3);
    }
}
