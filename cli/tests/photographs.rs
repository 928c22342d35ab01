//! Photographs as they are read: every kind, every way of holding the camera, damage, and the command on them.
#![allow(clippy::unwrap_used, clippy::panic)] // a test that can't go on has failed

mod common;

use assert_cmd::Command;
use common::{Jpeg, exif};
use png::{BitDepth, ColorType};
use proptest::prelude::*;
use quarterturn::photo::{PhotoError, read};
use quarterturn_geometry::photo::Upright;
use std::fs;
use std::path::Path;

/// 6 × 5 blocks of 8 pixels, each block's level of its own.
fn level(column: usize, row: usize, component: u8) -> u8 {
    if component == 0 { (20 + 36 * column + 5 * row) as u8 } else { 128 }
}

fn jpeg(components: u8, block: Vec<u8>) -> Vec<u8> {
    Jpeg { width: 48, height: 40, components, exif: block }.write(level)
}

fn png_of(colour: ColorType, depth: BitDepth, data: &[u8], change: impl FnOnce(&mut png::Info<'_>)) -> Vec<u8> {
    let mut info = png::Info::with_size(48, 40);
    (info.color_type, info.bit_depth) = (colour, depth);
    change(&mut info);
    let mut bytes = Vec::new();
    let mut writer = png::Encoder::with_info(&mut bytes, info).unwrap().write_header().unwrap();
    writer.write_image_data(data).unwrap();
    writer.finish().unwrap();
    bytes
}

/// Four numbers that differ from place to place.
fn part(i: usize) -> u8 {
    (i * 7 % 256) as u8
}

#[test]
fn grey_and_coloured_jpeg_come_out_as_red_green_and_blue() {
    for components in [1, 3] {
        let photograph = read(&jpeg(components, vec![])).unwrap();
        assert_eq!(photograph.size(), [48, 40]);
        assert_eq!(photograph.upright, Upright::AsStored);
        for (i, pixel) in photograph.stored.bytes.chunks_exact(3).enumerate() {
            let wanted = level(i % 48 / 8, i / 48 / 8, 0);
            assert!(pixel.iter().all(|byte| byte.abs_diff(wanted) <= 1), "{components}, {i}: {pixel:?}, {wanted}");
        }
    }
}

#[test]
fn all_eight_ways_of_holding_the_camera_are_read_from_jpeg_and_png() {
    for number in 1..=8 {
        for little in [true, false] {
            let wanted = Upright::by_number(number).unwrap();
            let photograph = read(&jpeg(1, exif(number, little))).unwrap();
            assert_eq!(photograph.upright, wanted);
            assert_eq!(photograph.size(), wanted.size([48, 40]));
            let bytes = png_of(ColorType::Grayscale, BitDepth::Eight, &[9; 48 * 40], |info| {
                info.exif_metadata = Some(exif(number, little).into());
            });
            assert_eq!(read(&bytes).unwrap().upright, wanted);
        }
    }
    for none in [0, 9, 6000] {
        assert_eq!(read(&jpeg(1, exif(none, true))).unwrap().upright, Upright::AsStored);
    }
}

#[test]
fn every_kind_of_png_is_read() {
    let eight: Vec<u8> = (0..48 * 40 * 4).map(part).collect();
    let as_rgb = |bytes: &[u8]| read(bytes).unwrap().stored.bytes;
    let pixels = 48 * 40;
    assert_eq!(as_rgb(&png_of(ColorType::Rgb, BitDepth::Eight, &eight[..3 * pixels], |_| ())), eight[..3 * pixels]);
    let grey: Vec<u8> = eight[..pixels].iter().flat_map(|g| [*g; 3]).collect();
    assert_eq!(as_rgb(&png_of(ColorType::Grayscale, BitDepth::Eight, &eight[..pixels], |_| ())), grey);
    // 16 bits: the upper byte.
    let sixteen: Vec<u8> = eight[..3 * pixels].iter().flat_map(|b| [*b, 200]).collect();
    assert_eq!(as_rgb(&png_of(ColorType::Rgb, BitDepth::Sixteen, &sixteen, |_| ())), eight[..3 * pixels]);
    // Transparency lies on white.
    let clear = [10, 20, 30, 0, 10, 20, 30, 255, 0, 100, 255, 128, 7, 7, 7, 255].repeat(pixels / 4);
    let seen = as_rgb(&png_of(ColorType::Rgba, BitDepth::Eight, &clear, |_| ()));
    assert_eq!(seen[..12], [255, 255, 255, 10, 20, 30, 127, 177, 255, 7, 7, 7]);
    let seen = as_rgb(&png_of(ColorType::GrayscaleAlpha, BitDepth::Eight, &[0, 0, 50, 255].repeat(pixels / 2), |_| ()));
    assert_eq!(seen[..6], [255, 255, 255, 50, 50, 50]);
    // A palette, two pixels to a byte.
    let seen = as_rgb(&png_of(ColorType::Indexed, BitDepth::Four, &[0x01; 24 * 40], |info| {
        info.palette = Some(vec![1, 2, 3, 200, 100, 50].into());
    }));
    assert_eq!(seen[..6], [1, 2, 3, 200, 100, 50]);
}

#[test]
fn a_moving_picture_is_refused_and_a_single_one_that_could_move_is_read() {
    let moving = |frames: u32| {
        let mut bytes = Vec::new();
        let mut encoder = png::Encoder::new(&mut bytes, 48, 40);
        encoder.set_animated(frames, 0).unwrap();
        let mut writer = encoder.write_header().unwrap();
        for _ in 0..frames {
            writer.write_image_data(&[90; 48 * 40]).unwrap();
        }
        writer.finish().unwrap();
        read(&bytes)
    };
    assert!(matches!(moving(2), Err(PhotoError::Moving)));
    assert_eq!(moving(1).unwrap().stored.bytes[0], 90);
}

#[test]
fn what_can_t_be_used_is_told_as_what_it_is() {
    assert!(matches!(read(&jpeg(4, vec![])), Err(PhotoError::Print)));
    for other in [b"".as_slice(), b"GIF89a", b"II*\0", b"\0\0\0\x18ftypheic", b"RIFF....WEBP", b"name = 1"] {
        assert!(matches!(read(other), Err(PhotoError::OtherKind(_))), "{other:?}");
    }
    let small = Jpeg { width: 16, height: 16, components: 1, exif: vec![] }.write(level);
    assert!(matches!(read(&small), Err(PhotoError::TooSmall(16, 16))));
    // Headers that promise more than there is: refused before anything is set aside.
    let mut huge = jpeg(1, vec![]);
    let frame = huge.windows(2).position(|w| w == [0xff, 0xc0]).unwrap();
    huge[frame + 5..frame + 9].copy_from_slice(&[0xea, 0x60, 0xea, 0x60]);
    assert!(matches!(read(&huge), Err(PhotoError::TooLarge(60_000, 60_000))));
    let mut header = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\xea\x60\0\0\xea\x60\x08\x02\0\0\0".to_vec();
    header.extend(crc(&header[12..]).to_be_bytes());
    assert!(matches!(read(&header), Err(PhotoError::TooLarge(60_000, 60_000))));
    // Cut off anywhere.
    let bytes = [jpeg(3, vec![]), png_of(ColorType::Grayscale, BitDepth::Eight, &[9; 48 * 40], |_| ())];
    for whole in bytes {
        assert!(read(&whole).is_ok());
        for share in [0.2, 0.5, 0.9] {
            let cut = &whole[..(whole.len() as f64 * share) as usize];
            assert!(matches!(read(cut), Err(PhotoError::Broken(_))), "{share} of {}", whole.len());
        }
        assert!(read(&whole[..whole.len() - 2]).is_err());
    }
}

/// CRC-32 of the PNG standard, annex D.
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0, |crc: u32, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| if crc & 1 == 1 { crc >> 1 ^ 0xedb8_8320 } else { crc >> 1 })
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn no_bytes_panic(mut bytes in prop::collection::vec(any::<u8>(), 0..400), kind in 0..4_usize) {
        let head: &[u8] = [b"\xff\xd8\xff".as_slice(), b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", b"\xff\xd8\xff\xe1\0\x40Exif\0\0II*\0", b""][kind];
        bytes.splice(0..0, head.iter().copied());
        let _ = read(&bytes);
    }

    #[test]
    fn no_damage_panics(
        kind in 0..4_usize,
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12),
        cut in any::<prop::sample::Index>(),
        whole in any::<bool>(),
    ) {
        let mut bytes = match kind {
            0 => jpeg(3, exif(6, true)),
            1 => jpeg(1, exif(3, false)),
            2 => jpeg(4, vec![]),
            _ => png_of(ColorType::Rgb, BitDepth::Eight, &[77; 48 * 40 * 3], |info| {
                info.exif_metadata = Some(exif(5, true).into());
            }),
        };
        for (place, byte) in &changes {
            let place = place.index(bytes.len());
            bytes[place] = *byte;
        }
        if !whole {
            bytes.truncate(cut.index(bytes.len()));
        }
        if let Ok(photograph) = read(&bytes) {
            let picture = &photograph.stored;
            prop_assert_eq!(picture.bytes.len(), 3 * picture.width * picture.height);
        }
    }
}

/// Peak memory of this process so far, bytes; where the system says it.
fn peak() -> Option<u64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(1024 * line.split_whitespace().nth(1)?.parse::<u64>().ok()?)
}

/// Alone in a process of its own, so that other tests' memory isn't counted: it calls itself.
#[test]
fn forty_eight_million_pixels_take_three_bytes_each() {
    const NAME: &str = "forty_eight_million_pixels_take_three_bytes_each";
    if std::env::var_os("ALONE").is_none() {
        let own = std::env::current_exe().unwrap();
        let alone =
            std::process::Command::new(own).args(["--exact", NAME, "--nocapture"]).env("ALONE", "1").output().unwrap();
        assert!(alone.status.success(), "{}", String::from_utf8_lossy(&alone.stderr));
        return;
    }
    let Some(before) = peak() else {
        println!("passed over: this system doesn't say how much memory was used");
        return;
    };
    let bytes = Jpeg { width: 8000, height: 6000, components: 3, exif: exif(6, true) }.write(level);
    let photograph = read(&bytes).unwrap();
    assert_eq!(photograph.size(), [6000, 8000]);
    let took = peak().unwrap() - before;
    let most = 3 * 48_000_000 + 3 * bytes.len() as u64 + 24_000_000;
    assert!(took <= most, "{took} bytes, at most {most}");
}

fn quarterturn(arguments: &[&str], folder: &Path) -> (i32, String, String) {
    let mut command = Command::cargo_bin("quarterturn").unwrap();
    let done = command.env("NO_COLOR", "1").current_dir(folder).arg("photo").args(arguments).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (done.status.code().unwrap(), text(done.stdout), text(done.stderr))
}

/// A dark end on a pale ground in blocks of 8 pixels, from (96, 80) to (400, 272), on a photograph of 480 × 360.
fn end_on_a_bench(orientation: u16) -> Vec<u8> {
    let inside = |column: usize, row: usize| (12..50).contains(&column) && (10..34).contains(&row);
    let level = |column, row, component| match (component, inside(column, row)) {
        (0, true) => 70 + 3 * (column % 4) as u8,
        (0, false) => 200,
        _ => 128,
    };
    Jpeg { width: 480, height: 360, components: 3, exif: exif(orientation, true) }.write(level)
}

#[test]
fn the_command_finds_the_end_makes_it_flat_and_says_where() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("oak near.jpg"), end_on_a_bench(1)).unwrap();
    let (status, said, complaint) =
        quarterturn(&["oak near.jpg", "--size", "76 x 48 mm", "--dpi", "50"], folder.path());
    assert_eq!((status, complaint.as_str()), (0, ""));
    for words in [
        "which is assumed",
        "near = { photo = { file = \"oak near.jpg\", corners = [[400.0, 272.0], [96.0, 272.0], [96.0, 80.0], [400.0, 80.0]] } }",
        "150 × 94 pixels, 50 dots an inch; the photograph has 102",
    ] {
        assert!(said.contains(words), "{said}");
    }
    for name in ["end.png", "outline.png"] {
        let bytes = fs::read(folder.path().join("oak near").join(name)).unwrap();
        let seen = read(&bytes).unwrap().size();
        assert_eq!(seen, if name == "end.png" { [150, 94] } else { [480, 360] });
    }
    // Again is the same; a file that was changed is left alone.
    assert_eq!(quarterturn(&["oak near.jpg", "--size", "76 x 48 mm"], folder.path()).0, 0);
    fs::write(folder.path().join("oak near/end.png"), "mine").unwrap();
    let (status, _, complaint) = quarterturn(&["oak near.jpg", "--size", "76 x 48 mm"], folder.path());
    assert!(status == 2 && complaint.contains("in the way"), "{complaint}");
}

#[test]
fn corners_are_those_of_the_photograph_as_it_is_seen() {
    let folder = tempfile::tempdir().unwrap();
    // Turned a quarter clockwise: x and y as stored become 360 − y and x.
    fs::write(folder.path().join("a.jpg"), end_on_a_bench(6)).unwrap();
    let (status, said, complaint) =
        quarterturn(&["a.jpg", "--size", "48 x 76 mm", "--end", "far", "--out", "o"], folder.path());
    assert_eq!((status, complaint.as_str()), (0, ""));
    assert!(said.contains("far = { photo"), "{said}");
    assert!(said.contains("[[88.0, 400.0], [280.0, 400.0], [280.0, 96.0], [88.0, 96.0]]"), "{said}");
    let (_, said, _) = quarterturn(&["a.jpg", "--size", "76 x 48 mm", "--out", "p"], folder.path());
    assert!(said.contains("lies the other way"), "{said}");
}

#[test]
fn misuse_and_what_can_t_be_end_differently() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.jpg"), end_on_a_bench(1)).unwrap();
    let plain = Jpeg { width: 480, height: 360, components: 1, exif: vec![] }.write(|_, _, _| 180);
    fs::write(folder.path().join("plain.jpg"), plain).unwrap();
    fs::write(folder.path().join("cut.jpg"), &end_on_a_bench(1)[..900]).unwrap();
    let size = ["--size", "76 x 48 mm"];
    let near = ["400,272", "96,272", "96,80", "400,80"];
    let with = |corners: [usize; 4]| [&["a.jpg", "--corners"][..], &corners.map(|i| near[i]), &size].concat();
    let far_end = [with([0, 1, 2, 3]), vec!["--end", "far"]].concat();
    let cases: Vec<(Vec<&str>, i32, &str)> = vec![
        ([&["plain.jpg"][..], &size].concat(), 1, "nothing stands out"),
        ([&["cut.jpg"][..], &size].concat(), 1, "broken or cut off"),
        ([&["none.jpg"][..], &size].concat(), 2, "can't read none.jpg"),
        ([&["."][..], &size].concat(), 2, "it is a folder"),
        (vec!["a.jpg"], 2, "--size"),
        (vec!["a.jpg", "--size", "76"], 2, "width x thickness"),
        (with([0, 2, 1, 3]), 2, "cross"),
        (with([0, 1, 2, 2]), 2, "pixels apart"),
        (far_end, 2, "marked corner 1 └"),
        ([&["a.jpg", "--card", "470,2,20,20"][..], &size].concat(), 2, "reaches out"),
        ([&["a.jpg", "--reflectance", "0.5"][..], &size].concat(), 2, "--card"),
    ];
    for (arguments, wanted, words) in cases {
        let (status, _, complaint) = quarterturn(&arguments, folder.path());
        assert_eq!(status, wanted, "{arguments:?}: {complaint}");
        assert!(
            complaint.split_whitespace().collect::<Vec<_>>().join(" ").contains(words),
            "{arguments:?}: {complaint}"
        );
    }
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 3, "nothing was written");
}
