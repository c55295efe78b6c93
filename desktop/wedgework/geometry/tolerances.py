"""Every tolerance of the geometry, each with its reason; no other file holds a literal epsilon.

What the trade allows (a seam's tolerance, an allowance) is no tolerance of the arithmetic: it
belongs to the document.
"""

from __future__ import annotations

from typing import Final

SAME_POINT_MM: Final = 1e-9
"""Two points are one: rounding of float64 on a table of some ten metres is 2e-12 mm."""

LENGTH_RELATIVE: Final = 1e-10
"""Where two quadratures of a cubic differ by more than this, the cubic is halved."""

LENGTH_DEPTH: Final = 60
"""Halvings of one cubic at the most; a cusp is found to float64's last bit by then."""

STATION_MM: Final = 1e-9
"""A station is found when the length up to it is off by less than this."""

TURNING_DEPTH: Final = 48
"""Halvings while measuring turning; only a true cusp gets so deep, and it has no turning."""

ZERO_HANDLE_RELATIVE: Final = 1e-12
"""A control point nearer than this share of its cubic's size has no direction to give."""

KINK_RAD: Final = 1e-9
"""A joint of two cubics that turns by less is smooth: rounding of a tangent is about 1e-15."""

FOOT_PARAMETER: Final = 1e-13
"""Newton's step towards the nearest point stops here: on a metre of cubic it is 1e-10 mm."""

FOOT_ROUNDS: Final = 60
"""Steps towards a nearest point at the most; halving alone reaches float64's last bit in 53."""

SAME_STATION_MM: Final = 1e-6
"""Stations of two walks that differ by less are one place: sums of lengths along runs of metres
differ by 1e-12 mm, and the contract promises lengths to 1e-6 mm."""

ON_OUTLINE_MM: Final = 1e-8
"""A point this near to an outline lies on it: feet are found to 1e-9 mm, no blade is so fine."""

WINDING_DEPTH: Final = 64
"""Halvings while winding round a point; a point ON_OUTLINE_MM away from a metre needs some 40."""

DOUBLE_ROOT: Final = 1e-6
"""Parameter: float64 splits a double root by about the square root of its rounding, 1e-8."""

LEADING_RELATIVE: Final = 1e-13
"""A highest coefficient below this share of the control values is rounding: drop the degree."""

FOOT_DEPTH: Final = 40
"""Halvings of an arc that may have several feet; each quarters its bend, so few are needed."""

FOOT_ROUNDING: Final = 1e-14
"""A slope below this share of the products that make it is their rounding."""

STRAIGHT_MM: Final = 1e-6
"""An edge whose control points all lie this near to its chord is straight: a thousandth of what a
file with three decimals can say, and a thousand times what arithmetic blurs."""

MEET_DEPTH: Final = 40
"""Halvings of a pair of arcs that may meet; a metre is down to ON_OUTLINE_MM after 37."""

MEET_PAIRS: Final = 4000
"""So many pairs more than at first come only from curves that lie on one another."""

MEET_ROUNDS: Final = 9
"""Steps of Newton's method towards a crossing: seven square an error of a half down to 1e-16."""

PARALLEL_RAD: Final = 1e-9
"""Arcs nearer in direction run along one another: over a metre they part by 1e-6 mm."""

SINGULAR: Final = 1e-14
"""Two directions whose sine is below this are one in float64: no crossing to step towards."""

TOUCH_SPAN_MM: Final = 0.2
"""Curves that touch at a point lie within ON_OUTLINE_MM on less than this, bent 1e6 mm or more."""

PROBE_MM: Final = 0.01
"""So far from a meeting two ways are compared: a thousand times nearer than a blade cuts true."""

RAY_RAD: Final = 1e-5
"""Two ways within this angle at PROBE_MM are 1e-7 mm apart there: they cannot be told apart."""

VISIBLE_CROSSING_MM: Final = 0.02
"""An outline whose chords at this error do not cross has no crossing that a blade could show."""

COINCIDENT_DEPTH: Final = 3
"""After so many halvings what still runs along another arc is asked whether it lies on it."""

POINT_SIZE_MM: Final = 1e-12
"""A stretch no larger is a point: float64 rounds coordinates of some metres by as much."""

FIT_RIDGE: Final = 1e-9
"""Pull towards even control points in a fit: far below any sample's weight, above rounding."""

FIT_ROUNDS: Final = 16
"""Rounds of halving in a fit; after so many a metre is in stretches of 0.03 mm."""

HERMITE_DEPTH: Final = 20
"""Halvings of a stretch that one cubic should follow; only a kink or a cusp needs them all."""

DISPLACED_MM: Final = 0.005
"""A curve moved by a changing distance is fitted this near: half of what export promises."""

DISPLACED_DEPTH: Final = 5
"""Halvings of such a fit at the most: where the curve's bend jumps, finer ones only chase it."""

SMALL_STEP_MM: Final = 1e-6
"""After so small a step of Newton's method towards a curve what is left is under 1e-9 mm, unless
that bends tighter than a radius of 0.001 mm."""

MEETING_ROUNDS: Final = 60
"""Steps of Newton's method until an edge meets its neighbour; straight ones need one."""

FIT_TURNS: Final = 5
"""Turns of fitting and of finding feet anew over one set of breaks."""

FIT_GAIN: Final = 0.9
"""A turn that leaves more than this share of the greatest gap is the last over its breaks."""

HERMITE_STEPS: Final = 4
"""Steps towards the best two handles of a cubic; each squares what is left to gain."""

HERMITE_SINGULAR: Final = 1e-10
"""Both handles do much the same, or nothing: below this share they are not told apart."""

LEAST_HANDLE: Final = 0.01
"""A fitted handle is at least this share of its cubic's length, so that its tangent holds."""

CHORD_ROUNDS: Final = 14
"""Halvings of the chords of a moved curve; a bend sharper than that is a kink in all but name."""

LEAST_JACOBIAN: Final = 0.02
"""A moved curve slower than this share of its own is near the centre of its bend."""

JOINT_RAD: Final = 1e-6
"""A joint that turns by less opens no gap: at a metre's distance it is 1e-6 mm wide."""

OFFSET_CHORDS: Final = 2.0
"""Chords that decide what remains of an offset are so many times finer than its error."""

COARSEST_CHORD_MM: Final = 0.01
"""But never coarser than this, or parts of an outline that a blade could cut would be lost."""

TRACED_MM: Final = 1e-6
"""A side of a union of chords lies this near to the chord that it is a part of."""

SAME_WAY_COSINE: Final = 0.9
"""A side of a union of chords runs the way of its chord; beyond this it is another's."""

STILL_RELATIVE: Final = 1e-7
"""A derivative below this share of its control steps has lost its direction to rounding."""

HERMITE_STRAIGHT: Final = 1e-16
"""Squared sines between handles and curve that sum to less are the rounding of a straight line."""

GRID_MM: Final = 1e-7
"""Polygons that are put together are snapped to this grid, a tenth of what is traced back."""

SKIPPED_SHARE: Final = 0.01
"""A trace that skips more than this share of a chord has left out a loop, be it ever so small."""

REVERSAL_RAD: Final = 0.1
"""A corner nearer than this to straight back may be a spike or a slit, by a hair's bend."""

FINEST_CHORD_MM: Final = 1e-3
"""Nor finer than this: what is kept of the curves is exact, their chords only say which parts."""

OFFSET_HALVINGS: Final = 14
"""Halvings of a cubic that is moved aside; sixteen times nearer with each, so few are needed."""

FLAT_CORNER_RAD: Final = 1e-3
"""Of four corners that are to be a rectangle, three in a line to this say nothing about the camera:
it would be seen edge on, and a finger's breadth of error would become metres."""

HORIZON_RELATIVE: Final = 1e-12
"""A last number of a projective map below this share of its largest is nothing but rounding."""

LENGTH_ROUNDS: Final = 200
"""Steps towards a wanted length at the most; halving alone reaches float64's last bit in 60."""

SLOPE_STEP: Final = 1e-4
"""So much of a whole way tells which direction makes a curve longer: far above rounding."""

LEVEL_SLOPE: Final = 1e-3
"""A length that changes by less than this share of what a way could do is at its least there."""

SUM_RELATIVE: Final = 1e-12
"""Numbers that are computed in two ways differ by some roundings of float64, 2e-16 each."""

WHOLE_COUNT: Final = 1e-9
"""A quotient this near to a whole number is that number: so many pleats fit exactly."""

PARALLEL_MM: Final = 1e-6
"""A line moved aside is so near to the true parallel: its length is then right to 1e-6 mm, too."""

PARALLEL_RELATIVE: Final = 1e-8
"""Beyond a hundred millimetres aside, the same by the distance: more is beyond float64's curves."""

FREE_EDGE_MM: Final = 2e-3
"""A free edge that was moved aside is told in few cubics so near to it: no blade cuts finer, and an
edge of a hundred cubics could not be bent by hand."""

BENT_MM: Final = 1e-3
"""A line bent anew is so near to the exact one; its length and its turning are exact."""

SHAPED_RAD: Final = 1e-11
"""An edge turns as much as it is asked to within this, a hundredth of what is promised."""

LEAST_WIDTH_MM: Final = 0.05
"""A part that is narrower all along is not cut off: no blade and no pen leaves so little."""
