"""Sheets and offcuts that the maker has: what parts are laid out on.

A sheet's own frame begins at the lower left corner of the rectangle about it: x to the right, y to
the back, in millimetres.
"""

from dataclasses import dataclass

from stackview.curves.arcs import Path, bounds, moved
from stackview.description.material import Material
from stackview.description.outline import Outline, path_of
from stackview.description.price import Price
from stackview.one_line import one_line


@dataclass(frozen=True, slots=True)
class SheetZone:
    """A place of a sheet that cannot be used; its outline stands in the sheet's own frame."""

    name: str
    """What it is; empty where the file does not say."""
    outline: Outline

    @property
    def path(self) -> Path:
        """Its exact curve."""
        return path_of(self.outline, "zone")


@dataclass(frozen=True, slots=True)
class SheetAtHand:
    """So many equal sheets, boards or offcuts."""

    name: str
    material: Material
    outline: Outline
    """Its shape, wherever that stands; ``path`` has it in its own frame."""
    margin: float
    """Strip along its edges on which no part may lie [mm]."""
    grain: float = 90.0
    """Bearing along which its grain runs [°]; it says nothing where the material has none."""
    zones: tuple[SheetZone, ...] = ()
    count: int = 1
    price: Price | None = None
    own_thickness: float | None = None
    """How thick it is, where the file says it of the sheet itself [mm]."""

    __repr__ = one_line

    @property
    def thickness(self) -> float:
        """How thick it truly is [mm]: as said of it, else as its material is."""
        found = self.own_thickness if self.own_thickness is not None else self.material.thickness
        assert found is not None
        return found

    @property
    def path(self) -> Path:
        """Its edge as an exact curve, in its own frame."""
        path = path_of(self.outline, "sheet")
        x0, y0, _, _ = bounds(path)
        return moved(path, -x0, -y0)

    @property
    def size(self) -> tuple[float, float]:
        """The rectangle about it: left to right, front to back [mm]."""
        _, _, x1, y1 = bounds(self.path)
        return x1, y1
