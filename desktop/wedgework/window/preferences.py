"""What a maker likes to see: unit, decimals, colours, and what the table shows. Kept by Qt."""

from __future__ import annotations

from dataclasses import asdict, dataclass, fields
from typing import Any

from PySide6.QtCore import QObject, QSettings, Signal

from wedgework.units import Unit, format_length, format_number, with_unit
from wedgework.window.theme import Wish


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """`decimals` are those of millimetres in the card; lists show one less."""

    unit: str = "mm"
    decimals: int = 2
    colours: Wish = "system"
    grid: bool = True
    names: bool = True
    lengths: bool = False
    combs: bool = True
    bends: bool = False
    laid: bool = False
    snapping: bool = True

    @property
    def length_unit(self) -> Unit:
        """The unit in which lengths are shown and typed."""
        return Unit(self.unit)

    @property
    def list_decimals(self) -> int:
        """Decimals of a length in a list."""
        return max(self.decimals - 1, 0)

    def in_list(self, length_mm: float, *, signed: bool = False) -> str:
        """A length as lists show it, without its unit."""
        return format_length(length_mm, self.length_unit, self.list_decimals, signed=signed)

    def in_card(self, length_mm: float, *, signed: bool = False) -> str:
        """A length as the card shows it, without its unit."""
        return format_length(length_mm, self.length_unit, self.decimals, signed=signed)

    def with_unit(self, length_mm: float, *, signed: bool = False) -> str:
        """A length as lists show it, with its unit."""
        return with_unit(length_mm, self.length_unit, self.list_decimals, signed=signed)

    def degrees(self, value_deg: float, *, signed: bool = False) -> str:
        """An angle as lists show it, with its sign."""
        return f"{format_number(value_deg, 1, signed=signed)}°"


class Preferences(QObject):
    """The wishes in force; tells when they change, and keeps them."""

    changed = Signal()

    def __init__(self, settings: QSettings) -> None:
        super().__init__()
        self.settings = settings
        self.wishes = _read(settings)

    def change(self, wishes: Wishes) -> None:
        """Put other wishes in force."""
        if wishes == self.wishes:
            return
        self.wishes = wishes
        for name, value in asdict(wishes).items():
            self.settings.setValue(f"wishes/{name}", value)
        self.changed.emit()


def _read(settings: QSettings) -> Wishes:
    # Qt gives each value back in the type that its default has.
    kept: dict[str, Any] = {
        field.name: settings.value(f"wishes/{field.name}", field.default, type(field.default))
        for field in fields(Wishes)
    }
    wishes = Wishes(**kept)
    sound = wishes.unit in {"mm", "cm", "in"} and wishes.colours in {"light", "dark", "system"}
    return wishes if sound and 0 <= wishes.decimals <= 4 else Wishes()
