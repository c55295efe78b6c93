"""What a maker or a file can cause. Anything else (ValueError, KeyError) is a fault of ours."""

from __future__ import annotations

from wedgework.pattern.wording import with_minus


class WedgeworkError(Exception):
    """A sentence that a maker understands, and the id of what is at fault, where there is one."""

    def __init__(self, sentence: str, *, culprit: str | None = None) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.culprit = culprit


class EditRefused(WedgeworkError):
    """An edit that cannot be done; nothing has changed."""

    def __init__(self, sentence: str, *, culprit: str | None = None) -> None:
        super().__init__(with_minus(sentence), culprit=culprit)


class FileRefused(WedgeworkError):
    """A file that cannot be read or written; nothing has changed."""


class DraftRefused(EditRefused):
    """Numbers from which no piece can be made."""


class DraftUnsaid(DraftRefused):
    """Numbers of which one is not said yet: no mistake while a form is being filled in."""
