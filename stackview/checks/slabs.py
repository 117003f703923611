"""Parts as slabs: between two level faces a part is the same all the way up, so that its plan says where it is."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from stackview.by_value import by_value
from stackview.checks.facets import TO_PASS
from stackview.checks.subject import Subject
from stackview.curves.arcs import Path, polygon, turned
from stackview.description.lamp import Core, Layer
from stackview.description.outline import Around, Outline, around, path_of

_KEPT = 8_000_000

Cuts = tuple[tuple[Outline, Around | None], ...]
"""Holes and pockets of a slab, each with its copies around the axis."""


@dataclass(frozen=True, slots=True, eq=False)
class Slab:
    """What a part takes between two heights of the lamp [mm], seen from above; bevels and grooves are left on."""

    low: float
    high: float
    area: BaseGeometry

    def within(self, low: float, high: float) -> float:
        """How much of its height lies between two heights [mm]; below 0 by how far it lies outside them."""
        return min(self.high, high) - max(self.low, low)


@dataclass(frozen=True, slots=True)
class LayerSlab:
    """One slab of a layer by what is cut out of it, heights above the layer's own underside [mm]."""

    low: float
    high: float
    cuts: Cuts


def layer_slabs(layer: Layer) -> tuple[LayerSlab, ...]:
    """A layer as slabs, between its faces and the floors of its recesses, from the bottom up."""
    thick = layer.thickness
    pockets = [(recess.outline, layer.heights_of_cut(recess.face, recess.depth)) for recess in layer.recesses]
    floors = {height for _, heights in pockets for height in heights}
    holes = tuple((one.outline, one.around) for one in layer.openings)
    found = []
    for low, high in pairwise(sorted({0.0, thick, *floors})):
        middle = (low + high) / 2.0
        here = tuple((outline, None) for outline, (foot, head) in pockets if foot < middle < head)
        found.append(LayerSlab(low, high, (*holes, *here)))
    return tuple(found)


def _sizes(found: tuple[BaseGeometry, ...]) -> int:
    return int(16 * sum(shapely.get_num_coordinates(one) for one in found))


@by_value(_KEPT, size=_sizes)
def slab_plan(
    outline: Outline, copies: Around | None, cuts: Cuts, turn: float
) -> tuple[BaseGeometry, BaseGeometry]:
    """What a slab takes as it stands in the lamp, and the same with its holes and pockets filled."""
    whole = shapely.union_all([slab_area(turned(path, turn)) for path in around(path_of(outline), copies)])
    holes = [
        slab_area(turned(path, turn)) for cut, many in cuts for path in around(path_of(cut, "opening"), many)
    ]
    return (shapely.difference(whole, shapely.union_all(holes)) if holes else whole), whole


def core_plan(core: Core) -> BaseGeometry:
    """What the core takes, seen from above: without the hollow of a tube."""
    solid = slab_area(path_of(core.outline))
    if core.wall is None:
        return solid
    return shapely.difference(solid, slab_area(path_of(core.outline.grown(-core.wall))))


def slabs_of_parts(subject: Subject) -> dict[str, tuple[Slab, ...]]:
    """Every layer, the core and every post by name, each as its slabs; feet and cord are left out."""
    lamp, parts = subject.lamp, {part.name: part for part in subject.stack.placed}
    found = {layer.name: tuple(_of_layer(layer, parts[layer.name].underside)) for layer in lamp.layers}
    if lamp.core is not None and "core" in parts:
        found["core"] = (Slab(parts["core"].underside, parts["core"].top, core_plan(lamp.core)),)
    for post in lamp.posts:
        if post.name in parts:
            part = parts[post.name]
            plan = slab_plan(post.outline, post.around, (), 0.0)[0]
            found[post.name] = (Slab(part.underside, part.top, plan),)
    return found


def _of_layer(layer: Layer, foot: float) -> Iterator[Slab]:
    for slab in layer_slabs(layer):
        area, _ = slab_plan(layer.outline, layer.around, slab.cuts, layer.turn)
        yield Slab(foot + slab.low, foot + slab.high, area)


def slab_area(path: Path) -> shapely.Polygon:
    """What lies inside a closed curve, seen from above, on facets of ``TO_PASS``."""
    return shapely.Polygon(polygon(path, TO_PASS))
