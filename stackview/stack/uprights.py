"""What stands upright in the stack: core, posts, feet, and the cord that a pendant hangs from."""

from collections.abc import Callable
from typing import ParamSpec, TypeVar

from stackview.curves.offset import offset
from stackview.description.lamp import Cord, Core, Feet, Lamp, Layer, Opening, Post
from stackview.description.material import Finish, Material
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Circle
from stackview.description.units import Units
from stackview.errors import Fault, SolidError
from stackview.solids.build import rod
from stackview.solids.placing import placed as moved
from stackview.solids.solid import Solid
from stackview.stack.placed import Placed, Role
from stackview.stack.seating import contact

Parameters = ParamSpec("Parameters")
Made = TypeVar("Made")

_CORD = Material(
    "cable", "plastic", "cable", "opaque", 2000.0, (0.55, 0.52, 0.46), source="copper in PVC, from memory"
)


def solid_or_fault(
    where: str,
    units: Units,
    faults: list[Fault],
    build: Callable[Parameters, Made],
    *arguments: Parameters.args,
    **more: Parameters.kwargs,
) -> Made | None:
    """A solid or curve, or None and a fault that says where it belongs, with lengths in the lamp's ``units``."""
    try:
        return build(*arguments, **more)
    except SolidError as error:
        faults.append(Fault(f"{where} · {error.field}", error.said(units)))
        return None


def core(lamp: Lamp, described: Core, by_name: dict[str, Placed], faults: list[Fault]) -> list[Placed]:
    """The core: on the face or recess floor that carries it, or hung from the one above it."""
    path = solid_or_fault("core", lamp.units, faults, path_of, described.outline, "outline")
    inset = -(described.wall or 0.0)
    if path is None or solid_or_fault("core", lamp.units, faults, offset, path, inset, field="wall") is None:
        return []
    low = high = None
    if described.stands_on is not None:
        low = by_name[described.stands_on].underside + _rise(
            lamp, described, described.stands_on, above=False
        )
    if described.hangs_from is not None:
        high = by_name[described.hangs_from].underside + _rise(
            lamp, described, described.hangs_from, above=True
        )
    if described.height is None:
        low, high = _closed(lamp, described, by_name, low, high)
    if described.height is not None:
        low, high = (
            (low, low + described.height) if low is not None else ((high or 0.0) - described.height, high)
        )
    length = high - low if low is not None and high is not None else 0.0
    if low is None or high is None or length <= 0:
        what = f"{lamp.units.show(length)} is left for it; give a height, or a layer higher up to reach to"
        faults.append(Fault("core · height", what))
        return []
    solid = solid_or_fault(
        "core", lamp.units, faults, rod, described.outline, None, length, described.wall, lamp.chord_error
    )
    return [] if solid is None else [_upright("core", "core", described.material, solid, low, high)]


def _closed(
    lamp: Lamp, described: Core, by_name: dict[str, Placed], low: float | None, high: float | None
) -> tuple[float | None, float | None]:
    """The end that is not described: at the nearest layer that the core does not pass."""
    block = cross_section(described)
    names = [layer.name for layer in lamp.layers]
    if high is None and described.stands_on is not None:
        for layer in lamp.layers[names.index(described.stands_on) + 1 :]:
            if contact(layer, block) is not None:
                return low, by_name[layer.name].underside + _rise(lamp, described, layer.name, above=True)
    if low is None and described.hangs_from is not None:
        for layer in reversed(lamp.layers[: names.index(described.hangs_from)]):
            if contact(block, layer) is not None:
                return by_name[layer.name].underside + _rise(lamp, described, layer.name, above=False), high
    return low, high


def cross_section(described: Core, thickness: float = 1.0) -> Layer:
    """The core as a layer of that thickness [mm], to see where it rests and what rests on it."""
    inside = () if described.wall is None else (Opening(described.outline.grown(-described.wall)),)
    return Layer("core", described.material, thickness, described.outline, openings=inside)


def _rise(lamp: Lamp, described: Core, name: str, *, above: bool) -> float:
    """Height above a layer's underside at which the core's end meets it.

    In a recess that it fits, or let into the face by ``sunk``, whichever goes deeper. Where the core
    stands on one layer and hangs from another, it is let into the one that it stands on.
    """
    host = next(layer for layer in lamp.layers if layer.name == name)
    block = cross_section(described)
    if above:
        rise = contact(host, block)
        sunk = described.sunk if described.stands_on is None else 0.0
        return max(
            0.0 if rise is None else block.thickness - rise, sunk if name == described.hangs_from else 0.0
        )
    rise = contact(block, host)
    face = host.thickness if rise is None else rise
    return min(face, host.thickness - described.sunk) if name == described.stands_on else face


def post(lamp: Lamp, pin: Post, by_name: dict[str, Placed], faults: list[Fault]) -> list[Placed]:
    """A post or pin, from the underside of one layer to the top of another, less its insets."""
    where = f'post "{pin.name}"'
    low = by_name[pin.start].underside + pin.inset[0]
    high = by_name[pin.end].top - pin.inset[1]
    if high - low <= 0:
        what = (
            f"nothing is left of it between {lamp.units.show(low)} and {lamp.units.show(high)}; inset it less"
        )
        faults.append(Fault(f"{where} · inset", what))
        return []
    solid = solid_or_fault(
        where, lamp.units, faults, rod, pin.outline, pin.around, high - low, None, lamp.chord_error
    )
    return [] if solid is None else [_upright(pin.name, "post", pin.material, solid, low, high)]


def feet(lamp: Lamp, described: Feet, lowest: Placed, faults: list[Fault]) -> list[Placed]:
    """Round feet under the lowest layer."""
    outline, low = Outline(Circle(described.diameter)), lowest.underside - described.height
    solid = solid_or_fault(
        "feet", lamp.units, faults, rod, outline, described.around, described.height, None, lamp.chord_error
    )
    return (
        [] if solid is None else [_upright("feet", "foot", described.material, solid, low, lowest.underside)]
    )


def cord(lamp: Lamp, described: Cord, top: Placed, faults: list[Fault]) -> list[Placed]:
    """The cord through the top layer, from its underside up to the ceiling."""
    outline = Outline(Circle(described.diameter), at=described.at)
    high = top.top + described.length
    solid = solid_or_fault(
        "cord", lamp.units, faults, rod, outline, None, high - top.underside, None, lamp.chord_error
    )
    return [] if solid is None else [_upright("cord", "cord", _CORD, solid, top.underside, high)]


def _upright(name: str, role: Role, material: Material, solid: Solid, low: float, high: float) -> Placed:
    return Placed(name, role, material, Finish(), moved(solid, 0.0, low), low, high, 0.0, 0.0)
