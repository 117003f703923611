"""Works done beside those that an answer splits up by itself, so that no core waits for another."""

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from stackview.at_once import AtOnce

_Answer = TypeVar("_Answer")


class Beside:
    """Does works at once, and others with them where :meth:`together` gives some."""

    def __init__(self, at_once: AtOnce) -> None:
        self._at_once = at_once
        self._more: list[Callable[[], Any]] = []
        self._found: list[Any] = []

    def __call__(self, works: Sequence[Callable[[], _Answer]]) -> list[_Answer]:
        """Do works, then those that were given besides, mostly shorter; the last of them is done here and at once."""
        more, self._more = self._more, []
        if not more:
            return self._at_once(works)
        found: list[Any] = self._at_once([*works, *more])
        self._found = found[len(works) :]
        return found[: len(works)]

    def together(
        self, more: Sequence[Callable[[], Any]], answer: Callable[[], _Answer]
    ) -> tuple[list[Any], _Answer]:
        """An answer, and those of some works that are done with the first that it splits up; or else after it."""
        self._more, self._found = list(more), []
        own = answer()
        if self._more:
            self([])
        return self._found, own
