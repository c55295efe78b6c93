"""An immutable table of the document: rows by id, in order, compared by identity."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import compress
from operator import is_, is_not
from typing import Any, Generic, TypeVar

Row = TypeVar("Row")


class Table(Mapping[str, Row], Generic[Row]):
    """Rows by id. Never changes; `with_rows` gives a new table that shares every other row.

    Hashes and compares by identity, so that an index can be remembered for it.
    """

    __slots__ = ("__weakref__", "_rows")

    def __init__(self, rows: Mapping[str, Row] | Iterable[tuple[str, Row]] = ()) -> None:
        self._rows: dict[str, Row] = dict(rows)

    def __getitem__(self, key: str) -> Row:
        """The row of an id; KeyError where there is none."""
        return self._rows[key]

    def __iter__(self) -> Iterator[str]:
        """Ids in order."""
        return iter(self._rows)

    def __len__(self) -> int:
        """Number of rows."""
        return len(self._rows)

    def __contains__(self, key: object) -> bool:
        """Whether there is a row of this id."""
        return key in self._rows

    @property
    def rows(self) -> Mapping[str, Row]:
        """All rows, to be read only: walking them costs a third of walking the table."""
        return self._rows

    def __eq__(self, other: object) -> bool:
        """Identity: a table that shares all rows is still another table."""
        return self is other

    def __hash__(self) -> int:
        """By identity."""
        return id(self)

    def with_rows(self, rows: Mapping[str, Row], removed: Iterable[str] = ()) -> Table[Row]:
        """A table with `rows` put in (an old id keeps its place) and `removed` left out."""
        changed = dict(self._rows)
        for key in removed:
            del changed[key]
        changed.update(rows)
        return Table(changed)

    def with_row_replaced(self, key: str, rows: Mapping[str, Row]) -> Table[Row]:
        """A table where the row of `key` has given its place to `rows`, in order."""
        changed: dict[str, Row] = {}
        for old, row in self._rows.items():
            changed.update(rows if old == key else {old: row})
        return Table(changed)


def differing(before: Table[Any], after: Table[Any]) -> Iterable[str]:
    """Ids whose rows are not the very same object, or stand in one of the two tables only."""
    if before is after:
        return ()
    old, new = before.rows, after.rows
    if len(old) == len(new) and all(map(is_, old, new)):
        return compress(old, map(is_not, old.values(), new.values()))
    gone = [key for key in old if key not in new]
    return gone + [key for key, row in new.items() if old.get(key) is not row]
