"""How far colours stand apart: for any eye by contrast, for a colour-blind one by simulation.

Colours are sRGB as `#RRGGBB`. The tests hold our palette with this; the window itself never asks.
"""

from __future__ import annotations

import math
from typing import Final, Literal, TypeAlias

import numpy as np

from wedgework.geometry.curve import Floats

Sight: TypeAlias = Literal["protan", "deutan", "tritan"]

LINEAR_BELOW: Final = 0.04045
"""Source: WCAG 2.2, relative luminance (0.03928 before May 2021)."""

SIGHTS: Final[dict[Sight, Floats]] = {
    "protan": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "deutan": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "tritan": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}
"""Linear RGB as seen, severity 1. Source: Machado, Oliveira, Fernandes 2009."""

_TO_XYZ = np.array(
    [
        [0.4124564, 0.3575761, 0.1804375],
        [0.2126729, 0.7151522, 0.0721750],
        [0.0193339, 0.1191920, 0.9503041],
    ]
)
"""sRGB to XYZ under D65. Source: IEC 61966-2-1."""


def rgb_of(colour: str) -> Floats:
    """(3,) from 0 to 1 of `#RRGGBB`."""
    return np.array([int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)])


def linear(rgb: Floats) -> Floats:
    """sRGB, (3,) from 0 to 1, as linear light."""
    low = rgb / 12.92
    return np.where(rgb <= LINEAR_BELOW, low, ((rgb + 0.055) / 1.055) ** 2.4)


def luminance(colour: str) -> float:
    """Relative luminance from 0 to 1. Source: WCAG 2.2."""
    return float(linear(rgb_of(colour)) @ np.array([0.2126, 0.7152, 0.0722]))


def contrast(one: str, other: str) -> float:
    """Contrast from 1 to 21, whichever is lighter. Source: WCAG 2.2, contrast ratio."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def lab_of(colour: str, sight: Sight | None = None) -> Floats:
    """CIELAB, (3,), under D65 of a colour, or of what a colour-blind eye sees of it."""
    light = linear(rgb_of(colour))
    if sight is not None:
        light = np.clip(SIGHTS[sight] @ light, 0.0, 1.0)
    return _lab_of_light(light)


def _lab_of_light(light: Floats) -> Floats:
    white = _TO_XYZ @ np.ones(3)
    ratio = (_TO_XYZ @ light) / white
    bent = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio / (3 * (6 / 29) ** 2) + 4 / 29)
    x, y, z = bent
    return np.array([116 * y - 16, 500 * (x - y), 200 * (y - z)])


def lab_distance(one: Floats, other: Floats) -> float:
    """Plain distance in CIELAB (1976)."""
    return float(np.linalg.norm(one - other))


def ciede2000(one: Floats, other: Floats) -> float:
    """Difference of two CIELAB colours, (3,) each. Source: Sharma, Wu, Dalal 2005."""
    chroma = (math.hypot(*one[1:]) + math.hypot(*other[1:])) / 2
    stretch = 1.5 - 0.5 * math.sqrt(_of_seventh(chroma))
    a, b = _stretched(one, stretch), _stretched(other, stretch)
    lightness, hue_deg, chroma_mean = (a[0] + b[0]) / 2, _mean_hue(a, b), (a[1] + b[1]) / 2
    turn = _hue_step(a, b)
    d_hue = 2 * math.sqrt(a[1] * b[1]) * math.sin(math.radians(turn / 2))
    above = (lightness - 50) ** 2
    terms = (
        (b[0] - a[0]) / (1 + 0.015 * above / math.sqrt(20 + above)),
        (b[1] - a[1]) / (1 + 0.045 * chroma_mean),
        d_hue / (1 + 0.015 * chroma_mean * _hue_weight(hue_deg)),
    )
    angle = math.radians(60 * math.exp(-(((hue_deg - 275) / 25) ** 2)))
    turning = -2 * math.sqrt(_of_seventh(chroma_mean)) * math.sin(angle)
    return math.sqrt(sum(term * term for term in terms) + turning * terms[1] * terms[2])


def _of_seventh(chroma: float) -> float:
    return chroma**7 / (chroma**7 + 25.0**7)


def _stretched(lab: Floats, by: float) -> tuple[float, float, float]:
    """Lightness, chroma and hue in degrees with a* stretched."""
    a, b = float(lab[1]) * by, float(lab[2])
    return float(lab[0]), math.hypot(a, b), math.degrees(math.atan2(b, a)) % 360


def _hue_step(a: tuple[float, float, float], b: tuple[float, float, float]) -> float:
    """From a's hue to b's the short way, in degrees."""
    if a[1] * b[1] == 0:
        return 0.0
    return (b[2] - a[2] + 180) % 360 - 180


def _mean_hue(a: tuple[float, float, float], b: tuple[float, float, float]) -> float:
    if a[1] * b[1] == 0:
        return a[2] + b[2]
    return (a[2] + _hue_step(a, b) / 2) % 360


def _hue_weight(hue_deg: float) -> float:
    """The factor of the paper that tells how dearly a step of hue is weighed there."""
    terms = ((-0.17, 1, -30), (0.24, 2, 0), (0.32, 3, 6), (-0.20, 4, -63))
    return 1 + sum(share * math.cos(math.radians(n * hue_deg + by)) for share, n, by in terms)
