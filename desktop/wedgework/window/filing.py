"""Files as the window sees them: opening, importing, saving, exporting, and never losing work."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Final, cast

from PySide6.QtCore import QBuffer, QByteArray
from PySide6.QtGui import QGuiApplication, QImage, QImageWriter
from PySide6.QtWidgets import QFileDialog

from wedgework.bench import ChangedOutside, NotSaved, recover, unsaved_journals
from wedgework.edits import EDITS, Row
from wedgework.edits.pictures import AddPicture
from wedgework.files.atomic import read_whole
from wedgework.pattern.document import Project
from wedgework.pattern.errors import WedgeworkError
from wedgework.resources import demo_names, demo_path
from wedgework.window.dialogs.first import FirstPage, Offer

if TYPE_CHECKING:
    from wedgework.window.main import MainWindow

PROJECT: Final = ".wedge"
PHOTOGRAPHS: Final = "Photographs (*.png *.jpg *.jpeg)"
IMAGES: Final = frozenset({".png", ".jpg", ".jpeg"})
OPENS: Final = "Pieces (*.wedge *.svg);;Projects (*.wedge);;Drawings (*.svg)"
SAVES: Final = "Wedgework project (*.wedge)"
MOST_RECENT: Final = 4


class Filing:
    """File actions of one window. Dialogs are brought in when they are first needed."""

    def __init__(self, window: MainWindow, state_folder: Path) -> None:
        self._window = window
        self._bench = window.bench
        self._state_folder = state_folder

    # Starting

    def start(self, path: Path | None) -> None:
        """Open what was asked for, else show the first page, which offers unsaved work too."""
        self.show_first_page()
        if path is not None:
            self.open(path)

    def first_page(self) -> FirstPage:
        """The page that asks where the pieces come from."""
        page = FirstPage(self._window.theme.scheme)
        page.open_pressed.connect(self.ask_open)
        page.measures_pressed.connect(self.start_with_measures)
        page.draft_pressed.connect(self.start_with_draft)
        page.photograph_pressed.connect(self.ask_photograph)
        page.piece_pressed.connect(self.start_with_piece)
        page.path_chosen.connect(self.open)
        page.recovery_chosen.connect(self.go_on)
        return page

    def show_first_page(self) -> None:
        """Go to the first page; unsaved work is asked for when something is opened."""
        demos = [Offer(*said_of_demo(name), demo_path(name), has_picture=name.endswith(PROJECT))
                 for name in demo_names()]  # fmt: skip
        recent = [Offer(path.stem, str(path), path) for path in self._recent()[:MOST_RECENT]]
        lost = [_lost_work(path) for path in unsaved_journals(self._state_folder)]
        self._window.first.offer(demos, recent, lost)
        self._window.show_first_page()

    def go_on(self, journal: Path) -> None:
        """Go on with work that was never saved."""
        if self.may_leave():
            self._tried(lambda: self._tell_problem(self._bench.open_unsaved(journal)))

    def start_with_measures(self) -> None:
        """Begin with nothing but a body, and ask for its measures."""
        if self.may_leave():
            self._bench.new(Project())
            self._bench.go_to_step("Measure")
            self._window.deeds.measure()

    def start_with_draft(self) -> None:
        """Begin with nothing, and draft a suit from measures."""
        if self.may_leave():
            self._bench.new(Project())
            self._window.drafting.start()

    def start_with_piece(self) -> None:
        """Begin with nothing, and the tool that draws a piece in the hand."""
        if self.may_leave():
            self._bench.new(Project())
            self._bench.go_to_step("Draft")
            self._window.hand.take("piece")
            self._window.table.setFocus()

    def _recent(self) -> list[Path]:
        kept = cast("list[str]", self._window.settings.value("recent", [], list))
        return [Path(text) for text in kept if Path(text).exists()]

    def _note_recent(self, path: Path) -> None:
        others = [one for one in self._recent() if one != path]
        self._window.settings.setValue("recent", [str(path), *map(str, others)][:8])

    # Opening

    def ask_open(self) -> None:
        """Let the maker pick a file."""
        name, _ = QFileDialog.getOpenFileName(self._window, "Open", self._folder(), OPENS)
        if name:
            self.open(Path(name))

    def _folder(self) -> str:
        return str(self._bench.path.parent) if self._bench.path else ""

    def _open_demo(self, name: str) -> None:
        """A demo is opened as new work, so that saving does not write over it."""
        self._bench.new(read_demo(name), is_work=False)

    def open(self, path: Path) -> None:
        """Open a project, or bring in a drawing."""
        path = path.absolute()
        if path.suffix.lower() in IMAGES:
            self.lay_photograph(path)
            return
        if not self.may_leave():
            return
        if path.parent == demo_path("").resolve():
            self._tried(lambda: self._open_demo(path.name))
            return
        if path.suffix.lower() == PROJECT:
            opened = self._tried(lambda: self._open_project(path))
        else:
            opened = self._tried(lambda: self._import(path))
        if opened:
            self._note_recent(path)

    def _open_project(self, path: Path) -> None:
        try:
            problem = self._bench.open(path)
        except NotSaved as left:
            from wedgework.window.dialogs.recovering import ask_recovery  # noqa: PLC0415

            choice = ask_recovery(self._window, path, left.recovered)
            if choice is None:
                return
            problem = self._bench.open(path, choice)
        self._tell_problem(problem)

    def _tell_problem(self, problem: str | None) -> None:
        if problem:
            self._window.status.refuse(problem)

    def _import(self, path: Path) -> None:
        from wedgework.window.dialogs.importing import ask_import  # noqa: PLC0415

        project = ask_import(self._window, path, read_whole(path))
        if project is not None:
            self._bench.new(project)

    def _tried(self, deed: Callable[[], object]) -> bool:
        """Do it; a refusal is told in words."""
        try:
            deed()
        except WedgeworkError as error:
            from wedgework.window.dialogs.telling import tell  # noqa: PLC0415

            tell(self._window, error.sentence)
            return False
        return True

    # Photographs

    def ask_photograph(self) -> None:
        """Let the maker pick a photograph, and lay it under the table."""
        name, _ = QFileDialog.getOpenFileName(
            self._window, "Lay a photograph under the table", self._folder(), PHOTOGRAPHS
        )
        if name:
            self.lay_photograph(Path(name))

    def lay_photograph(self, path: Path) -> None:
        """Lay the picture of a file under the table."""
        self._tried(lambda: self._lay(path.stem, read_whole(path)))

    def paste_photograph(self) -> None:
        """Lay the picture that was copied, or a copied file, under the table."""
        copied = QGuiApplication.clipboard().mimeData()
        paths = [Path(url.toLocalFile()) for url in copied.urls() if url.isLocalFile()]
        if paths and paths[0].suffix.lower() in IMAGES:
            self.lay_photograph(paths[0])
        elif copied.hasImage():
            self.lay_image(copied.imageData())
        else:
            self._window.status.refuse("No picture was copied.")

    def lay_image(self, image: object) -> None:
        """Lay a picture that no file holds under the table."""
        data = QBuffer()
        data.open(QBuffer.OpenModeFlag.WriteOnly)
        if isinstance(image, QImage) and QImageWriter(data, QByteArray(b"png")).write(image):
            self._tried(lambda: self._lay("photograph", bytes(data.data().data())))
        else:
            self._window.status.refuse("The picture cannot be read.")

    def _lay(self, name: str, data: bytes) -> None:
        """Under the middle of what is shown, chosen, with the tool to place it in the hand."""
        bench, window = self._bench, self._window
        if window.middle.currentWidget() is window.first:
            if not self.may_leave():
                return
            bench.new(Project())
        middle = window.table.rect().center()
        at_mm = window.table.view.to_mm(middle.x(), middle.y()) if bench.project.pieces else (0, 0)
        before = set(bench.project.pictures)
        bench.do(AddPicture(name=name, data=data, middle_mm=at_mm))
        (made,) = set(bench.project.pictures) - before
        bench.go_to_step("Draft")
        bench.choose([made])
        window.hand.take("photograph")
        window.deeds.fit_chosen()
        window.table.setFocus()

    # Saving

    def may_leave(self) -> bool:
        """Whether the open project may be let go: it is saved, or the maker says so."""
        project = self._bench.project
        holds = project.pieces or project.pictures
        if not self._bench.is_dirty or not holds:
            return True
        from wedgework.window.dialogs.unsaved import ask_unsaved  # noqa: PLC0415

        choice = ask_unsaved(self._window, self._bench)
        if choice == "save":
            return self.save()
        return choice == "discard"

    def save(self) -> bool:
        """Save to the project's file, or ask for one; whether it was saved."""
        if self._bench.path is None:
            return self.save_as()
        return self._save(None)

    def save_as(self) -> bool:
        """Ask for a file and save there."""
        start = self._folder() or f"{self._bench.name}{PROJECT}"
        name, _ = QFileDialog.getSaveFileName(self._window, "Save as", start, SAVES)
        if not name:
            return False
        path = Path(name)
        return self._save(path if path.suffix else path.with_suffix(PROJECT))

    def _save(self, path: Path | None) -> bool:
        def save() -> None:
            try:
                self._bench.save(path)
            except ChangedOutside as error:
                from wedgework.window.dialogs.telling import asks  # noqa: PLC0415

                if asks(self._window, error.sentence, "Save over it"):
                    self._bench.save(path, overwrite=True)

        saved = self._tried(save) and not self._bench.is_dirty
        if saved and self._bench.path is not None:
            self._note_recent(self._bench.path)
            self._window.status.say(f"Saved as {self._bench.path.name}.")
        return saved

    def export(self) -> None:
        """Ask for format, paper and place, and write the pieces."""
        from wedgework.window.dialogs.exporting import ask_export  # noqa: PLC0415

        written = None

        def export() -> None:
            nonlocal written
            written = ask_export(self._window, self._bench.project, self._window.judge.findings)

        if self._tried(export) and written is not None:
            self._window.status.say(f"Written: {Path(str(written)).name}")

    # What the menus show

    def show_problems(self) -> None:
        """What was repaired or dropped when the drawing was read."""
        from wedgework.window.dialogs.helping import show_lines  # noqa: PLC0415

        problems = self._bench.project.problems
        show_lines(self._window, "What was repaired", problems or ("Nothing had to be repaired.",))

    def show_notes(self) -> None:
        """Notes kept with the project."""
        from wedgework.window.dialogs.helping import show_lines  # noqa: PLC0415

        show_lines(self._window, "Notes", (self._bench.project.notes or "No notes.",))

    def show_history(self) -> None:
        """Everything that can be undone."""
        from wedgework.window.dialogs.helping import show_lines  # noqa: PLC0415

        done = [f"{number}. {step.text}" for number, step in enumerate(self._bench.history, 1)]
        show_lines(self._window, "Steps done", done or ("Nothing was done yet.",))

    def show_preferences(self) -> None:
        """Unit, decimals, colours."""
        from wedgework.window.dialogs.preferring import ask_preferences  # noqa: PLC0415

        ask_preferences(self._window, self._window.preferences, self._window.theme)

    def show_glossary(self) -> None:
        """What the words mean."""
        self._help("glossary")

    def show_keys(self) -> None:
        """Every key."""
        self._help("keys")

    def show_cautions(self) -> None:
        """Solvents, allergy, blades, necks, heat."""
        self._help("cautions")

    def show_changes(self) -> None:
        """The list of changes."""
        self._help("changes")

    def show_about(self) -> None:
        """Version and licences."""
        self._help("about")

    def _help(self, page: str) -> None:
        from wedgework.window.dialogs.helping import show_help  # noqa: PLC0415

        show_help(self._window, page)


def row_named(name: str) -> Row:
    """The row of an edit in the table of edits."""
    return next(row for row in EDITS if row.name == name)


def read_demo(name: str) -> Project:
    """The project of a demo."""
    from wedgework.bench import read_project  # noqa: PLC0415 - as long as only files are opened

    return read_project(demo_path(name))


def said_of_demo(name: str) -> tuple[str, str]:
    """What to call a demo, from its file's name, and its kind."""
    stem, _, suffix = name.rpartition(".")
    words = stem.replace("_", " ").capitalize()
    return words, "A project" if f".{suffix}" == PROJECT else "A drawing to bring in"


def _lost_work(journal: Path) -> Offer:
    try:
        found = recover(journal)
    except WedgeworkError as error:
        return Offer("unsaved work", error.sentence, journal)
    if found is None:
        return Offer("unsaved work", "", journal)
    count, name = len(found.texts), found.project.name or "unsaved work"
    # Steps that another version wrote are taken up as a whole, and cannot be counted.
    steps = f" ({count} step{'s' * (count != 1)})" if count else ""
    return Offer(f"{name}{steps}", "; ".join(found.texts[-4:]), journal)
