//! Measures the solid of one board for `tests/figures solid`, and writes it for the peers.
//!
//! `solid-times DIR` writes `recess.json` (the cutter as a mesh, for manifold3d), `whole.f64` (the whole board's corners,
//! three to a triangle, as little-endian doubles) and `big.stl` to DIR, and
//! prints one JSON object: times in seconds (the least of several runs, as everything else only adds to it),
//! counts and volumes. The board is that of the issue: 450 × 300 × 40 mm, 30 strips × 20 blanks, two edge
//! recesses (bit 12.7, corner 3.175, depth 12, travel 80).

use nalgebra::Point3;
use quarterturn_export::{glb, stl};
use quarterturn_geometry::board::Piece;
use quarterturn_geometry::cut::{Bit, Edge, Finished, Handhold, Reach};
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::solid::{Body, Mesh};
use serde_json::{Value, json};
use std::error::Error;
use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::Path;
use std::time::Instant;

const BOARD: Finished = Finished { length: 450.0, width: 300.0, thickness: 40.0 };
/// The coarsest chord tolerance at which a turn of the bit has 64 segments: (R + r)(1 − cos(π/64)), as turn and corner
/// share it.
const TOLERANCE: f64 = 0.011_474;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).ok_or("say the folder to write to")?;
    let folder = Path::new(&folder);
    let body = Body::of(BOARD, &handholds())?;
    let mesh = body.mesh(TOLERANCE)?;
    let whole = least(200, || body.mesh(TOLERANCE));
    let grid = pieces(30, 20);
    let cut = body.cut_pieces(&grid, TOLERANCE).ok_or("a piece can't be cut")?;
    let sum: f64 = cut.iter().map(|piece| piece.mesh.volume()).sum();
    let direct = least(100, || body.cut_pieces(&grid, TOLERANCE));
    let boolean = least(3, || body.cut_pieces_by_boolean(&grid, TOLERANCE));
    let solids = body.recess_solids(TOLERANCE);
    write_triangles(&mesh, &folder.join("whole.f64"))?;
    std::fs::write(folder.join("recess.json"), serde_json::to_vec(&solids.iter().map(described).collect::<Vec<_>>())?)?;
    let [stl, bytes, plain] = big_stl(&body, folder)?;
    let found = json!({
        "whole": whole,
        "triangles": mesh.triangles.len(),
        "volume": mesh.volume(),
        "exact": body.volume(),
        "pieces": direct,
        "pieces by boolean": boolean,
        "pieces volume": sum,
        "touched": touched(&body, &grid),
        "growth": growth(&body),
        "stl": stl,
        "stl bytes": bytes,
        "plain": plain,
        "glb": textured()?,
    });
    // The one place where this program speaks.
    serde_json::to_writer(std::io::stdout().lock(), &found)?;
    Ok(())
}

fn write_triangles(mesh: &Mesh, path: &Path) -> std::io::Result<()> {
    let corners = mesh.triangles.iter().flatten().map(|corner| mesh.vertices[*corner as usize]);
    let bytes: Vec<u8> = corners.flat_map(|p| [p.x, p.y, p.z]).flat_map(f64::to_le_bytes).collect();
    std::fs::write(path, bytes)
}

fn handholds() -> [Handhold; 2] {
    let mm = Length::nearest_to_mm;
    let bit = Bit {
        name: "bowl".into(),
        diameter: mm(12.7),
        corner_radius: mm(3.175),
        reach: mm(40.0),
        flutes: 2,
        cuts_at_centre: true,
        most_speed: None,
        chip_load: None,
        stick_out: None,
        eases: None,
    };
    let setback = mm((BOARD.width - 80.0 - 12.7) / 2.0);
    [Edge::Left, Edge::Right].map(|edge| Handhold {
        edge,
        bit: bit.clone(),
        depth: mm(12.0),
        reach: Reach::Setbacks([setback; 2]),
        above_lower_face: None,
        passes: None,
        width: None,
        rim: None,
    })
}

/// A grid of strips and blanks; neighbours share their planes bit by bit.
fn pieces(strips: usize, blanks: usize) -> Vec<Piece> {
    let at = |size: f64, n: usize, i: usize| if i == n { size } else { size * i as f64 / n as f64 };
    let piece = |place: usize, blank: usize| Piece {
        place,
        blank,
        low: Point3::new(at(BOARD.length, strips, place), at(BOARD.width, blanks, blank), 0.0),
        high: Point3::new(at(BOARD.length, strips, place + 1), at(BOARD.width, blanks, blank + 1), BOARD.thickness),
    };
    (0..strips).flat_map(|s| (0..blanks).map(move |b| piece(s, b))).collect()
}

/// The least time of some runs, s.
fn least<T>(runs: usize, mut work: impl FnMut() -> T) -> f64 {
    let times = (0..runs).map(|_| {
        let start = Instant::now();
        std::hint::black_box(work());
        start.elapsed().as_secs_f64()
    });
    times.fold(f64::INFINITY, f64::min)
}

fn touched(body: &Body, grid: &[Piece]) -> usize {
    let extents: Vec<_> = body.recess_solids(TOLERANCE).iter().filter_map(Mesh::extent).collect();
    let meets = |piece: &&Piece| {
        extents.iter().any(|[low, high]| (0..3).all(|k| piece.low[k] < high[k] && low[k] < piece.high[k]))
    };
    grid.iter().filter(meets).count()
}

/// Seconds for 600, 6 000 and 60 000 pieces.
fn growth(body: &Body) -> Vec<[f64; 2]> {
    let grids = [(30, 20, 60), (100, 60, 20), (300, 200, 5)];
    let time = |(strips, blanks, runs): (usize, usize, usize)| {
        let grid = pieces(strips, blanks);
        [grid.len() as f64, least(runs, || body.cut_pieces(&grid, TOLERANCE))]
    };
    grids.map(time).to_vec()
}

fn described(mesh: &Mesh) -> Value {
    let vertices: Vec<[f64; 3]> = mesh.vertices.iter().map(|v| [v.x, v.y, v.z]).collect();
    json!({ "vertices": vertices, "triangles": mesh.triangles })
}

/// Seconds for an STL of over 100 MB, its bytes, and seconds for the same bytes written buffered to the same
/// folder; each flushed to the disk's cache, the least of three.
fn big_stl(body: &Body, folder: &Path) -> Result<[f64; 3], Box<dyn Error>> {
    let one = body.mesh(0.000_01)?;
    let mut mesh = Mesh::default();
    while mesh.triangles.len() * 50 < 100_000_000 {
        let first = u32::try_from(mesh.vertices.len())?;
        let aside = nalgebra::Vector3::new(0.0, 0.0, 50.0 * f64::from(first) / one.vertices.len() as f64);
        mesh.vertices.extend(one.vertices.iter().map(|v| v + aside));
        mesh.triangles.extend(one.triangles.iter().map(|t| t.map(|i| i + first)));
    }
    let (ours, theirs) = (folder.join("big.stl"), folder.join("plain.stl"));
    let mut failed = None;
    let stl = least(7, || {
        let written = File::create(&ours).map_err(Into::into).and_then(|file| stl::write(&mesh, BufWriter::new(file)));
        failed = failed.take().or(written.err());
    });
    if let Some(error) = failed {
        return Err(error.into());
    }
    let bytes = std::fs::read(&ours)?;
    let mut failed = None;
    let plain = least(7, || {
        let write = || {
            let mut out = BufWriter::new(File::create(&theirs)?);
            bytes.chunks(4096).try_for_each(|some| out.write_all(some))?;
            out.flush()
        };
        failed = failed.take().or(write().err());
    });
    std::fs::remove_file(&ours)?;
    std::fs::remove_file(&theirs)?;
    failed.map_or(Ok([stl, bytes.len() as f64, plain]), |error| Err(error.into()))
}

/// Seconds for a GLB with pictures at 150 dots an inch, of the largest sample.
fn textured() -> Result<Value, Box<dyn Error>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../samples");
    let text = std::fs::read_to_string(folder.join("brick-bond.toml"))?;
    let job = quarterturn::plan::read(&text, "sample").map_err(|p| p.to_string())?.job;
    let board = job.work().board?;
    let mesh = Body::of(board.finished(), &job.handholds)?.mesh(job.chord_tolerance)?;
    let workers = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let mut bytes = Vec::new();
    glb::write_textured("brick bond", &board, &mesh, 25.4 / 150.0, workers, &mut bytes)?;
    let seconds = least(3, || glb::write_textured("brick bond", &board, &mesh, 25.4 / 150.0, workers, std::io::sink()));
    Ok(
        json!({ "seconds": seconds, "bytes": bytes.len(), "length": board.finished().length, "width": board.finished().width }),
    )
}
