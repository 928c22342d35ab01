"""Writes lab_reference.csv, by which the Lab of geometry/src/wood/lab.rs is judged.

Each row: sRGB bytes; Lab by colour-science; Lab by scikit-image. colour-science is given the white that belongs to the
standard's four-decimal matrix (its row sums); scikit-image has a matrix of six decimals and differs by up to 0.03.

Wants colour-science 0.4.7 and scikit-image 0.26.0, which the judges don't need; the CSV is kept so that the test runs
without them.

Usage: lab_reference.py >lab_reference.csv
"""

import random

import colour
import numpy as np
from skimage.color import rgb2lab

FIXED = [
    (0, 0, 0), (255, 255, 255), (255, 0, 0), (0, 255, 0), (0, 0, 255), (128, 128, 128), (93, 64, 46), (222, 184, 135),
    (1, 2, 3), (10, 10, 10), (11, 12, 13), (254, 255, 250), (78, 52, 38), (196, 166, 124), (148, 108, 72),
]  # fmt: skip
RANDOM = 60
MATRIX = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])


def by_colour_science(bytes_):
    """Lab under the white of the four-decimal matrix."""
    space = colour.RGB_COLOURSPACES["sRGB"]
    if not np.array_equal(space.matrix_RGB_to_XYZ, MATRIX):
        raise SystemExit("colour-science has another matrix than the standard's")
    linear = colour.models.eotf_sRGB(np.array(bytes_) / 255)
    return colour.XYZ_to_Lab(MATRIX @ linear, colour.XYZ_to_xy(MATRIX.sum(axis=1)))


def main():
    """Prints the table."""
    chance = random.Random(2005)
    print("red,green,blue,l,a,b,skimage_l,skimage_a,skimage_b")
    for bytes_ in FIXED + [tuple(chance.randrange(256) for _ in range(3)) for _ in range(RANDOM)]:
        other = rgb2lab(np.array([[bytes_]], dtype=np.uint8))[0, 0]
        cells = [f"{value:.6f}" for value in [*by_colour_science(bytes_), *other]]
        print(",".join([*map(str, bytes_), *cells]))


if __name__ == "__main__":
    main()
