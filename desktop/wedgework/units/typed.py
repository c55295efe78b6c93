"""Numbers as a maker types them: `12.5`, `1.25 cm`, `34 1/8"`, `3*(4+2)`.

A sum is read by hand, in exact fractions, and never evaluated as code. In it a number without a
unit counts plainly where it multiplies or divides, and in the field's own unit where it is added
to a length or stands alone.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from wedgework.pattern.errors import WedgeworkError
from wedgework.units.scale import Unit

LONGEST_TEXT: Final = 120
LARGEST_MM: Final = 1e7
"""Ten kilometres: what is longer was mistyped."""

LARGEST_NUMBER: Final = 1e9
LARGEST_RAD: Final = 1000 * 2 * math.pi

_LENGTH_WORDS: Final = {
    **{unit.value.lower(): unit.exact_mm for unit in Unit},
    **dict.fromkeys(("inch", "inches", '"', "″", "”", "''"), Unit.IN.exact_mm),
}
_DEGREE: Final = Fraction(1)
_RADIAN: Final = Fraction(180 / math.pi)
_ANGLE_WORDS: Final = {"°": _DEGREE, "deg": _DEGREE, "degrees": _DEGREE, "rad": _RADIAN}
_SHARE_WORDS: Final = {"%": Fraction(1, 100)}

_TOKEN = re.compile(
    r"\s*(?:(?P<number>[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)"
    r"|(?P<sign>[-+*/()])"
    r"|(?P<word>''|[^\W\d_]+|[\"″”°%]))"
)
_ALIKE = str.maketrans({"\N{MINUS SIGN}": "-", "×": "*", "·": "*", "÷": "/", "⁄": "/", ":": "/"})


class NotUnderstood(WedgeworkError):
    """Text that was typed for a number and is none; nothing has changed."""


def parse_length_mm(text: str, unit: Unit = Unit.MM) -> float:
    """The length in mm that `text` says; a number without a unit is in `unit`.

    Right to the last bit of float64. Raises NotUnderstood with a sentence.
    """
    value = _read(text, _LENGTH_WORDS, unit.exact_mm)
    return _bounded(value, LARGEST_MM, text)


def parse_angle_rad(text: str) -> float:
    """The angle in rad that `text` says; a number without a unit is in degrees.

    Raises NotUnderstood with a sentence.
    """
    value = _read(text, _ANGLE_WORDS, _DEGREE)
    return math.radians(_bounded(value, math.degrees(LARGEST_RAD), text))


def parse_number(text: str) -> float:
    """The plain number that `text` says; `4 %` is 0.04. Raises NotUnderstood with a sentence."""
    return _bounded(_read(text, _SHARE_WORDS, Fraction(1)), LARGEST_NUMBER, text)


def _bounded(value: Fraction, largest: float, text: str) -> float:
    if abs(value) > largest:
        raise NotUnderstood(f"“{text.strip()[:20]} …” is too large a number.")
    return float(value)


@dataclass(frozen=True)
class _Amount:
    """A number on its way through a sum; `measured` where a unit has been said."""

    value: Fraction
    measured: bool


def _read(text: str, words: Mapping[str, Fraction], plain: Fraction) -> Fraction:
    if len(text) > LONGEST_TEXT:
        raise NotUnderstood(f"That is too long for a number: at most {LONGEST_TEXT} characters.")
    tokens = list(_tokens(_plain_text(text)))
    if not tokens:
        raise NotUnderstood("There is no number here yet.")
    reader = _Reader(tokens, words, plain)
    amount = reader.sum()
    if reader.here:
        raise NotUnderstood(f"“{reader.here}” is not understood after the number.")
    return reader.in_unit(amount)


def _plain_text(text: str) -> str:
    """`text` with fractions spelled out (`1½` is `1 1/2`) and one sign for each operation."""
    spelled = (
        f" {unicodedata.normalize('NFKC', sign)} "
        if unicodedata.category(sign) == "No" and "⁄" in unicodedata.normalize("NFKC", sign)
        else sign
        for sign in text
    )
    return "".join(spelled).translate(_ALIKE).strip()


def _tokens(text: str) -> Iterator[str]:
    place = 0
    while place < len(text):
        found = _TOKEN.match(text, place)
        if found is None:
            raise NotUnderstood(f"“{text[place:].strip()[:10]}” is not understood.")
        place = found.end()
        yield found[0].strip()


def _is_number(token: str) -> bool:
    return token[-1:].isdecimal()


def _number(token: str) -> Fraction:
    """An exact number; a comma is a decimal sign, unless it could part thousands."""
    if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", token):
        whole = token.replace(",", "")
        raise NotUnderstood(
            f"“{token}” can be read two ways: write {whole} or {token.replace(',', '.')}."
        )
    return Fraction(token.replace(",", "."))


class _Reader:
    """Reads a sum by recursive descent, a token at a time; the text's length bounds its depth."""

    def __init__(self, tokens: list[str], words: Mapping[str, Fraction], plain: Fraction) -> None:
        self._tokens = tokens
        self._words = words
        self._plain = plain
        self._place = 0

    @property
    def here(self) -> str:
        """The token to be read next; empty at the end."""
        return self._tokens[self._place] if self._place < len(self._tokens) else ""

    def in_unit(self, amount: _Amount) -> Fraction:
        """What an amount says; a plain number is in the field's own unit."""
        return amount.value if amount.measured else amount.value * self._plain

    def sum(self) -> _Amount:
        """Terms with + and - between them."""
        total = self._product()
        while self.here in {"+", "-"}:
            sign = 1 if self._next() == "+" else -1
            total = self._added(total, self._product(), sign)
        return total

    def _next(self) -> str:
        token = self.here
        self._place += 1
        return token

    def _added(self, total: _Amount, other: _Amount, sign: int) -> _Amount:
        if total.measured == other.measured:
            return _Amount(total.value + sign * other.value, total.measured)
        return _Amount(self.in_unit(total) + sign * self.in_unit(other), measured=True)

    def _product(self) -> _Amount:
        product = self._signed()
        while self.here in {"*", "/"}:
            product = _times(product, self._next(), self._signed())
        return product

    def _signed(self) -> _Amount:
        sign = 1
        while self.here in {"+", "-"}:
            sign = -sign if self._next() == "-" else sign
        amount = self._amount()
        return _Amount(sign * amount.value, amount.measured)

    def _amount(self) -> _Amount:
        if self.here == "(":
            return self._with_unit(self._inside())
        if _is_number(self.here):
            return self._with_unit(_Amount(self._mixed(), measured=False))
        at = f"before “{self.here}”" if self.here else "at the end"
        raise NotUnderstood(f"A number is missing {at}.")

    def _inside(self) -> _Amount:
        self._next()
        amount = self.sum()
        if self._next() != ")":
            raise NotUnderstood("A bracket is open that is never closed.")
        return amount

    def _mixed(self) -> Fraction:
        """`12.5`, `1/2` or `1 1/2`."""
        value = _number(self._next())
        if self.here == "/" and self._fraction_follows(1):
            self._next()
            return _over(value, _number(self._next()))
        if _is_number(self.here) and self._fraction_follows(2):
            above, _, below = self._next(), self._next(), self._next()
            return value + _over(_number(above), _number(below))
        return value

    def _fraction_follows(self, steps: int) -> bool:
        """Whether `/ number` closes a fraction that ends `steps` tokens from here."""
        ahead = self._tokens[self._place + steps - 1 : self._place + steps + 1]
        return len(ahead) == 2 and ahead[0] == "/" and _is_number(ahead[1])

    def _with_unit(self, amount: _Amount) -> _Amount:
        word = self.here
        if not word or word in "+-*/()" or _is_number(word):
            return amount
        if word.lower() not in self._words:
            known = ", ".join(name for name in self._words if name.isalpha() or name in "%°")
            raise NotUnderstood(f"The unit “{word[:12]}” is not known here; these are: {known}.")
        if amount.measured:
            raise NotUnderstood(f"“{word}” is one unit too many.")
        return _Amount(amount.value * self._words[self._next().lower()], measured=True)


def _times(left: _Amount, sign: str, right: _Amount) -> _Amount:
    if sign == "/":
        if right.measured:
            raise NotUnderstood("Only a plain number can stand below a division sign.")
        return _Amount(_over(left.value, right.value), left.measured)
    if left.measured and right.measured:
        raise NotUnderstood("Two measures cannot be multiplied; one of them must be a number.")
    return _Amount(left.value * right.value, left.measured or right.measured)


def _over(above: Fraction, below: Fraction) -> Fraction:
    if below == 0:
        raise NotUnderstood("Nothing can be divided by 0.")
    return above / below
