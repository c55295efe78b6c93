"""The chosen seam: both sides unrolled with the shaping under them, and its stations beside."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from wedgework.bench import Bench, Change
from wedgework.pattern.document import Seam
from wedgework.pattern.errors import WedgeworkError
from wedgework.pattern.lookup import skin_seam_of
from wedgework.pattern.seams import measure_seam, notches_of
from wedgework.window.palette import Scheme
from wedgework.window.panels.stations import Stations
from wedgework.window.panels.unrolled import Shown, Unrolled
from wedgework.window.preferences import Wishes


class SeamPanel(QWidget):
    """Shows the seam that is chosen, by itself or by one of its edges."""

    refused = Signal(str)

    def __init__(self, bench: Bench, wishes: Wishes, scheme: Scheme) -> None:
        super().__init__()
        self._bench = bench
        self._seam: str | None = None
        self.unrolled = Unrolled(wishes, scheme)
        self.stations = Stations(bench, wishes, scheme)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.unrolled, 1)
        row.addWidget(self.stations)
        self.stations.refused.connect(self.refused)
        self.stations.changed.connect(self._show)
        self.unrolled.station_moved.connect(self.stations.move_station)
        self.unrolled.station_added.connect(self.stations.add_station)

    @property
    def has_seam(self) -> bool:
        """Whether a seam is chosen."""
        return self._seam is not None

    @property
    def seam_id(self) -> str | None:
        """Id of the chosen seam."""
        return self._seam

    @property
    def title(self) -> str:
        """Name of the chosen seam, for the title line."""
        seam = self._found()
        return "" if seam is None else seam.name or seam.id

    def dress(self, wishes: Wishes, scheme: Scheme) -> None:
        """Other units or colours."""
        self.unrolled.dress(wishes, scheme)
        self.stations.dress(wishes, scheme)

    def follow(self, change: Change) -> None:
        """Show the seam again where it changed, or another one."""
        if change.kind in {"chosen", "opened", "edited"}:
            self._take_chosen()
        if change.kind != "previewed" or self._seam in change.seams:
            self._show()

    def _take_chosen(self) -> None:
        seam = self._chosen_seam()
        if seam != self._seam:
            self._seam = seam
            self.stations.show_seam(seam)

    def _chosen_seam(self) -> str | None:
        shown = self._bench.shown
        for own in self._bench.chosen:
            if own in shown.seams:
                return own
            found = skin_seam_of(shown, own)
            if found is not None:
                return found.id
        return None

    def _found(self) -> Seam | None:
        return None if self._seam is None else self._bench.shown.seams.get(self._seam)

    def _show(self) -> None:
        seam, project = self._found(), self._bench.shown
        if seam is None:
            self.unrolled.show_seam(None)
            return
        try:
            measure = measure_seam(project, seam)
        except WedgeworkError:
            self.unrolled.show_seam(None)
            return
        notches = notches_of(project, seam)
        shown = Shown(seam=seam, measure=measure, notches=notches, stations=self.stations.stations)
        self.unrolled.show_seam(shown)
