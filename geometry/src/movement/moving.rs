//! How the pieces of a board move over the seasons, and where neighbours disagree.

use super::{Coefficient, Moisture, Seasons, USUAL, across, change};
use crate::board::{Board, Piece};
use crate::stock::{LaidBlank, Seen};
use nalgebra::Point3;

/// A direction of the board's face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Along {
    /// X.
    Length,
    /// Y.
    Width,
}

/// One piece and how it moves.
#[derive(Clone, Debug, PartialEq)]
pub struct MovedPiece {
    /// Where it lies.
    pub piece: Piece,
    /// Its wood's name.
    pub wood: String,
    /// Whether how its rings lie is only a guess: neither end was seen.
    pub guessed: bool,
    /// Along X and along Y, by how its rings lie; `None` where no coefficient is published.
    pub coefficients: Option<[Coefficient; 2]>,
    /// How much it grows from the driest season to the dampest along X and along Y, were it free, mm.
    pub grows: Option<[f64; 2]>,
}

/// Two neighbours that want different things of the glue line between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mismatch {
    /// Both, by their place in [`Moving::pieces`]: the one that wants more first.
    pub pieces: [usize; 2],
    /// The direction in which they are compared: along the glue line.
    pub along: Along,
    /// How much of the glue line they share, mm.
    pub shared: f64,
    /// How much more the first grows over that than the second, from the driest season to the
    /// dampest, mm.
    pub wants: f64,
}

/// Woods of a board for which no coefficient is published.
pub type Unknown = Vec<String>;

/// How a board moves between its driest and its dampest season.
#[derive(Clone, Debug, PartialEq)]
pub struct Moving {
    /// The driest and the dampest season's names.
    pub seasons: [String; 2],
    /// What wood comes to in them.
    pub moisture: [Moisture; 2],
    /// The moisture content at which the board is made: the mean of what was measured.
    pub made: Moisture,
    /// Every piece.
    pub pieces: Vec<MovedPiece>,
    /// Every glue line between two pieces whose woods are known, what disagrees most first.
    pub mismatches: Vec<Mismatch>,
    /// From the size when made to that in each of the two seasons: length, then width, mm; `None`
    /// where a wood isn't known.
    pub board: Option<[[f64; 2]; 2]>,
    /// The woods that aren't known.
    pub unknown: Unknown,
}

impl Moving {
    /// Of a board over the seasons; `None` where there are none.
    ///
    /// The board's length and width change by the mean over its face of what its pieces do: every
    /// piece is taken to be as stiff as the next.
    #[must_use]
    pub fn of(board: &Board, seasons: &Seasons) -> Option<Self> {
        let [dry, damp] = seasons.extremes()?;
        let moisture = [dry.1, damp.1];
        let boxes = board.pieces();
        let pieces: Vec<MovedPiece> = boxes.into_iter().filter_map(|piece| moved(board, piece, moisture)).collect();
        let mut unknown: Unknown = pieces.iter().filter(|p| p.coefficients.is_none()).map(|p| p.wood.clone()).collect();
        unknown.sort();
        unknown.dedup();
        let mut mismatches = mismatches(&pieces);
        mismatches.sort_by(|a, b| b.wants.total_cmp(&a.wants));
        Some(Self {
            seasons: [dry.0.name.clone(), damp.0.name.clone()],
            moisture,
            made: made(board),
            board: whole(board, &pieces, moisture),
            pieces,
            mismatches,
            unknown,
        })
    }

    /// How much longer and wider the board is in the dampest season than in the driest, mm.
    #[must_use]
    pub fn grows(&self) -> Option<[f64; 2]> {
        let [dry, damp] = self.board?;
        Some([damp[0] - dry[0], damp[1] - dry[1]])
    }

    /// What the neighbours at a glue line want, in plain words: `shown` is the difference as the
    /// maker reads it.
    #[must_use]
    pub fn reading(&self, mismatch: &Mismatch, shown: &str) -> String {
        let [more, less] = mismatch.pieces.map(|i| &self.pieces[i]);
        let place = |p: &MovedPiece| format!("strip {}, blank {}", p.piece.place + 1, p.piece.blank + 1);
        let along = match mismatch.along {
            Along::Length => "length",
            Along::Width => "width",
        };
        format!(
            "this {} piece ({}) wants {shown} more than its {} neighbour ({}) along the board's {along} from {} to {}",
            more.wood,
            place(more),
            less.wood,
            place(less),
            self.seasons[0],
            self.seasons[1],
        )
    }
}

fn laid<'a>(board: &'a Board, piece: &Piece) -> Option<&'a LaidBlank> {
    let strip = board.strips().get(piece.place)?;
    board.panels().get(strip.place.panel)?.blanks.get(piece.blank)
}

fn moved(board: &Board, piece: Piece, [dry, damp]: [Moisture; 2]) -> Option<MovedPiece> {
    let blank = &laid(board, &piece)?.blank;
    let wood = blank.figure.wood();
    let known = wood.data().and_then(|data| Coefficient::both(&data.movement()));
    let coefficients = known.map(|both| along_the_face(board, &piece, both));
    let made = blank.moisture.map_or(USUAL, Moisture);
    let size = piece.high - piece.low;
    let grows = coefficients
        .map(|[x, y]| [(size.x, x), (size.y, y)].map(|(l, c)| change(l, c, made, damp) - change(l, c, made, dry)));
    Some(MovedPiece { piece, wood: wood.name.clone(), guessed: blank.seen == Seen::Nothing, coefficients, grows })
}

/// Where the rings are looked at in a piece, as shares of its sides.
const LOOKED_AT: [f64; 3] = [1.0 / 6.0, 0.5, 5.0 / 6.0];

/// The coefficients along X and Y: the mean over the piece by its ring normals, half-way through it.
fn along_the_face(board: &Board, piece: &Piece, both: [Coefficient; 2]) -> [Coefficient; 2] {
    let size = piece.high - piece.low;
    // Half the distance over which the rings' direction is read, mm: within the piece.
    let half = (size.x.min(size.y) / 12.0).min(1.0);
    let outward = |x: f64, y: f64| {
        let at = Point3::new(x, y, piece.low.z + size.z / 2.0);
        let spot = board.spot_in(piece.place, &at)?;
        Some(board.blank_at(&spot)?.figure.outward(&spot.at))
    };
    let (mut cosine_squared, mut seen) = (0.0, 0.0);
    for (i, j) in (0..9).map(|n| (n % 3, n / 3)) {
        let (x, y) = (piece.low.x + size.x * LOOKED_AT[i], piece.low.y + size.y * LOOKED_AT[j]);
        let slope = |a: Option<f64>, b: Option<f64>| a.zip(b).map(|(a, b)| b - a);
        let along_x = slope(outward(x - half, y), outward(x + half, y));
        let along_y = slope(outward(x, y - half), outward(x, y + half));
        if let Some((dx, dy)) = along_x.zip(along_y).filter(|(dx, dy)| dx.hypot(*dy) > 0.0) {
            cosine_squared += dx * dx / (dx * dx + dy * dy);
            seen += 1.0;
        }
    }
    // At the pith itself rings have no one direction: half and half.
    let x = if seen > 0.0 { cosine_squared / seen } else { 0.5 };
    [across(both, x), across(both, 1.0 - x)]
}

fn mismatches(pieces: &[MovedPiece]) -> Vec<Mismatch> {
    let mut all = Vec::new();
    let places = pieces.last().map_or(0, |p| p.piece.place + 1);
    let starts: Vec<usize> = (0..=places).map(|place| pieces.partition_point(|p| p.piece.place < place)).collect();
    for (place, bounds) in starts.windows(2).enumerate() {
        let here: Vec<usize> = (bounds[0]..bounds[1]).collect();
        let next: Vec<usize> = starts.get(place + 2).map_or(Vec::new(), |end| (bounds[1]..*end).collect());
        for (n, a) in here.iter().enumerate() {
            let beside = here[n + 1..].iter().filter(|b| touch(&pieces[*a].piece, &pieces[**b].piece, Along::Length));
            all.extend(beside.filter_map(|b| mismatch(pieces, [*a, *b], Along::Length)));
            let across = next.iter().filter(|b| touch(&pieces[*a].piece, &pieces[**b].piece, Along::Width));
            all.extend(across.filter_map(|b| mismatch(pieces, [*a, *b], Along::Width)));
        }
    }
    all
}

/// Distances under this are rounding, mm.
const SAME: f64 = 1e-6;

/// The stretch of the glue line that two pieces share, mm.
fn shared(a: &Piece, b: &Piece, along: Along) -> f64 {
    match along {
        Along::Length => a.high.x.min(b.high.x) - a.low.x.max(b.low.x),
        Along::Width => a.high.y.min(b.high.y) - a.low.y.max(b.low.y),
    }
}

fn touch(a: &Piece, b: &Piece, along: Along) -> bool {
    let apart = match along {
        Along::Length => (a.high.y - b.low.y).abs().min((b.high.y - a.low.y).abs()),
        Along::Width => (a.high.x - b.low.x).abs(),
    };
    apart < SAME && shared(a, b, along) > SAME
}

fn mismatch(pieces: &[MovedPiece], [a, b]: [usize; 2], along: Along) -> Option<Mismatch> {
    let (one, other) = (&pieces[a], &pieces[b]);
    let direction = usize::from(along == Along::Width);
    let shared = shared(&one.piece, &other.piece, along);
    let size = |p: &Piece| if along == Along::Length { p.high.x - p.low.x } else { p.high.y - p.low.y };
    let of = |p: &MovedPiece| Some(p.grows?[direction] * shared / size(&p.piece));
    let wants = of(one)? - of(other)?;
    let pieces = if wants >= 0.0 { [a, b] } else { [b, a] };
    Some(Mismatch { pieces, along, shared, wants: wants.abs() })
}

/// The mean moisture content at which the board is made, by the pieces' share of its face.
fn made(board: &Board) -> Moisture {
    let (mut sum, mut area) = (0.0, 0.0);
    for piece in board.pieces() {
        let size = piece.high - piece.low;
        let moisture = laid(board, &piece).and_then(|l| l.blank.moisture).unwrap_or(USUAL.0);
        sum += moisture * size.x * size.y;
        area += size.x * size.y;
    }
    Moisture(if area > 0.0 { sum / area } else { USUAL.0 })
}

/// The board's change of length and width from when it is made to each season.
fn whole(board: &Board, pieces: &[MovedPiece], moisture: [Moisture; 2]) -> Option<[[f64; 2]; 2]> {
    let size = board.finished();
    let mut changes = [[0.0; 2]; 2];
    for moved in pieces {
        let made = laid(board, &moved.piece).and_then(|l| l.blank.moisture).map_or(USUAL, Moisture);
        let side = moved.piece.high - moved.piece.low;
        let [x, y] = moved.coefficients?;
        for (to, sum) in moisture.into_iter().zip(&mut changes) {
            sum[0] += change(side.x, x, made, to) * side.y / size.width;
            sum[1] += change(side.y, y, made, to) * side.x / size.length;
        }
    }
    Some(changes)
}
