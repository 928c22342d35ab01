//! The face of one strip by itself, and where it lies in a face of the board: what a face can be put together from.
//!
//! ```text
//! the strip's picture, seen from the panel's far end        the face's picture
//!  T ┌──────────────────┐                                    ┌──┬──┬──┐
//!    │ A   │ B   │ C    │  across: x, down: T − y       ─►   │  │  │  │  X to the right, down as the face is seen
//!  0 └──────────────────┘                                    └──┴──┴──┘
//!    0                  W
//! ```
//! A turn changes which of two pictures is shown and how it is placed, and neither picture.

use super::{Board, Face};
use crate::layup::Turn;
use crate::picture::Picture;
use crate::stock::Panel;
use crate::wood::Block;
use nalgebra::Point3;

/// A section of a panel as it comes to lie in a face of the board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StripFace {
    /// The panel, from 0.
    pub panel: usize,
    /// W, across its picture, and the space that its thickness takes, down it; mm.
    pub size: [f64; 2],
    /// Where in the panel, from the raw near end, mm.
    pub station: f64,
    /// From its picture to the face's, both in mm from the left upper corner: a point (a, d) comes to lie at
    /// (row 0 · (a, d, 1), row 1 · (a, d, 1)).
    pub placed: [[f64; 3]; 2],
}

/// The most pixels of one strip's picture.
const MOST_PIXELS: f64 = 4.0e6;

impl Board {
    /// What a face would show of the strip in a place, were it turned so; `None` where nothing lies there.
    #[must_use]
    pub fn strip_face(&self, place: usize, turn: Turn, face: Face) -> Option<StripFace> {
        let (strip, trims) = (self.strips().get(place)?, self.trims());
        let slab = &strip.slab;
        let shown = Point3::new(0.0, 0.0, self.height_of(face) + trims.lower);
        let station = turn.panel_point(slab, &shown).z;
        let placement = turn.placement(slab);
        let width = self.finished().width;
        let at = |across: f64, down: f64| {
            let own = placement * Point3::new(across, slab.thickness - down, station);
            let x = own.x + strip.x - trims.left;
            let y = own.y + strip.y - self.cover()[0] - trims.front;
            [x, if face == Face::Upper { width - y } else { y }]
        };
        let (origin, across, down) = (at(0.0, 0.0), at(1.0, 0.0), at(0.0, 1.0));
        let row = |i: usize| [across[i] - origin[i], down[i] - origin[i], origin[i]];
        Some(StripFace {
            panel: strip.place.panel,
            size: [slab.width, slab.thickness],
            station,
            // A quarter turn and no more: what rounding leaves beside 0 and 1 is nothing.
            placed: [row(0), row(1)].map(|[a, d, o]| [a.round(), d.round(), o]),
        })
    }
}

impl StripFace {
    /// Its picture, of its panel and in pixels of about so many mm; `None` where it would have none, or more than four
    /// million.
    #[must_use]
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    pub fn picture(&self, panel: &Panel, pixel: f64) -> Option<Picture> {
        let [across, down] = self.size.map(|mm| (mm / pixel).round().max(1.0));
        if !(pixel > 0.0 && across * down <= MOST_PIXELS) {
            return None;
        }
        let (width, height) = (across as usize, down as usize);
        let at = |column: usize, row: usize| {
            let x = self.size[0] * (column as f64 + 0.5) / across;
            let y = self.size[1] * (1.0 - (row as f64 + 0.5) / down);
            panel.wood_at(&Point3::new(x, y, self.station))
        };
        let mut bytes = vec![0; width * height * 3];
        let mut first = 0;
        while first < width {
            let (blank, from) = at(first, 0)?;
            let end = (first + 1..width).find(|c| at(*c, 0).is_none_or(|(b, _)| b != blank)).unwrap_or(width);
            let (right, below) = (at(end - 1, 0)?.1, at(first, height - 1)?.1);
            let step = |to: Point3<f64>, count: usize| (to - from) / count.max(1) as f64;
            let steps = [step(right, end - 1 - first), step(below, height - 1)];
            let block = Block { from, steps, pixels: [end - first, height], grain: pixel };
            panel.blanks.get(blank)?.blank.figure.draw(&block, &mut bytes[first * 3..], width * 3);
            first = end;
        }
        Some(Picture { width, height, bytes })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::tests::{slid, turned};
    use crate::board::{FaceOptions, FigureDrawn};

    /// Whole pixels: 21 mm thick, 172 mm wide, trims of whole millimetres.
    const PIXEL: f64 = 0.5;

    /// The face, put together from the strips' pictures as they say that they are placed.
    fn put_together(board: &Board, face: Face, like: &Picture) -> Picture {
        let mut whole = Picture { width: like.width, height: like.height, bytes: vec![0; like.bytes.len()] };
        for (place, strip) in board.strips().iter().enumerate() {
            let face = board.strip_face(place, strip.place.turn, face).unwrap();
            let picture = face.picture(&board.panels()[face.panel], PIXEL).unwrap();
            for row in 0..picture.height {
                for column in 0..picture.width {
                    let at = [(column as f64 + 0.5) * PIXEL, (row as f64 + 0.5) * PIXEL, 1.0];
                    let [x, y] = face.placed.map(|r| r.iter().zip(at).map(|(r, at)| r * at).sum::<f64>() / PIXEL);
                    if x < 0.0 || y < 0.0 || x >= whole.width as f64 || y >= whole.height as f64 {
                        continue;
                    }
                    let to = (y as usize * whole.width + x as usize) * 3;
                    let from = (row * picture.width + column) * 3;
                    whole.bytes[to..to + 3].copy_from_slice(&picture.bytes[from..from + 3]);
                }
            }
        }
        whole
    }

    /// Each byte of a colour may be off by 2 of 255: what changes slowly along a row is worked out every few pixels,
    /// and the rows of a strip's picture run the other way. The mean may be off by a fiftieth of one.
    fn assert_alike(one: &Picture, other: &Picture, what: &str) {
        let off = |(a, b): (&u8, &u8)| u32::from(a.abs_diff(*b));
        let most = one.bytes.iter().zip(&other.bytes).map(off).max().unwrap();
        let all: u32 = one.bytes.iter().zip(&other.bytes).map(off).sum();
        let mean = f64::from(all) / one.bytes.len() as f64;
        assert!(most <= 2 && mean < 0.02, "{what}: off by {most}, in the mean by {mean}");
    }

    fn drawn(board: &Board, face: Face) -> Picture {
        let options = FaceOptions { pixel: PIXEL, glue_lines: false, workers: 1, figure: FigureDrawn::Whole };
        board.picture(face, &options).unwrap()
    }

    #[test]
    fn strips_put_together_are_the_boards_own_face() {
        let all = [Turn::AsCut, Turn::RolledOver, Turn::EndForEnd, Turn::EndOverEnd, Turn::AsCut, Turn::EndOverEnd];
        let staggered = slid(&all.map(|turn| (turn, if turn == Turn::RolledOver { 9 } else { 0 })));
        for (board, what) in [(turned(&all), "all turns"), (staggered, "one slid")] {
            for face in Face::ALL {
                let whole = drawn(&board, face);
                assert_alike(&put_together(&board, face, &whole), &whole, &format!("{what}, {}", face.name()));
            }
        }
    }

    /// The test above can fail: a strip turned another way is not alike.
    #[test]
    fn another_turn_is_another_picture() {
        let (one, other) = (turned(&[Turn::AsCut; 2]), turned(&[Turn::AsCut, Turn::EndForEnd]));
        let (one, other) = (drawn(&one, Face::Upper), drawn(&other, Face::Upper));
        assert!(one.bytes.iter().zip(&other.bytes).any(|(a, b)| a.abs_diff(*b) > 20));
    }

    #[test]
    fn a_turn_shows_one_of_two_faces_and_none_is_mirrored() {
        let board = turned(&[Turn::AsCut; 3]);
        let of = |turn| board.strip_face(1, turn, Face::Upper).unwrap();
        assert_eq!(of(Turn::AsCut).station, of(Turn::EndForEnd).station);
        assert_eq!(of(Turn::RolledOver).station, of(Turn::EndOverEnd).station);
        assert_ne!(of(Turn::AsCut).station, of(Turn::RolledOver).station);
        for turn in Turn::ALL {
            // The picture is seen from the far end: it is seen from behind where the near face is up.
            let [[a, b, _], [c, d, _]] = of(turn).placed;
            assert_eq!(a * d - b * c, if turn.far_face_up() { 1.0 } else { -1.0 }, "{turn:?}");
        }
    }

    #[test]
    fn a_picture_of_no_size_is_none() {
        let board = turned(&[Turn::AsCut]);
        let face = board.strip_face(0, Turn::AsCut, Face::Upper).unwrap();
        assert!(board.strip_face(1, Turn::AsCut, Face::Upper).is_none());
        for pixel in [0.0, -1.0, f64::NAN, 0.01] {
            assert!(face.picture(&board.panels()[0], pixel).is_none(), "{pixel}");
        }
    }
}
