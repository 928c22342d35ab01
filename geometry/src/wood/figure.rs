//! The figure of one blank: every layer put together at one point.
//!
//! # Formula
//! With P the latewood's darkness, q the pixel's share of pores, y its share of rays, each less its
//! mean over a ring, the light of a part of the wood of mean colour c is
//!
//! c·(1 − D k P)·(1 − κ q)·(1 + λ y)·(1 + δ)
//!
//! D: latewood darkening; k: 0.7 + 0.6 (1 − c / max c) for each primary, so that darker wood is
//! also deeper in colour; κ: pore darkening; λ: ray lightness; δ: slow drift, in heartwood also the
//! streaks. Heartwood and sapwood are made so and mixed across the border. Every factor has the
//! mean 1, so c is the mean over a patch.

use super::colour::Colour;
use super::noise::{ease, ramp};
use super::rings::{Growth, Place, Rings};
use super::species::Wood;
use super::{pores, profile, rays};
use nalgebra::{Point3, Vector2};

/// The figure of one blank: a wood with growth rings in it.
#[derive(Debug, Clone)]
pub struct Figure {
    wood: Wood,
    growth: Growth,
    pore_mean: f64,
    heart: Shade,
    sap: Shade,
}

/// One of the two parts of a wood, ready to draw.
#[derive(Debug, Clone, Copy)]
struct Shade {
    mean: [f32; 3],
    /// Latewood darkening of each primary.
    latewood: [f32; 3],
}

impl Shade {
    fn new(mean: Colour, darkening: f32) -> Shade {
        let mean = [mean.r, mean.g, mean.b];
        let most = mean.iter().fold(1.0e-6_f32, |most, c| most.max(*c));
        Shade { mean, latewood: mean.map(|c| darkening * (0.7 + 0.6 * (1.0 - c / most))) }
    }

    /// Light of one primary.
    #[inline]
    fn light(&self, primary: usize, darkness: f32, factor: f32) -> f32 {
        self.mean[primary] * (1.0 - self.latewood[primary] * darkness).max(0.05) * factor
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
            pore_mean: pores::mean(&wood.vessels, growth.width),
            heart: Shade::new(wood.heartwood, wood.latewood.heartwood),
            sap: Shade::new(wood.sapwood, wood.latewood.sapwood),
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
        let grain = if grain.is_nan() { 1.0 } else { grain.clamp(1.0e-3, 1.0e6) };
        let place = self.growth.place(at);
        let ring = self.growth.ring(place.x);
        let darkness = profile::darkness(&self.wood.latewood, &self.growth, &place, &ring, grain);
        let pores = pores::coverage(&self.wood.vessels, &self.growth, &place, &ring, grain, self.pore_mean);
        let rays = self.wood.rays.lightness * rays::coverage(&self.wood.rays, &self.growth, &place, grain)
            + self.wood.fine_rays.lightness * rays::coverage(&self.wood.fine_rays, &self.growth, &place, grain);
        let detail = (1.0 - self.wood.vessels.darkening * pores) * (1.0 + rays) * pith(place.r, grain);
        let heart = self.heartwood_share(&place, grain);
        let (heart_tone, sap_tone) = self.tones(&place);
        let primary = |n: usize| {
            let heartwood = self.heart.light(n, darkness, detail * heart_tone);
            let sapwood = self.sap.light(n, darkness, detail * sap_tone);
            (sapwood + (heartwood - sapwood) * heart).clamp(0.0, 1.0)
        };
        Colour { r: primary(0), g: primary(1), b: primary(2) }
    }

    /// Ring number counted from the pith: real, whole at the latewood edge.
    pub fn ring(&self, at: &Point3<f64>) -> f64 {
        let x = self.growth.place(at).x;
        let ring = self.growth.ring(x);
        ring.number as f64 + (x - ring.start) / ring.width
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
    #[inline]
    fn heartwood_share(&self, place: &Place, grain: f64) -> f32 {
        let border = self.wood.border.max(grain);
        let beyond = self.growth.beyond_heartwood(place);
        let any = ramp(self.growth.heartwood_radius(place.w), 0.0, 2.0);
        any * (1.0 - ease(ramp(beyond, -0.5 * border, 0.5 * border)))
    }

    /// Slow changes of lightness in heartwood and in sapwood; mean 1.
    #[inline]
    fn tones(&self, place: &Place) -> (f32, f32) {
        let drift = self.wood.drift * (0.7 * place.broad[2] + 0.3 * place.close[2]);
        let [runs, years] = place.years;
        let streak = self.wood.streaks * (0.5 * runs[1] + 0.5 * years[1] + 0.4 * place.broad[3]);
        (1.0 + drift + streak, 1.0 + drift)
    }
}

/// The pith itself is a dark spot some 2 mm wide.
#[inline]
fn pith(r: f64, grain: f64) -> f32 {
    let edge = grain.max(0.4);
    let shown = (2.0 / (grain * grain + 2.0)) as f32;
    1.0 - 0.45 * shown * (1.0 - ramp(r, 1.0 - 0.5 * edge, 1.0 + 0.5 * edge))
}
