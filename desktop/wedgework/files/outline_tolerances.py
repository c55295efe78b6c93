"""What an import allows a drawing to be off by, each with its reason."""

from __future__ import annotations

import math
from typing import Final

GAP_MM: Final = 0.1
"""Ends no further apart are meant to meet; a pen line is two or three times as wide."""

TOLD_GAP_MM: Final = 1e-6
"""A gap below this is rounding of the arithmetic, closed without a word."""

NO_LENGTH_MM: Final = 1e-6
"""A cubic no larger has no length: a thousandth of what a file with three decimals can say."""

CHORD_ERROR_MM: Final = 0.02
"""Chords drawn for a smooth curve are replaced by one that stays this near to them."""

FEWEST_CHORDS: Final = 8
"""Fewer short chords than this in a row are meant as they are drawn."""

CHORDS_PER_CUBIC: Final = 2
"""What needs more cubics than one for two chords was no smooth curve."""

REGION_ERROR_MM: Final = 0.02
"""Chords of the regions that say what lies inside what; decides nothing that is measured."""

NO_WIDTH_MM: Final = 0.01
"""An outline whose area is less than this times its length encloses nothing."""

INSIDE_SHARE: Final = 0.98
"""So much of a ring's area lies inside another that it is drawn in it; the rest is a crude pen."""

FRAME_MM: Final = 0.1
"""A rectangle this near to the page's border stands on it."""

PAIR_MM: Final = (3.0, 20.0)
"""Allowances that a seam line inside a cut line may be drawn with."""

PAIR_WITHIN_MM: Final = 0.5
"""So far the distance of the two lines may wander."""

PAIR_SAMPLES: Final = 400
"""Places along each line where its distance from the other is asked."""

PAIR_SHARE: Final = 0.95
"""Of both lines so much keeps its distance; corners and notches may not."""

NOTCH_DEPTH_MM: Final = 10.0
NOTCH_WIDTH_MM: Final = 8.0
"""A cut into the outline no deeper and no wider is a notch."""

NOTCH_TURN_RAD: Final = math.radians(30.0)
"""Beside a notch the edge goes on in its direction; a turn of more is a corner with a cut in it."""

NOTCH_LEAST_MM: Final = 0.5
"""What is less deep is the roughness of a tracing."""

SLIT_WIDTH_MM: Final = 2.0
"""A cut that is no V is a slit if it is no wider than this on average."""

STEP_BACK_MM: Final = 2.0
"""The direction of an edge drawn as chords is read over this length."""

INSET_ERROR_MM: Final = 1e-3
"""A seam line made from a cut line lies this near to its distance: a twentieth of what a blade
holds."""

ROUNDED_STEPS: Final = 20.0
"""A chord shorter than so many half steps of the last decimal points anywhere: rounding turns
it by up to 8 degrees. With one decimal that is a millimetre."""
