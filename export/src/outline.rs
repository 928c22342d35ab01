//! A photograph with the outline that was found or given drawn on it, so that a wrong corner is seen at once.
//!
//! Must not know how the corners were found, nor of any file.

use crate::{ExportError, lettering};
use quarterturn_geometry::picture::Picture;
use svg::Document;
use svg::node::element::{Circle, Polygon, Rectangle, Text};

/// Draws on a photograph the outline of an end, its corners numbered in their order, and the card, where there is one
/// (x, y, width, height). All places are in pixels of `picture`.
///
/// # Errors
/// [`ExportError`] where the picture holds none, or is too large to letter.
pub fn drawn(picture: Picture, corners: &[[f64; 2]; 4], card: Option<[f64; 4]>) -> Result<Picture, ExportError> {
    let (width, height) = (picture.width as f64, picture.height as f64);
    // Lines and letters keep their size in a larger picture; in a small one they must still be seen.
    let unit = (width.max(height) / 800.0).max(1.0);
    let mut page = Document::new().set("width", width).set("height", height).set("viewBox", (0, 0, width, height));
    let points = corners.map(|[x, y]| format!("{x:.2},{y:.2}")).join(" ");
    for (colour, thick) in [("white", 4.0), ("black", 1.6)] {
        let outline = Polygon::new().set("points", points.as_str()).set("fill", "none");
        page = page.add(outline.set("stroke", colour).set("stroke-width", thick * unit));
        for [x, y] in corners {
            let ring = Circle::new().set("cx", *x).set("cy", *y).set("r", 6.0 * unit).set("fill", "none");
            page = page.add(ring.set("stroke", colour).set("stroke-width", thick * unit));
        }
    }
    for (number, at) in (1..).zip(numbers_at(corners, [width, height], unit)) {
        page = page.add(word(&number.to_string(), at, 22.0 * unit));
    }
    if let Some([x, y, wide, high]) = card {
        for (colour, thick) in [("white", 4.0), ("black", 1.6)] {
            let frame = Rectangle::new().set("x", x).set("y", y).set("width", wide).set("height", high);
            page = page.add(frame.set("fill", "none").set("stroke", colour).set("stroke-width", thick * unit));
        }
        page = page.add(word("card", [x + wide / 2.0, y + high / 2.0 + 5.0 * unit], 16.0 * unit));
    }
    lettering::draw_over(picture, &page.to_string())
}

/// Beside each corner, outside the outline where there is room for it, else inside.
fn numbers_at(corners: &[[f64; 2]; 4], size: [f64; 2], unit: f64) -> [[f64; 2]; 4] {
    let middle: [f64; 2] = std::array::from_fn(|axis| corners.iter().map(|p| p[axis]).sum::<f64>() / 4.0);
    corners.map(|corner| {
        let way = [corner[0] - middle[0], corner[1] - middle[1]];
        let far = way[0].hypot(way[1]).max(1e-9);
        let place = |off: f64| [0, 1].map(|axis| corner[axis] + off * unit * way[axis] / far);
        let room = |at: [f64; 2]| (0..2).all(|axis| at[axis] > 14.0 * unit && at[axis] < size[axis] - 14.0 * unit);
        let [x, y] = Some(place(24.0)).filter(|at| room(*at)).unwrap_or_else(|| place(-28.0));
        // From the middle of a figure to its baseline.
        [x, y + 8.0 * unit]
    })
}

/// A word in black with a white border around its letters.
fn word(text: &str, [x, y]: [f64; 2], size: f64) -> Text {
    Text::new(text)
        .set("x", x)
        .set("y", y)
        .set("font-family", lettering::FAMILY)
        .set("font-size", size)
        .set("text-anchor", "middle")
        .set("stroke", "white")
        .set("stroke-width", size * 0.25)
        .set("stroke-linejoin", "round")
        .set("paint-order", "stroke")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_outline_runs_through_the_corners_and_leaves_the_rest() {
        let grey = Picture { width: 400, height: 300, bytes: vec![120; 400 * 300 * 3] };
        let corners = [[300.0, 200.0], [100.0, 210.0], [110.0, 90.0], [290.0, 80.0]];
        let seen = drawn(grey, &corners, Some([5.0, 5.0, 60.0, 40.0])).unwrap();
        let at = |x: usize, y: usize| seen.bytes[3 * (y * 400 + x)];
        assert_eq!(at(200, 150), 120, "the middle");
        assert!(at(200, 205) < 90, "the lower side: {}", at(200, 205));
        assert!(at(35, 5) < 90, "the card's frame: {}", at(35, 5));
        assert!(drawn(Picture { width: 0, height: 0, bytes: vec![] }, &corners, None).is_err());
    }

    #[test]
    fn numbers_stand_where_there_is_room() {
        let corners = [[398.0, 298.0], [2.0, 298.0], [2.0, 2.0], [398.0, 2.0]];
        for [x, y] in numbers_at(&corners, [400.0, 300.0], 0.5) {
            assert!((5.0..395.0).contains(&x) && (5.0..299.0).contains(&y), "{x}, {y}");
        }
    }
}
