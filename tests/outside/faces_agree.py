"""Judges that the photographed and the traced sample show the same board.

    faces_agree.py FOLDER_OF_THE_PHOTOGRAPHED FOLDER_OF_THE_TRACED

Both are of the same invented wood; they can't be alike pixel by pixel, since pores are left to chance in one and
photographed in the other, and the drawn wood has its own slow drift of lightness. What a maker sees from where he
stands must be the same: after a blur of 2 mm, which takes rings and pores out, the mean CIEDE2000 is to be at most 3,
the default limit under which two blanks count as alike (limits.colour); and the light wood and the dark must lie in
the same places: at most 1 % of the face light in one and dark in the other. That is about a millimetre along the border.
"""

import sys
from pathlib import Path

import judge as common
import numpy as np
from PIL import Image
from scipy.ndimage import gaussian_filter
from skimage.color import deltaE_ciede2000, rgb2lab

MOST_APART, MOST_OTHER = 3.0, 0.01
BLUR = 2.0  # mm
# Half way from walnut's heartwood (L 24) to its sapwood (L 70).
LIGHT = 47.0


def face(path):
    """A face's pixels, 0 to 1, and how many there are to the mm."""
    picture = Image.open(path)
    return np.asarray(picture.convert("RGB"), dtype=float) / 255.0, float(picture.info["dpi"][0]) / 25.4


def lab(pixels, sigma):
    return rgb2lab(gaussian_filter(pixels, (sigma, sigma, 0)))


def apart(one, other):
    """Mean CIEDE2000 of two faces after the blur, and the share of the face that is light in one alone."""
    (a, per_mm), (b, _) = face(one), face(other)
    if a.shape != b.shape:
        return float("inf"), 1.0
    mean = float(deltaE_ciede2000(lab(a, BLUR * per_mm), lab(b, BLUR * per_mm)).mean())
    light = [lab(pixels, 0.4 * per_mm)[..., 0] > LIGHT for pixels in (a, b)]
    return mean, float((light[0] ^ light[1]).mean())


def judge(photographed, traced, checks):
    """The worst of both faces."""
    worst = [0.0, 0.0]
    for side in ("upper", "lower"):
        mean, other = apart(photographed / f"face-{side}.png", traced / f"face-{side}.png")
        checks.that(mean <= MOST_APART, f"{side} face: {mean:.2f} apart in the mean")
        checks.that(other <= MOST_OTHER, f"{side} face: {other:.2%} light in one and dark in the other")
        worst = [max(worst[0], mean), max(worst[1], other)]
    return worst


if __name__ == "__main__":
    ran = common.Checks("faces_agree")
    apart_most, other_most = judge(Path(sys.argv[1]), Path(sys.argv[2]), ran)
    print(f"worst face: {apart_most:.2f} in CIEDE2000, {other_most:.2%} of it light in one and dark in the other")
    print(ran.summary())
    sys.exit(1 if ran.failures else 0)
