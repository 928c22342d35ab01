"""OpenCV and scikit-image judge photographs of ends made flat, and the corners that are found in them.

Clean photographs are rendered here, from a flat picture of wood that is known, through a known projective map: several
pictures of wood to a pixel of the photograph, so that it shows what a camera would. Ours is what `photo-cases` makes.

- Flat: against the known picture, the PSNR of ours is at least 30 dB, and at most 0.1 dB less than that of OpenCV's
  warpPerspective (bilinear, from the same corners), and of scikit-image's warp (order 1).
- Corners: found in each within 2 pixels, with blur and noise too.
- Speed: an end of 12 million pixels made flat, against warpPerspective, one thread, the same interpolation, one after
  the other several times in one run, the least time of each.

Usage: photographs.py PHOTO_CASES, the program.
"""

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import cv2
import numpy as np
from skimage.transform import ProjectiveTransform, warp

import judge as common

cv2.setNumThreads(1)
PHOTOGRAPH = (1200, 900)
SIZE = (60.0, 40.0)  # of the end, mm
FLAT = (720, 480)  # pixels of the flat picture
FINER = 4  # the known wood is drawn so much finer
TIMES = 3  # and the photograph rendered so much larger
LEAST_PSNR, MARGIN, NEAR = 30.0, 0.1, 2.0
# Lower right, lower left, upper left, upper right: the near end, the marked corner first.
ENDS = {
    "square on": [[960, 690], [240, 690], [240, 210], [960, 210]],
    "from the left": [[985.4, 701.7], [214.2, 655.3], [221.9, 251.6], [961.1, 170.8]],
    "turned": [[820.3, 780.6], [170.7, 520.2], [385.5, 130.9], [1010.8, 330.4]],
}
SOILED = {"clean": (0, 0), "blurred": (2.0, 2), "noisy": (1.0, 8), "blurred and noisy": (3.0, 8)}


def wood(width, height):
    """Rings, heartwood and sapwood, rows from the top, v up: sRGB floats."""
    rows, columns = np.mgrid[0:height, 0:width]
    u, v = (columns + 0.5) / width * SIZE[0], SIZE[1] - (rows + 0.5) / height * SIZE[1]
    radius = np.hypot(u - 22, v + 24) + 0.5 * np.sin(u / 6) + 0.4 * np.sin(v / 5 + 1)
    late = np.clip((radius / 2.1 % 1 - 0.5) / 0.45, 0, 1) ** 2
    heart = 1 / (1 + np.exp((radius - 46) / 0.4))
    colour = np.stack([206 - 100 * heart, 176 - 102 * heart, 134 - 84 * heart], axis=-1)
    return (colour * (1 - 0.3 * late[..., None])).astype(np.float32)


def mean_of(picture, by):
    """Each `by` × `by` pixels as one."""
    height, width = picture.shape[:2]
    return picture.reshape(height // by, by, width // by, by, -1).mean(axis=(1, 3))


def seen(corners):
    """The end as a perfect camera sees it, on a pale ground that is lit from one side: floats."""
    fine = wood(FLAT[0] * FINER, FLAT[1] * FINER)
    # The near end: u runs to the left as seen, so that the known picture's lower left is the first corner.
    flat = np.float32([[0, 1], [1, 1], [1, 0], [0, 0]]) * np.float32([fine.shape[1], fine.shape[0]])
    to = (np.float32(corners) * TIMES).astype(np.float32)
    matrix = cv2.getPerspectiveTransform(flat - 0.5, to - 0.5)
    width, height = PHOTOGRAPH[0] * TIMES, PHOTOGRAPH[1] * TIMES
    end = cv2.warpPerspective(fine, matrix, (width, height), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    inside = np.zeros((height, width), np.uint8)
    cv2.fillConvexPoly(inside, np.round((to - 0.5) * 256).astype(np.int32), 1, shift=8)
    columns, rows = np.meshgrid(np.arange(width) / width, np.arange(height) / height)
    ground = (198 + 24 * columns - 14 * rows).astype(np.float32)[..., None]
    return mean_of(np.where(inside[..., None] == 1, end, ground), TIMES).astype(np.float32)


def photograph(picture, blur, noise, seed):
    """What a worse camera makes of it, in bytes."""
    if blur:
        picture = cv2.GaussianBlur(picture, (0, 0), blur)
    picture = picture + np.random.default_rng(seed).normal(0, 1, picture.shape) * noise
    return np.clip(np.round(picture), 0, 255).astype(np.uint8)


def psnr(picture, truth):
    """Peak signal to noise, dB, of 8-bit pictures; the outermost pixels, which show the ground too, are left out."""
    off = (picture.astype(np.float64) - truth)[2:-2, 2:-2]
    return 10 * np.log10(255**2 / max(np.mean(off**2), 1e-12))


def by_opencv(picture, corners, width, height):
    """warpPerspective's flat picture; its pixels' middles are at whole numbers."""
    flat = np.float32([[0, height], [width, height], [width, 0], [0, 0]])
    matrix = cv2.getPerspectiveTransform(flat - 0.5, np.float32(corners) - 0.5)
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    return cv2.warpPerspective(picture, matrix, (width, height), flags=flags, borderMode=cv2.BORDER_REPLICATE)


def by_skimage(picture, corners, width, height):
    """scikit-image's flat picture."""
    flat = np.float64([[0, height], [width, height], [width, 0], [0, 0]])
    found = ProjectiveTransform.from_estimate(flat - 0.5, np.float64(corners) - 0.5)
    out = warp(picture, found, output_shape=(height, width), order=1, mode="edge", preserve_range=True)
    return np.round(out)


def write(path, picture):
    """As PNG, from red, green, blue."""
    cv2.imwrite(str(path), picture[..., ::-1])


def read(path):
    """A PNG as red, green, blue."""
    return cv2.imread(str(path), cv2.IMREAD_COLOR)[..., ::-1]


def ours(program, folder, cases):
    """Lets our program work on the cases; what it found for each."""
    (folder / "cases.json").write_text(json.dumps(cases))
    subprocess.run([program, folder], check=True, timeout=900)
    return json.loads((folder / "found.json").read_text())


def make(folder):
    """Renders all photographs; names, cases."""
    cases = []
    for end, corners in ENDS.items():
        perfect = seen(corners)
        for soiled, (blur, noise) in SOILED.items():
            name = f"{end}, {soiled}.png"
            write(folder / name, photograph(perfect, blur, noise, len(cases)))
            cases.append({"picture": name, "corners": corners, "size": SIZE, "pixel": SIZE[0] / FLAT[0]})
    return cases


def judge_flat(case, flat, picture, checks):
    """One flat picture against the known one; ours, OpenCV's and scikit-image's PSNR."""
    name, corners = case["picture"], case["corners"]
    truth = mean_of(wood(FLAT[0] * FINER, FLAT[1] * FINER), FINER)
    if not checks.that(flat.shape == truth.shape, f"{name}: {flat.shape[:2]} pixels instead of {truth.shape[:2]}"):
        return None
    peers = [by(picture, corners, *FLAT) for by in (by_opencv, by_skimage)]
    found = [psnr(each, truth) for each in (flat, *peers)]
    if name.endswith("clean.png"):
        checks.that(found[0] >= LEAST_PSNR, f"{name}: PSNR {found[0]:.2f} dB, at least {LEAST_PSNR}")
    for peer, number in zip(("OpenCV", "scikit-image"), found[1:]):
        checks.that(found[0] >= number - MARGIN, f"{name}: PSNR {found[0]:.2f} dB, by {peer} {number:.2f} dB")
    return found


def judge_corners(case, found, checks):
    """The corners as found; the worst distance, pixels."""
    name = case["picture"]
    if not checks.that(found["corners"] is not None, f"{name}: no corners found: {found['why']}"):
        return float("inf")
    worst = float(np.linalg.norm(np.array(found["corners"]) - np.array(case["corners"]), axis=1).max())
    checks.that(worst <= NEAR, f"{name}: a corner is off by {worst:.2f} pixels, at most {NEAR}")
    return worst


def judge(program, checks):
    """All pictures; least PSNR of the clean ones with its peer's, least lead over OpenCV, worst corner."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        cases = make(folder)
        numbers, corners = {}, []
        for case, found in zip(cases, ours(program, folder, cases), strict=True):
            flat = read(folder / f"{case['picture']}.flat.png")
            numbers[case["picture"]] = judge_flat(case, flat, read(folder / case["picture"]), checks)
            corners.append(judge_corners(case, found, checks))
    all_numbers = [found for found in numbers.values() if found]
    clean = min((found for name, found in numbers.items() if found and name.endswith("clean.png")), default=None)
    lead = min((mine - peer for mine, peer, _ in all_numbers), default=None)
    return {"clean": clean, "lead": lead, "corner": max(corners), "pictures": len(cases)}


def speed(program, times=7):
    """Seconds for 12 million pixels, ours and OpenCV's, each the least of several."""
    width, height = 4000, 3000
    corners = [[3865.0, 2890.0], [90.0, 2860.0], [130.0, 120.0], [3910.0, 85.0]]
    noise = np.random.default_rng(1).integers(0, 256, (height, width, 3), dtype=np.uint8)
    picture = cv2.GaussianBlur(noise, (0, 0), 2)
    best = [float("inf"), float("inf")]
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write(folder / "12.png", picture)
        case = {"picture": "12.png", "corners": corners, "size": (40.0, 30.0), "pixel": 0.01, "times": times}
        for _ in range(3):
            best[0] = min(best[0], ours(program, folder, [case])[0]["seconds"])
            for _ in range(times):
                began = time.perf_counter()
                peer = by_opencv(picture, corners, width, height)
                best[1] = min(best[1], time.perf_counter() - began)
        alike = psnr(read(folder / "12.png.flat.png"), peer.astype(np.float64))
    if alike < 45:
        raise ValueError(f"not the same picture as OpenCV's: PSNR {alike:.1f} dB")
    return best


def main():
    """Judges the program named on the command line."""
    checks = common.Checks("photographs")
    judge(sys.argv[1], checks)
    print(checks.summary())
    sys.exit(1 if checks.failures else 0)


if __name__ == "__main__":
    main()
