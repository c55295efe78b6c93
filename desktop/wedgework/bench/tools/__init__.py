"""The tools: one table. Each is a state machine that turns gestures into wishes, and knows no Qt.

To add one, write its states and `step` in a module of its own and its row here; its word goes into
the glossary and its picture into `resources/icons/`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

from wedgework.bench.gestures import Gesture
from wedgework.bench.steps import StepName
from wedgework.bench.tools import (
    across,
    choose,
    cut,
    dart,
    dart_line,
    dart_swing,
    draw,
    fair,
    grain,
    intake,
    join,
    label,
    level,
    measure,
    notch,
    photograph,
    piece,
    punch,
    slash,
    trace,
    turn,
    walk,
)
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Wish

__all__ = ["TOOLS", "Scene", "Tool", "tool_named"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """All that window and help need to know. `step` None: it is to hand in every step.

    `idle` is the state in which nothing is held, `advance` the state machine; `types` says what a
    typed number is while it is at work, `mm;deg` one after the other, and `asks` how it is called
    beside the pointer. With `has_loupe` the
    photograph is shown large near the pointer. `resume` goes on with a state after undo or another
    edit, None where what it held is gone; a tool without it begins anew.
    """

    name: str
    word: str
    hint: str
    icon: str
    key: str
    step: StepName | None
    idle: Any
    advance: Callable[[Any, Gesture, Scene], tuple[Any, tuple[Wish, ...]]]
    resume: Callable[[Any, Scene], tuple[Any, tuple[Wish, ...]] | None] | None = None
    types: str = "mm"
    asks: str = "typed"
    has_loupe: bool = False


TOOLS: Final[tuple[Tool, ...]] = (
    Tool(
        name="choose",
        word="Choose",
        hint="Press on a corner, an edge or a piece to choose it, and drag to move it.",
        icon="choose",
        key="V",
        step=None,
        idle=choose.Idle(),
        advance=choose.step,
        asks="by; or across; up",
    ),
    Tool(
        name="measure",
        word="Measure",
        hint="Press at a place, then at another; Shift: along the edges; Enter pins it.",
        icon="measure_between",
        key="M",
        step="Measure",
        idle=measure.Idle(),
        advance=measure.step,
        asks="wanted",
    ),
    Tool(
        name="level",
        word="Level",
        hint="Press at the height of the bust, then under-bust, waist and hip line.",
        icon="add_level",
        key="E",
        step="Measure",
        idle=level.Idle(),
        advance=level.step,
        asks="height",
    ),
    Tool(
        name="piece",
        word="Piece",
        hint="Press for each corner of a new piece, with Shift for points of a curve; "
        "the first one again closes it.",
        icon="add_piece",
        key="P",
        step="Draft",
        idle=piece.Idle(),
        advance=piece.step,
        types="mm;deg",
        asks="length; turn",
    ),
    Tool(
        name="photograph",
        word="Photograph",
        hint="Drag a photograph into place; press on it for marks that scale it or square it up.",
        icon="photograph",
        key="U",
        step="Draft",
        idle=photograph.Idle(),
        advance=photograph.step,
        has_loupe=True,
        asks="length",
    ),
    Tool(
        name="trace",
        word="Trace",
        hint="Press on the corners of a piece in a photograph, with Shift on its round edges.",
        icon="trace",
        key="Y",
        step="Draft",
        idle=trace.Idle(),
        advance=trace.step,
        types="mm;deg",
        has_loupe=True,
        asks="length; turn",
    ),
    Tool(
        name="turn",
        word="Turn",
        hint="Press on a piece and drag round it; Shift turns in steps of 15°.",
        icon="turn_piece",
        key="R",
        step="Shape",
        idle=turn.Idle(),
        advance=turn.step,
        types="deg",
        asks="turn",
    ),
    Tool(
        name="intake",
        word="Intake",
        hint="Press on a seam and draw it in; press again for more stations; Enter keeps them.",
        icon="intake",
        key="I",
        step="Shape",
        idle=intake.Idle(),
        advance=intake.step,
        asks="width",
    ),
    Tool(
        name="slash",
        word="Slash",
        hint="Press where it opens, where it hinges, then draw it open; Shift gathers several.",
        icon="slash_spread",
        key="H",
        step="Shape",
        idle=slash.Idle(),
        advance=slash.step,
        asks="opens; far end",
    ),
    Tool(
        name="dart",
        word="Dart",
        hint="Press on an edge (or inside, for two points), then at the apex, then draw it open.",
        icon="add_dart",
        key="A",
        step="Shape",
        idle=dart.Idle(),
        advance=dart.step,
        asks="intake",
    ),
    Tool(
        name="swing",
        word="Swing",
        hint="Press on a leg of a dart and draw its mouth round the outline; Shift swings half.",
        icon="pivot_dart",
        key="Shift+U",
        step="Shape",
        idle=dart_swing.Idle(),
        advance=dart_swing.step,
        types="deg",
        asks="degrees",
    ),
    Tool(
        name="style_line",
        word="Style line",
        hint="Press on a leg of a dart, inside where the line passes, and where it ends.",
        icon="dart_to_seam",
        key="Shift+X",
        step="Shape",
        idle=dart_line.Idle(),
        advance=dart_line.step,
    ),
    Tool(
        name="cut",
        word="Cut",
        hint="Press on the outline, inside, and on the outline again; or on a line in a piece.",
        icon="cut_piece",
        key="X",
        step="Shape",
        idle=cut.Idle(),
        advance=cut.step,
        asks="along; or across; up",
    ),
    Tool(
        name="fair",
        word="Fair",
        hint="Press on an edge and draw away: waves shorter than that way are smoothed.",
        icon="fair_edge",
        key="B",
        step="Shape",
        idle=fair.Idle(),
        advance=fair.step,
        asks="over",
    ),
    Tool(
        name="join",
        word="Join",
        hint="Press on an edge, then on the one that it is joined to; Shift gathers several.",
        icon="join",
        key="O",
        step="Join",
        idle=join.Idle(),
        advance=join.step,
    ),
    Tool(
        name="across",
        word="Hem",
        hint="Press on a hem, neckline or armhole: its pieces are laid together; draw it as one.",
        icon="true_across",
        key="C",
        step="Join",
        idle=across.Idle(),
        advance=across.step,
        resume=across.resumed,
        asks="by; or across; up",
    ),
    Tool(
        name="walk",
        word="Walk",
        hint="Press on an edge of a seam and drag: its piece rolls along its partner.",
        icon="walk",
        key="Shift+W",
        step="Join",
        idle=walk.Idle(),
        advance=walk.step,
        resume=walk.resumed,
        asks="along",
    ),
    Tool(
        name="draw",
        word="Line",
        hint="Press inside a piece for the points of a line; Enter ends it.",
        icon="add_line",
        key="W",
        step="Mark",
        idle=draw.Idle(),
        advance=draw.step,
        asks="by; or across; up",
    ),
    Tool(
        name="notch",
        word="Notch",
        hint="Press on an edge and slide: a notch, with its mate across the seam; Shift: double.",
        icon="add_notches",
        key="K",
        step="Mark",
        idle=notch.Idle(),
        advance=notch.step,
        asks="along",
    ),
    Tool(
        name="punch",
        word="Punch row",
        hint="Press on a seam or an edge: a row of holes; draw along it for first hole and pitch.",
        icon="add_punch_row",
        key="Q",
        step="Mark",
        idle=punch.Idle(),
        advance=punch.step,
        asks="pitch; inset",
    ),
    Tool(
        name="label",
        word="Label",
        hint="Press inside a piece where a label begins; its text is typed in the card.",
        icon="add_label",
        key="Shift+Q",
        step="Mark",
        idle=label.Idle(),
        advance=label.step,
        asks="letters",
    ),
    Tool(
        name="grain",
        word="Grain",
        hint="Press in a piece for an upright grain line, or draw it; length and turn are typed.",
        icon="add_grain",
        key="Z",
        step="Mark",
        idle=grain.Idle(),
        advance=grain.step,
        types="mm;deg",
        asks="length; turn",
    ),
)

_BY_NAME: Final = {tool.name: tool for tool in TOOLS}
if len(_BY_NAME) != len(TOOLS) or len({tool.key for tool in TOOLS}) != len(TOOLS):
    raise ValueError("two tools have one name or one key")


def tool_named(name: str) -> Tool:
    """The tool of a name; KeyError where there is none."""
    return _BY_NAME[name]
