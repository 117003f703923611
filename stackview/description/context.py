"""What resolving a lamp's file has at hand: where it lies, its unit, and the faults so far."""

from dataclasses import dataclass, field
from pathlib import Path

from stackview.description import defaults
from stackview.description.curve_file import Drawings
from stackview.description.faults import Faults, did_you_mean
from stackview.description.material import Length, Material
from stackview.description.outline import Outline
from stackview.description.units import Units, shown, units_of
from stackview.description.written_lamp import WrittenLamp


@dataclass(frozen=True, slots=True)
class Context:
    """Shared by the resolving functions; ``outlines`` and ``materials`` fill as they are resolved."""

    written: WrittenLamp
    folder: Path
    allow_outside: bool
    faults: Faults
    drawings: Drawings = field(default_factory=Drawings)
    outlines: dict[str, Outline | None] = field(default_factory=dict)
    following: list[str] = field(default_factory=list)
    """Outlines whose likeness is being followed, to stop at a round."""
    materials: dict[str, Material | None] = field(default_factory=dict)

    @property
    def units(self) -> Units:
        """How lengths are said to this lamp's maker."""
        return units_of(self.written.unit)

    def say(self, length: float) -> str:
        """A length [mm] as messages to this lamp's maker say it."""
        return self.units.show(length)

    @property
    def cutter_radius(self) -> float:
        """Radius that the cutter leaves in inside corners [mm]."""
        return mm_or(self.written.cutter, defaults.CUTTER.number) / 2

    @property
    def clearance(self) -> float:
        """Play per side of a fitted recess [mm]."""
        return mm_or(self.written.clearance, defaults.CLEARANCE.number)

    def material(self, name: str, where: str) -> Material | None:
        """The material of this name, or a fault."""
        if name not in self.materials and not self.faults.is_lost("material", name):
            advice = did_you_mean(name, self.materials)
            self.faults.add(where, f"no material {shown(name)} under [materials]{advice}")
        return self.materials.get(name)


def mm_or(length: Length | None, otherwise: float) -> float:
    """Millimetres of a length, or another value where it was not given."""
    return length.mm if length is not None else otherwise
