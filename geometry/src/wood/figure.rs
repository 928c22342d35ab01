//! The figure of one blank: every layer put together at one point. Where its ends were photographed, colours are
//! the photographs' ([`Photographs`]); how the rings run is then still said by the lines on the ends.
//!
//! # Formula
//! With P the latewood's darkness, q the pixel's share of pores, y its share of rays, each less its
//! mean over a ring, the light of a part of the wood of mean colour c is
//!
//! c·(1 − k D P)·(1 − k κ q)·(1 + λ y)·(1 + δ)
//!
//! D: latewood darkening; κ: pore darkening; k: 0.7 + 0.6 (1 − c / max c) for each primary, so
//! that darker wood is also deeper in colour; λ: ray lightness; δ: slow drift, in heartwood also
//! the streaks. Across the border c, k and D pass from heartwood's to sapwood's. Every factor has
//! the mean 1, so c is the mean over a patch, but for what the factors have in common (a few per
//! cent).

use super::colour::Colour;
use super::ends::{Between, Promise};
use super::noise::{Along, ease, hold, hold32, ramp};
use super::photographs::Photographs;
use super::pictured::Block;
use super::pores::{Cells, Grid};
use super::profile::Profile;
use super::rays::Fan;
use super::rings::{Growth, Place, Rings};
use super::slow::{Slow, Smooth, pixels_apart};
use super::species::Wood;
use super::traced::Traced;
use super::years::{Edges, Years};
use nalgebra::{Point3, Vector2};
use std::sync::Arc;

/// The figure of one blank: a wood with growth rings in it.
///
/// ```
/// use nalgebra::{Point2, Point3, Vector2};
/// use quarterturn_geometry::wood::ends::{EndLine, EndLines, Ends, SeenEnds};
/// use quarterturn_geometry::wood::{Figure, Wood};
///
/// // Level rings, 3 mm apart, traced on the near end alone.
/// let line = |n: i32| EndLine { points: [0.0, 50.0].map(|u| Point2::new(u, 3.0 * f64::from(n))).to_vec(), ..EndLine::default() };
/// let near = EndLines { rings: (0..8).map(line).collect(), ..EndLines::default() };
/// let ends = Ends { size: Vector2::new(50.0, 24.0), length: 300.0, near, seen: SeenEnds::Near, ..Ends::default() };
/// let ash = Figure::traced(Wood::named("white ash").unwrap(), ends.join().unwrap(), false, 1);
/// assert!((ash.ring(&Point3::new(20.0, 7.5, 0.0)) - 2.5).abs() < 1e-9);
/// ```
#[derive(Debug, Clone)]
pub struct Figure {
    wood: Wood,
    source: Source,
    profile: Profile,
    grid: Grid,
    fans: [Fan; 2],
    per_border: f64,
    /// Share of heartwood in the whole blank.
    mostly_heart: f32,
    heart: Shade,
    sap: Shade,
    /// Where the ends were photographed, colours are from there; `source` says how the rings run.
    photographs: Option<Arc<Photographs>>,
}

/// Where the figure is from.
#[derive(Debug, Clone)]
enum Source {
    /// Invented about a pith that is known.
    Rings(Growth),
    /// Lines traced on the ends.
    Traced(Box<Traced>),
}

impl Source {
    fn place(&self, at: &Point3<f64>) -> Place {
        let (mut smooth, mut years) = (Smooth::default(), Along::default());
        match self {
            Source::Rings(growth) => growth.place(at, &growth.slow(at, &mut smooth), &mut years),
            Source::Traced(traced) => traced.place(at, &traced.slow(at, &mut smooth), &mut years),
        }
    }

    #[inline(always)]
    fn years(&self) -> &Years {
        match self {
            Source::Rings(growth) => &growth.years,
            Source::Traced(traced) => &traced.years,
        }
    }

    /// Whether the pith is a place in the wood, not only a direction.
    #[inline(always)]
    fn has_pith(&self) -> bool {
        match self {
            Source::Rings(_) => true,
            Source::Traced(traced) => traced.pith_given,
        }
    }
}

/// What is kept from one pixel to the next of one figure: it gives the same colours, sooner.
#[derive(Debug, Default)]
struct Kept {
    edges: Option<Edges>,
    cells: Cells,
}

/// How the rings lie at a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lie {
    /// As [`Figure::ring`] says.
    pub ring: f64,
    /// As [`Figure::beyond_heartwood`] says.
    pub beyond_heartwood: f64,
    /// Unit vector at right angles to the ring in the blank's (u, v), outward; zero where the rings have no direction.
    /// None where it is to be had by differences of [`Figure::ring`] alone.
    pub normal: Option<Vector2<f64>>,
}

/// How far what the ends show may be trusted between them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Trust {
    None,
    Zones,
    Rings,
}

/// How much of the figure may be shown at a place, from 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shown {
    /// Single rings, with their pores and rays. Where they are not shown, strokes give their
    /// direction.
    pub rings: f32,
    /// Heartwood and sapwood apart. Where they are not shown, pencil lines say that nothing is
    /// predicted.
    pub zones: f32,
}

impl Shown {
    /// Nothing of it.
    pub const NOTHING: Shown = Shown { rings: 0.0, zones: 0.0 };
    /// All of it.
    pub const WHOLE: Shown = Shown { rings: 1.0, zones: 1.0 };

    /// As far as it is promised. Single rings fade out while the band widens from a quarter of a
    /// ring to two fifths.
    #[must_use]
    pub fn promised(promise: Promise, half_width: f64) -> Shown {
        match promise {
            Promise::Nothing => Shown::NOTHING,
            Promise::Rings | Promise::Zones => Shown { rings: 1.0 - ramp(half_width, 0.25, 1.0 / 0.15), zones: 1.0 },
        }
    }
}

/// One of the two parts of a wood, ready to draw.
#[derive(Debug, Clone, Copy)]
struct Shade {
    mean: [f32; 3],
    /// k of each primary.
    depth: [f32; 3],
    /// D.
    latewood: f32,
}

impl Shade {
    fn new(mean: Colour, latewood: f32) -> Shade {
        let mean = [mean.r, mean.g, mean.b];
        let most = mean.iter().fold(1.0e-6_f32, |most, c| most.max(*c));
        Shade { mean, depth: mean.map(|c| 0.7 + 0.6 * (1.0 - c / most)), latewood }
    }

    /// The shade the fraction `t` of the way to `other`.
    #[inline(always)]
    fn mix(&self, other: &Shade, t: f32) -> Shade {
        let part = |a: f32, b: f32| a + (b - a) * t;
        Shade {
            mean: std::array::from_fn(|n| part(self.mean[n], other.mean[n])),
            depth: std::array::from_fn(|n| part(self.depth[n], other.depth[n])),
            latewood: part(self.latewood, other.latewood),
        }
    }

    /// Light of the three primaries; `pores` is κ q.
    #[inline(always)]
    fn light(&self, darkness: f32, pores: f32, factor: f32) -> [f32; 3] {
        let dark = self.latewood * darkness;
        std::array::from_fn(|n| {
            let left = (1.0 - self.depth[n] * dark) * (1.0 - self.depth[n] * pores);
            hold32(self.mean[n] * left * factor, 0.0, 1.0)
        })
    }
}

impl Figure {
    /// The figure of a blank of that `length` (mm) whose rings are `rings`.
    ///
    /// Numbers that can't be (NaN, a ring width of 0, a negative radius, a length below 1 mm) are
    /// held to the nearest that can; what a maker typed is checked before it comes here.
    pub fn new(wood: Wood, rings: Rings, length: f64) -> Figure {
        Figure::of(wood, Source::Rings(Growth::new(&rings, length)))
    }

    /// The figure of a blank whose ends were traced: these rings, drawn as that wood grows.
    ///
    /// `sapwood`: whether the wood is sapwood where no line [`super::ends::HEARTWOOD`] was traced.
    /// What tracing leaves to chance (pores, rays, drift, the rings beyond the traced ones) follows
    /// from `seed`.
    pub fn traced(wood: Wood, between: Between, sapwood: bool, seed: u64) -> Figure {
        let size = (between.ends().size, between.ends().length);
        let mut figure = Figure::of(wood, Source::Traced(Box::new(Traced::new(between, sapwood, seed))));
        let part = |n: u32, side: f64| side * (0.125 + 0.25 * f64::from(n));
        let places =
            (0..64_u32).map(|n| Point3::new(part(n % 4, size.0.x), part(n / 4 % 4, size.0.y), part(n / 16, size.1)));
        figure.mostly_heart = places.map(|p| figure.heartwood_share(&figure.source.place(&p), 0.1)).sum::<f32>() / 64.0;
        figure
    }

    fn of(wood: Wood, source: Source) -> Figure {
        let wood = wood.held();
        let Years { seed, width, .. } = source.years();
        Figure {
            profile: Profile::new(&wood.latewood),
            fans: [Fan::new(&wood.rays, seed ^ 0x81), Fan::new(&wood.fine_rays, seed ^ 0x82)],
            grid: Grid::new(&wood.vessels, *width),
            heart: Shade::new(wood.heartwood, wood.latewood.heartwood),
            sap: Shade::new(wood.sapwood, wood.latewood.sapwood),
            per_border: 1.0 / wood.border,
            mostly_heart: 0.5,
            photographs: None,
            wood,
            source,
        }
    }

    /// The same rings, its colours from photographs of the ends. Several blanks alike may share them.
    #[must_use]
    pub fn photographed(mut self, photographs: Arc<Photographs>) -> Figure {
        let mut photographs = photographs;
        if photographs.tones().heartwood.is_none() && photographs.tones().sapwood.is_none() {
            let mut looked = (*photographs).clone();
            looked.look(|at| self.beyond_heartwood(at));
            photographs = Arc::new(looked);
        }
        self.photographs = Some(photographs);
        self
    }

    /// The photographs that its colours are from.
    pub fn photographs(&self) -> Option<&Photographs> {
        self.photographs.as_deref()
    }

    /// Whether an end was traced or photographed: something of the picture may then be promised.
    pub fn is_from_the_wood(&self) -> bool {
        self.between().is_some() || self.photographs.is_some()
    }

    /// The wood it is drawn in.
    pub fn wood(&self) -> &Wood {
        &self.wood
    }

    /// Colour at a point, averaged over about `grain` mm across the grain (the size of a pixel).
    pub fn colour(&self, at: &Point3<f64>, grain: f64) -> Colour {
        self.colour_shown(at, grain, Shown::WHOLE)
    }

    /// The same, with only so much of the figure shown.
    #[inline]
    pub fn colour_shown(&self, at: &Point3<f64>, grain: f64, shown: Shown) -> Colour {
        let grain = hold(grain, 1.0e-3, 1.0e6);
        if let Some(photographs) = &self.photographs {
            return self.colour_photographed(photographs, at, grain, shown);
        }
        self.colour_at(at, &self.source.place(at), grain, shown, &mut Kept::default())
    }

    /// The same where nothing is photographed, near the place that was asked for last.
    #[inline(always)]
    fn colour_at(&self, at: &Point3<f64>, place: &Place, grain: f64, shown: Shown, kept: &mut Kept) -> Colour {
        let years = self.source.years();
        let rays = self.fans[0].light(place, grain) + self.fans[1].light(place, grain);
        let near = self.grid.near(years, place, grain, &mut kept.cells);
        let edges = years.edges_near(place.x, &mut kept.edges);
        let darkness = self.profile.darkness(years, place, edges, grain);
        let pores = self.grid.coverage(near.as_ref(), years, place, edges, grain);
        let pores = self.wood.vessels.darkening * pores;
        let heart = self.heartwood_share(place, grain);
        let pith = if self.source.has_pith() { pith(place.r, grain) } else { 1.0 };
        let factor = (1.0 + rays) * pith * self.tone(place, heart);
        let Shown { rings, zones } = shown;
        let shade = |heart: f32| self.sap.mix(&self.heart, heart);
        let [r, g, b] = if rings >= 1.0 && zones >= 1.0 {
            shade(heart).light(darkness, pores, factor)
        } else {
            let drawn = 1.0 - self.pencil(at, place, grain, shown);
            let heart = self.mostly_heart + (heart - self.mostly_heart) * zones;
            shade(heart).light(darkness * rings, pores * rings, (1.0 + (factor - 1.0) * rings) * drawn)
        };
        Colour { r, g, b }
    }

    /// Draws a whole block at once, as [`Self::colour`] draws each of its points but sooner, and with
    /// differences that no eye sees (a test holds 99 of 100 pixels to a CIEDE2000 of 0.5): sRGB bytes, the first row's
    /// from the first byte on, each next row's `stride` bytes farther.
    ///
    /// Where colours are from photographs, see [`super::Pictured::draw`].
    pub fn draw(&self, block: &Block, bytes: &mut [u8], stride: usize) {
        if let Some(photographs) = &self.photographs {
            let pictured = &photographs.pictured;
            if !pictured.draw(block, bytes, stride) {
                for (row, line) in block.lines(bytes, stride).enumerate() {
                    for (column, pixel) in line.chunks_exact_mut(3).enumerate() {
                        pixel.copy_from_slice(&pictured.colour(&block.at(column, row), block.grain).to_srgb8());
                    }
                }
            }
            return;
        }
        match &self.source {
            Source::Rings(it) => {
                self.draw_rows(block, bytes, stride, |at, kept| it.slow(at, kept), |at, s, kept| it.place(at, s, kept))
            }
            Source::Traced(it) => {
                self.draw_rows(block, bytes, stride, |at, kept| it.slow(at, kept), |at, s, kept| it.place(at, s, kept))
            }
        }
    }

    /// Row by row: what changes slowly is worked out every few pixels.
    #[inline(always)]
    fn draw_rows(
        &self,
        block: &Block,
        bytes: &mut [u8],
        stride: usize,
        slow: impl Fn(&Point3<f64>, &mut Smooth) -> Slow,
        place: impl Fn(&Point3<f64>, &Slow, &mut Along) -> Place,
    ) {
        let (mut smooth, mut years, mut kept) = (Smooth::default(), Along::default(), Kept::default());
        let grain = hold(block.grain, 1.0e-3, 1.0e6);
        let apart = pixels_apart(grain);
        for (row, line) in block.lines(bytes, stride).enumerate() {
            let mut node = slow(&block.at(0, row), &mut smooth);
            for (n, pixels) in line.chunks_mut(3 * apart).enumerate() {
                let (from, count) = (n * apart, pixels.len() / 3);
                let next = slow(&block.at(from + count, row), &mut smooth);
                let (mut here, step) = (node, node.step_to(&next, count));
                for (i, pixel) in pixels.chunks_exact_mut(3).enumerate() {
                    let at = block.at(from + i, row);
                    let place = place(&at, &here, &mut years);
                    pixel.copy_from_slice(&self.colour_at(&at, &place, grain, Shown::WHOLE, &mut kept).to_srgb8());
                    here.add(&step);
                }
                node = next;
            }
        }
    }

    /// The colour out of photographs: where single rings are not shown, that of heartwood or sapwood, or the mean over
    /// some rings; where nothing is, that of the whole.
    fn colour_photographed(&self, photographs: &Photographs, at: &Point3<f64>, grain: f64, shown: Shown) -> Colour {
        let pictured = &photographs.pictured;
        if shown.rings >= 1.0 && shown.zones >= 1.0 {
            return pictured.colour(at, grain);
        }
        let place = self.source.place(at);
        let tones = photographs.tones();
        let zone = match (tones.heartwood, tones.sapwood) {
            (Some(heart), Some(sap)) => sap.mix(heart, self.heartwood_share(&place, grain)),
            _ => pictured.colour(at, grain.max(2.0 * pictured.ring_width())),
        };
        let broad = pictured.mean().mix(zone, shown.zones);
        let Colour { r, g, b } = broad.mix(pictured.colour(at, grain), shown.rings * shown.zones);
        let drawn = 1.0 - self.pencil(at, &place, grain, shown);
        Colour { r: r * drawn, g: g * drawn, b: b * drawn }
    }

    /// How dark the strokes are that stand in for the figure: along the rings where their direction
    /// is known, slanted across the blank where nothing is.
    fn pencil(&self, at: &Point3<f64>, place: &Place, grain: f64, shown: Shown) -> f32 {
        const APART: f64 = 4.0;
        const WIDE: f64 = 0.25;
        let stroke = |x: f64| {
            let from_line = (x / APART - (x / APART).round()).abs() * APART;
            let wide = WIDE.max(grain);
            (WIDE / wide) as f32 * (1.0 - ramp(from_line, 0.5 * wide, 1.0 / wide))
        };
        let interrupted = hold32(0.9 + 4.0 * place.close[0], 0.0, 1.0);
        let direction = stroke(place.x) * interrupted * (1.0 - shown.rings) * shown.zones;
        let slanted = stroke((at.x + at.y + at.z) * std::f64::consts::FRAC_1_SQRT_2) * (1.0 - shown.zones);
        0.16 * direction + 0.22 * slanted
    }

    /// Ring number: real, whole at the latewood edge; counted from the pith, or from the first line
    /// that was traced on the near end.
    pub fn ring(&self, at: &Point3<f64>) -> f64 {
        let x = self.source.place(at).x;
        self.source.years().edges(x).ring(x)
    }

    /// A measure that grows from the pith outward and is level along each ring: its slope across the
    /// grain is the ring normal. Without a unit where rings were traced, else mm.
    pub fn outward(&self, at: &Point3<f64>) -> f64 {
        self.source.place(at).x
    }

    /// Signed distance outside the heartwood line, mm: above 0 in sapwood.
    pub fn beyond_heartwood(&self, at: &Point3<f64>) -> f64 {
        self.source.place(at).beyond_heartwood
    }

    /// How the rings lie at a point, all at once.
    pub fn lie(&self, at: &Point3<f64>) -> Lie {
        let place = self.source.place(at);
        let normal = match &self.source {
            Source::Rings(_) => None,
            Source::Traced(_) => Some(place.outward),
        };
        Lie { ring: self.source.years().edges(place.x).ring(place.x), beyond_heartwood: place.beyond_heartwood, normal }
    }

    /// Whether single rings are promised at a point: [`Self::promise`], sooner where they are not.
    pub fn promises_rings(&self, at: &Point3<f64>) -> bool {
        self.trusted().is_some_and(|between| between.promises_rings(at))
    }

    /// How far the figure wanders per mm of length, du/dw and dv/dw: the slope of the pith line.
    pub fn wander(&self) -> Vector2<f64> {
        match &self.source {
            Source::Rings(growth) => growth.wander,
            Source::Traced(traced) => traced.wander,
        }
    }

    /// What the picture promises at a point. Rings about a known pith are invented, so that only
    /// their direction and the heartwood line are promised.
    pub fn promise(&self, at: &Point3<f64>) -> Promise {
        match self.trust() {
            Trust::None => Promise::Nothing,
            Trust::Rings => self.between().map_or(Promise::Zones, |between| between.promise(at)),
            Trust::Zones => self.between().map_or(Promise::Zones, |between| match between.promise(at) {
                Promise::Rings => Promise::Zones,
                less => less,
            }),
        }
    }

    /// How far photographs are followed: where their rings are not, nothing is promised; where they may be others,
    /// no single rings.
    fn trust(&self) -> Trust {
        match &self.photographs {
            Some(photographs) if photographs.not_followed.is_some() => Trust::None,
            Some(photographs) if photographs.unsure() => Trust::Zones,
            _ => Trust::Rings,
        }
    }

    /// Half-width of the band that holds 95 % of points, in rings; without end where no ring was
    /// traced.
    pub fn half_width(&self, at: &Point3<f64>) -> f64 {
        self.trusted().map_or(f64::INFINITY, |between| between.half_width(at))
    }

    /// How much may be shown at a point.
    pub fn shown(&self, at: &Point3<f64>) -> Shown {
        let shown = self.between().map_or(Shown { rings: 0.0, zones: 1.0 }, |between| {
            let (promise, half_width) = between.promise_and_half_width(at);
            Shown::promised(promise, half_width)
        });
        match self.trust() {
            Trust::None => Shown::NOTHING,
            Trust::Zones => Shown { rings: 0.0, ..shown },
            Trust::Rings => shown,
        }
    }

    /// The model between the ends, where single rings of it may be trusted.
    fn trusted(&self) -> Option<&Between> {
        self.between().filter(|_| self.trust() == Trust::Rings)
    }

    /// The model between the ends, where they were traced.
    pub fn between(&self) -> Option<&Between> {
        match &self.source {
            Source::Rings(_) => None,
            Source::Traced(traced) => Some(traced.between()),
        }
    }

    /// Share of heartwood: from 1 to 0 across the border; a heart of no radius is none.
    #[inline(always)]
    fn heartwood_share(&self, place: &Place, grain: f64) -> f32 {
        let per_border = self.per_border.min(1.0 / grain);
        place.any_heart * (1.0 - ease(ramp(place.beyond_heartwood * per_border, -0.5, 1.0)))
    }

    /// Slow changes of lightness, streaks only in heartwood; mean 1.
    #[inline(always)]
    fn tone(&self, place: &Place, heart: f32) -> f32 {
        let drift = self.wood.drift * (0.7 * place.broad[2] + 0.3 * place.close[2]);
        let streak = self.wood.streaks * (0.8 * place.years[1] + 0.4 * place.broad[3]);
        1.0 + drift + streak * heart
    }
}

/// The pith itself is a dark spot some 2 mm wide.
#[inline(always)]
fn pith(r: f64, grain: f64) -> f32 {
    let edge = grain.max(0.4);
    if r > 1.0 + 0.5 * edge {
        return 1.0;
    }
    let shown = (2.0 / (grain * grain + 2.0)) as f32;
    1.0 - 0.45 * shown * (1.0 - ramp(r, 1.0 - 0.5 * edge, 1.0 / edge))
}
