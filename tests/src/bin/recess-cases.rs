//! Writes boxes with a recess, and chances of falling short, for the outside judges.
//!
//! `recess-cases DIR` writes `cases.json` (parameters, closed forms, the mesh's volume), one STL a
//! case (the box a × b × c, the recess centred in its top face, travel along x) and `chance.json`.

use nalgebra::Point3;
use quarterturn_geometry::cut::{Bit, Easing, Edge, Finished, Handhold, Reach, Recess};
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::solid::{Body, Mesh};
use quarterturn_geometry::stock::{Accuracy, Crosscut, LastStrip, Spread, StripSide, share_short};
use serde_json::{Value, json};
use std::error::Error;
use std::fs;
use std::path::Path;

const BOX: [f64; 3] = [160.0, 45.0, 60.0];

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).ok_or("say the folder to write to")?;
    let folder = Path::new(&folder);
    fs::create_dir_all(folder)?;
    let cases = cases().iter().enumerate().map(|(i, c)| case(folder, i, c)).collect::<Result<Vec<Value>, _>>()?;
    fs::write(folder.join("cases.json"), serde_json::to_vec_pretty(&cases)?)?;
    fs::write(folder.join("chance.json"), serde_json::to_vec_pretty(&chances())?)?;
    Ok(())
}

/// One recess in the box.
struct Case {
    radius: f64,
    corner: f64,
    depth: f64,
    travel: f64,
    tolerance: f64,
    widening: f64,
    rim: Option<Easing>,
}

fn cases() -> Vec<Case> {
    let shapes = [
        // Straight bits: r = 0.
        (10.0, 0.0, 6.0),
        (3.175, 0.0, 2.0),
        (9.525, 0.0, 12.0),
        // Ball nose: r = R; d < r, d = r, d > r.
        (9.525, 9.525, 5.0),
        (9.525, 9.525, 9.525),
        (9.525, 9.525, 15.0),
        (6.0, 6.0, 1.0),
        // Bowl bits: d < r, d = r, d > r.
        (10.0, 4.0, 3.0),
        (10.0, 4.0, 4.0),
        (10.0, 4.0, 6.0),
        (9.525, 3.175, 6.35),
        (9.525, 3.175, 2.0),
        (16.0, 6.35, 25.0),
    ];
    let travels = [60.0, 0.0, 101.6];
    let tolerances = [0.02, 0.1, 0.002];
    let one_pass = shapes.iter().enumerate().flat_map(|(i, &(radius, corner, depth))| {
        [0, 1].map(|k| Case {
            radius,
            corner,
            depth,
            travel: travels[(i + k) % 3],
            tolerance: tolerances[(i + 2 * k) % 3],
            widening: 0.0,
            rim: None,
        })
    });
    one_pass.chain(wide_and_eased()).collect()
}

/// Wider than the bit, with an eased rim, or both.
fn wide_and_eased() -> Vec<Case> {
    let mm = Length::nearest_to_mm;
    let (round, chamfer) = (|s| Some(Easing::RoundOver(mm(s))), |s| Some(Easing::Chamfer(mm(s))));
    [
        ([10.0, 4.0, 6.0, 60.0], 7.0, None),
        ([10.0, 4.0, 3.0, 0.0], 9.0, None),
        ([9.525, 0.0, 12.0, 101.6], 12.5, None),
        ([6.0, 6.0, 9.0, 60.0], 0.0, round(1.5)),
        ([10.0, 4.0, 6.0, 60.0], 0.0, chamfer(1.0)),
        ([9.525, 0.0, 12.0, 0.0], 0.0, round(3.0)),
        ([9.525, 3.175, 6.35, 101.6], 5.0, round(2.0)),
        ([6.0, 6.0, 9.0, 60.0], 11.0, chamfer(2.5)),
        // The rim takes the whole wall.
        ([10.0, 4.0, 6.0, 40.0], 3.0, round(2.0)),
    ]
    .into_iter()
    .map(|([radius, corner, depth, travel], widening, rim)| Case {
        radius,
        corner,
        depth,
        travel,
        tolerance: 0.02,
        widening,
        rim,
    })
    .collect()
}

fn case(folder: &Path, i: usize, case: &Case) -> Result<Value, Box<dyn Error>> {
    let length = Length::nearest_to_mm;
    let bit = Bit {
        name: "case".into(),
        diameter: length(2.0 * case.radius),
        corner_radius: length(case.corner),
        reach: length(100.0),
        flutes: 2,
        cuts_at_centre: true,
        most_speed: None,
        chip_load: None,
        stick_out: None,
        eases: None,
    };
    // The box lies as a board whose back edge is its top: X = a − x, Y = z, Z = y.
    let board = Finished { length: BOX[0], width: BOX[2], thickness: BOX[1] };
    let mut hold = Handhold {
        edge: Edge::Back,
        bit,
        depth: length(case.depth),
        reach: Reach::Setbacks([Length::ZERO; 2]),
        above_lower_face: None,
        passes: None,
        width: None,
        rim: case.rim,
    };
    let setback = (BOX[0] - case.travel) / 2.0 - hold.half_width();
    hold.reach = Reach::Setbacks([length(setback); 2]);
    hold.width = (case.widening > 0.0).then(|| length(case.widening + 2.0 * hold.half_width()));
    let body = Body::of(board, &[hold])?;
    let mesh = as_box(&body.mesh(case.tolerance)?);
    let recess = *body.recesses().next().ok_or("the body has no recess")?;
    let name = format!("case-{:02}", i + 1);
    quarterturn_export::stl::write(&mesh, fs::File::create(folder.join(format!("{name}.stl")))?)?;
    Ok(described(&name, &recess, case.tolerance, BOX.iter().product::<f64>() - mesh.volume()))
}

fn described(name: &str, recess: &Recess, tolerance: f64, mesh_removed: f64) -> Value {
    let profile = recess.profile;
    json!({
        "name": name,
        "radius": profile.radius,
        "corner_radius": profile.corner,
        "depth": profile.depth,
        "rim": profile.rim.map(|rim| json!({ "kind": rim.name(), "size": rim.size() })),
        "travel": recess.travel,
        "widening": recess.widening,
        "box": BOX,
        "volume_removed": recess.volume(),
        "section": recess.section(),
        "ends": recess.ends(),
        "curved_area": recess.curved_area(),
        "mesh_volume_removed": mesh_removed,
        "chord_tolerance": tolerance,
        "chord_bound": recess.mesh_bound(tolerance),
    })
}

fn as_box(mesh: &Mesh) -> Mesh {
    let vertices = mesh.vertices.iter().map(|v| Point3::new(BOX[0] - v.x, v.z, v.y)).collect();
    Mesh { vertices, triangles: mesh.triangles.clone() }
}

fn chances() -> Vec<Value> {
    let mut rows = Vec::new();
    for count in [1_i32, 2, 9, 14, 30] {
        for slack in [-2.0, -0.3, 0.0, 0.4, 1.5, 6.0] {
            for (set, repeat, kerf_sigma) in [(0.2, 0.05, 0.02), (0.0, 0.0, 0.0), (0.03, 0.06, 0.0)] {
                let (repeats, kerfs) = (count, count - 1);
                let (q_sigma, length_sigma) = if set > 0.0 { (0.2, 0.4) } else { (0.0, 0.0) };
                let variance = (f64::from(count) * set).powi(2)
                    + f64::from(repeats) * repeat * repeat
                    + (f64::from(kerfs) * kerf_sigma).powi(2)
                    + q_sigma * q_sigma
                    + length_sigma * length_sigma;
                let chance = Spread { slack, sigma: variance.sqrt() }.chance_short();
                rows.push(json!({
                    "slack": slack, "count": count, "set": set, "repeat": repeat, "repeats": repeats,
                    "kerf_sigma": kerf_sigma, "kerfs": kerfs, "q_sigma": q_sigma, "length_sigma": length_sigma,
                    "chance": chance,
                }));
            }
        }
    }
    rows.extend(sawn());
    rows
}

/// Runs of the seeded saw for each way to saw.
const RUNS: u32 = 1_000_000;

/// The saw at work: the share of a million seeded runs that fell short, beside the closed form, for each way to free the
/// last strip and each side of the blade.
fn sawn() -> Vec<Value> {
    let um = Length::from_micrometres;
    let (count, width) = (14, um(25_400));
    let accuracy = Accuracy { set: um(400), repeat: um(400), kerf: um(200), squaring: um(400), length: um(800) };
    // Repeats and kerfs whose errors move the last piece, by hand.
    let ways = [
        (LastStrip::Left, StripSide::StopSide, 13, 13),
        (LastStrip::Freed, StripSide::StopSide, 14, 13),
        (LastStrip::FullCut, StripSide::StopSide, 14, 14),
        (LastStrip::Left, StripSide::FarSide, 13, 1),
        (LastStrip::Freed, StripSide::FarSide, 14, 1),
        (LastStrip::FullCut, StripSide::FarSide, 14, 0),
    ];
    let row = |(seed, (last, side, repeats, kerfs)): (u64, (LastStrip, StripSide, i32, i32))| {
        let cut = Crosscut {
            length: um(397_000),
            lost_first: um(6350),
            far_loss: um(800),
            kerf: um(2400),
            last,
            side,
            least_piece: um(150_000),
            waste_block: Length::ZERO,
        };
        let spread = Spread::of(&cut, &accuracy, count, width);
        json!({
            "slack": spread.slack, "count": count, "set": 0.2, "repeat": 0.2, "repeats": repeats,
            "kerf_sigma": 0.1, "kerfs": kerfs, "q_sigma": 0.2, "length_sigma": 0.4,
            "chance": spread.chance_short(), "runs": RUNS,
            "share": share_short(&cut, &accuracy, count, width, RUNS, seed),
        })
    };
    (1..).zip(ways).map(row).collect()
}
