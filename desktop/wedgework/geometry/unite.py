"""Undo a cut: two cubics that were one become one again."""

from __future__ import annotations

import numpy as np

from wedgework.geometry.curve import Curve, Floats, joined
from wedgework.geometry.length import cut_cubics
from wedgework.geometry.tolerances import SAME_POINT_MM


def united(*curves: Curve) -> Curve:
    """One chain of `curves`, where two cubics at a joint that are parts of one are that one again.

    Each curve starts where the last one ended, as `joined` asks. No point moves by more than
    SAME_POINT_MM.
    """
    chain = curves[0]
    for following in curves[1:]:
        whole = united_cubic(chain.segments[-1], following.segments[0])
        if whole is None:
            chain = joined(chain, following)
        else:
            parts = [chain.segments[:-1], whole[None], following.segments[1:]]
            chain = Curve(np.concatenate(parts))
    return chain


def united_cubic(first: Floats, second: Floats) -> Floats | None:
    """The cubic, (4, 2), that `first` and `second` are the two parts of; None where there is none.

    Cut at t, the derivatives at the joint are t and 1 - t times that of the whole (de Casteljau),
    so their lengths give t; what comes of it is cut again and compared.
    """
    one, other = first[3] - first[2], second[1] - second[0]
    sizes = float(np.hypot(*one)), float(np.hypot(*other))
    if min(sizes) <= SAME_POINT_MM:
        return None
    t = sizes[0] / (sizes[0] + sizes[1])
    start, end = first[0], second[3]
    whole = np.array(
        [start, start + (first[1] - start) / t, end - (end - second[2]) / (1 - t), end]
    )
    parts = np.concatenate(cut_cubics(whole[None], np.array([t])))
    gap = np.abs(parts - np.stack([first, second])).max()
    return whole if gap <= SAME_POINT_MM else None
