//! Writes boards with cuts of every kind, alone and crossing, for the outside judges.
//!
//! `cut-cases DIR` writes `cases.json`: what the board is, in plain parameters (paths, profiles, rims), our exact
//! volume, surface and centre, our chord bound, and the volumes of our meshes at several tolerances; and one
//! `NAME.json` a case with the uncut board, the cutters and our mesh at the coarsest of them, in full digits.

use nalgebra::Point2;
use quarterturn_geometry::cut::{
    Bit, Cuts, Easing, Edge, Face, Feet, FingerRecess, Finished, Groove, HangingHole, Path, Spout, Sweep,
};
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::solid::{Body, Mesh};
use serde_json::{Value, json};
use std::error::Error;
use std::fs;

const TOLERANCES: [f64; 3] = [0.2, 0.05, 0.0125];
const BOARD: Finished = Finished { length: 240.0, width: 160.0, thickness: 36.0 };

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).ok_or("say the folder to write to")?;
    let folder = std::path::Path::new(&folder);
    fs::create_dir_all(folder)?;
    let mut written = Vec::new();
    for (name, cuts) in cases() {
        let body = Body::cut(BOARD, &[], &cuts).map_err(|e| format!("{name}: {e}"))?;
        fs::write(folder.join(format!("{name}.json")), serde_json::to_vec(&meshes(&body)?)?)?;
        written.push(case(&name, &cuts, &body)?);
    }
    fs::write(folder.join("cases.json"), serde_json::to_vec_pretty(&written)?)?;
    Ok(())
}

fn mm(n: f64) -> Length {
    Length::nearest_to_mm(n)
}

fn bit(diameter: f64, corner: f64) -> Bit {
    Bit {
        name: "bit".into(),
        diameter: mm(diameter),
        corner_radius: mm(corner),
        reach: mm(60.0),
        flutes: 2,
        cuts_at_centre: true,
        most_speed: None,
        chip_load: None,
        stick_out: None,
        eases: None,
    }
}

fn none() -> Cuts {
    Cuts::default()
}

fn groove(face: Face, [d, r]: [f64; 2], depth: f64, setback: f64, radius: f64) -> Groove {
    Groove { face, bit: bit(d, r), depth: mm(depth), setback: mm(setback), corner_radius: mm(radius), rim: None }
}

fn finger(edge: Edge, [d, r]: [f64; 2], depth: f64, inward: f64) -> FingerRecess {
    let setbacks = [mm(40.0), mm(35.0)];
    FingerRecess { edge, bit: bit(d, r), depth: mm(depth), in_from_edge: mm(inward), setbacks, rise: None, rim: None }
}

fn feet([d, r]: [f64; 2], depth: f64) -> Option<Feet> {
    Some(Feet { bit: bit(d, r), diameter: None, depth: mm(depth), from_edges: [mm(34.0), mm(31.0)] })
}

fn round(size: f64) -> Option<Easing> {
    Some(Easing::RoundOver(mm(size)))
}

fn chamfer(size: f64) -> Option<Easing> {
    Some(Easing::Chamfer(mm(size)))
}

fn spout(edge: Edge, [d, r]: [f64; 2], depth: f64, along: f64) -> Spout {
    Spout { groove: 0, edge, bit: bit(d, r), depth: mm(depth), along: Some(mm(along)) }
}

/// All cases: each kind alone over its parameters, then together.
fn cases() -> Vec<(String, Cuts)> {
    let mut all = Vec::new();
    let mut add = |name: String, cuts: Cuts| all.push((name, cuts));
    let bits: [[f64; 2]; 4] = [[10.0, 0.0], [12.0, 3.0], [10.0, 5.0], [14.0, 7.0]];
    for (i, bit) in bits.into_iter().enumerate() {
        for (k, (depth, radius)) in [(4.0, 15.0), (6.5, 3.0), (2.0, 0.0)].into_iter().enumerate() {
            let face = Face::ALL[(i + k) % 2];
            add(format!("groove-{i}{k}"), Cuts { grooves: vec![groove(face, bit, depth, 12.0, radius)], ..none() });
        }
        for (k, (depth, inward)) in [(5.0, 0.0), (8.0, 2.5), (3.0, 20.0)].into_iter().enumerate() {
            let edge = Edge::ALL[(i + k) % 4];
            add(format!("finger-{i}{k}"), Cuts { finger_recesses: vec![finger(edge, bit, depth, inward)], ..none() });
        }
        add(format!("feet-{i}"), Cuts { feet: feet(bit, 7.0), ..none() });
        // Along an arc: within the face, and out of the side; with and without an eased rim.
        for (k, (inward, rise, rim)) in
            [(24.0, 14.0, None), (1.0, 9.0, None), (26.0, 20.0, round(1.5)), (2.0, 6.0, chamfer(1.0))]
                .into_iter()
                .enumerate()
        {
            let arched = FingerRecess { rise: Some(mm(rise)), rim, ..finger(Edge::ALL[(i + k) % 4], bit, 9.0, inward) };
            add(format!("arch-{i}{k}"), Cuts { finger_recesses: vec![arched], ..none() });
        }
        for (k, rim) in [round(2.0), chamfer(1.2)].into_iter().enumerate() {
            for (j, radius) in [22.0, 7.5, 1.0].into_iter().enumerate() {
                let eased = Groove { rim, ..groove(Face::ALL[(i + k) % 2], bit, 9.5, 14.0, radius) };
                add(format!("groove-eased-{i}{k}{j}"), Cuts { grooves: vec![eased], ..none() });
            }
            let straight = FingerRecess { rim, ..finger(Edge::ALL[(i + k) % 4], bit, 9.5, 2.0) };
            add(format!("finger-eased-{i}{k}"), Cuts { finger_recesses: vec![straight], ..none() });
        }
    }
    for (i, corner) in [0.0, 2.0, 8.0, 25.0].into_iter().enumerate() {
        for (k, (upper, lower)) in [
            (None, None),
            (round(4.0), None),
            (None, chamfer(3.0)),
            (round(6.0), round(2.0)),
            (chamfer(1.5), round(5.0)),
        ]
        .into_iter()
        .enumerate()
        {
            if i + k > 0 {
                let corner_radius = (corner > 0.0).then(|| mm(corner));
                add(format!("outline-{i}{k}"), Cuts { corner_radius, upper_rim: upper, lower_rim: lower, ..none() });
            }
        }
    }
    for (i, diameter) in [6.0, 11.0].into_iter().enumerate() {
        let hole = HangingHole {
            bit: bit(diameter, 0.0),
            diameter: None,
            edge: Edge::Back,
            in_from_edge: mm(20.0),
            along: None,
        };
        add(format!("hole-{i}"), Cuts { hanging_hole: Some(hole), ..none() });
    }
    let eased =
        |cuts: Cuts| Cuts { corner_radius: Some(mm(10.0)), upper_rim: round(4.0), lower_rim: chamfer(2.0), ..cuts };
    for (i, bit) in bits.into_iter().enumerate() {
        for (k, depth) in [3.0, 6.0].into_iter().enumerate() {
            let grooves = vec![groove(Face::Upper, [12.0, 6.0], 6.0, 12.0, 12.0)];
            let spouts = vec![spout(Edge::ALL[i], bit, depth, 70.0)];
            add(format!("spout-{i}{k}"), Cuts { grooves: grooves.clone(), spouts: spouts.clone(), ..none() });
            add(format!("spout-rim-{i}{k}"), eased(Cuts { grooves, spouts, ..none() }));
        }
        let fingers = vec![finger(Edge::ALL[i], bit, 6.0, 1.0), finger(Edge::ALL[(i + 1) % 4], bit, 6.0, 1.0)];
        add(format!("finger-rim-{i}"), eased(Cuts { finger_recesses: fingers, ..none() }));
        add(format!("all-{i}"), everything(i, bit, eased(none())));
    }
    all
}

fn everything(i: usize, one: [f64; 2], cuts: Cuts) -> Cuts {
    let arched = FingerRecess { rise: Some(mm(5.0)), ..finger(Edge::Right, one, 6.0, 1.0) };
    let grooves = match i {
        // A spout through an eased rim.
        1 => vec![Groove { rim: round(1.5), ..groove(Face::Upper, one, 6.0, 13.0, 14.0) }],
        _ => vec![groove(Face::Upper, one, 5.0, 11.0, 14.0)],
    };
    Cuts {
        grooves,
        spouts: vec![spout(Edge::ALL[i], one, 5.0, 75.0)],
        finger_recesses: vec![finger(Edge::Left, one, 6.0, 1.0), arched],
        feet: feet([12.0, 0.0], 9.0),
        hanging_hole: Some(HangingHole {
            bit: bit(8.0, 0.0),
            diameter: None,
            edge: Edge::Back,
            in_from_edge: mm(45.0),
            along: None,
        }),
        ..cuts
    }
}

fn rim(easing: Option<Easing>) -> Value {
    easing.map_or(Value::Null, |e| json!({ "kind": e.name(), "size": e.size() }))
}

fn sweep(sweep: &Sweep) -> Value {
    let points = |all: &[Point2<f64>]| all.iter().map(|p| [p.x, p.y]).collect::<Vec<_>>();
    let (kind, path, radius, turn) = match &sweep.path {
        Path::Filled(corners) => ("filled", points(corners), 0.0, [0.0; 2]),
        Path::Arch(arch) => ("arch", points(&[arch.centre]), arch.radius, [arch.from, arch.turn]),
        Path::Round(way) => ("round", points(&[way.low, way.high]), way.radius, [0.0; 2]),
    };
    let p = sweep.profile;
    json!({
        "kind": kind, "path": path, "path_radius": radius, "turn": turn, "radius": p.radius, "corner_radius": p.corner,
        "rim": rim(p.rim), "depth": p.depth, "face": sweep.face.name(), "through": sweep.through, "volume": sweep.volume(),
    })
}

fn case(name: &str, cuts: &Cuts, body: &Body) -> Result<Value, Box<dyn Error>> {
    let exact = body.exact();
    let mut by_tolerance = Vec::new();
    for tolerance in TOLERANCES {
        let mesh = body.mesh(tolerance)?;
        by_tolerance.push(json!({
            "tolerance": tolerance, "volume": mesh.volume(), "bound": body.mesh_bound(tolerance),
            "triangles": mesh.triangles.len(), "closed": mesh.is_closed(),
            "by_boolean": body.mesh_by_boolean(tolerance)?.volume(),
        }));
    }
    let Finished { length, width, thickness } = BOARD;
    Ok(json!({
        "name": name, "box": [length, width, thickness], "corner": cuts.outline(BOARD).corner,
        "upper": rim(cuts.upper_rim), "lower": rim(cuts.lower_rim),
        "sweeps": body.sweeps().map(|(_, s)| sweep(s)).collect::<Vec<_>>(),
        "volume": exact.volume, "removed": exact.removed, "area": exact.area,
        "centre": [exact.centre.x, exact.centre.y, exact.centre.z], "meshes": by_tolerance,
    }))
}

fn written(mesh: &Mesh) -> Value {
    let vertices: Vec<[f64; 3]> = mesh.vertices.iter().map(|v| [v.x, v.y, v.z]).collect();
    json!({ "vertices": vertices, "triangles": mesh.triangles })
}

fn meshes(body: &Body) -> Result<Value, Box<dyn Error>> {
    let tolerance = TOLERANCES[0];
    let cutters: Vec<Value> = body.cutters(tolerance).iter().map(written).collect();
    Ok(json!({
        "uncut": written(&body.uncut(tolerance)?), "cutters": cutters, "board": written(&body.mesh(tolerance)?),
    }))
}
