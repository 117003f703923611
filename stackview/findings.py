"""A finding: one result of a check, with the numbers that a maker needs to act on it."""

from dataclasses import dataclass
from enum import IntEnum


class Level(IntEnum):
    """How much a finding matters; ordered, so that ``level >= Level.CAUTION`` reads as it should."""

    NOTE = 1
    CAUTION = 2
    FAULT = 3

    @property
    def word(self) -> str:
        """The word shown to the maker."""
        return self.name.lower()


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

    def record(self) -> dict[str, str | float | None]:
        """The finding as plain values, as JSON output has it."""
        return {
            "check": self.check,
            "level": self.level.word,
            "where": self.where,
            "what": self.what,
            "value": self.value,
            "unit": self.unit,
            "limit": self.limit,
            "source": self.source,
            "advice": self.advice,
        }

    def __repr__(self) -> str:
        text = str(self)
        return f"Finding({text if len(text) <= 140 else text[:139] + '…'})"

    def __str__(self) -> str:
        advice = f" {self.advice}" if self.advice else ""
        return f"{self.level.word}: {self.where}: {self.what}.{advice}"


def counted(findings: tuple[Finding, ...]) -> str:
    """How many there are of each level, e.g. "2 faults, 1 caution, 4 notes"; "none" where there are none."""
    counts = [(sum(finding.level == level for finding in findings), level.word) for level in reversed(Level)]
    return ", ".join(f"{n} {word}{'s' if n != 1 else ''}" for n, word in counts if n) or "none"
