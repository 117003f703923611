"""Placed solids: each part where it stands in the assembled lamp."""

from dataclasses import dataclass
from typing import Literal, assert_never

from stackview.description.material import Finish, Length, Material, Sort
from stackview.description.service import AIR, Film
from stackview.solids.solid import Solid

Role = Literal["layer", "core", "post", "foot", "cord"]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Placed:
    """One part in the lamp's frame: lamp axis at x = y = 0, z up, z = 0 at the lowest point."""

    name: str
    role: Role
    material: Material
    finish: Finish
    solid: Solid
    """The mesh in the lamp's frame, already turned and lifted."""
    underside: float
    top: float
    """Heights of the part's own underside and top [mm]."""
    turn: float
    """Turn about the axis, counter-clockwise from above [°]."""
    grain: float
    """Bearing along which the grain runs, as placed [°]; of no meaning for acrylic and metal."""
    film: Film = AIR
    """What fills its level joints with acrylic."""
    thick: float | Length | None = None
    """A layer's thickness, as the maker wrote it where it is that [mm]."""

    @property
    def is_layer(self) -> bool:
        """Whether it is a layer of the stack."""
        return self.role == "layer"

    @property
    def is_core(self) -> bool:
        """Whether it is the core."""
        return self.role == "core"

    @property
    def is_post(self) -> bool:
        """Whether it is a post or a pin."""
        return self.role == "post"

    @property
    def is_foot(self) -> bool:
        """Whether it is a foot."""
        return self.role == "foot"

    @property
    def is_cord(self) -> bool:
        """Whether it is the cord, which is no part of the lamp's body."""
        return self.role == "cord"

    @property
    def is_upright(self) -> bool:
        """Whether it stands upright in the stack: the core or a post."""
        return self.is_core or self.is_post

    @property
    def passes_openings(self) -> bool:
        """Whether it goes through openings of the layers: the core, a post or the cord."""
        return self.is_upright or self.is_cord

    @property
    def is_jointed(self) -> bool:
        """Whether its level faces make joints, glued or dry: those of a layer or of the core."""
        return self.is_layer or self.is_core

    @property
    def stays_whole(self) -> bool:
        """Whether it stays whole where the lamp is cut, as shafts do in sections (common practice)."""
        return self.is_core or self.is_cord

    @property
    def tall(self) -> float | Length:
        """How tall it is, for whoever shows it [mm]."""
        return self.top - self.underside if self.thick is None else self.thick

    @property
    def opaque(self) -> bool:
        """Whether no light passes: everything but acrylic."""
        return self.material.body == "opaque"

    @property
    def sort(self) -> Sort:
        """What the part does to light: opaque, opal, or clear acrylic, which counts as sanded if any face is."""
        return self._sort(any(self.finish.sanded))

    @property
    def level_sort(self) -> Sort:
        """The same of its top and underside alone, whatever its edge is."""
        return self._sort(any(self.finish.sanded[:2]))

    def _sort(self, sanded: bool) -> Sort:
        match self.material.body:
            case "opaque" | "opal":
                return self.material.body
            case "clear":
                return "sanded" if sanded else "clear"
            case _:
                assert_never(self.material.body)

    def __repr__(self) -> str:
        """One line, without the mesh."""
        return (
            f'Placed("{self.name}", {self.role}, {self.material.name}, {self.underside:g} to {self.top:g} mm)'
        )
