//! How fast a bit is moved through a stock of 450 × 300 mm, for the figures of cuts.
//!
//! `removal-times DIR` writes `groove.ngc`, the program of one groove round that stock, in mm, and prints, as JSON: the bit,
//! and in seconds, the median of so many runs, how long making it and writing it take, how long moving the bit takes on cells
//! of 0.1 mm on one thread and on two, and how long proving it takes on two; how long making and proving the programs of
//! surfacing, that groove and the outline take together; and the most memory this process held, bytes.

use nalgebra::Point2;
use quarterturn_export::rs274;
use quarterturn_geometry::cut::{Bit, CutOut, Cuts, Face, Finished, Groove, Surfacing, Untrimmed};
use quarterturn_geometry::job::{Cnc, Holds, Written};
use quarterturn_geometry::measure::{Length, Unit};
use quarterturn_geometry::path::{Cutting, Program, left, prove, read, together};
use quarterturn_tests::machine::cnc;
use serde_json::json;
use std::error::Error;
use std::time::Instant;

const CELL: f64 = 0.1;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).ok_or("say the folder to write to")?;
    let mm = Length::nearest_to_mm;
    let board = Finished { length: 450.0, width: 300.0, thickness: 40.0 };
    let bit = Bit {
        name: "dish".into(),
        diameter: mm(12.7),
        corner_radius: mm(3.175),
        reach: mm(20.0),
        flutes: 2,
        cuts_at_centre: false,
        most_speed: None,
        chip_load: None,
        stick_out: None,
        eases: None,
    };
    let groove =
        Groove { face: Face::Upper, bit, depth: mm(6.35), setback: mm(20.0), corner_radius: mm(25.0), rim: None };
    let all = Cutting::all(&[], &Cuts { grooves: vec![groove], ..Cuts::default() }, &board);
    let cnc = Cnc { step_down: None, ..cnc(Written::plain(Unit::Millimetre)) };
    let make = || written(&all, &cnc);
    let text = make()?;
    std::fs::write(std::path::Path::new(&folder).join("groove.ngc"), &text)?;
    let steps = read(&String::from_utf8(text)?)?;
    let proof = prove(&steps, &all, Some(&cnc), CELL, 2);
    if let Some(fault) = proof.faults.first() {
        return Err(format!("it does not hold: {}", fault.name()).into());
    }
    drop(proof);
    let all_of_it = surfacing_groove_and_outline(&all[0], &cnc);
    let write_all =
        || -> Result<Vec<Vec<u8>>, Box<dyn Error>> { all_of_it.iter().map(|cuts| written(cuts, &cnc)).collect() };
    let read_all = write_all()?
        .into_iter()
        .map(|text| Ok(read(&String::from_utf8(text)?)?))
        .collect::<Result<Vec<_>, Box<dyn Error>>>()?;
    let prove_all = || {
        all_of_it
            .iter()
            .zip(&read_all)
            .map(|(cuts, steps)| prove(steps, cuts, Some(&cnc), CELL, 2).faults.len())
            .sum::<usize>()
    };
    if prove_all() > 0 {
        return Err("surfacing, groove and outline do not hold".into());
    }
    let figures = json!({
        "programs": all_of_it.len(),
        "make all": median(15, || write_all().map(|_| ())),
        "prove all": median(3, prove_all),
        "radius": all[0].profile.radius, "corner": all[0].profile.corner, "stock": all[0].stock, "cell": CELL,
        "make": median(15, || make().map(|_| ())),
        "one": median(5, || left(&steps, &all, CELL, 1)),
        "two": median(5, || left(&steps, &all, CELL, 2)),
        "prove": median(3, || prove(&steps, &all, Some(&cnc), CELL, 2)),
        "held": held(),
        "removed": left(&steps, &all, CELL, 2).removed(),
    });
    // The one place where this program speaks.
    serde_json::to_writer(std::io::stdout().lock(), &figures)?;
    Ok(())
}

fn written(cuts: &[Cutting], cnc: &Cnc) -> Result<Vec<u8>, Box<dyn Error>> {
    let parts = cuts.iter().map(|c| Program::of(c, cnc, None)).collect::<Result<Vec<_>, _>>()?;
    let mut text = Vec::new();
    rs274::write(&parts, &cnc.written, "450 by 300", &mut text)?;
    Ok(text)
}

/// Both faces levelled, 1.2 mm each, the board cut out with tabs, and the groove: a program each.
fn surfacing_groove_and_outline(groove: &Cutting, cnc: &Cnc) -> Vec<Vec<Cutting>> {
    let mm = Length::nearest_to_mm;
    let bit = |diameter: f64| Bit {
        diameter: mm(diameter),
        corner_radius: Length::ZERO,
        reach: mm(60.0),
        ..groove.bit.clone()
    };
    let surfacing = Surfacing { bit: bit(38.1), faces: vec![Face::Lower, Face::Upper], panels: false };
    let cut_out = CutOut { bit: bit(6.35), tabs: 4, tab_length: mm(10.0), tab_height: mm(3.0), below: mm(0.2) };
    let finished = Finished { length: 450.0, width: 300.0, thickness: 40.0 };
    let glued = Finished { length: 474.0, width: 324.0, thickness: 42.4 };
    let board = Untrimmed { glued, corner: Point2::new(12.0, 12.0), finished, levelled: [1.2; 2] };
    let cuts = Cuts { corner_radius: Some(mm(20.0)), ..Cuts::default() };
    let mut all = Cutting::of_whole(Some(&surfacing), Some(&cut_out), &cuts, &board, cnc.wall_pass.mm());
    all.push(groove.clone());
    together(all, Holds::EachCut)
}

/// Seconds that it takes, the median of so many runs.
fn median<T>(runs: usize, mut run: impl FnMut() -> T) -> f64 {
    let mut times: Vec<f64> = (0..runs)
        .map(|_| {
            let begun = Instant::now();
            std::hint::black_box(run());
            begun.elapsed().as_secs_f64()
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[runs / 2]
}

/// The most memory that this process has held, bytes, as the system says; nothing where it doesn't.
fn held() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    let kilobytes: u64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kilobytes * 1024)
}
