"""Everything that stackview raises on purpose.

StackviewError
├── LampError      the lamp's file cannot be used as written; holds every fault found
├── SolidError     a described shape cannot be made (too large a chamfer, crossing curve)
└── OutputError    a file or picture cannot be written where it was asked for
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Protocol


class StackviewError(Exception):
    """Base of all errors that carry a message meant for the maker."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a lamp's file: where it stands and what to do about it."""

    where: str
    """Path of the field as the maker wrote it, e.g. ``layer "ring" · recess · depth``."""
    what: str
    """The value, the limit it breaks, and what to do."""

    def __str__(self) -> str:
        return f"{self.where}: {self.what}" if self.where else self.what


class LampError(StackviewError):
    """The lamp's file cannot be used; ``faults`` lists everything found in it, not just the first."""

    def __init__(self, file: str, faults: tuple[Fault, ...]) -> None:
        self.file = file
        self.faults = faults
        super().__init__("\n".join(f"{file}: {fault}" for fault in faults))

    def __reduce__(self) -> tuple[Any, ...]:
        """From another process it comes back whole."""
        return type(self), (self.file, self.faults)


class LengthWords(Protocol):
    """Who says a length [mm]: ``description.units.Units`` of a lamp, or plain millimetres."""

    def show(self, length: float, /) -> str:
        """Say a length."""

    def small(self, mm: float, /) -> str:
        """Say an amount that may be a hair's breadth."""

    def most(self, mm: float, /) -> str:
        """Say a limit, rounded so that it may be typed in."""

    def at(self, x: float, y: float, /) -> str:
        """Say a place."""


class SolidError(StackviewError):
    """A described shape cannot be made; the message names the field, the value and the limit.

    ``field`` is the layer's field at fault ("chamfer", "recess", "opening", ...). ``what`` names
    its lengths in braces and they are given apart [mm], so that whoever knows the lamp says them
    in its own unit: ``SolidError("wall", "{wide} is left, {room:most} fits", wide=3.0, room=2.5)``;
    after the colon a method of :class:`LengthWords`. A pair is a place, a text stands as it is.
    """

    def __init__(self, field: str, what: str, **values: float | str | tuple[float, float]) -> None:
        self.field = field
        self._template = what
        self._values = values
        super().__init__(f"{field}: {self.what}")

    def __reduce__(self) -> tuple[Any, ...]:
        """From another process it comes back whole."""
        return _solid_error, (self.field, self._template, self._values)

    @property
    def what(self) -> str:
        """The message in millimetres, for who knows no lamp."""
        return self.said(_Millimetres())

    @property
    def share_left(self) -> float:
        """What share of its widths would fit: the least of most0 / width0, most1 / width1 …; 1 where none is told."""
        shares = [
            most / wide
            for name, most in self._values.items()
            if name.startswith("most")
            and isinstance(most, float | int)
            and isinstance(wide := self._values.get(f"width{name[4:]}"), float | int)
        ]
        return min(shares, default=1.0)

    def said(self, words: LengthWords) -> str:
        """The message with its lengths in the words of a lamp."""
        if not self._values:
            return self._template
        return self._template.format_map(_spoken(self._values, words))


def _solid_error(
    field: str, what: str, values: Mapping[str, float | str | tuple[float, float]]
) -> SolidError:
    return SolidError(field, what, **values)


class _Millimetres:
    """Millimetres with all the figures that an exact curve is good for."""

    def show(self, length: float, /) -> str:
        return f"{length:.6g} mm"

    def small(self, mm: float, /) -> str:
        return f"{mm:.4f} mm"

    most = small

    def at(self, x: float, y: float, /) -> str:
        return f"({x:.2f}, {y:.2f}) mm"


@dataclass(frozen=True, slots=True)
class _Spoken:
    """A length or place that says itself when it is formatted."""

    value: float | tuple[float, float]
    words: LengthWords

    def __format__(self, way: str) -> str:
        if isinstance(self.value, tuple):
            return self.words.at(*self.value)
        return {"": self.words.show, "small": self.words.small, "most": self.words.most}[way](self.value)


def _spoken(
    values: Mapping[str, float | str | tuple[float, float]], words: LengthWords
) -> dict[str, _Spoken | str]:
    return {
        name: value if isinstance(value, str) else _Spoken(value, words) for name, value in values.items()
    }


class OutputError(StackviewError):
    """A result cannot be written where it was asked for; nothing half-written is left behind."""
