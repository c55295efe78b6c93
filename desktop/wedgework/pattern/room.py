"""Room that shaping makes: how high a dome of so much shaping stands over a span.

All shaping at one point makes a cone, spread evenly it makes a cap; a real form lies between.
Source: do Carmo, Differential Geometry of Curves and Surfaces, 4-5 (Gauss-Bonnet).
"""

from __future__ import annotations

import math


def cone_height_mm(shaping_rad: float, radius_mm: float) -> float:
    """Height of a cone of slant `radius_mm` whose apex lacks `shaping_rad`; nothing below 0.

    More than a full turn cannot be lacking at one point: the cone is then a needle.
    """
    left = 1.0 - min(max(shaping_rad, 0.0), 2 * math.pi) / (2 * math.pi)
    return radius_mm * math.sqrt(1.0 - left * left)


def cap_height_mm(shaping_rad: float, radius_mm: float) -> float:
    """Height of the part of a sphere that holds `shaping_rad` within `radius_mm` of its middle.

    At most a whole sphere's, 4 pi; nothing below 0.
    """
    cosine = 1.0 - min(max(shaping_rad, 0.0), 4 * math.pi) / (2 * math.pi)
    opening_rad = math.acos(max(cosine, -1.0))
    return radius_mm * (1.0 - cosine) / opening_rad if opening_rad > 0.0 else 0.0
