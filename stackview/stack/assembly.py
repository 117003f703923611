"""The assembled lamp: layers, core, posts and feet as solids where they stand."""

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stackview.curves.arcs import area
from stackview.curves.offset import offset
from stackview.description.lamp import Lamp, Layer
from stackview.description.outline import path_of
from stackview.description.service import AIR, Film
from stackview.errors import Fault, LampError
from stackview.findings import Finding, counted_by_level
from stackview.in_figures import figure
from stackview.kept import is_kept, kept
from stackview.notebook import html_table
from stackview.solids.build import solid_of
from stackview.solids.measure import volume
from stackview.solids.placing import placed as moved
from stackview.solids.solid import Solid
from stackview.stack.clashes import clashes
from stackview.stack.placed import Placed
from stackview.stack.seating import Misfit, Seat, Standing, seated
from stackview.stack.supports import Supports
from stackview.stack.uprights import cord, core, feet, post, solid_or_fault

if TYPE_CHECKING:
    from stackview.stack.pyvista_blocks import Blocks
    from stackview.stack.trimesh_scene import Scene


@dataclass(frozen=True, eq=False, repr=False)
class Stack:
    """A lamp assembled: every part where it stands, how the layers seat, and what does not."""

    lamp: Lamp
    placed: tuple[Placed, ...]
    """Layers from the bottom up, then core, posts, feet and cord."""
    standing: Standing
    """How the layers came to stand on each other."""
    height: float
    """From the lowest point to the highest, the cord left out [mm]."""
    floor: float
    """Height of the lamp's lowest point above the floor [mm]."""

    @property
    def seats(self) -> tuple[Seat, ...]:
        """Layers seated in a neighbour's recess."""
        return self.standing.seats

    @property
    def rests_on(self) -> tuple[int | None, ...]:
        """For each layer of the lamp, the number of the layer that carries it; None where none does."""
        return self.standing.rests_on

    @property
    def misfits(self) -> tuple[Misfit, ...]:
        """Layers that do not fit the recess made for them."""
        return self.standing.misfits

    @kept
    def findings(self) -> tuple[Finding, ...]:
        """Layers that do not seat, with what would mend it, and parts that clash; worked out when first asked."""
        units = self.lamp.units
        return self.standing.findings(units) + clashes(self.placed, self.lamp.chord_error, units)

    @kept
    def supports(self) -> Supports:
        """What carries every part and every piece; worked out when first asked."""
        return Supports(self.lamp, self.placed, self.seats)

    def part(self, name: str) -> Placed:
        """The placed part of that name; KeyError if there is none."""
        for part in self.placed:
            if part.name == name:
                return part
        raise KeyError(name)

    @property
    def grams(self) -> float:
        """Mass of all parts without wiring, the cord left out [g]."""
        cords = {part.name for part in self.placed if part.is_cord}
        return sum(mass.grams for mass in masses(self) if mass.name not in cords)

    def table(self) -> list[dict[str, str | float]]:
        """One row a part, as plain values: ``pandas.DataFrame(stack.table())`` reads it.

        Heights are the lamp's, from its lowest point; the volume is that of the facets.
        """
        return [
            {
                "part": part.name,
                "role": part.role,
                "material": part.material.name,
                "kind": part.material.kind,
                "body": part.material.body,
                "underside_mm": part.underside,
                "top_mm": part.top,
                "height_mm": part.top - part.underside,
                "turn_degrees": part.turn,
                "volume_mm3": mass.volume,
                "grams": mass.grams,
            }
            for part, mass in zip(self.placed, masses(self), strict=True)
        ]

    def to_trimesh(self) -> "Scene":
        """The parts as a ``trimesh.Scene`` in millimetres, with names, materials and colours."""
        from stackview.stack.trimesh_scene import trimesh_scene

        return trimesh_scene(self.placed)

    def to_pyvista(self) -> "Blocks":
        """The parts as a ``pyvista.MultiBlock`` in millimetres: named blocks that say material and role."""
        from stackview.stack.pyvista_blocks import pyvista_blocks

        return pyvista_blocks(self.placed)

    def _repr_html_(self) -> str:
        """What it is, for a notebook."""
        rows = [
            ("height", self.lamp.units.show(self.height)),
            ("mass", f"{figure(self.grams)} g without wiring"),
            ("parts", ", ".join(part.name for part in self.placed)),
        ]
        if is_kept(self, "findings"):
            rows.append(("findings", counted_by_level(self.findings)))
        return html_table(f"{self.lamp.name}, assembled", rows)

    def __repr__(self) -> str:
        """One line; nothing is worked out for it."""
        findings = str(len(self.findings)) if is_kept(self, "findings") else "not asked"
        tall = self.lamp.units.show(self.height)
        return f'Stack("{self.lamp.name}", {len(self.placed)} parts, {tall} tall, findings: {findings})'


@dataclass(frozen=True, slots=True)
class Mass:
    """Volume and mass of one part."""

    name: str
    material: str
    volume: float
    """[mm³]"""
    grams: float


def assemble(lamp: Lamp) -> Stack:
    """Build every part of the lamp and stand it where it belongs.

    Raises
    ------
    LampError
        When parts cannot be made as described; all of them are reported together.
    """
    faults: list[Fault] = []
    layers = [
        solid_or_fault(f'layer "{layer.name}"', lamp.units, faults, solid_of, layer, lamp.chord_error)
        for layer in lamp.layers
    ]
    if faults:
        raise LampError(lamp.name, tuple(faults))
    standing = seated(lamp.layers)
    placed = [
        _layer(layer, solid, underside)
        for layer, solid, underside in zip(lamp.layers, layers, standing.undersides, strict=True)
        if solid is not None
    ]
    by_name = {part.name: part for part in placed}
    if lamp.core is not None:
        placed.extend(core(lamp, lamp.core, by_name, faults))
    for pin in lamp.posts:
        placed.extend(post(lamp, pin, by_name, faults))
    if lamp.feet is not None:
        placed.extend(feet(lamp, lamp.feet, placed[0], faults))
    if lamp.cord is not None:
        placed.extend(cord(lamp, lamp.cord, placed[len(lamp.layers) - 1], faults))
    if faults:
        raise LampError(lamp.name, tuple(faults))
    lowest = min(part.underside for part in placed)
    parts = tuple(replace(_lifted(part, -lowest), film=_film(lamp, part)) for part in placed)
    return Stack(
        lamp=lamp,
        placed=parts,
        standing=standing,
        height=max(part.top for part in parts if not part.is_cord),
        floor=lamp.hangs_at if lamp.hangs_at is not None else lamp.surface.height if lamp.surface else 0.0,
    )


def masses(stack: Stack) -> tuple[Mass, ...]:
    """Volume and mass of every part, by its material's density."""
    found, prisms = [], _cross_sections(stack.lamp)
    for part in stack.placed:
        exact = prisms.get(part.name)
        size = volume(part.solid) if exact is None else exact * (part.top - part.underside)
        found.append(Mass(part.name, part.material.name, size, size * part.material.density * 1e-6))
    return tuple(found)


def _cross_sections(lamp: Lamp) -> dict[str, float]:
    """Area of posts, core and feet on their exact curves, copies together [mm²]: facets would lack up to 5 %."""
    found = {}
    for pins in lamp.posts:
        found[pins.name] = area(path_of(pins.outline)) * (1 if pins.around is None else pins.around.count)
    if lamp.core is not None:
        outer = path_of(lamp.core.outline)
        inner = 0.0 if lamp.core.wall is None else area(offset(outer, -lamp.core.wall, field="wall"))
        found["core"] = area(outer) - inner
    if lamp.feet is not None:
        found["feet"] = 0.25 * math.pi * lamp.feet.diameter**2 * lamp.feet.around.count
    return found


def _film(lamp: Lamp, part: Placed) -> Film:
    """What fills the part's joints with acrylic; only layers and core are glued."""
    return lamp.gluing.film_of(part.name) if part.is_jointed else AIR


def _layer(layer: Layer, solid: Solid, underside: float) -> Placed:
    return Placed(
        name=layer.name,
        role="layer",
        material=layer.material,
        finish=layer.finish,
        solid=moved(solid, layer.turn, underside),
        underside=underside,
        top=underside + layer.thickness,
        turn=layer.turn,
        grain=(layer.grain + layer.turn) % 360.0,
        thick=layer.thick,
    )


def _lifted(part: Placed, by: float) -> Placed:
    if by == 0.0:
        return part
    return replace(part, solid=moved(part.solid, 0.0, by), underside=part.underside + by, top=part.top + by)
