//! The table of known woods. Colours, pores, rays and rings are our own choice by eye, for oiled
//! end grain; common practice, no source.

use super::colour::Colour;
use super::species::{Latewood, Pores, RayLines, Vessels, Wood};
use std::sync::OnceLock;

pub(super) fn woods() -> &'static [Wood] {
    static WOODS: OnceLock<Vec<Wood>> = OnceLock::new();
    WOODS.get_or_init(table)
}

pub(super) fn late(body: f64, line: f64, dense: f64, heartwood: f32, sapwood: f32) -> Latewood {
    Latewood { body, line, dense, heartwood, sapwood }
}

pub(super) fn rays(spacing: f64, width: f64, length: f64, height: f64, lightness: f32) -> RayLines {
    RayLines { spacing, width, length, height, lightness }
}

pub(super) fn diffuse(cell: f64, diameter: f64, chance: f64, darkening: f32) -> Vessels {
    Vessels {
        pores: Pores::Diffuse,
        cell,
        early: diameter,
        late: diameter,
        early_chance: chance,
        late_chance: chance,
        band: 1.0,
        darkening,
    }
}

pub(super) fn semi_ring(cell: f64, early: f64, late: f64, chances: [f64; 2], darkening: f32) -> Vessels {
    let [early_chance, late_chance] = chances;
    Vessels { pores: Pores::SemiRing, cell, early, late, early_chance, late_chance, band: 1.0, darkening }
}

pub(super) fn ring_porous(cell: f64, early: f64, late: f64, band: f64, late_chance: f64, darkening: f32) -> Vessels {
    Vessels { pores: Pores::Ring, cell, early, late, early_chance: 0.92, late_chance, band, darkening }
}

pub(super) fn wood(name: &str, heartwood: [u8; 3], sapwood: [u8; 3]) -> Wood {
    Wood::of_colours(name, Colour::from_srgb8(heartwood), Colour::from_srgb8(sapwood))
}

/// What a wood is where nothing else is said.
pub(super) fn plain() -> Wood {
    Wood {
        name: String::new(),
        heartwood: Colour { r: 0.3, g: 0.15, b: 0.07 },
        sapwood: Colour { r: 0.6, g: 0.42, b: 0.25 },
        latewood: late(0.5, 0.5, 0.0, 0.3, 0.2),
        vessels: diffuse(0.2, 0.07, 0.6, 0.3),
        rays: rays(1.2, 0.06, 12.0, 3.0, 0.0),
        fine_rays: rays(0.35, 0.04, 8.0, 1.0, 0.12),
        streaks: 0.1,
        drift: 0.06,
        border: 1.4,
    }
}

fn table() -> Vec<Wood> {
    let mut all = first();
    all.extend(super::known_too::table());
    all
}

fn first() -> Vec<Wood> {
    vec![
        Wood {
            latewood: late(0.6, 0.4, 0.0, 0.36, 0.2),
            vessels: semi_ring(0.42, 0.2, 0.08, [0.6, 0.35], 0.6),
            streaks: 0.28,
            drift: 0.1,
            ..wood("black walnut", [78, 52, 38], [196, 166, 124])
        },
        Wood {
            latewood: late(0.15, 0.85, 0.0, 0.3, 0.24),
            vessels: diffuse(0.2, 0.07, 0.6, 0.22),
            fine_rays: rays(0.4, 0.05, 10.0, 1.0, 0.12),
            streaks: 0.16,
            ..wood("hard maple", [148, 108, 72], [214, 182, 136])
        },
        Wood {
            latewood: late(0.2, 0.8, 0.0, 0.26, 0.2),
            vessels: diffuse(0.2, 0.075, 0.65, 0.26),
            fine_rays: rays(0.35, 0.04, 8.0, 0.8, 0.1),
            streaks: 0.18,
            ..wood("soft maple", [140, 108, 80], [204, 172, 130])
        },
        Wood {
            latewood: late(0.35, 0.65, 0.0, 0.34, 0.22),
            vessels: diffuse(0.2, 0.07, 0.65, 0.3),
            fine_rays: rays(0.4, 0.05, 10.0, 1.0, 0.16),
            streaks: 0.14,
            ..wood("black cherry", [146, 84, 50], [208, 166, 122])
        },
        Wood {
            latewood: late(0.6, 0.4, 0.0, 0.2, 0.16),
            vessels: ring_porous(0.38, 0.27, 0.07, 0.75, 0.4, 0.62),
            rays: rays(3.0, 0.3, 40.0, 25.0, 0.4),
            fine_rays: rays(0.5, 0.08, 5.0, 3.0, 0.2),
            ..wood("white oak", [148, 114, 74], [192, 164, 122])
        },
        Wood {
            latewood: late(0.6, 0.4, 0.0, 0.2, 0.16),
            vessels: ring_porous(0.38, 0.3, 0.09, 0.9, 0.3, 0.66),
            rays: rays(2.6, 0.25, 30.0, 15.0, 0.36),
            fine_rays: rays(0.5, 0.07, 5.0, 3.0, 0.18),
            ..wood("red oak", [160, 116, 82], [198, 164, 124])
        },
        Wood {
            latewood: late(0.2, 0.1, 0.7, 0.5, 0.42),
            vessels: ring_porous(0.38, 0.25, 0.08, 0.7, 0.25, 0.42),
            fine_rays: rays(0.4, 0.04, 6.0, 1.0, 0.1),
            streaks: 0.12,
            ..wood("white ash", [152, 120, 84], [206, 178, 134])
        },
        Wood {
            latewood: late(0.2, 0.8, 0.0, 0.28, 0.2),
            vessels: diffuse(0.23, 0.1, 0.55, 0.28),
            fine_rays: rays(0.35, 0.035, 8.0, 0.8, 0.08),
            ..wood("yellow birch", [164, 114, 72], [212, 180, 134])
        },
        Wood {
            latewood: late(0.45, 0.55, 0.0, 0.3, 0.24),
            vessels: diffuse(0.18, 0.065, 0.7, 0.26),
            rays: rays(0.9, 0.12, 14.0, 3.0, 0.22),
            fine_rays: rays(0.35, 0.04, 6.0, 1.0, 0.1),
            ..wood("beech", [172, 120, 82], [204, 162, 118])
        },
        Wood {
            latewood: late(0.4, 0.2, 0.4, 0.4, 0.32),
            vessels: ring_porous(0.44, 0.27, 0.11, 0.6, 0.22, 0.5),
            fine_rays: rays(0.4, 0.035, 6.0, 1.0, 0.1),
            streaks: 0.2,
            drift: 0.09,
            ..wood("hickory", [142, 96, 60], [210, 180, 134])
        },
        Wood {
            latewood: late(0.8, 0.2, 0.0, 0.22, 0.12),
            vessels: diffuse(0.42, 0.13, 0.5, 0.5),
            fine_rays: rays(0.35, 0.035, 8.0, 0.8, 0.08),
            streaks: 0.16,
            ..wood("purpleheart", [88, 38, 66], [206, 184, 150])
        },
        Wood {
            latewood: late(0.85, 0.15, 0.0, 0.3, 0.12),
            vessels: diffuse(0.7, 0.24, 0.45, 0.6),
            fine_rays: rays(0.3, 0.03, 6.0, 0.4, 0.08),
            streaks: 0.26,
            ..wood("padauk", [130, 46, 24], [214, 190, 150])
        },
        Wood {
            latewood: late(0.6, 0.4, 0.0, 0.24, 0.16),
            vessels: diffuse(0.42, 0.15, 0.6, 0.5),
            fine_rays: rays(0.35, 0.045, 8.0, 0.8, 0.12),
            streaks: 0.2,
            ..wood("sapele", [114, 60, 40], [196, 158, 122])
        },
        Wood {
            latewood: late(0.5, 0.3, 0.2, 0.32, 0.2),
            vessels: ring_porous(0.48, 0.27, 0.1, 0.45, 0.35, 0.55),
            fine_rays: rays(0.45, 0.05, 8.0, 1.0, 0.12),
            streaks: 0.24,
            ..wood("teak", [138, 98, 54], [204, 178, 134])
        },
    ]
}
