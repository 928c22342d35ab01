//! What the wood model promises, checked.

use super::colour::{decode, encode};
use super::{Block, Colour, EndRings, Figure, Lab, Rings, Wood};
use nalgebra::{Point2, Point3, Vector2, Vector3};

fn end(u: f64, v: f64, heartwood_radius: f64) -> EndRings {
    EndRings { pith: Point2::new(u, v), heartwood_radius }
}

fn straight(ring_width: f64, seed: u64) -> Rings {
    Rings { near: end(-25.0, -45.0, 90.0), far: end(-25.0, -45.0, 90.0), ring_width, seed }
}

fn figure(name: &str, rings: Rings) -> Figure {
    Figure::new(Wood::named(name).unwrap(), rings, 400.0)
}

fn parts(c: Colour) -> [f32; 3] {
    [c.r, c.g, c.b]
}

#[test]
fn the_curve_is_that_of_the_standard() {
    // IEC 61966-2-1, values worked by hand from its formula.
    for (value, light) in [(0.0, 0.0), (0.04045, 0.003_130_804_95), (0.5, 0.214_041_140), (1.0, 1.0)] {
        approx::assert_abs_diff_eq!(decode(value), light, epsilon = 1e-9);
    }
    for byte in 0..=255_u8 {
        let value = f64::from(byte) / 255.0;
        approx::assert_abs_diff_eq!(encode(decode(value)), value, epsilon = 1e-6);
        assert_eq!(Colour::from_srgb8([byte; 3]).to_srgb8(), [byte; 3]);
    }
}

#[test]
fn the_searched_byte_is_the_rounded_power() {
    for i in 0..=20_000_u32 {
        let light = i as f32 / 20_000.0;
        let exact = encode(f64::from(light)) * 255.0;
        let byte = Colour { r: light, g: light, b: light }.to_srgb8()[0];
        assert!((exact - f64::from(byte)).abs() <= 0.5 + 1e-4, "{light}: {exact} became {byte}");
    }
    let wild = Colour { r: f32::NAN, g: -1.0, b: f32::INFINITY };
    assert_eq!(wild.to_srgb8()[1..], [0, 255]);
}

#[test]
fn the_same_seed_gives_the_same_wood_and_another_seed_another() {
    let at = |n: i32| Point3::new(f64::from(n) * 1.7, f64::from(n) * 0.9, f64::from(n) * 5.0);
    let colours = |seed| -> Vec<Colour> {
        let oak = figure("red oak", straight(2.5, seed));
        (0..40).map(|n| oak.colour(&at(n), 0.1)).collect()
    };
    assert_eq!(colours(1), colours(1));
    assert_ne!(colours(1), colours(2));
}

/// Kept values: a machine on which they differ computes otherwise.
#[test]
fn colours_are_those_of_every_other_machine() {
    let oak = figure("red oak", straight(2.5, 1));
    let bytes: Vec<[u8; 3]> =
        (0..4).map(|n| oak.colour(&Point3::new(f64::from(n) * 17.3, 20.0, 50.0), 0.1).to_srgb8()).collect();
    assert_eq!(bytes, KEPT);
}

const KEPT: [[u8; 3]; 4] = [[144, 102, 71], [160, 118, 84], [166, 123, 88], [201, 168, 128]];

#[test]
fn ring_numbers_rise_along_every_radius() {
    for (width, seed) in [(0.05, 1), (0.8, 2), (2.5, 3), (9.0, 4), (60.0, 5)] {
        let wood = figure("hard maple", straight(width, seed));
        for n in 0..24 {
            let (x, y) = (f64::from(n) - 11.5, f64::from(n * 7 % 24) - 11.5);
            let way = Vector2::new(x, y).normalize();
            let mut last = -1.0;
            for step in 0..4000 {
                let r = f64::from(step) * 0.05;
                let number = wood.ring(&Point3::new(way.x * r - 25.0, way.y * r - 45.0, 10.0));
                assert!(number > last, "width {width}, direction {way:?}, r {r}: {number} after {last}");
                last = number;
            }
        }
    }
}

#[test]
fn rings_have_their_mean_width_and_differ() {
    for (width, seed) in [(1.2, 1), (2.5, 2), (4.0, 3)] {
        let wood = figure("black walnut", straight(width, seed));
        let at = |r: f64| wood.ring(&Point3::new(0.8 * r - 25.0, 0.6 * r - 45.0, 0.0));
        let mean = 200.0 * width / at(200.0 * width);
        assert!((mean / width - 1.0).abs() < 0.03, "mean {mean} for {width}");
        // Radii of the latewood edges, by halving.
        let edge = |number: f64| {
            let (mut low, mut high) = (0.0, 300.0 * width);
            for _ in 0..60 {
                let middle = 0.5 * (low + high);
                if at(middle) < number { low = middle } else { high = middle }
            }
            low
        };
        let widths: Vec<f64> = (20..60).map(|n| edge(f64::from(n + 1)) - edge(f64::from(n))).collect();
        let spread = widths.iter().map(|w| (w / width - 1.0).powi(2)).sum::<f64>() / 40.0;
        assert!(spread.sqrt() > 0.1, "spread {}", spread.sqrt());
        assert!(widths.iter().all(|w| *w > 0.0));
    }
}

#[test]
fn the_figure_moves_and_does_not_fade() {
    let shift = Vector2::new(9.0, 6.0);
    let rings = Rings { far: end(-25.0 + shift.x, -45.0 + shift.y, 90.0), ..straight(2.5, 8) };
    let wood = figure("black cherry", rings);
    assert_eq!(wood.wander(), shift / 400.0);
    let (mut off_shifted, mut off_still) = (0.0_f64, 0.0_f64);
    for n in 0..400 {
        let (u, v) = (f64::from(n % 20) * 3.0, f64::from(n / 20) * 2.0);
        let near = wood.ring(&Point3::new(u, v, 0.0));
        let moved = wood.ring(&Point3::new(u + shift.x * 0.1, v + shift.y * 0.1, 40.0));
        let still = wood.ring(&Point3::new(u, v, 40.0));
        off_shifted = off_shifted.max((moved - near).abs());
        off_still = off_still.max((still - near).abs());
        // At the far end, the noise has changed but no more than its own size (about 1 mm).
        let far = wood.ring(&Point3::new(u + shift.x, v + shift.y, 400.0));
        assert!((far - near).abs() < 0.8, "{far} after {near}");
    }
    assert!(off_shifted < 0.12, "{off_shifted}");
    assert!(off_still > 3.0 * off_shifted && off_still > 0.3, "{off_still} and {off_shifted}");
}

#[test]
fn the_heartwood_line_is_where_it_was_put_and_runs_straight() {
    let rings = Rings { far: end(-25.0, -45.0, 70.0), ..straight(2.5, 3) };
    let wood = figure("black walnut", rings);
    for (w, radius) in [(0.0, 90.0), (200.0, 80.0), (400.0, 70.0)] {
        for n in 0..50 {
            let way = Vector2::new(f64::from(n) + 1.0, 50.0 - f64::from(n)).normalize();
            let at = |r: f64| Point3::new(way.x * r - 25.0, way.y * r - 45.0, w);
            assert!(wood.beyond_heartwood(&at(radius - 1.0)) <= 0.0);
            assert!(wood.beyond_heartwood(&at(radius + 1.0)) >= 0.0);
            let (heart, sap) = (wood.colour(&at(radius - 3.0), 0.5), wood.colour(&at(radius + 3.0), 0.5));
            assert!(sap.luminance() > 2.0 * heart.luminance());
        }
    }
}

#[test]
fn a_heart_of_no_radius_is_all_sapwood() {
    let rings = Rings { near: end(10.0, 10.0, 0.0), far: end(10.0, 10.0, 0.0), ..straight(2.5, 3) };
    let wood = figure("black walnut", rings);
    let sap = Wood::named("black walnut").unwrap().sapwood.luminance();
    for n in 0..60 {
        let c = wood.colour(&Point3::new(f64::from(n), 12.0, 30.0), 1.0);
        assert!(c.luminance() > 0.45 * sap, "{n}: {c:?}");
    }
}

fn patch_mean(wood: &Figure, corner: Point2<f64>, side: f64, grain: f64) -> [f64; 3] {
    let count = (side / grain).round() as i32;
    let mut sum = [0.0; 3];
    for i in 0..count {
        for j in 0..count {
            let (u, v) = ((f64::from(i) + 0.5) * grain, (f64::from(j) + 0.5) * grain);
            let c = parts(wood.colour(&Point3::new(corner.x + u, corner.y + v, 60.0), grain));
            for (total, part) in sum.iter_mut().zip(c) {
                *total += f64::from(part) / f64::from(count * count);
            }
        }
    }
    sum
}

#[test]
fn drawn_small_a_patch_has_the_colour_it_has_drawn_large() {
    for name in Wood::names() {
        let wood = figure(name, straight(2.5, 21));
        let large = patch_mean(&wood, Point2::new(5.0, 5.0), 10.0, 0.1);
        for grain in [0.2, 0.25, 0.5, 1.0, 2.0] {
            let small = patch_mean(&wood, Point2::new(5.0, 5.0), 10.0, grain);
            for (a, b) in large.iter().zip(small) {
                assert!((a / b - 1.0).abs() < 0.03, "{name} at {grain}: {large:?} and {small:?}");
            }
        }
    }
}

#[test]
fn over_many_rings_a_wood_has_its_own_colour() {
    for name in Wood::names() {
        let far = Rings { near: end(-200.0, -150.0, 1e5), far: end(-200.0, -150.0, 1e5), ..straight(2.5, 5) };
        let wood = figure(name, far);
        let mean = patch_mean(&wood, Point2::new(0.0, 0.0), 200.0, 0.6);
        for (c, named) in mean.iter().zip(parts(wood.wood().heartwood)) {
            assert!((c / f64::from(named) - 1.0).abs() < 0.08, "{name}: {mean:?}, {:?}", wood.wood().heartwood);
        }
    }
}

#[test]
fn colour_changes_without_jumps_along_the_grain() {
    let wood = figure("white oak", straight(2.5, 4));
    for n in 0..60 {
        let at = |w: f64| Point3::new(f64::from(n), 13.0, w);
        for step in 0..400 {
            let w = f64::from(step) * 0.25;
            let (a, b) = (wood.colour(&at(w), 0.1), wood.colour(&at(w + 0.01), 0.1));
            assert!((a.luminance() - b.luminance()).abs() < 0.02, "{n} at {w}");
        }
    }
}

#[test]
fn no_input_panics_or_gives_nan() {
    let wild = [0.0, -1.0, 1e-300, 1e300, f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 25.0];
    let at = [Point3::new(0.0, 0.0, 0.0), Point3::new(30.0, 20.0, 5.0), Point3::new(f64::NAN, 1e300, -1e300)];
    for name in ["red oak", "hard maple", "black walnut"] {
        for a in wild {
            for b in wild {
                let near = end(a, b, a);
                let rings = Rings { near, far: end(b, 0.0, b), ring_width: a, seed: 0 };
                let wood = Figure::new(Wood::named(name).unwrap(), rings, b);
                for p in at {
                    for grain in [a, 0.2] {
                        let c = wood.colour(&p, grain);
                        assert!(parts(c).iter().all(|x| (0.0..=1.0).contains(x)), "{a} {b} {p}: {c:?}");
                    }
                    assert!(wood.ring(&p).is_finite() && wood.beyond_heartwood(&p).is_finite());
                }
                assert!(wood.wander().iter().all(|x| x.is_finite()));
            }
        }
    }
}

#[test]
fn a_wood_of_wild_numbers_is_drawn_too() {
    let bad = Colour { r: f32::NAN, g: f32::INFINITY, b: -3.0 };
    let mut wood = Wood::of_colours("odd", bad, bad);
    wood.vessels.cell = 0.0;
    wood.vessels.early = f64::NAN;
    wood.rays.spacing = -1.0;
    wood.rays.lightness = 1.0;
    wood.border = 0.0;
    wood.latewood.body = f64::INFINITY;
    let odd = Figure::new(wood, straight(2.0, 1), 100.0);
    for n in 0..200 {
        let c = odd.colour(&Point3::new(f64::from(n) * 0.3, 10.0, 1.0), 0.02);
        assert!(parts(c).iter().all(|x| (0.0..=1.0).contains(x)), "{c:?}");
    }
}

#[test]
fn woods_are_found_by_name() {
    assert_eq!(Wood::names().count(), 27);
    for name in Wood::names() {
        assert_eq!(Wood::named(&format!(" {} ", name.to_uppercase())).unwrap().name, name);
        let wood = Wood::named(name).unwrap();
        assert_eq!(wood.held(), wood, "{name} is held to where it can be drawn");
        assert!(wood.sapwood.luminance() > wood.heartwood.luminance());
        let shares = wood.latewood.body + wood.latewood.line + wood.latewood.dense;
        approx::assert_abs_diff_eq!(shares, 1.0, epsilon = 1e-12);
    }
    assert_eq!(Wood::named("plastic"), None);
}

/// How far a block of 40 × 30 mm as drawn at once is from the same drawn point by point, each `aside` of where it
/// should be: CIEDE2000 that 99 of 100 pixels keep to.
pub(super) fn drawn_apart(figure: &Figure, grain: f64, aside: f64) -> f64 {
    let pixels = [(40.0 / grain) as usize, (30.0 / grain) as usize];
    let steps = [Vector3::new(grain, 0.0, 0.0), Vector3::new(0.0, -grain, 0.0)];
    let block = Block { from: Point3::new(5.0, 35.0, 60.0), steps, pixels, grain };
    let mut bytes = vec![0; pixels[0] * pixels[1] * 3];
    figure.draw(&block, &mut bytes, pixels[0] * 3);
    let apart = |(n, drawn): (usize, &[u8])| {
        let at = block.at(n % pixels[0], n / pixels[0]) + Vector3::new(aside, aside, 0.0);
        let exact = figure.colour(&at, grain).to_srgb8();
        Lab::of(Colour::from_srgb8(exact)).difference(&Lab::of(Colour::from_srgb8([drawn[0], drawn[1], drawn[2]])))
    };
    let mut all: Vec<f64> = bytes.chunks_exact(3).enumerate().map(apart).collect();
    all.sort_by(f64::total_cmp);
    all[all.len() * 99 / 100]
}

#[test]
fn a_block_is_drawn_as_its_points_are() {
    for (name, seed) in Wood::names().zip(1..) {
        // One pith beside the blank, one within it.
        for pith in [-25.0, 20.0] {
            let end = end(pith, 18.0, 30.0);
            let wood = figure(name, Rings { near: end, far: end, ring_width: 1.5, seed });
            for grain in [0.085, 0.17, 0.265, 0.42] {
                let apart = drawn_apart(&wood, grain, 0.0);
                assert!(apart <= 0.5, "{name} {pith} {grain}: {apart}");
            }
            // Half a pixel aside is seen.
            assert!(drawn_apart(&wood, 0.17, 0.085) > 0.5, "{name}");
        }
    }
}
