//! Writes lay-ups that were searched for, for the outside judge.
//!
//! `layup-cases DIR` writes `layups.json`: for each case what every strip, turned each way, costs left of every other,
//! what was asked and what was found, and how long the search took (the least of three runs, s).

use quarterturn_geometry::layup::Turn;
use quarterturn_geometry::search::{self, Alike, Costs, Count, Found, Laid, Order, Wanted};
use quarterturn_tests::layup;
use serde_json::{Value, json};
use std::error::Error;
use std::path::Path;
use std::time::Instant;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).ok_or("say the folder to write to")?;
    let folder = Path::new(&folder);
    std::fs::create_dir_all(folder)?;
    std::fs::write(folder.join("layups.json"), serde_json::to_vec(&cases()?)?)?;
    Ok(())
}

fn cases() -> Result<Vec<Value>, Box<dyn Error>> {
    let mut cases = Vec::new();
    for strips in [12, 16] {
        for number in 0..20 {
            let costs = layup::kept(number, strips)?;
            // Every fourth leaves a quarter of the strips out.
            let laid = if number % 4 == 3 { strips / 4 * 3 } else { strips };
            cases.push(case(&format!("kept {number}"), &costs, laid, Order::Free, false)?);
            cases.push(case(&format!("kept {number}"), &costs, laid, Order::AsGiven, false)?);
        }
    }
    for plan in layup::samples()? {
        let name = plan.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let costs = layup::sample_costs(&plan, search::MOST_PROVEN)?;
        for order in [Order::Free, Order::AsGiven] {
            cases.push(case(&name, &costs, costs.strips(), order, false)?);
        }
    }
    for strips in [12, 16, 40, 100] {
        cases.push(case("planted", &layup::planted(strips, strips as u64)?, strips, Order::Free, true)?);
    }
    // Beyond the proof: what was found and its bound must hold what CP-SAT finds between them.
    for number in 0..4 {
        cases.push(case(&format!("beyond {number}"), &layup::kept(number, 18)?, 18, Order::Free, false)?);
    }
    cases.push(long(1000));
    Ok(cases)
}

fn laid(found: &Found) -> Vec<(usize, usize)> {
    found.laid.iter().map(|l| (l.strip, l.turn() as usize)).collect()
}

fn case(name: &str, costs: &Costs, count: usize, order: Order, zero: bool) -> Result<Value, Box<dyn Error>> {
    let strips = costs.strips();
    let mut wanted = Wanted::all(strips, order);
    wanted.count = Count::exactly(count);
    let (mut least, mut tried) = (f64::INFINITY, None);
    for _ in 0..3 {
        let start = Instant::now();
        tried = Some(search::lay_ups(costs, &wanted, &mut |_| true)?);
        least = least.min(start.elapsed().as_secs_f64());
    }
    let tried = tried.ok_or("not searched")?;
    let best = tried.found.first().ok_or("no lay-up")?;
    let all = || (0..strips).flat_map(|s| Turn::ALL.map(|turn| Laid::new(s, turn)));
    let table: Vec<Vec<u32>> = all().map(|l| all().map(|r| costs.between(l, r)).collect()).collect();
    let ours = json!({ "cost": best.cost, "bound": tried.bound, "proven": tried.proven, "laid": laid(best),
        "equally_good": tried.equally_good, "seconds": least });
    let free = order == Order::Free;
    Ok(
        json!({ "name": name, "strips": strips, "count": count, "free": free, "zero": zero, "costs": table, "ours": ours }),
    )
}

/// Many strips in a fixed order, given by their glue lines.
fn long(strips: usize) -> Value {
    let joints = layup::planted_joints(strips, 1);
    let order: Vec<usize> = (0..strips).collect();
    let start = Instant::now();
    let found = search::fixed(&order, &joints, &vec![[true; 4]; strips], 1, Alike::HalfRound);
    let seconds = start.elapsed().as_secs_f64();
    let none = Found { laid: Vec::new(), cost: u64::MAX };
    let best = found.best.first().unwrap_or(&none);
    let ours = json!({ "cost": best.cost, "bound": best.cost, "proven": true, "laid": laid(best),
        "equally_good": u64::try_from(found.optima).unwrap_or(u64::MAX), "seconds": seconds });
    json!({ "name": "planted", "strips": strips, "count": strips, "free": false, "zero": true, "joints": joints, "ours": ours })
}
