"""Remember a measure for as long as the immutable objects that it was taken from live."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, ParamSpec, Protocol, TypeVar, cast
from weakref import WeakKeyDictionary

P = ParamSpec("P")
T = TypeVar("T")


class Memoised(Protocol[P, T]):
    """A measure that is remembered; called like the function that it was made of."""

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> T:
        """The measure of these arguments, taken now or remembered."""

    def keep(self, value: T, *args: P.args, **kwargs: P.kwargs) -> None:
        """Remember `value` as the measure of these arguments: it was taken in bulk."""

    def knows(self, *args: P.args, **kwargs: P.kwargs) -> bool:
        """Whether the measure of these arguments is remembered already."""


def memoised(measure: Callable[P, T]) -> Memoised[P, T]:
    """Memoise `measure` on the identity of its arguments.

    Every argument must be an immutable object that compares by identity and allows weak
    references (a curve, an edge, a table of the document); keyword arguments are not taken.
    An entry goes when any of its arguments goes.
    """
    root: WeakKeyDictionary[Any, Any] = WeakKeyDictionary()

    def table_of(args: tuple[Any, ...]) -> WeakKeyDictionary[Any, Any]:
        table = root
        for argument in args[:-1]:
            deeper = table.get(argument)
            if deeper is None:
                deeper = table[argument] = WeakKeyDictionary()
            table = deeper
        return table

    @wraps(measure)
    def remembered(*args: P.args, **kwargs: P.kwargs) -> T:
        table = table_of(args) if len(args) > 1 else root
        try:
            return table[args[-1]]  # type: ignore[no-any-return]
        except KeyError:
            value = table[args[-1]] = measure(*args, **kwargs)
            return value

    def keep(value: T, *args: P.args, **kwargs: P.kwargs) -> None:
        del kwargs  # none are taken
        table_of(args)[args[-1]] = value

    def knows(*args: P.args, **kwargs: P.kwargs) -> bool:
        del kwargs  # none are taken
        return args[-1] in table_of(args)

    vars(remembered).update(keep=keep, knows=knows)
    return cast("Memoised[P, T]", remembered)
