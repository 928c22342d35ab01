//! The figure of one blank: every layer put together at one point.
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
use super::noise::{ease, hold, hold32, ramp};
use super::pores::Grid;
use super::profile::Profile;
use super::rays::Fan;
use super::rings::{Growth, Place, Rings};
use super::species::Wood;
use nalgebra::{Point3, Vector2};

/// The figure of one blank: a wood with growth rings in it.
#[derive(Debug, Clone)]
pub struct Figure {
    wood: Wood,
    growth: Growth,
    profile: Profile,
    grid: Grid,
    fans: [Fan; 2],
    per_border: f64,
    heart: Shade,
    sap: Shade,
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
        let wood = wood.held();
        let growth = Growth::new(&rings, length);
        Figure {
            profile: Profile::new(&wood.latewood),
            fans: [Fan::new(&wood.rays, growth.seed ^ 0x81), Fan::new(&wood.fine_rays, growth.seed ^ 0x82)],
            grid: Grid::new(&wood.vessels, growth.width),
            heart: Shade::new(wood.heartwood, wood.latewood.heartwood),
            sap: Shade::new(wood.sapwood, wood.latewood.sapwood),
            per_border: 1.0 / wood.border,
            wood,
            growth,
        }
    }

    /// The wood it is drawn in.
    pub fn wood(&self) -> &Wood {
        &self.wood
    }

    /// Colour at a point, averaged over about `grain` mm across the grain (the size of a pixel).
    pub fn colour(&self, at: &Point3<f64>, grain: f64) -> Colour {
        let grain = hold(grain, 1.0e-3, 1.0e6);
        let place = self.growth.place(at);
        let rays = self.fans[0].light(&place, grain) + self.fans[1].light(&place, grain);
        let near = self.grid.near(&self.growth, &place, grain);
        let edges = self.growth.edges(place.x);
        let darkness = self.profile.darkness(&self.growth, &place, &edges, grain);
        let pores = self.grid.coverage(near.as_ref(), &self.growth, &place, &edges, grain);
        let pores = self.wood.vessels.darkening * pores;
        let heart = self.heartwood_share(&place, grain);
        let factor = (1.0 + rays) * pith(place.r, grain) * self.tone(&place, heart);
        let [r, g, b] = self.sap.mix(&self.heart, heart).light(darkness, pores, factor);
        Colour { r, g, b }
    }

    /// Ring number counted from the pith: real, whole at the latewood edge.
    pub fn ring(&self, at: &Point3<f64>) -> f64 {
        let x = self.growth.place(at).x;
        let edges = self.growth.edges(x);
        edges.number() as f64 + (x - edges.start()) / edges.width()
    }

    /// Signed distance outside the heartwood line, mm: above 0 in sapwood.
    pub fn beyond_heartwood(&self, at: &Point3<f64>) -> f64 {
        self.growth.beyond_heartwood(&self.growth.place(at))
    }

    /// Slope of the pith line, du/dw and dv/dw: how far the figure wanders per mm of length.
    pub fn wander(&self) -> Vector2<f64> {
        self.growth.wander
    }

    /// Share of heartwood: from 1 to 0 across the border; a heart of no radius is none.
    #[inline(always)]
    fn heartwood_share(&self, place: &Place, grain: f64) -> f32 {
        let per_border = self.per_border.min(1.0 / grain);
        let any = ramp(self.growth.heartwood_radius(place.w), 0.0, 0.5);
        any * (1.0 - ease(ramp(self.growth.beyond_heartwood(place) * per_border, -0.5, 1.0)))
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
