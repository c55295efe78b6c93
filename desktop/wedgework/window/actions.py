"""Every action of the window, in one list: menus, keys, tool tips and the list of keys.

The window holds a deed for each name; a name without one fails at the start.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias, get_args

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QWidget

from wedgework.window.icons import icon
from wedgework.window.palette import Scheme

Menu: TypeAlias = Literal["File", "Edit", "View", "Body", "Piece", "Seam", "Mark", "Sheet", "Help"]
MENUS: Final[tuple[Menu, ...]] = get_args(Menu)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One action. `needs`: something on the table, a piece, something chosen, a seam.

    `part` opens a new group.
    """

    name: str
    words: str
    menu: Menu
    tip: str
    key: str = ""
    picture: str = ""
    needs: Literal["", "project", "pieces", "chosen", "seam"] = "project"
    is_switch: bool = False
    part: bool = False


ACTIONS: Final[tuple[Row, ...]] = (
    Row(name="start_page", words="&First page", menu="File", needs="", picture="new",
        tip="Choose where the pieces come from", key="Ctrl+N"),
    Row(name="open", words="&Open…", menu="File", needs="", picture="open", key="Ctrl+O",
        tip="Open a project, or bring in a drawing"),
    Row(name="lay_photograph", words="&Lay a photograph under the table…", menu="File", needs="",
        picture="photograph", key="Ctrl+L",
        tip="Trace pieces from a photograph or a scan; PNG or JPEG"),
    Row(name="save", words="&Save", menu="File", picture="save", key="Ctrl+S", part=True,
        tip="Save the project"),
    Row(name="save_as", words="Save &as…", menu="File", key="Ctrl+Shift+S",
        tip="Save the project under another name"),
    Row(name="export", words="&Export…", menu="File", needs="pieces", picture="export",
        key="Ctrl+E", part=True, tip="Write the pieces at true size for a cutter or for paper"),
    Row(name="problems", words="What was &repaired…", menu="File",
        tip="What was repaired or dropped when the drawing was read"),
    Row(name="notes", words="&Notes…", menu="File", tip="Notes kept with the project"),
    Row(name="preferences", words="&Preferences…", menu="File", needs="", picture="preferences",
        key="Ctrl+,", tip="Unit, decimals, colours", part=True),
    Row(name="quit", words="&Quit", menu="File", needs="", key="Ctrl+Q", part=True,
        tip="Close the window; unsaved work is asked for"),
    Row(name="undo", words="&Undo", menu="Edit", picture="undo", key="Ctrl+Z",
        tip="Take the last step back"),
    Row(name="redo", words="&Redo", menu="Edit", picture="redo", key="Ctrl+Shift+Z",
        tip="Do the last undone step again"),
    Row(name="history", words="&Steps done…", menu="Edit", picture="history", key="Ctrl+H",
        tip="Everything that can be undone, as a list"),
    Row(name="find", words="&Find a command…", menu="Edit", needs="", key="Ctrl+F",
        tip="Find any command by its name, its meaning, or another word for it", part=True),
    Row(name="delete", words="&Delete what is chosen", menu="Edit", picture="delete",
        key="Del", needs="chosen", part=True, tip="Take away what is chosen; seams come apart"),
    Row(name="paste_photograph", words="&Paste a photograph", menu="Edit", needs="", key="Ctrl+V",
        tip="Lay the picture that was copied under the table"),
    Row(name="rename", words="Re&name…", menu="Edit", key="F2", needs="chosen",
        tip="Give what is chosen another name"),
    Row(name="pin", words="&Pin what is measured", menu="Edit", picture="pin", key="Ctrl+M",
        tip="Keep what the tool measures, or the measure of what is chosen, on the table"),
    Row(name="choose_all", words="Choose &all pieces", menu="Edit", needs="pieces",
        key="Ctrl+A", part=True, tip="Choose every piece"),
    Row(name="choose_next", words="Choose ne&xt", menu="Edit", needs="pieces", key="]",
        tip="Choose the next piece, or the next edge, corner or seam of what is chosen"),
    Row(name="choose_before", words="Choose &before", menu="Edit", needs="pieces", key="[",
        tip="Choose the one before"),
    Row(name="choose_inner", words="Choose an edge of the &piece", menu="Edit",
        needs="pieces", key="}",
        tip="From a piece to its first edge, from an edge to the corner where it starts"),
    Row(name="fit", words="&Fit all", menu="View", picture="fit", key="F",
        tip="Show all pieces, or the photographs while there are none"),
    Row(name="fit_chosen", words="Fit what is &chosen", menu="View", picture="fit_chosen",
        key="0", tip="Show what is chosen, large"),
    Row(name="zoom_in", words="Zoom &in", menu="View", picture="zoom_in", key="+",
        tip="Show pieces larger; the wheel does so about the pointer"),
    Row(name="zoom_out", words="Zoom &out", menu="View", picture="zoom_out", key="-",
        tip="Show pieces smaller"),
    Row(name="true_size", words="As large as &life", menu="View", picture="true_size", key="1",
        tip="Show pieces as large as they are, as far as the screen tells its size"),
    Row(name="names", words="&Names of pieces", menu="View", picture="names", is_switch=True,
        part=True, needs="", key="Ctrl+1", tip="Write the names on the pieces"),
    Row(name="lengths", words="&Lengths of edges", menu="View", picture="lengths", is_switch=True,
        needs="", key="L", tip="Write the length of every edge beside it"),
    Row(name="combs", words="Shaping &combs", menu="View", picture="shape_seam", is_switch=True,
        needs="", key="Ctrl+2", tip="Show where the shaping of the chosen seam sits"),
    Row(name="bends", words="&Bend combs", menu="View", picture="fair_edge", is_switch=True,
        needs="", key="Ctrl+4", tip="Show how tightly chosen edges bend, and how evenly"),
    Row(name="laid", words="Pieces laid &together", menu="View", picture="true_across",
        is_switch=True, needs="", key="Ctrl+5",
        tip="Show the neighbours of a chosen seam or open edge laid to it, seams' ends meeting"),
    Row(name="grid", words="&Grid", menu="View", picture="grid", is_switch=True, needs="",
        key="G", tip="Draw a grid on the table"),
    Row(name="snapping", words="&Snap", menu="View", picture="snap", is_switch=True, needs="",
        key="Ctrl+3", tip="Snap to corners and levels; Alt lets go of it"),
    Row(name="photographs", words="&Photographs", menu="View", picture="photograph", key="Ctrl+6",
        needs="", tip="Show the photographs under the table, or hide them"),
    Row(name="swap_unit", words="&Millimetres or inches", menu="View", needs="", part=True,
        key="Ctrl+U", tip="Show lengths in the other unit"),
    Row(name="swap_colours", words="Light or &dark", menu="View", needs="", key="Ctrl+D",
        tip="Change between light and dark colours"),
    Row(name="redraft", words="Draft it &again", menu="Piece", picture="draft_again",
        needs="chosen",
        tip="Draft the chosen pieces again from what they were made from; what was done by hand "
            "is done again"),
    Row(name="renumber", words="Other &numbers…", menu="Piece", needs="chosen",
        tip="Draft the chosen piece again with other numbers"),
    Row(name="body", words="&Measures and reductions…", menu="Body", picture="set_body",
        key="Ctrl+B", needs="",
        tip="Who wears it: measures with a drawing, several bodies, how much smaller to cut"),
    Row(name="fit_body", words="&Fit to the body…", menu="Body", needs="pieces",
        picture="mark_opening", key="Ctrl+I",
        tip="Levels against the body, and the way in section by section"),
    Row(name="guess_seams", words="&Guess seams…", menu="Seam", needs="pieces",
        picture="guess_seams", key="Ctrl+G", tip="Propose seams from lengths and shapes"),
    Row(name="join_chosen", words="&Join the chosen edges", menu="Seam", picture="join",
        key="J", needs="chosen", tip="Join two chosen edges by a seam"),
    Row(name="true_both", words="&True both sides", menu="Seam", picture="true_seam", key="T",
        needs="seam", part=True, tip="Make both sides equally long, half the change on each"),
    Row(name="true_a", words="True side &A", menu="Seam", needs="seam",
        tip="Make side A as long as side B"),
    Row(name="true_b", words="True side &B", menu="Seam", needs="seam",
        tip="Make side B as long as side A"),
    Row(name="true_line", words="True the &line across", menu="Seam", picture="true_across",
        key="Ctrl+T", needs="chosen",
        tip="Draw the hem, neckline or armhole that is chosen through over all its pieces"),
    Row(name="shape", words="&Shape…", menu="Seam", picture="shape_seam", key="S", needs="seam",
        part=True, tip="Give the seam intake at stations, so that it joins shaped"),
    Row(name="hold", words="&Hold", menu="Seam", key="Ctrl+J", needs="seam", part=True,
        tip="Hold the seam: the mate of a side that changes follows"),
    Row(name="hold_shape", words="Hold in sha&pe", menu="Seam", needs="seam",
        tip="Hold both sides as one curve: the mate becomes its image"),
    Row(name="let_go", words="&Let go", menu="Seam", key="Ctrl+Shift+J", needs="seam",
        tip="Let a held seam go: its sides no longer follow each other"),
    Row(name="next_seam", words="&Next seam", menu="Seam", needs="pieces", key="N", part=True,
        tip="Choose the next seam of the ledger"),
    Row(name="next_differing", words="Next &difference", menu="Seam", needs="pieces", key="D",
        tip="Choose the next seam whose sides differ"),
    Row(name="unjoin", words="Take &apart", menu="Seam", picture="unjoin", needs="seam",
        part=True, tip="Take the seam apart; its edges stay"),
    Row(name="glossary", words="&Words", menu="Help", needs="", tip="What the words mean"),
    Row(name="keys", words="&Keys", menu="Help", needs="", picture="help", key="F1",
        tip="Every key of the window"),
    Row(name="cautions", words="&Cautions", menu="Help", needs="",
        tip="Wearing, storing, solvents, blades"),
    Row(name="changes", words="What c&hanged", menu="Help", needs="", part=True,
        tip="The list of changes"),
    Row(name="about", words="&About", menu="Help", needs="", tip="Version and licences"),
)  # fmt: skip


def make_actions(
    parent: QWidget, deeds: Mapping[str, Callable[[], object]], scheme: Scheme
) -> dict[str, QAction]:
    """An action for each row; KeyError where the window has no deed for one."""
    made: dict[str, QAction] = {}
    for row in ACTIONS:
        action = QAction(row.words, parent)
        action.setObjectName(row.name)
        action.setToolTip(tip_of(row.words, row.tip, row.key))
        action.setStatusTip(row.tip)
        if row.key:
            action.setShortcut(QKeySequence(row.key))
        action.setCheckable(row.is_switch)
        action.triggered.connect(_ignoring_argument(deeds[row.name]))
        made[row.name] = action
    dress(made, scheme)
    return made


def dress(actions: Mapping[str, QAction], scheme: Scheme) -> None:
    """Put the icons of a scheme on."""
    for row in ACTIONS:
        if row.picture:
            actions[row.name].setIcon(icon(row.picture, scheme))


def tip_of(words: str, tip: str, key: str) -> str:
    """A tool tip: the words, the key, and what it does."""
    plain = words.replace("&", "").removesuffix("…")
    return f"<b>{plain}</b>&nbsp; {key}<br>{tip}" if key else f"<b>{plain}</b><br>{tip}"


def rows_of(menu: Menu) -> Iterable[Row]:
    """The rows of one menu, in order."""
    return (row for row in ACTIONS if row.menu == menu)


def _ignoring_argument(deed: Callable[[], object]) -> Callable[[], None]:
    # Qt hands `checked` to whatever takes an argument.
    def do() -> None:
        deed()

    return do
