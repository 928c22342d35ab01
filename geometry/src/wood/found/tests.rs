use super::*;
use crate::wood::{EndRings, Figure, Rings, Wood};
use nalgebra::Point3;

const PIXEL: f64 = 0.2;

/// A seeded sequence of 0 to 1 (SplitMix64, public domain, S. Vigna).
fn chance(mut seed: u64) -> impl FnMut() -> f64 {
    move || {
        seed = seed.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (seed ^ (seed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
}

fn drawn(wood: &str, pith: [f64; 2], ring_width: f64) -> (Figure, Picture) {
    let end = EndRings { pith: Point2::new(pith[0], pith[1]), heartwood_radius: 1000.0 };
    let figure = Figure::new(Wood::named(wood).unwrap(), Rings { near: end, far: end, ring_width, seed: 3 }, 300.0);
    let (width, height) = (200, 140);
    let mut chance = chance(1);
    let mut bytes = Vec::new();
    for (row, column) in (0..height).flat_map(|row| (0..width).map(move |column| (row, column))) {
        let at = Point3::new((f64::from(column) + 0.5) * PIXEL, (f64::from(height - row) - 0.5) * PIXEL, 0.0);
        // The light falls from one side, and the sensor is noisy.
        let light = 0.85 + 0.3 * f64::from(column) / f64::from(width);
        let noise = 8.0 * (chance() + chance() - 1.0);
        bytes.extend(figure.colour(&at, PIXEL).to_srgb8().map(|c| (f64::from(c) * light + noise) as u8));
    }
    (figure, Picture { width: width as usize, height: height as usize, bytes })
}

#[test]
fn rings_that_were_drawn_are_found_from_the_inside_out() {
    for (wood, pith) in [("white ash", [-10.0, -50.0]), ("hard maple", [20.0, -40.0]), ("red oak", [20.0, -45.0])] {
        let (figure, picture) = drawn(wood, pith, 3.0);
        let found = find(&picture, PIXEL).unwrap();
        let number = |line: &EndLine| -> (f64, f64) {
            let mut rings: Vec<f64> = line.points.iter().map(|p| figure.ring(&Point3::new(p.x, p.y, 0.0))).collect();
            let middle = middle(&mut rings);
            (middle, rings.iter().map(|r| (r - middle.round()).abs()).fold(0.0, f64::max))
        };
        let numbers: Vec<(f64, f64)> = found.lines.rings.iter().map(number).collect();
        assert!(numbers.len() >= 6, "{wood}: {numbers:?}");
        let steps = numbers.windows(2).filter(|pair| pair[1].0.round() - pair[0].0.round() == 1.0);
        assert_eq!(steps.count(), numbers.len() - 1, "{wood}: {numbers:?}");
        let near = numbers.iter().filter(|(middle, _)| (middle - middle.round()).abs() < 0.25);
        assert_eq!(near.count(), numbers.len(), "{wood}: {numbers:?}");
        assert!(found.confidence > 0.5, "{wood}: {}", found.confidence);
    }
}

fn middle(numbers: &mut [f64]) -> f64 {
    numbers.sort_by(f64::total_cmp);
    numbers[numbers.len() / 2]
}

fn picture(width: usize, height: usize, mut shade: impl FnMut(usize, usize) -> f64) -> Picture {
    let pixels = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
    Picture { width, height, bytes: pixels.flat_map(|(x, y)| [shade(x, y) as u8; 3]).collect() }
}

#[test]
fn one_colour_a_smooth_ramp_and_noise_have_no_rings() {
    let refused = find(&picture(120, 100, |_, _| 140.0), 0.1).unwrap_err();
    assert!(refused.to_string().starts_with("no rings found"), "{refused}");
    let refused = find(&picture(200, 150, |x, _| 90.0 + 0.3 * x as f64), 0.1).unwrap_err();
    assert!(refused.to_string().starts_with("no rings found"), "{refused}");
    for seed in 0..4 {
        let mut chance = chance(seed);
        let refused = find(&picture(160, 120, |_, _| 60.0 + 120.0 * chance()), 0.1).unwrap_err();
        assert!(refused.to_string().starts_with("no rings found"), "{refused}");
    }
}

#[test]
fn cloudy_noise_has_no_rings() {
    let mut chance = chance(9);
    let clouds = Sheet::from_fn(160, 120, |_, _| chance() as f32).smooth(3.0);
    let (mean, size) = (clouds.mean() as f32, clouds.map(|v| v - clouds.mean() as f32).size() as f32);
    let clouds = picture(160, 120, |x, y| f64::from(128.0 + 30.0 * (clouds.at(x, y) - mean) / size));
    let refused = find(&clouds, 0.1).map(|found| found.confidence).unwrap_err();
    assert!(refused.to_string().starts_with("no rings found"), "{refused}");
}

#[test]
fn what_is_no_picture_is_refused() {
    let empty = Picture { width: 0, height: 0, bytes: Vec::new() };
    assert!(matches!(find(&empty, 0.1), Err(NoRings::TooSmall { .. })));
    let short = Picture { width: 100, height: 100, bytes: vec![0; 5] };
    assert_eq!(find(&short, 0.1), Err(NoRings::NotAPicture));
    let huge = Picture { width: usize::MAX, height: 2, bytes: Vec::new() };
    assert_eq!(find(&huge, 0.1), Err(NoRings::NotAPicture));
    let thin = picture(9000, 60, |x, _| (x % 200) as f64);
    assert!(matches!(find(&thin, 0.1), Err(NoRings::TooSmall { .. })));
    for pixel in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(find(&picture(60, 60, |_, _| 0.0), pixel), Err(NoRings::NotAPicture));
    }
}

#[test]
fn a_step_between_two_colours_is_the_heartwood_line() {
    // Rings of 12 pixels, dark below row 70 and pale above it.
    let shade = |_: usize, y: usize| if y > 70 { 90.0 } else { 190.0 } - 4.0 * ((1200 - y) % 12) as f64;
    let found = find(&picture(180, 140, shade), 0.5).unwrap();
    assert_eq!(found.lines.boundaries.len(), 1);
    let line = &found.lines.boundaries[0];
    assert_eq!(line.name, "heartwood");
    let off = line.points.iter().map(|p| (p.y - 0.5 * 69.5).abs()).fold(0.0, f64::max);
    assert!(off < 0.5 * 6.0, "{off}");
}
