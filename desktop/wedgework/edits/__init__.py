"""What a maker can do: the one table of edits, and how they are read and described.

To add an edit, write its class in the file of its family and its row here: menu, key, command
line help, undo text and number form are built from the row and the fields.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final, Literal, TypeAlias

from wedgework.edits.across import DrawAcross, TrueAcross
from wedgework.edits.apply import apply_all
from wedgework.edits.arrange import AlignPieces, CopyPiece, FlipPieces, TurnToGrain
from wedgework.edits.base import Edit, Place, edit_name
from wedgework.edits.bodies import AddBody, RemoveBody, SetReductions, WearBody
from wedgework.edits.body import Accept, AddLevel, AddSheet, SetBody, SetSheet
from wedgework.edits.closings import CloseSeam, LengthenClosing, RemoveClosing, SetClosing
from wedgework.edits.cut import CutPiece
from wedgework.edits.dart_apex import EvenLegs, MoveApex, SetBackApexes
from wedgework.edits.dart_double import AddDoubleDart
from wedgework.edits.dart_double_from_seam import SeamToDoubleDart
from wedgework.edits.dart_fold import FoldDart
from wedgework.edits.dart_from_seam import SeamToDart
from wedgework.edits.dart_open import DartToEase, DartToFullness
from wedgework.edits.dart_seam import DartsToSeam, DartToSeam, DoubleDartToSeam
from wedgework.edits.dart_set import SetDart
from wedgework.edits.darts import AddDart, RemoveDart
from wedgework.edits.describing import described, undo_sentence
from wedgework.edits.drafted import DraftPieces
from wedgework.edits.drawn import (
    AddLabel,
    AddLine,
    MoveLabel,
    RemoveLabel,
    RemoveLevel,
    RemoveLine,
    SetLabel,
    SetLine,
)
from wedgework.edits.edge_length import FitOpening
from wedgework.edits.edges import MergeEdges, SplitEdge
from wedgework.edits.facing import AddFacing
from wedgework.edits.fair import FairEdge
from wedgework.edits.gusset import AddGusset, GussetAtCorner
from wedgework.edits.holds import HoldSeam, LetGo
from wedgework.edits.inset import InsetEdges
from wedgework.edits.marks import (
    AddHoles,
    AddNotches,
    MoveMark,
    RemoveMarks,
    SetHoles,
    SetNotches,
    StopTear,
)
from wedgework.edits.mending import TrueCorner, TurnSide
from wedgework.edits.mirror import MirrorPiece
from wedgework.edits.move import BendEdge, MoveCorner, MovePiece, PullEdge, TurnPiece
from wedgework.edits.moving import MoveThings
from wedgework.edits.names import Rename
from wedgework.edits.openings import MarkOpening, RemoveOpening, SetOpening
from wedgework.edits.pairs import PairUp, SplitPair
from wedgework.edits.panels_cut import CutAlongLevel, CutAlongLine, CutOffset
from wedgework.edits.panels_unite import UnitePanels
from wedgework.edits.pictures import (
    AddPicture,
    MovePicture,
    RemovePicture,
    ScalePicture,
    SetPicture,
    SquarePicture,
    TurnPicture,
)
from wedgework.edits.pieces import AddPiece, CutFrom, RemovePiece
from wedgework.edits.pins import PinMeasure, SetPin, Unpin
from wedgework.edits.pivot import DivideDart, PivotDart
from wedgework.edits.reading import decode_with, edit_from_plain, encode_edit
from wedgework.edits.redraft import DraftAgain
from wedgework.edits.rows import AddPunchRow, MoveRow, SetRow
from wedgework.edits.seam_parts import MergeSeams, SplitSeam
from wedgework.edits.seams import JoinEdges, SetSeam, Unjoin
from wedgework.edits.settings import SetAllowance, SetCutting, SetFinish
from wedgework.edits.shape import ShapeSeam
from wedgework.edits.shapes import AddCircle, AddRectangle, AddSector
from wedgework.edits.slash import SlashSpread, SpreadMany
from wedgework.edits.smooth import SharpenCorner, SmoothCorner
from wedgework.edits.true import TrueSeam
from wedgework.pattern.document import Project

__all__ = ["EDITS", "Edit", "Place", "Row", "apply_all", "decode_edits", "decode_plain",
    "edit_docs", "edit_name", "encode_edit", "undo_text"]  # fmt: skip

Step: TypeAlias = Literal["Measure", "Draft", "Shape", "Join", "Mark", "Lay", "Cut"]


@dataclass(frozen=True, kw_only=True)
class Row:
    """All that menu, key, help and undo list need to know about an edit.

    `says` is the undo list's sentence; a field's name in braces is replaced by the name of the
    thing that the field holds the id of, or by its value.
    """

    edit: type[Edit]
    step: Step
    says: str
    key: str | None = None

    @property
    def name(self) -> str:
        """The edit's name in JSON."""
        return edit_name(self.edit)


EDITS: Final[tuple[Row, ...]] = (
    Row(edit=SetBody, step="Measure", says="Write down the body"),
    Row(edit=AddBody, step="Measure", says="Add body “{name}”"),
    Row(edit=WearBody, step="Measure", says="Make it for {body}"),
    Row(edit=RemoveBody, step="Measure", says="Remove body {body}"),
    Row(edit=SetReductions, step="Measure", says="Set how much smaller to cut"),
    Row(edit=AddLevel, step="Measure", says="Add level “{name}”"),
    Row(edit=RemoveLevel, step="Measure", says="Remove level {level}"),
    Row(edit=MarkOpening, step="Measure", says="Mark opening “{name}”"),
    Row(edit=SetOpening, step="Measure", says="Set opening {opening}"),
    Row(edit=FitOpening, step="Shape", says="Cut the edge of opening {opening} to its length"),
    Row(edit=RemoveOpening, step="Measure", says="Take the mark of opening {opening} away"),
    Row(edit=PinMeasure, step="Measure", says="Pin a measure: {kind}"),
    Row(edit=SetPin, step="Measure", says="Set pinned measure {pin}"),
    Row(edit=Unpin, step="Measure", says="Unpin {pins}"),
    Row(edit=DraftPieces, step="Draft", says="Draft {kind}"),
    Row(edit=DraftAgain, step="Draft", says="Draft {piece} again"),
    Row(edit=AddPiece, step="Draft", says="Add piece “{name}”"),
    Row(edit=AddRectangle, step="Draft", says="Add rectangle “{name}”"),
    Row(edit=AddCircle, step="Draft", says="Add circle “{name}”"),
    Row(edit=AddSector, step="Draft", says="Add sector “{name}”"),
    Row(edit=AddPicture, step="Draft", says="Lay photograph “{name}” under the table"),
    Row(edit=SetPicture, step="Draft", says="Set photograph {picture}"),
    Row(edit=MovePicture, step="Draft", says="Move photograph {picture}"),
    Row(edit=TurnPicture, step="Draft", says="Turn photograph {picture}"),
    Row(edit=ScalePicture, step="Draft", says="Scale photograph {picture}"),
    Row(edit=SquarePicture, step="Draft", says="Square photograph {picture} up"),
    Row(edit=RemovePicture, step="Draft", says="Take photograph {picture} away"),
    Row(edit=RemovePiece, step="Draft", says="Remove piece {piece}"),
    Row(edit=SetCutting, step="Draft", says="Cut {piece} as {cutting}"),
    Row(edit=MirrorPiece, step="Draft", says="Unfold {piece}"),
    Row(edit=AddFacing, step="Draft", says="Face {edges} with {name}"),
    Row(edit=CopyPiece, step="Draft", says="Copy {piece}"),
    Row(edit=PairUp, step="Draft", says="Make {piece} and {other} a pair"),
    Row(edit=SplitPair, step="Draft", says="Make two pieces of pair {piece}"),
    Row(edit=MoveCorner, step="Shape", says="Move corner {corner}"),
    Row(edit=BendEdge, step="Shape", says="Bend {edge}"),
    Row(edit=PullEdge, step="Shape", says="Pull {edge}"),
    Row(edit=FairEdge, step="Shape", says="Fair {edge}"),
    Row(edit=SmoothCorner, step="Shape", says="Make corner {corner} smooth"),
    Row(edit=SharpenCorner, step="Shape", says="Make corner {corner} sharp"),
    Row(edit=InsetEdges, step="Shape", says="Move {edges} inwards by {mm} mm"),
    Row(edit=MoveThings, step="Shape", says="Move {things}"),
    Row(edit=MovePiece, step="Shape", says="Move piece {piece}"),
    Row(edit=TurnPiece, step="Shape", says="Turn piece {piece} by {turn_deg} degrees"),
    Row(edit=FlipPieces, step="Shape", says="Turn {pieces} over"),
    Row(edit=AlignPieces, step="Shape", says="Line up {pieces} by their {by}"),
    Row(edit=TurnToGrain, step="Shape", says="Turn {piece} to its grain"),
    Row(edit=SplitEdge, step="Shape", says="Split {edge}"),
    Row(edit=MergeEdges, step="Shape", says="Merge {first} and {second}"),
    Row(edit=CutPiece, step="Shape", says="Cut {piece} in two"),
    Row(edit=CutAlongLine, step="Shape", says="Cut along line {line}"),
    Row(edit=CutAlongLevel, step="Shape", says="Cut along level {level}"),
    Row(edit=CutOffset, step="Shape", says="Cut a strip of {mm} mm off along {edges}"),
    Row(edit=UnitePanels, step="Shape", says="Unite the panels of seam {seam}"),
    Row(edit=AddGusset, step="Shape", says="Set in {name}"),
    Row(edit=GussetAtCorner, step="Shape", says="Set {name} into corner {corner}"),
    Row(edit=SlashSpread, step="Shape", says="Slash and spread {piece}"),
    Row(edit=SpreadMany, step="Shape", says="Slash {piece} along many lines"),
    Row(edit=AddDart, step="Shape", says="Add a dart to {piece}"),
    Row(edit=AddDoubleDart, step="Shape", says="Add a double-pointed dart to {piece}"),
    Row(edit=PivotDart, step="Shape", says="Swing dart {dart} to {to}"),
    Row(edit=DivideDart, step="Shape", says="Divide dart {dart} into {into}"),
    Row(edit=RemoveDart, step="Shape", says="Remove dart {dart}"),
    Row(edit=MoveApex, step="Shape", says="Move the apex of dart {dart}"),
    Row(edit=SetDart, step="Shape", says="Set the size of dart {dart}"),
    Row(edit=SetBackApexes, step="Shape", says="Set apexes back by {by_mm} mm"),
    Row(edit=EvenLegs, step="Shape", says="Make the legs of dart {dart} equally long"),
    Row(edit=DartToFullness, step="Shape", says="Leave dart {dart} open as fullness"),
    Row(edit=DartToEase, step="Shape", says="Ease dart {dart} into its seam"),
    Row(edit=FoldDart, step="Shape", says="Fold dart {dart} to {to}"),
    Row(edit=DartToSeam, step="Shape", says="Close dart {dart} into a style line"),
    Row(edit=DoubleDartToSeam, step="Shape", says="Run dart {dart} out into a seam"),
    Row(edit=DartsToSeam, step="Shape", says="Take darts {darts} into one seam"),
    Row(edit=SeamToDart, step="Shape", says="Make seam {seam} a dart"),
    Row(edit=SeamToDoubleDart, step="Shape", says="Make seam {seam} a double-pointed dart"),
    Row(edit=ShapeSeam, step="Shape", says="Shape seam {seam}"),
    Row(edit=TrueSeam, step="Join", says="True seam {seam}"),
    Row(edit=TrueCorner, step="Join", says="True the line across {seam}"),
    Row(edit=TrueAcross, step="Join", says="True the line {edges}"),
    Row(edit=DrawAcross, step="Join", says="Draw the line {edges} across its pieces"),
    Row(edit=TurnSide, step="Join", says="Turn side {side} of seam {seam} round"),
    Row(edit=JoinEdges, step="Join", says="Join “{name}”"),
    Row(edit=SetSeam, step="Join", says="Set seam {seam}"),
    Row(edit=SplitSeam, step="Join", says="Divide seam {seam}"),
    Row(edit=MergeSeams, step="Join", says="Make one seam of {seams}"),
    Row(edit=Unjoin, step="Join", says="Take seam {seam} apart"),
    Row(edit=CloseSeam, step="Join", says="Close seam {seam} with {kind}"),
    Row(edit=SetClosing, step="Join", says="Set closing {closing}"),
    Row(edit=LengthenClosing, step="Join", says="Cut closing {closing} at worn length"),
    Row(edit=RemoveClosing, step="Join", says="Glue closing {closing} up again"),
    Row(edit=HoldSeam, step="Join", says="Hold seam {seam}"),
    Row(edit=LetGo, step="Join", says="Let seam {seam} go"),
    Row(edit=Accept, step="Join", says="Accept {code} at {where}"),
    Row(edit=AddNotches, step="Mark", says="Add notches"),
    Row(edit=AddHoles, step="Mark", says="Add holes"),
    Row(edit=AddPunchRow, step="Mark", says="Punch a row of holes"),
    Row(edit=MoveRow, step="Mark", says="Move row {row} by {by_mm} mm"),
    Row(edit=SetRow, step="Mark", says="Set row {row}"),
    Row(edit=StopTear, step="Mark", says="Punch the apex of {dart}"),
    Row(edit=MoveMark, step="Mark", says="Move mark {mark}"),
    Row(edit=SetNotches, step="Mark", says="Set notches {notches}"),
    Row(edit=SetHoles, step="Mark", says="Set holes {holes}"),
    Row(edit=RemoveMarks, step="Mark", says="Remove marks {marks}"),
    Row(edit=AddLine, step="Mark", says="Draw a line in {piece}"),
    Row(edit=SetLine, step="Mark", says="Set line {line}"),
    Row(edit=RemoveLine, step="Mark", says="Remove line {line}"),
    Row(edit=AddLabel, step="Mark", says="Label {piece} “{text}”"),
    Row(edit=MoveLabel, step="Mark", says="Move label {label}"),
    Row(edit=SetLabel, step="Mark", says="Set label {label}"),
    Row(edit=RemoveLabel, step="Mark", says="Remove label {label}"),
    Row(edit=Rename, step="Mark", says="Rename {id} to “{name}”"),
    Row(edit=SetFinish, step="Mark", says="Finish {edges}: {finish}"),
    Row(edit=SetAllowance, step="Cut", says="Allowance {mm} mm on {edges}"),
    Row(edit=AddSheet, step="Lay", says="Add sheet “{name}”"),
    Row(edit=SetSheet, step="Lay", says="Set sheet {sheet}"),
    Row(edit=CutFrom, step="Lay", says="Cut {pieces} from {sheet}"),
)


def _by_name(rows: tuple[Row, ...]) -> dict[str, Row]:
    table = {row.name: row for row in rows}
    if len(table) != len(rows):
        raise ValueError("two edits have one name")
    keys = [row.key for row in rows if row.key]
    if len(set(keys)) != len(keys):
        raise ValueError("two edits have one key")
    return table


_ROWS: Final = _by_name(EDITS)
_KINDS: Final = {name: row.edit for name, row in _ROWS.items()}


def decode_edits(data: bytes) -> tuple[Edit, ...]:
    """The edits of a JSON list.

    EditRefused by name for an unknown edit or key, a doubled key, a wrong type, a number that is
    not finite or breaks a limit, and for what is no JSON at all.
    """
    return decode_with(data, _KINDS)


def decode_plain(row: Any) -> Edit:  # noqa: ANN401
    """One edit from plain data, as a finding's mend holds it; EditRefused as `decode_edits`."""
    return edit_from_plain(row, _KINDS)


def undo_text(edit: Edit, project: Project) -> str:
    """What the undo list says of an edit; `project` is that before it and knows the names."""
    return undo_sentence(edit, _ROWS[edit_name(edit)].says, project)


def edit_docs() -> list[dict[str, Any]]:
    """Each edit as plain data: name, step, meaning, and its arguments.

    An argument has `name`, `type`, `unit` (None if it has none), `meaning`, `needed` and, where it
    is not needed, `default`.
    """
    return [described(row.edit) | {"step": row.step, "key": row.key} for row in EDITS]
