//! Measures what Rust alone can measure, and prints rows for `tests/figures` as a JSON list.
//!
//! `measure [AREA]`; an area without figures prints an empty list.

use quarterturn_geometry::board::{Face, FaceOptions, FigureDrawn};
use quarterturn_geometry::candidates::Wishes;
use quarterturn_geometry::job::Outcome;
use quarterturn_geometry::layup::Turn;
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::search::{
    self, Alike, Costs, Edges, FacesCounted, Joint, Laid, Order, Stock, Wanted, Weights,
};
use quarterturn_geometry::solid::Lip;
use quarterturn_tests::{cube, found, layup, paper, picture, row};
use serde_json::{Value, json};
use std::error::Error;
use std::path::Path;
use std::time::Instant;

/// What this program calls itself by to see what the search in free order holds.
const HELD: &str = "layup-held";

fn main() -> Result<(), Box<dyn Error>> {
    let area = std::env::args().nth(1);
    let rows = match area.as_deref() {
        None => {
            [chain()?, picture::rows(), faces()?, wood_cube()?, picture::log_rows()?, layup_rows()?, paper::rows()?]
                .concat()
        }
        Some("chain") => chain()?,
        Some("picture") => [picture::rows(), faces()?, wood_cube()?, picture::log_rows()?].concat(),
        Some("layup") => layup_rows()?,
        Some("paper") => paper::rows()?,
        // What the searches of this name hold at most, asked of a process that does nothing else.
        Some(HELD) => return free_order_held(),
        Some(_) => Vec::new(),
    };
    // The one place where this program speaks.
    serde_json::to_writer_pretty(std::io::stdout().lock(), &rows)?;
    Ok(())
}

fn chain() -> Result<Vec<Value>, Box<dyn Error>> {
    let (mut lip_gap, mut pieces_gap, mut turned) = (0.0_f64, 0.0_f64, 0_u32);
    let plans = layup::samples()?;
    for plan in &plans {
        let text = std::fs::read_to_string(plan)?;
        let job = quarterturn::plan::read(&text, &plan.to_string_lossy()).map_err(|p| p.to_string())?.job;
        let board = job.work().board?;
        let size = board.finished();
        for hold in &job.handholds {
            let seen = Lip::measured(hold, &size).ok_or("no solid")?;
            lip_gap = lip_gap.max((seen.thickness - Lip::computed(hold, &size).thickness).abs());
        }
        let body = job.body(size)?;
        let whole = body.mesh(job.chord_tolerance)?.volume();
        let pieces = body.cut_pieces(&board.pieces(), job.chord_tolerance).ok_or("a piece can't be cut")?;
        let sum: f64 = pieces.iter().map(|p| p.mesh.volume()).sum();
        pieces_gap = pieces_gap.max((sum - whole).abs() / whole);
        let options = FaceOptions { pixel: 1.0, glue_lines: false, workers: 1, figure: FigureDrawn::Whole };
        let faces = [Face::Upper, Face::Lower].map(|f| board.picture(f, &options));
        turned += u32::from(faces[0] != faces[1]);
    }
    let few = if plans.len() < 3 { "fewer than three samples" } else { "samples" };
    Ok(vec![
        row(
            "chain",
            "lip on the solid against its closed form, worst",
            lip_gap,
            "mm",
            "<= 1e-6",
            lip_gap <= 1e-6,
            "parry3d distance queries",
        ),
        row(
            "chain",
            "pieces' volume against the whole board's, worst",
            pieces_gap,
            "share",
            "<= 1e-9",
            pieces_gap <= 1e-9,
            "boolmesh subtraction",
        ),
        row(
            "chain",
            "samples whose two faces differ",
            f64::from(turned),
            few,
            "all, at least 3",
            turned as usize == plans.len() && turned >= 3,
            "the wood at each face's own station",
        ),
    ])
}

/// How long a face takes at 300 dots an inch on two threads, for as many pixels as 16 x 12 in has.
fn faces() -> Result<Vec<Value>, Box<dyn Error>> {
    let took = |name: &str| -> Result<f64, Box<dyn Error>> {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../samples").join(name);
        let text = std::fs::read_to_string(&path)?;
        let job = quarterturn::plan::read(&text, &path.to_string_lossy()).map_err(|p| p.to_string())?.job;
        let board = job.work().board?;
        let options = FaceOptions { pixel: 25.4 / 300.0, glue_lines: false, workers: 2, figure: FigureDrawn::Whole };
        let taken = seconds(5, || board.picture(Face::Upper, &options));
        let size = board.finished();
        Ok(taken * (16.0 * 25.4 * 12.0 * 25.4) / (size.length * size.width))
    };
    let (rings, traced) = (took("walnut-diamonds.toml")?, took("traced-walnut.toml")?);
    let photographed = took("photographed-walnut.toml")?;
    let source = "as many pixels as 16 x 12 in has, from a sample's face, two threads, median of five";
    Ok(vec![
        row("picture", "synthetic face, 300 dpi", rings, "s", "< 0.5", rings < 0.5, source),
        row("picture", "photographed face, 300 dpi", photographed, "s", "reported", true, source),
        row(
            "picture",
            "traced face, 300 dpi, against a synthetic one",
            traced / rings,
            "ratio",
            "reported",
            true,
            source,
        ),
    ])
}

/// How well the model between two ends predicts a real cube of wood. Without the reference data the figures are not
/// measured, and so do not hold.
fn wood_cube() -> Result<Vec<Value>, Box<dyn Error>> {
    let source =
        "wood cube of QUARTERTURN_REFERENCE (Larsson and others 2025, CN03), errors counted as its README says";
    let Some(folder) = cube::folder() else {
        let mut none =
            row("picture", "wood cube", 0.0, "", "measured", false, "QUARTERTURN_REFERENCE has no wood-cube");
        none["value"] = json!(null);
        return Ok(vec![none]);
    };
    let figures = cube::Cube::read(&folder)?.figures()?;
    let as_row = |(name, value, goal): &cube::Figure| {
        let (text, holds) = goal.map_or(("reported".into(), true), |goal| (format!("<= {goal:.3}"), *value <= goal));
        let unit = if name.contains("share") || name.contains("within") { "share" } else { "rings" };
        row("picture", name, *value, unit, &text, holds, source)
    };
    let mut rows: Vec<Value> = figures.iter().map(as_row).collect();
    let source = "face-B.png and face-D.png against ends.csv of the same cube; nothing corrected by hand";
    for (name, value, goal, holds) in found::figures(&folder)? {
        rows.push(row("picture", &name, value, "share, rings or ratio", &goal, holds, source));
    }
    Ok(rows)
}

fn layup_rows() -> Result<Vec<Value>, Box<dyn Error>> {
    let mut rows = layup_fixed();
    rows.extend(layup_free()?);
    rows.extend(layup_beyond()?);
    rows.extend(layup_samples()?);
    rows.push(layup_photographed()?);
    rows.push(layup_sheet()?);
    Ok(rows)
}

/// How long `work` takes, s: the median of `times` runs.
fn seconds<T>(times: usize, mut work: impl FnMut() -> T) -> f64 {
    let mut taken: Vec<f64> = (0..times)
        .map(|_| {
            let start = Instant::now();
            std::hint::black_box(work());
            start.elapsed().as_secs_f64()
        })
        .collect();
    median(&mut taken)
}

/// How long `work` takes when nothing else is in its way, s: the least of `times` runs.
fn least<T>(times: usize, mut work: impl FnMut() -> T) -> f64 {
    (0..times).map(|_| seconds(1, &mut work)).fold(f64::INFINITY, f64::min)
}

fn median(of: &mut [f64]) -> f64 {
    of.sort_by(f64::total_cmp);
    of.get(of.len() / 2).copied().unwrap_or(f64::NAN)
}

fn layup_fixed() -> Vec<Value> {
    // What is freed stays at hand from here on, so that what is measured is the search, not the kernel's page faults.
    drop(std::hint::black_box(vec![1_u8; 30 << 20]));
    let time = |strips: usize| {
        let mut next = layup::seeded(strips as u64);
        let joints: Vec<Joint> =
            (1..strips).map(|_| std::array::from_fn(|_| std::array::from_fn(|_| next()))).collect();
        let (order, allowed) = ((0..strips).collect::<Vec<_>>(), vec![[true; 4]; strips]);
        least(61, || search::fixed(&order, &joints, &allowed, 12, Alike::HalfRound))
    };
    let (one, ten) = (time(1000), time(10_000));
    let source = "seeded costs; optimum, count of optima and the best 12; the least of 61 runs, memory at hand";
    let ratio = ten / one / 10.0;
    vec![
        row("layup", "fixed order, 1000 strips", one * 1e3, "ms", "< 1", one < 1e-3, source),
        row(
            "layup",
            "fixed order, 10000 strips against ten times 1000",
            ratio,
            "ratio",
            "<= 1.3",
            ratio <= 1.3,
            source,
        ),
    ]
}

fn layup_free() -> Result<Vec<Value>, Box<dyn Error>> {
    let mut taken = Vec::new();
    for seed in 0..20 {
        let costs = layup::random_costs(16, seed)?;
        let laid = if seed % 2 == 0 { 16 } else { 12 };
        taken.push(seconds(1, || search::free(&costs, &[[true; 4]; 16], laid, Alike::HalfRound)));
    }
    let alike = Costs::from_fn(16, |_, _| 1)?;
    let worst = seconds(1, || search::free(&alike, &[[true; 4]; 16], 16, Alike::HalfRound));
    let (middle, most) = (median(&mut taken), taken.iter().copied().fold(0.0, f64::max));
    let source = "20 seeded instances, half of them leaving four out";
    let mut rows = vec![
        row("layup", "free order, 16 strips, proven, median", middle, "s", "<= 0.3", middle <= 0.3, source),
        row("layup", "free order, 16 strips, proven, worst", most, "s", "<= 0.3", most <= 0.3, source),
        row(
            "layup",
            "free order, 16 strips, every lay-up as good",
            worst,
            "s",
            "<= 1",
            worst <= 1.0,
            "all costs alike",
        ),
    ];
    rows.extend(layup_held()?);
    Ok(rows)
}

/// The searches in free order of 16 strips that hold the most: the kept list and the samples as they are asked, and
/// costs that are all alike. Prints what the kernel says that this process held at most, MiB; nothing where it doesn't.
fn free_order_held() -> Result<(), Box<dyn Error>> {
    let mut all = (0..20).map(|number| layup::kept(number, 16)).collect::<Result<Vec<_>, _>>()?;
    for plan in layup::samples()? {
        all.push(layup::sample_costs(&plan, search::MOST_PROVEN)?);
    }
    all.push(Costs::from_fn(16, |_, _| 1)?);
    for costs in all {
        let wanted = Wanted { few: Wishes::USUAL, ..Wanted::all(costs.strips(), Order::Free) };
        let tried = search::lay_ups(&costs, &wanted, &mut |_| true)?;
        std::hint::black_box(tried.found.len());
    }
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:"));
    if let Some(held) = line.and_then(|l| l.trim().trim_end_matches("kB").trim().parse::<f64>().ok()) {
        println!("{}", held / 1024.0);
    }
    Ok(())
}

/// The row of that; none where the kernel doesn't say.
fn layup_held() -> Result<Option<Value>, Box<dyn Error>> {
    let done = std::process::Command::new(std::env::current_exe()?).arg(HELD).output()?;
    if !done.status.success() {
        return Err(format!("{HELD}: {}", String::from_utf8_lossy(&done.stderr)).into());
    }
    let source = "VmHWM of a process that searches the kept list, the samples and costs that are all alike";
    let held = String::from_utf8(done.stdout)?.trim().parse::<f64>().ok();
    Ok(held.map(|held| row("layup", "free order, 16 strips, memory", held, "MiB", "<= 256", held <= 256.0, source)))
}

/// What the glue lines of forty strips cost, from photographs: a panel a foot wide of the photographed sample's blanks,
/// again and again, read every 200th of an inch.
fn layup_photographed() -> Result<Value, Box<dyn Error>> {
    const STRIPS: i64 = 40;
    let plan = layup::samples()?.into_iter().find(|plan| plan.ends_with("photographed-walnut.toml"));
    let plan = plan.ok_or("no photographed sample")?;
    let text = std::fs::read_to_string(&plan)?;
    let job = quarterturn::plan::read(&text, &plan.to_string_lossy()).map_err(|p| p.to_string())?.job;
    let outcome = job.work();
    let mut trims = *outcome.board.clone()?.trims();
    (trims.upper, trims.lower) = (0.5, 0.5);
    let made = outcome.panels.first().ok_or("no panel")?;
    let (mut panel, crosscut) = (made.panel.clone(), made.crosscut);
    while panel.width().mm() < 304.8 {
        panel.blanks.extend(made.panel.blanks.iter().cloned());
    }
    let width = Length::from_micrometres(7000);
    let strips: Vec<(usize, i64)> = (0..STRIPS).map(|strip| (0, strip)).collect();
    let end = crosscut.station(STRIPS - 1, width).mm() + width.mm();
    if end > crosscut.length.mm() {
        return Err("the photographed sample is too short for forty strips".into());
    }
    let panels = [(panel, crosscut)];
    let stock = Stock { panels: &panels, strips: &strips, slides: &[], width, trims };
    let mut samples = 0;
    let taken = least(5, || -> Result<usize, Box<dyn Error>> {
        let edges = Edges::sample_by(&stock, FacesCounted::Upper, 25.4 / 200.0, 2)?;
        samples = edges.samples();
        Ok(Weights::RUNS_ON.costs_by(&edges, 2)?.strips())
    });
    let source = format!("{samples} samples a glue line, two threads; the least of 5 runs");
    Ok(row("layup", "40 strips from photographs, 200 dpi: glue-line costs", taken, "s", "< 0.5", taken < 0.5, &source))
}

fn layup_beyond() -> Result<Vec<Value>, Box<dyn Error>> {
    let mut rows = Vec::new();
    for (strips, kind) in [(24, "random"), (24, "wooden"), (40, "random"), (40, "wooden")] {
        let costs = if kind == "random" { layup::random_costs(strips, 7)? } else { layup::wooden_costs(strips, 7)? };
        let wanted = Wanted::all(strips, Order::Free);
        let start = Instant::now();
        let tried = search::lay_ups(&costs, &wanted, &mut |_| true)?;
        let taken = start.elapsed().as_secs_f64();
        let best = tried.found.first().ok_or("no lay-up")?.cost;
        let (name, source) = (format!("beyond proof, {strips} strips, {kind} costs"), "seeded costs; free order");
        let share = tried.gap() as f64 / best as f64;
        rows.push(row("layup", &format!("{name}, gap"), share, "share", "printed", tried.bound <= best, source));
        rows.push(row("layup", &format!("{name}, time"), taken, "s", "<= 2", taken <= 2.0, source));
    }
    // What the search beyond the proof finds where the proof can be had too.
    let (mut over, mut below) = (1.0_f64, true);
    for number in 0..20 {
        let costs = layup::kept(number, 16)?;
        let proven = search::free(&costs, &[[true; 4]; 16], 16, Alike::HalfRound).ok_or("no lay-up")?.best.cost;
        let found = search::guessed(&costs, &Wanted::all(16, Order::Free))?;
        let best = found.found.first().ok_or("no lay-up")?.cost;
        over = over.max(best as f64 / proven as f64);
        below &= found.bound <= proven && proven <= best;
    }
    let name = "beyond proof's search, 16 strips, found against proven, worst of 20";
    let holds = below && over <= 1.25;
    rows.push(row("layup", name, over, "ratio", "1 to 1.25, bound below", holds, "the proven search on the kept list"));
    Ok(rows)
}

/// Every strip that a job cuts.
fn all_strips(outcome: &Outcome) -> Vec<(usize, i64)> {
    outcome.panels.iter().enumerate().flat_map(|(i, p)| (0..p.cut).map(move |k| (i, k))).collect()
}

fn layup_samples() -> Result<Vec<Value>, Box<dyn Error>> {
    let mut rows = Vec::new();
    for plan in layup::samples()? {
        let text = std::fs::read_to_string(&plan)?;
        let job = quarterturn::plan::read(&text, &plan.to_string_lossy()).map_err(|p| p.to_string())?.job;
        let outcome = job.work();
        let trims = *outcome.board.clone()?.trims();
        let panels: Vec<_> = outcome.panels.iter().map(|p| (p.panel.clone(), p.crosscut)).collect();
        let strips = all_strips(&outcome);
        let stock = Stock { panels: &panels, strips: &strips, slides: &[], width: outcome.width, trims };
        let start = Instant::now();
        let edges = Edges::sample(&stock, FacesCounted::Upper, 1.0)?;
        let costs = Weights::RUNS_ON.costs(&edges)?;
        let taken = start.elapsed().as_secs_f64();
        let name = plan.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let source = format!("{} strips, {} samples a glue line", strips.len(), edges.samples());
        rows.push(row("layup", &format!("{name}: glue-line costs"), taken, "s", "<= 0.5", taken <= 0.5, &source));
        rows.extend(layup_against_plan(&name, &outcome, &strips, &costs)?);
    }
    Ok(rows)
}

/// The sheet of lay-ups, from the plan as read to the files' bytes, of the sample that takes longest.
fn layup_sheet() -> Result<Value, Box<dyn Error>> {
    let mut slowest = (0.0, String::new(), 0);
    for path in layup::samples()? {
        let text = std::fs::read_to_string(&path)?;
        let plan = quarterturn::plan::read(&text, &path.to_string_lossy()).map_err(|p| p.to_string())?;
        let wishes = Wishes::default();
        let shown = quarterturn::sheet_of(&plan, &wishes)?.sheet.candidates.len();
        let taken = seconds(5, || quarterturn::sheet_of(&plan, &wishes).map(|tried| tried.files.len()).ok());
        if taken > slowest.0 {
            slowest = (taken, path.file_stem().unwrap_or_default().to_string_lossy().into_owned(), shown);
        }
    }
    let (taken, name, shown) = slowest;
    let source = format!("{name}: {shown} lay-ups, searched, drawn and written; median of 5");
    let holds = taken < 2.0 && shown == Wishes::USUAL;
    Ok(row("layup", "sheet of 24 candidates, slowest sample", taken, "s", "< 2", holds, &source))
}

/// What the plan's own lay-up costs against the best turns in the order as cut, and in any order.
fn layup_against_plan(
    name: &str,
    outcome: &Outcome,
    strips: &[(usize, i64)],
    costs: &Costs,
) -> Result<Vec<Value>, Box<dyn Error>> {
    let number = |panel: usize, strip: i64| strips.iter().position(|s| *s == (panel, strip)).ok_or("no such strip");
    let planned: Vec<Laid> = outcome
        .places
        .iter()
        .map(|p| Ok(Laid::new(number(p.panel, p.strip)?, p.turn)))
        .collect::<Result<_, Box<dyn Error>>>()?;
    let order: Vec<usize> = planned.iter().map(|l| l.strip).collect();
    let allowed = vec![Turn::ALL.map(|_| true); order.len()];
    let fixed = search::fixed(&order, &costs.joints(&order), &allowed, 1, Alike::HalfRound);
    let (best, own) = (fixed.best.first().ok_or("no lay-up")?.cost, costs.total(&planned));
    let share = best as f64 / own as f64;
    let source = format!("{} lay-ups as good; the plan's own costs {own}", fixed.optima);
    Ok(vec![row(
        "layup",
        &format!("{name}: best turns in the plan's order"),
        share,
        "of the plan's cost",
        "<= 1",
        best <= own,
        &source,
    )])
}
