//! More known woods, drawn as those of `known`: colours, pores, rays and rings are our own choice by
//! eye, for oiled end grain; common practice, no source.

use super::known::{diffuse, late, rays, ring_porous, semi_ring, wood};
use super::species::Wood;

pub(super) fn table() -> Vec<Wood> {
    let mut all = grown_in_america();
    all.extend(imported());
    all
}

fn grown_in_america() -> Vec<Wood> {
    vec![
        Wood {
            latewood: late(0.45, 0.2, 0.35, 0.34, 0.28),
            vessels: ring_porous(0.46, 0.28, 0.12, 0.5, 0.26, 0.5),
            fine_rays: rays(0.4, 0.035, 6.0, 1.0, 0.1),
            streaks: 0.2,
            drift: 0.09,
            ..wood("pecan", [134, 92, 62], [208, 180, 138])
        },
        Wood {
            latewood: late(0.5, 0.25, 0.25, 0.28, 0.22),
            vessels: ring_porous(0.34, 0.22, 0.09, 0.42, 0.55, 0.5),
            fine_rays: rays(0.4, 0.045, 6.0, 1.0, 0.12),
            streaks: 0.18,
            ..wood("elm", [132, 96, 66], [194, 164, 122])
        },
        Wood {
            latewood: late(0.45, 0.25, 0.3, 0.26, 0.22),
            vessels: ring_porous(0.38, 0.25, 0.09, 0.7, 0.5, 0.46),
            fine_rays: rays(0.38, 0.05, 6.0, 1.0, 0.14),
            streaks: 0.14,
            ..wood("hackberry", [162, 128, 92], [198, 174, 130])
        },
        Wood {
            latewood: late(0.3, 0.7, 0.0, 0.22, 0.18),
            vessels: diffuse(0.18, 0.065, 0.7, 0.24),
            rays: rays(0.7, 0.13, 18.0, 4.0, 0.24),
            fine_rays: rays(0.35, 0.05, 8.0, 1.0, 0.14),
            streaks: 0.14,
            ..wood("sycamore", [150, 106, 76], [202, 166, 124])
        },
        Wood {
            latewood: late(0.4, 0.6, 0.0, 0.18, 0.14),
            vessels: diffuse(0.16, 0.055, 0.7, 0.24),
            fine_rays: rays(0.32, 0.035, 8.0, 0.8, 0.1),
            streaks: 0.26,
            drift: 0.07,
            border: 2.2,
            ..wood("sweetgum", [122, 78, 56], [200, 164, 124])
        },
        Wood {
            latewood: late(0.35, 0.65, 0.0, 0.2, 0.18),
            vessels: diffuse(0.17, 0.06, 0.68, 0.22),
            rays: rays(7.0, 0.25, 30.0, 12.0, -0.1),
            fine_rays: rays(0.32, 0.03, 6.0, 0.6, 0.08),
            border: 3.0,
            ..wood("red alder", [160, 108, 70], [180, 132, 90])
        },
        Wood {
            latewood: late(0.6, 0.4, 0.0, 0.3, 0.2),
            vessels: semi_ring(0.46, 0.22, 0.09, [0.58, 0.32], 0.5),
            fine_rays: rays(0.35, 0.035, 7.0, 0.8, 0.1),
            streaks: 0.18,
            ..wood("butternut", [138, 100, 66], [208, 182, 140])
        },
        Wood {
            latewood: late(0.35, 0.65, 0.0, 0.16, 0.13),
            vessels: diffuse(0.17, 0.06, 0.7, 0.18),
            fine_rays: rays(0.4, 0.05, 8.0, 1.0, 0.1),
            border: 3.0,
            ..wood("basswood", [182, 148, 106], [212, 184, 140])
        },
        Wood {
            latewood: late(0.1, 0.9, 0.0, -0.16, -0.08),
            vessels: diffuse(0.16, 0.055, 0.7, 0.22),
            fine_rays: rays(0.35, 0.045, 8.0, 0.8, 0.12),
            streaks: 0.24,
            drift: 0.07,
            ..wood("yellow-poplar", [124, 108, 72], [212, 194, 148])
        },
    ]
}

fn imported() -> Vec<Wood> {
    vec![
        Wood {
            latewood: late(0.15, 0.85, 0.0, -0.26, -0.12),
            vessels: diffuse(0.5, 0.16, 0.5, 0.5),
            fine_rays: rays(0.35, 0.045, 8.0, 0.6, 0.1),
            streaks: 0.14,
            ..wood("mahogany", [126, 68, 42], [206, 176, 134])
        },
        Wood {
            latewood: late(0.75, 0.25, 0.0, 0.18, 0.12),
            vessels: diffuse(0.56, 0.19, 0.45, 0.52),
            fine_rays: rays(0.38, 0.05, 8.0, 0.6, 0.1),
            streaks: 0.2,
            ..wood("african mahogany", [136, 80, 54], [204, 172, 132])
        },
        Wood {
            latewood: late(0.25, 0.75, 0.0, -0.2, -0.08),
            vessels: diffuse(0.72, 0.17, 0.4, 0.5),
            fine_rays: rays(0.32, 0.035, 8.0, 0.6, 0.08),
            streaks: 0.26,
            ..wood("jatoba", [118, 58, 34], [202, 180, 148])
        },
        Wood {
            latewood: late(0.75, 0.25, 0.0, 0.24, 0.14),
            vessels: diffuse(0.8, 0.26, 0.42, 0.4),
            fine_rays: rays(0.4, 0.05, 8.0, 0.8, 0.1),
            streaks: 0.24,
            ..wood("iroko", [132, 92, 48], [206, 182, 136])
        },
    ]
}
