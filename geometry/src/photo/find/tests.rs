use super::*;
use crate::photo::{Projective, Upright};
use crate::picture::Picture;

const SIZE: [usize; 2] = [900, 700];

/// Near end, clockwise from the lower right.
const ENDS: [[[f64; 2]; 4]; 3] = [
    [[741.3, 560.8], [130.4, 571.2], [148.7, 160.9], [722.6, 118.4]],
    [[610.2, 640.7], [210.9, 520.3], [330.5, 130.6], [760.1, 260.2]],
    [[560.5, 402.5], [300.5, 395.5], [302.5, 250.5], [566.5, 241.5]],
];

/// Noise that follows from the place: a number from −1 to 1 (SplitMix64's finalizer).
fn chance(seed: u64) -> f64 {
    let mixed = (seed ^ (seed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((mixed ^ (mixed >> 31)) >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
}

/// An end of rings and a heartwood line on a plain background that is lit from one side.
fn photographed(corners: &[[f64; 2]; 4], blur: usize, noise: f64) -> Photograph {
    let map = Projective::of(&Corners::new(*corners, SIZE).unwrap());
    let colour = |x: f64, y: f64| -> [f64; 3] {
        let light = 0.8 + 0.3 * x / SIZE[0] as f64 - 0.1 * y / SIZE[1] as f64;
        let inside = map.back([x, y]).filter(|st| st.iter().all(|part| (0.0..=1.0).contains(part)));
        let base = inside.map_or([196.0, 200.0, 204.0], |[s, t]| {
            let radius = (60.0 * (s - 0.4)).hypot(40.0 * (t + 0.6));
            let ring = 14.0 * (radius * 2.4).sin().powi(3);
            let wood = if radius < 38.0 { [112.0, 78.0, 55.0] } else { [170.0, 140.0, 98.0] };
            wood.map(|part| part + ring)
        });
        base.map(|part| part * light)
    };
    let mut floats = Vec::with_capacity(SIZE[0] * SIZE[1]);
    for i in 0..SIZE[0] * SIZE[1] {
        let (x, y) = ((i % SIZE[0]) as f64, (i / SIZE[0]) as f64);
        let parts: [[f64; 3]; 9] =
            std::array::from_fn(|k| colour(x + (k % 3) as f64 / 3.0 + 1.0 / 6.0, y + (k / 3) as f64 / 3.0 + 1.0 / 6.0));
        floats.push(std::array::from_fn::<f64, 3, _>(|c| parts.iter().map(|part| part[c]).sum::<f64>() / 9.0));
    }
    for _ in 0..2 {
        floats = blurred(&floats, blur, 1, SIZE[0]);
        floats = blurred(&floats, blur, SIZE[0], SIZE[1]);
    }
    let bytes = floats
        .iter()
        .flatten()
        .enumerate()
        .map(|(i, part)| {
            (part + noise * (chance(2 * i as u64) + chance(2 * i as u64 + 1))).clamp(0.0, 255.0).round() as u8
        })
        .collect();
    Photograph { stored: Picture { width: SIZE[0], height: SIZE[1], bytes }, upright: Upright::AsStored }
}

/// The mean over `2 by + 1` pixels in one direction.
fn blurred(picture: &[[f64; 3]], by: usize, step: usize, length: usize) -> Vec<[f64; 3]> {
    (0..picture.len())
        .map(|i| {
            let place = i / step % length;
            let range = place.saturating_sub(by)..=(place + by).min(length - 1);
            let count = range.clone().count() as f64;
            let at = |k: usize, c: usize| picture[i - place * step + k * step][c];
            std::array::from_fn(|c| range.clone().map(|k| at(k, c)).sum::<f64>() / count)
        })
        .collect()
}

fn worst(found: &Outline, wanted: &[[f64; 2]; 4]) -> f64 {
    found.points.iter().zip(wanted).map(|(a, b)| (a[0] - b[0]).hypot(a[1] - b[1])).fold(0.0, f64::max)
}

#[test]
fn corners_are_found_within_two_pixels_under_blur_and_noise() {
    for wanted in &ENDS {
        for (blur, noise) in [(0, 0.0), (1, 3.0), (3, 8.0)] {
            let photograph = photographed(wanted, blur, noise);
            let found = find(&photograph, None).unwrap_or_else(|e| panic!("{wanted:?}, {blur}, {noise}: {e}"));
            let off = worst(&found, wanted);
            assert!(off < 1.0, "off by {off} with blur {blur} and noise {noise}: {found:?}");
            assert_eq!(found.corners(End::Near).unwrap().end(), End::Near);
            assert_eq!(found.corners(End::Far).unwrap().end(), End::Far);
        }
    }
}

#[test]
fn a_photograph_stored_on_its_side_gives_the_same_corners() {
    let upright = photographed(&ENDS[0], 1, 2.0);
    let plain = find(&upright, None).unwrap();
    // Stored so that a quarter turn clockwise sets it upright.
    let stored = Upright::Anticlockwise.turned(upright.stored);
    let found = find(&Photograph { stored, upright: Upright::Clockwise }, None).unwrap();
    assert!(worst(&found, &plain.points) < 0.2, "{found:?} and {plain:?}");
}

#[test]
fn a_card_is_not_taken_for_the_end() {
    let mut photograph = photographed(&ENDS[2], 1, 2.0);
    let card = [20.0, 480.0, 300.0, 190.0];
    for y in 480..670 {
        for x in 20..320 {
            photograph.stored.bytes[3 * (y * SIZE[0] + x)..][..3].copy_from_slice(&[250, 250, 248]);
        }
    }
    assert!(worst(&find(&photograph, None).unwrap(), &ENDS[2]) > 100.0, "it is larger than the end");
    assert!(worst(&find(&photograph, Some(card)).unwrap(), &ENDS[2]) < 1.0);
}

#[test]
fn where_there_is_no_end_it_is_said() {
    let plain = Picture { width: 300, height: 200, bytes: vec![180; 300 * 200 * 3] };
    let none = |picture: Picture| find(&Photograph { stored: picture, upright: Upright::AsStored }, None);
    assert_eq!(none(plain.clone()), Err(NotFound::Nothing));
    assert_eq!(none(Picture { width: 3, height: 3, bytes: vec![0; 27] }), Err(NotFound::Nothing));
    let painted = |inside: &dyn Fn(usize, usize) -> bool| {
        let mut picture = plain.clone();
        for (i, pixel) in picture.bytes.chunks_exact_mut(3).enumerate() {
            if inside(i % 300, i / 300) {
                pixel.copy_from_slice(&[90, 60, 40]);
            }
        }
        none(picture)
    };
    assert_eq!(painted(&|x, y| x.abs_diff(150).pow(2) + y.abs_diff(100).pow(2) < 4900), Err(NotFound::NotFourSided));
    assert_eq!(painted(&|x, y| y > 60 && 2 * x.abs_diff(150) < y - 60), Err(NotFound::RunsOut));
    assert_eq!(painted(&|x, y| x > 240 && y.abs_diff(100) < 40), Err(NotFound::RunsOut));
    let noise =
        plain.bytes.iter().enumerate().map(|(i, _)| (i as u64).wrapping_mul(0x9e37_79b9_7f4a_7c15).to_be_bytes()[0]);
    assert!(none(Picture { bytes: noise.collect(), ..plain.clone() }).is_err());
}

#[test]
fn an_end_that_lies_otherwise_is_noticed() {
    let found = Outline { points: ENDS[0], size: SIZE };
    assert!(
        found.lies_otherwise([38.0, 60.0])
            && !found.lies_otherwise([60.0, 38.0])
            && !found.lies_otherwise([40.0, 40.0])
    );
}
