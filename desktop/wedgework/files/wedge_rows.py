"""What a `.wedge` file holds: structs of version 2, and their JSON Schema.

They are the file's own and not the document's, so that the document can change while a version
that has once been released keeps its meaning, its defaults among it. A change of meaning is a new
version and a step in `wedge_versions`. Lengths are mm; angles are rad here, not degrees, since a
float must come back to the last bit. Every value is written, also one that is its default, and
what there is none of (no sheet, no fold edge) is left out; null is never written.
"""

from __future__ import annotations

from typing import Annotated, Any, Final, Literal, TypeAlias

import msgspec
from msgspec import UNSET, Meta, UnsetType

FORMAT: Final = "wedgework"
VERSION: Final = 2

# Patterns stand in the schema alone: the decoder would ask them of each id one by one, where
# reading looks at all ids anyway, to see that none stands twice.
Id: TypeAlias = Annotated[
    str,
    Meta(
        description="unique in the file; begins with neither - nor ~",
        extra_json_schema={"pattern": "^[^-~]"},
    ),
]
RefText: TypeAlias = Annotated[
    str,
    Meta(
        description="an edge's id, after - where walked against its direction, "
        "after ~ where it is the edge of the mirror image",
        extra_json_schema={"pattern": "^-?~?[^-~]"},
    ),
]
Run: TypeAlias = Annotated[tuple[RefText, ...], Meta(min_length=1)]
Points: TypeAlias = Annotated[
    list[float],
    Meta(
        min_length=8,
        description="x and y in mm of a chain of cubics: its start, then two handles and an end "
        "for each; 2 (3 n + 1) numbers",
    ),
]
NotNegative: TypeAlias = Annotated[float, Meta(ge=0)]
Positive: TypeAlias = Annotated[float, Meta(gt=0)]


class _Row(
    msgspec.Struct,
    frozen=True,
    kw_only=True,
    forbid_unknown_fields=True,
    gc=False,
):
    """Rows hold no circles, so the collector need not look at them."""


class EdgeRow(_Row, frozen=True, kw_only=True, gc=False):
    """An edge; `corner` is the corner where it starts."""

    id: Id
    corner: Id
    name: str = ""
    finish: Literal["hem", "fold", "open"] = "open"
    allowance_mm: NotNegative = 0.0
    points: Points


class CutoutRow(_Row, frozen=True, kw_only=True, gc=False):
    """A hole cut out of a piece; its ring runs clockwise."""

    id: Id
    edges: Annotated[list[EdgeRow], Meta(min_length=1)]


class LineRow(_Row, frozen=True, kw_only=True, gc=False):
    """A line inside a piece that is drawn, not cut."""

    id: Id
    kind: Literal["style", "fold", "placement", "level", "grain", "torso loop"]
    name: str = ""
    level: Annotated[str | UnsetType, Meta(description="the level that the line shows")] = UNSET
    points: Points


class LabelRow(_Row, frozen=True, kw_only=True, gc=False):
    """Text on a piece; its baseline starts at `at_mm`."""

    id: Id
    text: str
    at_mm: tuple[float, float]
    height_mm: Positive = 5.0
    angle_rad: float = 0.0


class RecipeRow(_Row, frozen=True, kw_only=True, gc=False):
    """What a drafted piece was made from; `numbers`, `measured` and the edits are JSON text."""

    kind: str
    numbers: str
    sources: tuple[str, ...] = ()
    measured: str = "{}"
    edits_since: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    group: str = ""
    names: str = "{}"
    moved_mm: tuple[float, float] = (0.0, 0.0)


class PieceRow(_Row, frozen=True, kw_only=True, gc=False):
    """A piece; its outline runs counter-clockwise, each edge starting where the last ended."""

    id: Id
    name: str = ""
    cutting: Literal["single", "pair", "fold"] = "single"
    fold_edge: Annotated[str | UnsetType, Meta(description="set where cutting is fold")] = UNSET
    sheet: str | UnsetType = UNSET
    quantity: Annotated[int, Meta(ge=1)] = 1
    turns_rad: Annotated[
        tuple[float, ...] | UnsetType,
        Meta(description="turns allowed on the sheet; none named: any"),
    ] = UNSET
    edges: Annotated[list[EdgeRow], Meta(min_length=1)]
    cutouts: tuple[CutoutRow, ...] = ()
    lines: tuple[LineRow, ...] = ()
    labels: tuple[LabelRow, ...] = ()
    recipe: RecipeRow | UnsetType = UNSET


class SeamRow(_Row, frozen=True, kw_only=True, gc=False):
    """Run a joined to run b; a dart where it has an apex."""

    id: Id
    name: str = ""
    a: Run
    b: Run
    join: Literal["lapped", "butted", "superimposed", "bound"] = "lapped"
    lap_mm: NotNegative = 8.0
    over: Literal["a", "b"] = "a"
    wanted_mm: float = 0.0
    allowed_mm: NotNegative = 0.5
    laid_on: bool = False
    apex: Annotated[str | UnsetType, Meta(description="corner where both legs of a dart end")] = (
        UNSET
    )
    tip: Annotated[
        str | UnsetType, Meta(description="corner where both legs of a double-pointed dart start")
    ] = UNSET
    tape_mm: NotNegative = 12.0
    binding_mm: NotNegative = 8.0


class SpotRow(_Row, frozen=True, kw_only=True, gc=False):
    """A place on an edge, that far from the edge's start."""

    edge: str
    at_mm: NotNegative


class NotchRow(_Row, frozen=True, kw_only=True, gc=False):
    """A mark on an edge, and its mate on the other side of the seam."""

    id: Id
    at: SpotRow
    mate: SpotRow | UnsetType = UNSET
    double: bool = False


class HoleRow(_Row, frozen=True, kw_only=True, gc=False):
    """A punched hole inside the seam line, and its mate."""

    id: Id
    at: SpotRow
    mate: SpotRow | UnsetType = UNSET
    inset_mm: float = 0.0
    diameter_mm: Positive = 2.0
    row: Annotated[str | UnsetType, Meta(description="row that it was punched in")] = UNSET
    through: Annotated[
        bool, Meta(description="through both layers of a lap: outside the seam line below")
    ] = False


class HoldRow(_Row, frozen=True, kw_only=True, gc=False):
    """Both sides of a seam are kept in agreement."""

    id: Id
    seam: str
    kind: Literal["length", "shape"] = "length"


PairMm = Annotated[tuple[float, ...], Meta(min_length=2, max_length=2)]


class PinRow(_Row, frozen=True, kw_only=True, gc=False):
    """A measurement on the table; `wanted` and `allowed` are mm, of an angle rad."""

    id: Id
    name: str = ""
    kind: Literal["distance", "along", "angle", "girth"]
    anchors: Annotated[
        tuple[SpotRow | PairMm | str, ...],
        Meta(
            min_length=1,
            max_length=3,
            description="places on edges, ids of corners, marks, levels, or x and y in mm",
        ),
    ]
    wanted: float | UnsetType = UNSET
    allowed: NotNegative = 0.5


class PictureRow(_Row, frozen=True, kw_only=True, gc=False):
    """A photograph under the table; `data` is its PNG or JPEG file."""

    id: Id
    name: str = ""
    placing: Annotated[
        tuple[float, ...],
        Meta(min_length=9, max_length=9, description="projective map from pixels to mm, by rows"),
    ]
    strength_ratio: Annotated[float, Meta(ge=0, le=1)] = 0.5
    shown: bool = True
    data: Annotated[bytes, Meta(description="base64")]


class OpeningRow(_Row, frozen=True, kw_only=True, gc=False):
    """A ring of edges that the body passes."""

    id: Id
    name: str = ""
    edges: Run
    measure: str
    allowed_stretch: NotNegative = 0.4
    rise_mm: NotNegative = 0.0


class ClosingRow(_Row, frozen=True, kw_only=True, gc=False):
    """A seam that opens, and what it is closed with."""

    id: Id
    seam: str
    kind: Literal["zip", "snaps", "lacing", "left_open"] = "snaps"
    overlap_mm: NotNegative = 22.0
    flap_mm: NotNegative = 0.0
    pitch_mm: Positive = 20.0
    lengthened_mm: NotNegative = 0.0


class BodyRow(_Row, frozen=True, kw_only=True, gc=False):
    """Someone who was measured; measurements in mm."""

    id: Id
    name: str = ""
    measures: dict[str, NotNegative] = {}


class LevelRow(_Row, frozen=True, kw_only=True, gc=False):
    """A named height on the body; `measure` names its girth there."""

    id: Id
    name: str = ""
    measure: str | UnsetType = UNSET


class SheetRow(_Row, frozen=True, kw_only=True, gc=False):
    """A material; without a length it is endless, and rubber where nothing else is said."""

    id: Id
    name: str = ""
    width_mm: Positive
    length_mm: Positive | UnsetType = UNSET
    thickness_mm: NotNegative = 0.4
    colour: str = ""
    spacing_mm: NotNegative = 5.0
    margin_mm: NotNegative = 5.0
    stains: tuple[str, ...] = ()
    marking: Literal["dash", "slit"] = "dash"
    material: Literal["neoprene", "vinyl", "leather", "stretch_cloth"] | UnsetType = UNSET


class AcceptedRow(_Row, frozen=True, kw_only=True, gc=False):
    """A finding that the maker has accepted."""

    code: str
    where: tuple[str, ...] = ()
    reason: str = ""
    measured: float | UnsetType = UNSET


class WedgeFile(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A project as it is saved."""

    format: Literal["wedgework"]
    version: Literal[2]
    name: str = ""
    notes: str = ""
    problems: tuple[str, ...] = ()
    body: Annotated[dict[str, NotNegative], Meta(description="measurements in mm")] = {}
    sheets: tuple[SheetRow, ...] = ()
    levels: tuple[LevelRow, ...] = ()
    pieces: tuple[PieceRow, ...] = ()
    seams: tuple[SeamRow, ...] = ()
    notches: tuple[NotchRow, ...] = ()
    holes: tuple[HoleRow, ...] = ()
    holds: tuple[HoldRow, ...] = ()
    pins: tuple[PinRow, ...] = ()
    pictures: tuple[PictureRow, ...] = ()
    openings: tuple[OpeningRow, ...] = ()
    closings: tuple[ClosingRow, ...] = ()
    bodies: tuple[BodyRow, ...] = ()
    wearer: Annotated[str, Meta(description="one of the bodies, or nobody")] = ""
    reductions: dict[str, Annotated[float, Meta(ge=0, lt=1)]] = {}
    accepted: tuple[AcceptedRow, ...] = ()


def wedge_schema() -> dict[str, Any]:
    """The JSON Schema of a `.wedge` file, as `resources/wedge.schema.json` publishes it."""
    schema = msgspec.json.schema(WedgeFile)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}
