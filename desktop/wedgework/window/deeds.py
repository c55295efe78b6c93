"""What each action of the window does: it asks the bench, the table or a dialog."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QInputDialog

from wedgework.bench import Change, Enter
from wedgework.bench.joined import line_of
from wedgework.bench.mating import mate_run
from wedgework.bench.pinning import edit_pinning
from wedgework.bench.removing import edits_removing
from wedgework.checks import Finding, Mend
from wedgework.edits import Edit, decode_plain
from wedgework.geometry.curve import Point
from wedgework.pattern.body import ALL_NAMES
from wedgework.pattern.document import Piece
from wedgework.pattern.errors import WedgeworkError
from wedgework.pattern.pictures import bounds_mm
from wedgework.window.panels.ledger import ALLOWED, NAME, Typed
from wedgework.window.theme import Wish
from wedgework.window.things import called

if TYPE_CHECKING:
    from wedgework.window.main import MainWindow

ZOOM: Final = 1.25
UNITS: Final = ("mm", "in")
LEDGER_FIELDS: Final = {ALLOWED: "allowed_mm"}


class Deeds:
    """The deeds of one window, by the name of their action."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window
        self._bench = window.bench

    def table(self) -> dict[str, Callable[[], object]]:
        """A deed for every action; what arrow keys have moved is kept before it."""
        return {name: self._settled(deed) for name, deed in self._deeds().items()}

    def _settled(self, deed: Callable[[], object]) -> Callable[[], object]:
        def do() -> object:
            self._window.hand.settle()
            return deed()

        return do

    def _deeds(self) -> dict[str, Callable[[], object]]:
        """By name; files and help have rooms of their own."""
        window, table = self._window, self._window.table
        filing = window.filing
        switches = ("names", "lengths", "combs", "bends", "laid", "grid", "snapping")
        return {
            "start_page": filing.show_first_page,
            "open": filing.ask_open,
            "lay_photograph": filing.ask_photograph,
            "paste_photograph": filing.paste_photograph,
            "photographs": self.swap_photographs,
            "save": filing.save,
            "save_as": filing.save_as,
            "export": filing.export,
            "problems": filing.show_problems,
            "notes": filing.show_notes,
            "preferences": filing.show_preferences,
            "quit": window.close,
            "undo": self._bench.undo,
            "redo": self._bench.redo,
            "history": filing.show_history,
            "delete": self.delete,
            "rename": self.rename,
            "pin": self.pin,
            "choose_all": lambda: self._bench.choose(self._bench.project.pieces),
            "choose_next": lambda: self.choose_beside(1),
            "choose_before": lambda: self.choose_beside(-1),
            "choose_inner": self.choose_inner,
            "fit": table.fit,
            "fit_chosen": self.fit_chosen,
            "zoom_in": lambda: table.zoom(ZOOM),
            "zoom_out": lambda: table.zoom(1 / ZOOM),
            "true_size": self.true_size,
            **{name: self._switch(name) for name in switches},
            "swap_unit": self.swap_unit,
            "swap_colours": self.swap_colours,
            "find": window.finder.open,
            "redraft": self.redraft,
            "renumber": self.renumber,
            "body": self.measure,
            "fit_body": self.fit_body,
            "guess_seams": self.guess_seams,
            "join_chosen": self.join_chosen,
            "true_both": lambda: self.true("both"),
            "true_a": lambda: self.true("a"),
            "true_b": lambda: self.true("b"),
            "true_line": self.true_line,
            "shape": self.shape,
            "hold": lambda: self._on_seam("hold_seam"),
            "hold_shape": lambda: self._on_seam("hold_seam", kind="shape"),
            "let_go": lambda: self._on_seam("let_go"),
            "next_seam": self.next_seam,
            "next_differing": self.next_differing,
            "unjoin": lambda: self._on_seam("unjoin"),
            "glossary": filing.show_glossary,
            "keys": filing.show_keys,
            "cautions": filing.show_cautions,
            "changes": filing.show_changes,
            "about": filing.show_about,
        }

    # Doing edits

    def do(self, *edits: Edit) -> bool:
        """Keep edits as one step; a refusal goes to the status line."""
        try:
            return self._bench.do(*edits)
        except WedgeworkError as error:
            self._window.status.refuse(error.sentence)
            return False

    def do_plain(self, *rows: dict[str, object]) -> bool:
        """Keep edits given as plain data."""
        try:
            edits = [decode_plain(row) for row in rows]
        except WedgeworkError as error:
            self._window.status.refuse(error.sentence)
            return False
        return self.do(*edits)

    def mend(self, mend: Mend) -> None:
        """Apply a mend of a finding."""
        if self.do_plain(*mend.edits):
            self._window.status.say(f"{mend.label}: done. Ctrl+Z takes it back.")

    def accept(self, finding: Finding) -> None:
        """Ask for the reason and accept a finding."""
        from wedgework.window.dialogs.accepting import ask_reason  # noqa: PLC0415 - when first used

        reason = ask_reason(self._window, finding)
        if reason:
            self.do_plain({"edit": "accept", "code": finding.code, "where": list(finding.where),
                           "reason": reason, "measured": finding.measured})  # fmt: skip

    def lead_to(self, finding: Finding) -> None:
        """Choose what a finding is about and bring its place into view."""
        if finding.where[0] in ALL_NAMES:
            self.measure(finding.where[0])
            return
        there = [own for own in finding.where if self._bench.has(own)]
        self._bench.choose(there[:1])
        if finding.at_mm is not None:
            self._window.table.centre_on(finding.at_mm)
        self._window.table.show_fault(finding.curves)

    def type_in_ledger(self, typed: Typed) -> None:
        """A name or a number was typed in the ledger."""
        if typed.column == NAME:
            self.do_plain({"edit": "rename", "id": typed.seam, "name": typed.value})
        else:
            field = LEDGER_FIELDS.get(typed.column, "wanted_mm")
            self.do_plain({"edit": "set_seam", "seam": typed.seam, field: typed.value})

    # Drafted pieces

    def _drafted_piece(self) -> str | None:
        """The piece that is chosen, or that what is chosen belongs to, if it was drafted."""
        project = self._bench.project
        own = next(iter(self._bench.chosen), "")
        piece = project.pieces.get(project.owners.get(own, own))
        if piece is None or piece.recipe is None:
            self._window.status.refuse("Choose a piece that was drafted first.")
            return None
        return piece.id

    def redraft(self) -> None:
        """Draft the chosen piece again, and those that were drafted with it."""
        piece = self._drafted_piece()
        if piece is not None and self.do_plain({"edit": "draft_again", "piece": piece}):
            self._window.status.say("Drafted again. Ctrl+Z takes it back.")

    def renumber(self) -> None:
        """Ask for other numbers of the chosen piece."""
        piece = self._drafted_piece()
        if piece is not None:
            self._window.drafting.start(piece=piece)

    # Choosing

    def delete(self) -> None:
        """Take away what is chosen."""
        edits = edits_removing(self._bench.project, self._bench.chosen)
        if edits:
            self.do(*edits)
        else:
            self._window.status.refuse("Corners and edges belong to their piece and stay.")

    def pin(self) -> None:
        """Pin what the tool measures at this moment, else the measure of what is chosen."""
        hand = self._window.hand
        if hand.tool.name == "measure" and not hand.is_idle:
            hand.does(Enter())
            return
        try:
            edit = edit_pinning(self._bench.project, self._bench.chosen)
        except WedgeworkError as error:
            self._window.status.refuse(error.sentence)
        else:
            self.do(edit)

    def rename(self) -> None:
        """Ask for another name of what is chosen."""
        own = next(iter(self._bench.chosen), None)
        if own is None:
            return
        now = called(self._bench.project, own)
        name, kept = QInputDialog.getText(self._window, "Rename", "Name", text=now)
        if kept and name.strip():
            self.do_plain({"edit": "rename", "id": own, "name": name.strip()})

    def choose_beside(self, step: int) -> None:
        """Choose the next of the kind that is chosen: piece, seam, edge or corner."""
        row = self._row_of_chosen()
        if not row:
            return
        own = next(iter(self._bench.chosen), None)
        at = row.index(own) + step if own in row else 0
        self._bench.choose([row[at % len(row)]])

    def _row_of_chosen(self) -> list[str]:
        project = self._bench.project
        own = next(iter(self._bench.chosen), None)
        if own in project.seams:
            return list(project.seams)
        if own is not None and own in project.owners:
            piece = project.pieces[project.owners[own]]
            edges = [edge.id for edge in piece.all_edges()]
            return edges if own in edges else [edge.corner for edge in piece.all_edges()]
        return list(project.pieces)

    def choose_inner(self) -> None:
        """From a piece to its first edge, from an edge to the corner where it starts."""
        project = self._bench.project
        own = next(iter(self._bench.chosen), None)
        if own is None:
            return
        if own in project.pieces:
            self._bench.choose([project.pieces[own].edges[0].id])
        elif own in project.owners:
            piece: Piece = project.pieces[project.owners[own]]
            self._bench.choose([edge.corner for edge in piece.all_edges() if edge.id == own])

    # Looking

    def fit_chosen(self) -> None:
        """Show what is chosen, large."""
        project = self._bench.shown
        seen = [bounds_mm(picture) for picture in project.pictures.values()
                if picture.id in self._bench.chosen]  # fmt: skip
        boxes = [box for box in (self._window.table.laid_bounds, *seen) if box is not None]
        if boxes:
            self._window.table.show_box(boxes[0])
            return
        pieces = {own if own in project.pieces else project.owners.get(own) for own in
                  self._bench.chosen}  # fmt: skip
        for own in self._bench.chosen:
            if own in project.seams:
                seam = project.seams[own]
                pieces |= {project.owners.get(ref.edge) for ref in (*seam.a, *seam.b)}
        self._window.table.fit([own for own in pieces if own is not None] or None)

    def true_size(self) -> None:
        """Show pieces as large as they are."""
        table = self._window.table
        table.zoom(table.screen_px_per_mm() / table.view.px_per_mm)

    def _switch(self, name: str) -> Callable[[], object]:
        def swap() -> None:
            preferences = self._window.preferences
            swapped: dict[str, Any] = {name: not getattr(preferences.wishes, name)}
            preferences.change(replace(preferences.wishes, **swapped))

        return swap

    def swap_unit(self) -> None:
        """Millimetres or inches."""
        preferences = self._window.preferences
        unit = "in" if preferences.wishes.unit != "in" else "mm"
        preferences.change(replace(preferences.wishes, unit=unit))

    def swap_colours(self) -> None:
        """Light or dark."""
        preferences, theme = self._window.preferences, self._window.theme
        other: Wish = "light" if theme.scheme.name == "dark" else "dark"
        preferences.change(replace(preferences.wishes, colours=other))
        theme.choose(other)

    def swap_photographs(self) -> None:
        """Hide every photograph; show all of them where none is shown."""
        pictures = self._bench.project.pictures
        shown = not any(picture.shown for picture in pictures.values())
        if not pictures:
            self._window.status.say("No photograph lies under the table.")
            return
        rows = [{"edit": "set_picture", "picture": own, "shown": shown} for own in pictures]
        self.do_plain(*rows)

    def hear(self, change: Change) -> None:
        """The tool asks for something: once its gesture is over, so no dialog runs inside it."""
        if change.kind == "asked":
            QTimer.singleShot(0, self.answer_tool)

    def answer_tool(self) -> None:
        """Ask what the tool in the hand wants to know, and hand the answer on."""
        asked, window = self._window.hand.asked, self._window
        if asked is None:
            return
        if asked.question == "words":
            window.hand.answer(None)
            window.card.take_words()
            return
        from wedgework.window.dialogs import photograph  # noqa: PLC0415 - when first used

        wishes = window.preferences.wishes
        window.hand.answer(photograph.ask(window, asked, wishes))
        window.table.setFocus()

    # Body

    def measure(self, name: str = "") -> None:
        """Show the body, at one of its measures where that is said."""
        from wedgework.window.dialogs.body import BodyDialog  # noqa: PLC0415 - when first used

        dialog = BodyDialog(self._window, self._bench, self._window.preferences)
        if name:
            dialog.lead_to(name)
        dialog.open()

    # Seams

    def fit_body(self) -> None:
        """Show how the garment fits, beside the table."""
        from wedgework.window.dialogs.fitting import open_fit  # noqa: PLC0415 - when first used

        wishes = self._window.preferences.wishes
        open_fit(self._window, self._bench, wishes, self.show_place,
                 lambda rows: self.do_plain(*rows))  # fmt: skip

    def show_place(self, ids: Sequence[str], at_mm: Point | None) -> None:
        """Choose the first of some things that is there, and bring its place into view."""
        self._bench.choose([own for own in ids if self._bench.has(own)][:1])
        if at_mm is not None:
            self._window.table.centre_on(at_mm)

    def guess_seams(self) -> None:
        """Offer the seams that fit."""
        from wedgework.window.dialogs.guessing import ask_guesses  # noqa: PLC0415 - when first used

        edits = ask_guesses(self._window, self._bench)
        if edits:
            self.do(*edits)

    def join_chosen(self) -> None:
        """Join two chosen edges, the second walked as it lies to the first."""
        project = self._bench.project
        edges = [own for own in self._bench.chosen if own in project.owners]
        if len(edges) != 2:
            self._window.status.refuse("Choose two edges to join: hold Shift for the second one.")
            return
        mate = [str(ref) for ref in mate_run(project, edges[:1], edges[1:])]
        self.do_plain({"edit": "join", "name": "", "a": edges[:1], "b": mate})

    def true(self, side: str) -> None:
        """True the chosen seam."""
        self._on_seam("true_seam", change=side)

    def true_line(self) -> None:
        """Draw the line through that the chosen edge is part of, or that ends the chosen seam."""
        own = next(iter(self._bench.chosen), "")
        joined = line_of(self._bench.project, own)
        if joined is None:
            self._window.status.refuse("Choose an edge of a hem, a neckline or an armhole first.")
        elif self.do_plain({"edit": "true_across", "edges": list(joined.edges)}):
            self._window.status.say(f"Drawn through: {joined.names}.")

    def _on_seam(self, edit: str, **more: object) -> None:
        seam = self._window.seam.seam_id
        if seam is None:
            self._window.status.refuse("Choose a seam first: press on one of its edges.")
            return
        self.do_plain({"edit": edit, "seam": seam, **more})

    def shape(self) -> None:
        """Set stations for the chosen seam."""
        if self._window.seam.seam_id is None:
            self._window.status.refuse("Choose a seam first: press on one of its edges.")
            return
        self._bench.go_to_step("Shape")
        self._window.panels["Chosen seam"].fold(False)
        self._window.seam.stations.begin()

    def next_seam(self) -> None:
        """Choose the next seam of the ledger."""
        self._next_of(list(self._bench.project.seams))

    def next_differing(self) -> None:
        """Choose the next seam whose sides differ."""
        model = self._window.ledger_model
        differing = []
        for row, own in enumerate(model.seams):
            measure = model.measure(row)
            if measure is not None and measure.state != "agrees":
                differing.append(own)
        if not differing:
            self._window.status.say("All seams agree.")
        self._next_of(differing)

    def _next_of(self, row: list[str]) -> None:
        if row:
            own = self._window.seam.seam_id
            at = row.index(own) + 1 if own in row else 0
            self._bench.choose([row[at % len(row)]])
