"""Sorted numbers, each of them once."""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Number = TypeVar("Number", np.float64, np.int64)


def distinct(values: NDArray[Number]) -> NDArray[Number]:
    """Every value once, rising, (k,).

    As numpy's own `unique`, which imports all of its masked arrays at the first call: that takes
    longer than it takes to check a small file.
    """
    ordered = np.sort(values, axis=None)
    is_first = np.ones(len(ordered), dtype=bool)
    is_first[1:] = ordered[1:] != ordered[:-1]
    return np.asarray(ordered[is_first])
