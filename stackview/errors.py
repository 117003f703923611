"""Everything that stackview raises on purpose.

StackviewError
├── LampError      the lamp's file cannot be used as written; holds every fault found
├── SolidError     a described shape cannot be made (too large a chamfer, crossing curve)
└── OutputError    a file or picture cannot be written where it was asked for
"""

from dataclasses import dataclass


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


class SolidError(StackviewError):
    """A described shape cannot be made; the message names the field, the value and the limit.

    ``field`` is the layer's field at fault ("chamfer", "recess", "opening", ...).
    """

    def __init__(self, field: str, what: str) -> None:
        self.field = field
        self.what = what
        super().__init__(f"{field}: {what}")


class OutputError(StackviewError):
    """A result cannot be written where it was asked for; nothing half-written is left behind."""
