"""Remember a measure for as long as the immutable objects that it was taken from live."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, ParamSpec, TypeVar
from weakref import WeakKeyDictionary

P = ParamSpec("P")
T = TypeVar("T")


def memoised(measure: Callable[P, T]) -> Callable[P, T]:
    """Memoise `measure` on the identity of its arguments.

    Every argument must be an immutable object that compares by identity and allows weak
    references (a curve, an edge, a table of the document); keyword arguments are not taken.
    An entry goes when any of its arguments goes.
    """
    root: WeakKeyDictionary[Any, Any] = WeakKeyDictionary()

    @wraps(measure)
    def remembered(*args: P.args, **kwargs: P.kwargs) -> T:
        table = root
        for argument in args[:-1]:
            deeper = table.get(argument)
            if deeper is None:
                deeper = table[argument] = WeakKeyDictionary()
            table = deeper
        try:
            return table[args[-1]]  # type: ignore[no-any-return]
        except KeyError:
            value = table[args[-1]] = measure(*args, **kwargs)
            return value

    return remembered
