"""A finding: one result of a check, with the numbers that a maker needs to act on it."""

from dataclasses import dataclass
from enum import Enum, IntEnum
from typing import Any


class Level(IntEnum):
    """How much a finding matters; ordered, so that ``level >= Level.CAUTION`` reads as it should.

    A fact asks for nothing: a height, a play, an amount of glue. It stands in a table of its own.
    """

    FACT = 0
    NOTE = 1
    CAUTION = 2
    FAULT = 3

    @property
    def word(self) -> str:
        """The word shown to the maker."""
        return self.name.lower()


class Bound(Enum):
    """What a limit is to the value that is held against it; at the limit is within the limit."""

    LEAST = "least"
    MOST = "most"
    TAKEN = "taken"
    """No limit of any value: taken as it stands, to work something out."""

    @property
    def words(self) -> str:
        """The words before the limit's amount: "at least 1.5 mm".

        >>> [bound.words for bound in Bound]
        ['at least', 'at most', 'taken as']
        """
        return "taken as" if self is Bound.TAKEN else f"at {self.value}"


@dataclass(frozen=True, slots=True)
class Place:
    """Where in a part: x and y as the part is drawn, before its turn, and z above the lamp's foot [mm]."""

    part: str
    x: float
    y: float
    z: float | None = None
    """None where it is at no one height."""

    def record(self) -> dict[str, str | float | None]:
        """The place as plain values."""
        return {"part": self.part, "x_mm": _plain(self.x), "y_mm": _plain(self.y), "z_mm": _plain(self.z)}


WayValue = float | str | bool | tuple[float, float]
"""A number of a lamp's file, a word of it, true or false, or two lengths at once: a place, two insets."""


@dataclass(frozen=True, slots=True)
class Way:
    """One number of the lamp's file that could be changed so that a finding goes.

    It has not been tried: it is no advice, and is never shown. ``stackview.change`` tries it, and
    tells what then holds.
    """

    part: str
    """Whose number: a layer, a post, a light as "light.ring", or a table of the file such as "core" or "supply";
    empty for the lamp's own."""
    key: str
    """The key below the part, as a path of the file has it, or in words, counted as the lamp has them:
    ``size of outline``, ``size of opening 0``, ``size of recess 1`` (how much larger on every side),
    ``circle of opening 0`` (the one that its copies stand on, how much wider on every side), ``corner of outline``,
    ``depth of recess 0``, ``clearance of recess 0``, ``width of chamfer 1``, ``place of opening 0``, ``power``
    (a share of it)."""
    now: WayValue
    """What holds now; lengths in millimetres, sizes from nought."""
    guess: WayValue
    """What a closed form or a table says it would have to be."""
    is_length: bool = True
    stepped: bool = False
    """Whether what is no length may go on from the guess by steps; else it is one of a table."""
    along: str = ""
    """What is changed together with the same of other parts; the key itself where empty."""
    rough: bool = False
    """Whether less than the guess may do; else it is the least, with the play that it is to have."""

    @property
    def is_stepped(self) -> bool:
        """Whether it goes on from the guess by steps."""
        return self.is_length or self.stepped


@dataclass(frozen=True, slots=True)
class Finding:
    """What was found, where, how much, the limit, where the limit comes from, and what to do."""

    check: str
    level: Level
    where: str
    what: str
    value: float | None = None
    unit: str = ""
    limit: float | None = None
    source: str = ""
    advice: str = ""
    bound: Bound | None = None
    """Whether the limit is a least or a most."""
    parts: tuple[str, ...] = ()
    """Names of the layers, or of core, posts and feet, that it is about."""
    places: tuple[Place, ...] = ()
    """Where it is, as numbers."""
    cause: str = ""
    """What brings it about, in a few words that are not shown: findings of one check and one cause are told as one."""
    short: str = ""
    """What was found in at most a line, for the first screen; empty where ``what`` is as short."""
    where_brief: str = ""
    """Where, for the first screen: the first of many places and how many more; empty where ``where`` is as short."""
    ways: tuple[Way, ...] = ()
    """What could be changed; not tried, and so not part of what is said."""
    is_made: bool = True
    """Whether the check could be made: if not, nothing is known of what it asks."""

    @property
    def is_bare_light(self) -> bool:
        """Whether it tells of light points that an eye sees bare."""
        return self.check == "bare light" and self.is_made

    @property
    def gist(self) -> str:
        """What was found, as shortly as it can be said."""
        return self.short or self.what

    @property
    def brief(self) -> str:
        """Where and what, as shortly as they can be said."""
        return f"{self.where_brief or self.where}: {self.gist}"

    def record(self) -> dict[str, Any]:
        """The finding as plain values, as JSON output has it."""
        return {
            "check": self.check,
            "level": self.level.word,
            "where": self.where,
            "what": self.what,
            "value": _plain(self.value),
            "unit": self.unit,
            "limit": _plain(self.limit),
            "source": self.source,
            "advice": self.advice,
            "bound": None if self.bound is None else self.bound.value,
            "parts": list(self.parts),
            "places": [place.record() for place in self.places],
            "short": self.gist,
        }

    def __repr__(self) -> str:
        text = str(self)
        return f"Finding({text if len(text) <= 140 else text[:139] + '…'})"

    def __str__(self) -> str:
        advice = f" {self.advice}" if self.advice else ""
        return f"{self.level.word}: {self.where}: {self.what}.{advice}"


def _plain(number: float | None) -> float | None:
    """The number, nought without a sign."""
    return None if number is None else number + 0.0


def counted_by_level(findings: tuple[Finding, ...]) -> str:
    """How many there are of each level but facts, e.g. "2 faults, 1 caution, 4 notes"; "none" where there are none."""
    levels = [level for level in reversed(Level) if level > Level.FACT]
    counts = [(sum(finding.level == level for finding in findings), level.word) for level in levels]
    return ", ".join(f"{n} {word}{'s' if n != 1 else ''}" for n, word in counts if n) or "none"
