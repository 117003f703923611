"""What a named eye sees, in numbers and words, as pictures of rooms write it."""

from dataclasses import dataclass

import numpy as np

from stackview.sight.bands import Kind
from stackview.sight.eyes import Seen
from stackview.sight.room import Zone
from stackview.study import Study


@dataclass(frozen=True, slots=True)
class EyeSeen:
    """A named eye and how many light points it sees of each kind, and whether a corner of one more is bare."""

    name: str
    distance: float
    height: float
    bare: int
    glazed: int
    veiled: int
    part: bool
    worst: float
    """Bearing of the worst [°]."""

    @property
    def zone(self) -> tuple[Zone, int]:
        """The most exposed of it, as zones have it."""
        if self.bare:
            return Zone.BARE, self.bare
        if self.part:
            return Zone.PART_BARE, 0
        if self.glazed:
            return Zone.GLAZED, self.glazed
        return (Zone.VEILED, self.veiled) if self.veiled else (Zone.NOTHING, 0)

    def words(self, noun: str) -> list[str]:
        """What it sees, line by line."""
        found = []
        if self.bare:
            found.append(f"{counted(self.bare, noun)} bare")
        elif self.part:
            found.append(f"edge of {'an' if noun == 'LED' else 'a'} {noun}, bare")
        if self.glazed:
            found.append(f"{counted(self.glazed, noun)} through clear acrylic")
        if self.veiled:
            found.append(f"{counted(self.veiled, noun)} through sanded or opal")
        return found or [f"no {noun}"]


def counted(number: int, noun: str) -> str:
    """A number of light points, by the noun for one."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def one_eye(seen: Seen, bearing: float | None) -> EyeSeen:
    """What an eye sees at worst, kind by kind, or from the computed bearing nearest to one [°]."""
    counts = {kind: seen.counts(kind) for kind in Kind}
    part = np.asarray(seen.part_bare.any(axis=0))
    if bearing is None:
        bare, glazed, veiled = (int(counts[kind].max(initial=0)) for kind in Kind)
        return EyeSeen(
            seen.eye.name,
            seen.eye.distance,
            seen.eye.height,
            bare,
            glazed,
            veiled,
            bool(part.any()),
            float(seen.bearings[seen.worst]),
        )
    at = int(np.argmin(np.abs((seen.bearings - bearing + 180.0) % 360.0 - 180.0)))
    bare, glazed, veiled = (int(counts[kind][at]) for kind in Kind)
    return EyeSeen(
        seen.eye.name,
        seen.eye.distance,
        seen.eye.height,
        bare,
        glazed,
        veiled,
        bool(part[at]),
        float(bearing),
    )


def noun_of(study: Study) -> str:
    """What a light point of the lamp is called: an LED, or a light point where a continuous strip is counted as such."""
    strips = [lit.light.layout.strip for lit in study.light.lit]
    return "light point" if any(strip is not None and strip.continuous for strip in strips) else "LED"
