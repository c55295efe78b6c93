"""The document: immutable values that compare by identity.

Millimetres, radians, x right, y up. A piece's outline runs counter-clockwise (inside on the left),
a cut-out's clockwise (the piece is on its left too). Neighbouring edges share their corner bit for
bit. Ids are unique in the whole project.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import chain
from typing import Any, Literal, TypeAlias

from wedgework.geometry.curve import Curve, Point
from wedgework.pattern.table import Table

PieceId: TypeAlias = str
EdgeId: TypeAlias = str
CornerId: TypeAlias = str
SeamId: TypeAlias = str
LevelId: TypeAlias = str
SheetId: TypeAlias = str

Finish: TypeAlias = Literal["hem", "fold", "open"]
"""What becomes of an edge that no seam takes; one in a seam is `joined` of itself."""

Cutting: TypeAlias = Literal["single", "pair", "fold"]
"""One; one and its mirror image; drawn half and cut whole about its fold edge."""

Join: TypeAlias = Literal["lapped", "butted", "superimposed", "bound"]
"""How a seam is made. Source: classes of ISO 4916 (butted is its class 4, flat)."""

Side: TypeAlias = Literal["a", "b"]

LineKind: TypeAlias = Literal["style", "fold", "placement", "level", "grain", "torso loop"]

Marking: TypeAlias = Literal["dash", "slit"]
"""How notches are made: dashes of a pen on sheet that tears; slits in cloth and leather."""


Material: TypeAlias = Literal["rubber", "neoprene", "vinyl", "leather", "stretch_cloth"]
"""What a sheet is made of; only of rubber it is known how it thins and pulls when it is worn."""


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Edge:
    """One side of a piece between two corners; `corner` is the id of the one where it starts."""

    id: EdgeId
    name: str
    curve: Curve
    corner: CornerId
    finish: Finish = "open"
    allowance_mm: float = 0.0


Ring: TypeAlias = tuple[Edge, ...]
"""Edges that follow each other and close: the last ends where the first starts."""


def check_ring(edges: Ring) -> None:
    """Raise ValueError unless `edges` close, each starting bit for bit where the last ended."""
    if not edges:
        raise ValueError("a ring has at least one edge")
    for before, after in zip((edges[-1], *edges[:-1]), edges, strict=True):
        if before.curve.end.tolist() != after.curve.start.tolist():
            raise ValueError(f"edge {after.id} does not start where {before.id} ends")


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Cutout:
    """A hole in a piece, cut out with it; its ring runs clockwise."""

    id: str
    edges: Ring

    def __post_init__(self) -> None:
        """Hold that the ring closes."""
        check_ring(self.edges)


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Line:
    """A line inside a piece that is drawn, not cut; a level's line names its level."""

    id: str
    kind: LineKind
    curve: Curve
    name: str = ""
    level: LevelId | None = None


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Label:
    """Text on a piece, its baseline starting at `at_mm`, (2,)."""

    id: str
    text: str
    at_mm: Point
    height_mm: float = 5.0
    angle_rad: float = 0.0


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Recipe:
    """What a drafted piece was made from, so that it can be made again.

    `numbers`, `measured` and `edits_since` are JSON text, since recipes are read by the rooms
    below; what begins with `~` in the latter changed other pieces too and is not done again.
    `measured` says of each source its length, turning and reach (mm, rad, mm). `group` is the id of
    the first of the pieces that were drafted together, `names` the ids (JSON) that differ from
    those of the draft, `moved_mm` how far they were laid aside to lie free on the table, and
    `refused` are edits that could not be done again, each a sentence.
    """

    kind: str
    numbers: str
    sources: tuple[str, ...] = ()
    measured: str = "{}"
    edits_since: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    group: str = ""
    names: str = "{}"
    moved_mm: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Piece:
    """One flat part: a closed outline of edges, and what is drawn in it.

    `fold_edge` is set exactly where `cutting` is `fold`. `turns_rad` are the turns in which it may
    lie on the sheet, None for any. A dart is a wedge left out of the outline: its two legs are
    edges and its apex a corner.
    """

    id: PieceId
    name: str
    edges: Ring
    lines: tuple[Line, ...] = ()
    cutouts: tuple[Cutout, ...] = ()
    labels: tuple[Label, ...] = ()
    cutting: Cutting = "single"
    fold_edge: EdgeId | None = None
    sheet: SheetId | None = None
    quantity: int = 1
    turns_rad: tuple[float, ...] | None = None
    recipe: Recipe | None = None

    def __post_init__(self) -> None:
        """Hold that the outline closes and the fold edge is one of its own."""
        check_ring(self.edges)
        if (self.cutting == "fold") != (self.fold_edge is not None):
            raise ValueError("a piece cut on the fold, and only that, has a fold edge")

    def all_edges(self) -> Iterator[Edge]:
        """Edges of the outline, then those of each cut-out."""
        yield from self.edges
        for cutout in self.cutouts:
            yield from cutout.edges

    def own_ids(self) -> Iterator[str]:
        """Every id in the piece but its own: edges, corners, lines, cut-outs, labels."""
        yield from chain.from_iterable((edge.id, edge.corner) for edge in self.all_edges())
        yield from (line.id for line in self.lines)
        yield from (cutout.id for cutout in self.cutouts)
        yield from (label.id for label in self.labels)


@dataclass(frozen=True, slots=True)
class Ref:
    """An edge (or an internal line) as a seam walks it.

    `backward`: against the edge's own direction. `mirrored`: the edge of the piece's mirror
    image, walked as the image of the edge. The piece is on the left of the walk where neither or
    both hold, else on the right.
    """

    edge: EdgeId
    backward: bool = False
    mirrored: bool = False

    @property
    def on_left(self) -> bool:
        """Whether the piece lies on the left of the walk."""
        return self.backward == self.mirrored

    def __str__(self) -> str:
        """As files and commands write it: `-` where backward, then `~` where mirrored."""
        return "-" * self.backward + "~" * self.mirrored + self.edge


def parse_ref(text: str) -> Ref:
    """Read a ref as `__str__` writes it; no id starts with `-` or `~`."""
    backward, rest = text.startswith("-"), text.removeprefix("-")
    return Ref(rest.removeprefix("~"), backward=backward, mirrored=rest.startswith("~"))


Run: TypeAlias = tuple[Ref, ...]
"""Edges in the order and direction in which a seam is walked, over several pieces if need be."""


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Seam:
    """Run A joined to run B, both walked from the same end.

    With an `apex` it is a dart: both runs are legs, walked from the mouth to the apex. The
    difference that is wanted (A - B) is `wanted_mm` and what is allowed about it `allowed_mm`.
    `laid_on`: no seam of the skin (a facing, a tube, a hung skirt). A double-pointed dart is a
    cut-out whose legs run from its `tip` to its `apex`. `tape_mm` is the width of the tape behind
    a butted seam, `binding_mm` the depth that a binding covers; each is read by its own join alone.
    """

    id: SeamId
    name: str
    a: Run
    b: Run
    join: Join = "lapped"
    lap_mm: float = 8.0
    over: Side = "a"
    wanted_mm: float = 0.0
    allowed_mm: float = 0.5
    laid_on: bool = False
    apex: CornerId | None = None
    tip: CornerId | None = None
    tape_mm: float = 12.0
    binding_mm: float = 8.0

    @property
    def is_dart(self) -> bool:
        """Whether its runs are the legs of a dart."""
        return self.apex is not None


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on an edge: `at_mm` of arc length from the edge's start."""

    edge: EdgeId
    at_mm: float


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Notch:
    """A mark on an edge, and its mate on the other side of the seam, where it has one.

    One object holds both sides, so they cannot drift apart unseen: what moves the datum `at`
    places `mate` again.
    """

    id: str
    at: Spot
    mate: Spot | None = None
    double: bool = False


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Hole:
    """A punched hole, `inset_mm` inside the seam line at `at`, and its mate as for a notch.

    Holes of one `row` were punched as one and are changed as one. `through`: it goes through both
    layers of a lap at one place, so on the under side it lies as far outside the seam line.
    """

    id: str
    at: Spot
    mate: Spot | None = None
    inset_mm: float = 0.0
    diameter_mm: float = 2.0
    row: str | None = None
    through: bool = False


HoldKind: TypeAlias = Literal["length", "shape"]
"""Both sides as long as the seam wants them; or one side the other's image besides."""


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Hold:
    """The two sides of a seam are kept in agreement while either of them is changed.

    The difference that is held is the seam's own `wanted_mm`.
    """

    id: str
    seam: SeamId
    kind: HoldKind = "length"


Bare: TypeAlias = tuple[float, float]
"""A place that is no edge's: x and y in mm, on the table or inside a piece."""

Anchor: TypeAlias = Spot | Bare | str
"""What a measurement is pinned to: a place on an edge, the id of a corner, mark or level, or a bare
place."""

PinKind: TypeAlias = Literal["distance", "along", "angle", "girth"]
"""Straight between two anchors; along the edges between them; at the middle one of three, or at a
corner; round all instances at a level."""


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Pin:
    """A measurement that stays on the table; with `wanted` (mm, an angle rad) it is a check."""

    id: str
    name: str
    kind: PinKind
    anchors: tuple[Anchor, ...]
    wanted: float | None = None
    allowed: float = 0.5


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Picture:
    """A photograph or scan under the table.

    `data` are the bytes of a PNG or JPEG file. `placing` is the projective map from its pixels
    (x right, y down, (0, 0) the upper left corner of the first) to mm, row by row, the last 1.
    `strength_ratio` is how strongly it shows, 1 undimmed.
    """

    id: str
    name: str
    data: bytes
    placing: tuple[float, ...] = (1.0, 0.0, 0.0, 0.0, -1.0, 0.0, 0.0, 0.0, 1.0)
    strength_ratio: float = 0.5
    shown: bool = True


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Opening:
    """A ring of edges that a part of the body has to pass, and how far it may stretch for that.

    `measure` names the body's girth there; `allowed_stretch` is a share of the length. `rise_mm`
    is how much higher it lies on the outer side of a limb than on the inner, on the body.
    """

    id: str
    name: str
    edges: Run
    measure: str
    allowed_stretch: float = 0.4
    rise_mm: float = 0.0


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Body:
    """Someone who was measured; the one that the pieces are for is the project's `wearer`."""

    id: str
    name: str
    measures: Table[float] = field(default_factory=Table)


ClosingKind: TypeAlias = Literal["zip", "snaps", "lacing", "left_open"]
"""What a seam that is not made up is closed with."""


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Closing:
    """A seam that opens to let the body in, and what it is closed with.

    `overlap_mm` is how far its sides lie on each other when it is closed, `flap_mm` the width of a
    flap behind it, 0 for none; `pitch_mm` from snap to snap or from eyelet to eyelet.
    `lengthened_mm` is how much was added to its edges to have them at worn length.
    """

    id: str
    seam: SeamId
    kind: ClosingKind = "snaps"
    overlap_mm: float = 22.0
    flap_mm: float = 0.0
    pitch_mm: float = 20.0
    lengthened_mm: float = 0.0


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Level:
    """A named height on the body; its lines are in the pieces. `measure` names its girth."""

    id: LevelId
    name: str
    measure: str | None = None


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Sheet:
    """The material that pieces are cut from; `length_mm` None is endless.

    `marking` says how notches are made in it, `material` what it is made of.
    """

    id: SheetId
    name: str
    width_mm: float
    length_mm: float | None = None
    thickness_mm: float = 0.4
    colour: str = ""
    spacing_mm: float = 5.0
    margin_mm: float = 5.0
    stains: tuple[str, ...] = ()
    marking: Marking = "dash"
    material: Material = "rubber"


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Accepted:
    """A finding that the maker has accepted, until what it measured grows."""

    code: str
    where: tuple[str, ...]
    reason: str
    measured: float | None = None


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Project:
    """Everything that is saved. Edits share all that they do not touch.

    `body` are the measures of the `wearer`, who is one of `bodies`, or of someone unnamed.
    `reductions` are shares by which the sheet is cut smaller than the body: of `girth`, `length`,
    `limb`, `neck` and `edge`; what is not in it is as usual.
    `owners` says which piece holds an edge, corner, line, cut-out or label. It is derived from
    `pieces` and kept only because rebuilding it in every frame of a drag would cost too much;
    build projects with `new_project` and change them with `pattern.changes`.
    """

    name: str = ""
    pieces: Table[Piece] = field(default_factory=Table)
    seams: Table[Seam] = field(default_factory=Table)
    notches: Table[Notch] = field(default_factory=Table)
    holes: Table[Hole] = field(default_factory=Table)
    holds: Table[Hold] = field(default_factory=Table)
    pins: Table[Pin] = field(default_factory=Table)
    pictures: Table[Picture] = field(default_factory=Table)
    openings: Table[Opening] = field(default_factory=Table)
    closings: Table[Closing] = field(default_factory=Table)
    bodies: Table[Body] = field(default_factory=Table)
    levels: Table[Level] = field(default_factory=Table)
    sheets: Table[Sheet] = field(default_factory=Table)
    body: Table[float] = field(default_factory=Table)
    wearer: str = ""
    reductions: Table[float] = field(default_factory=Table)
    accepted: tuple[Accepted, ...] = ()
    notes: str = ""
    problems: tuple[str, ...] = ()
    owners: Table[PieceId] = field(default_factory=Table)

    @property
    def id_tables(self) -> tuple[Table[Any], ...]:
        """Every table whose rows have ids of their own."""
        return (
            self.pieces, self.owners, self.seams, self.notches,
            self.holes, self.levels, self.sheets,
            self.holds, self.pins, self.pictures, self.openings, self.closings, self.bodies,
        )  # fmt: skip

    def all_ids(self) -> Iterator[str]:
        """Every id in the project."""
        return chain.from_iterable(self.id_tables)
