//! What a photographed blank promises: its ends, lines that move, blocks drawn as their pixels.

use super::*;
use crate::wood::ends::{EndLine, EndLines, Ends};
use nalgebra::Vector3;

const SIZE: Vector2<f64> = Vector2::new(50.0, 24.0);
const LENGTH: f64 = 300.0;
const LAYERS: [f64; 13] = [0.0, 2.1, 5.1, 6.3, 8.9, 11.1, 12.2, 15.3, 17.7, 20.2, 22.0, 24.9, 26.1];

fn heights(rise: f64) -> impl Iterator<Item = f64> {
    LAYERS.into_iter().map(move |v| v + rise).filter(|v| (0.0..SIZE.y).contains(v))
}

fn wood() -> Between {
    let line = |v: f64| EndLine { points: vec![Point2::new(0.0, v), Point2::new(50.0, v)], ..EndLine::default() };
    let end = |rise: f64| EndLines { rings: heights(rise).map(line).collect(), ..EndLines::default() };
    Ends { size: SIZE, length: LENGTH, near: end(-3.0), far: end(1.0), ..Ends::default() }.join().unwrap()
}

/// Dark lines where the rings are, on ground of that shade.
fn photograph(rise: f64, ground: u8) -> Picture {
    let dark = |row: usize| heights(rise).any(|v| (24.0 - (row as f64 + 0.5) * 0.1 - v).abs() < 0.3);
    let bytes = (0..240).flat_map(|row| vec![if dark(row) { 60 } else { ground }; 3 * 500]).collect();
    Picture { width: 500, height: 240, bytes }
}

fn column(figure: &Pictured, w: f64) -> Vec<u8> {
    (0..240).map(|n| figure.colour(&Point3::new(20.0, 0.05 + 0.1 * f64::from(n), w), 0.1).to_srgb8()[0]).collect()
}

#[test]
fn at_the_ends_it_is_the_photographs() {
    let (near, far) = (photograph(-3.0, 200), photograph(1.0, 180));
    let figure = Pictured::new(&wood(), Some(&near), Some(&far)).unwrap();
    for (w, picture) in [(0.0, &near), (LENGTH, &far)] {
        let rows = (0..240).rev().map(|row| picture.bytes[3 * (row * 500 + 200)]);
        let off = column(&figure, w).into_iter().zip(rows).map(|(a, b)| a.abs_diff(b)).max();
        assert!(off <= Some(1), "{w} {off:?}");
    }
}

#[test]
fn lines_move_and_stay_as_dark_as_they_were() {
    let figure = Pictured::new(&wood(), Some(&photograph(-3.0, 200)), Some(&photograph(1.0, 200))).unwrap();
    for t in [0.25, 0.49, 0.5, 0.51, 0.75] {
        let seen = column(&figure, t * LENGTH);
        for v in heights(-3.0 + 4.0 * t).filter(|v| (3.0..20.0).contains(v)) {
            assert!(seen[(v * 10.0) as usize] < 75, "{t} {v}");
        }
        assert!(seen.iter().filter(|shade| **shade > 185).count() > 120, "{t}");
    }
}

#[test]
fn changing_either_end_changes_a_face_between() {
    let (near, far) = (photograph(-3.0, 200), photograph(1.0, 200));
    let of = |near: &Picture, far: &Picture, w: f64| column(&Pictured::new(&wood(), Some(near), Some(far)).unwrap(), w);
    for w in [60.0, 150.0, 240.0] {
        let as_is = of(&near, &far, w);
        assert_ne!(as_is, of(&photograph(-3.0, 170), &far, w), "{w}");
        assert_ne!(as_is, of(&near, &photograph(1.0, 170), w), "{w}");
    }
}

#[test]
fn a_block_is_drawn_as_its_pixels_are() {
    let shaded = |rise: f64, ground: u8| {
        let mut picture = photograph(rise, ground);
        // Slowly darker to the right, so that broad colour differs between the ends too.
        picture.bytes.iter_mut().enumerate().for_each(|(n, b)| *b -= (n / 3 % 500 / 12) as u8);
        picture
    };
    let figure = Pictured::new(&wood(), Some(&shaded(-3.0, 200)), Some(&shaded(1.0, 160))).unwrap();
    let alone = Pictured::new(&wood(), None, Some(&shaded(1.0, 160))).unwrap();
    for (figure, w, pixels) in
        [(&figure, 60.0, [500, 240]), (&figure, 250.0, [37, 5]), (&alone, 150.0, [1, 9]), (&alone, 10.0, [300, 1])]
    {
        let from = Point3::new(0.05, 23.95, w);
        let steps = [Vector3::new(0.1, 0.0, 0.0), Vector3::new(0.0, -0.1, 0.0)];
        let (stride, block) = (3 * pixels[0] + 6, Block { from, steps, pixels, grain: 0.1 });
        let mut bytes = vec![7; stride * pixels[1]];
        assert!(figure.draw(&block, &mut bytes, stride));
        let mut far = 0;
        for n in 0..pixels[0] * pixels[1] {
            let (x, y) = (n % pixels[0], n / pixels[0]);
            let at = from + steps[0] * x as f64 + steps[1] * y as f64;
            let seen = figure.colour(&at, 0.1).to_srgb8();
            let drawn = &bytes[y * stride + 3 * x..][..3];
            far += usize::from(seen.iter().zip(drawn).any(|(a, b)| a.abs_diff(*b) > 6));
        }
        assert!(far * 50 <= pixels[0] * pixels[1], "{far} of {pixels:?} at {w}");
        assert!(bytes.chunks(stride).all(|row| row[3 * pixels[0]..].iter().all(|b| *b == 7)));
    }
    let middle = Block { from: Point3::new(1.0, 1.0, 150.0), steps: [Vector3::x(); 2], pixels: [3, 3], grain: 0.1 };
    assert!(!figure.draw(&middle, &mut [0; 100], 9), "where the detail passes");
}

#[test]
fn a_large_pixel_is_the_mean_of_small_ones() {
    let figure = Pictured::new(&wood(), Some(&photograph(-3.0, 200)), None).unwrap();
    let at = |v: f64, grain: f64| figure.colour(&Point3::new(25.0, v, 0.0), grain).luminance();
    let mean = (0..240).map(|n| at(0.05 + 0.1 * f64::from(n), 0.1)).sum::<f32>() / 240.0;
    assert!((at(12.0, 1.0e4) - mean).abs() < 0.02 * mean);
}

#[test]
fn beyond_the_picture_it_goes_on_and_nothing_panics() {
    let one = Picture { width: 1, height: 1, bytes: vec![120; 3] };
    let figure = Pictured::new(&wood(), Some(&one), Some(&photograph(1.0, 200))).unwrap();
    for x in [f64::NAN, f64::INFINITY, -1.0e300, -3.0, 70.0] {
        for grain in [0.0, 0.1, f64::NAN, 1.0e9] {
            let seen = figure.colour(&Point3::new(x, x, x), grain);
            assert!(seen.luminance() > 0.01 && seen.luminance() <= 1.0, "{x} {grain}");
        }
    }
    assert_eq!(Pictured::new(&wood(), None, None).unwrap_err(), Unpictured::NoPicture);
    let short = Picture { width: 5, height: 5, bytes: vec![0; 7] };
    assert_eq!(Pictured::new(&wood(), Some(&short), None).unwrap_err(), Unpictured::NotAPicture);
}
