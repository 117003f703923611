"""The lamp as a heat balance sees it: its outside, its inside, and what makes the heat."""

from itertools import pairwise
from math import pi

from stackview.checks.lamp_heat import Shell, Source, spread_width
from stackview.checks.subject import Subject
from stackview.curves.arcs import Path, area, length
from stackview.description.lamp import Core, Layer
from stackview.description.outline import path_of
from stackview.light.layout import Lit

_CONDUCTIVITY = {
    "wood": 0.13,
    "plywood": 0.13,
    "board": 0.12,
    "acrylic": 0.19,
    "metal": 100.0,
    "plastic": 0.2,
}
"""[W/mK]: wood across the grain, Wood Handbook ch. 4 (0.10 to 0.18); the rest from memory."""
_AS_LIGHT = 0.25
"""Least share of its power that a white LED gives off as light and not as heat; from memory."""
_WIDEST_WALL = 0.5
"""A layer whose wall is wider than this share of its opening's edge is a floor or a lid, not a ring."""
_FILM = 10.0
"""Heat transfer of a warm face in still air, for how far heat spreads in a core [W/m²K]; common practice."""
_BOARD = 20.0
"""Diameter of the round board that a power diode is bought on [mm]; common practice."""


def total_watts(lights: tuple[Lit, ...]) -> float | None:
    """Power of the lights together [W]; None where one of them is not given."""
    total = 0.0
    for lit in lights:
        if lit.watts is not None:
            total += lit.watts
        elif lit.amperes is not None:
            total += lit.amperes * lit.light.feed.volts
        else:
            return None
    return total


def shell_of(subject: Subject) -> Shell:
    """The lamp's outside and inside, from outlines and heights as they stand.

    Heat leaves by the rings' walls, the top and, of a pendant, the underside; the plates between
    and the table below are left out, for a bound.
    """
    layers = {layer.name: layer for layer in subject.lamp.layers}
    parts = [part for part in subject.stack.placed if part.is_layer]
    marks = sorted({level for part in parts for level in (part.underside, part.top)})
    side = 0.0
    for low, high in pairwise(marks):
        here = [layers[p.name] for p in parts if p.underside < high - 1e-9 and p.top > low + 1e-9]
        if here:
            side += max(_outer_edge(layer) for layer in here) * (high - low)
    bottom, top = layers[parts[0].name], layers[parts[-1].name]
    hangs = subject.lamp.hangs_at is not None
    inner, through = _walls(tuple(layers.values()))
    for layer, counts in ((top, True), (bottom, hangs)):
        if counts:
            size = area(path_of(layer.outline))
            inner += size
            through += _CONDUCTIVITY[layer.material.kind] * size / layer.thickness
    roof = area(path_of(top.outline))
    return Shell(
        side=side * 1e-6,
        height=(marks[-1] - marks[0]) / 1000.0,
        top=roof * 1e-6,
        bottom=area(path_of(bottom.outline)) * 1e-6 if hangs else 0.0,
        span=roof / _outer_edge(top) / 1000.0,
        inner=inner * 1e-6,
        through=through / 1000.0,
    )


def _walls(layers: tuple[Layer, ...]) -> tuple[float, float]:
    """Inner side of the rings [mm²], and Σ kA/t of their walls [mW/K], A the mean of in and out."""
    inner = through = 0.0
    for layer in layers:
        hole = _main_hole(layer)
        if hole is None or layer.material.is_acrylic or layer.around is not None:
            continue
        outside, inside = length(path_of(layer.outline)), length(hole)
        wall = 2.0 * (area(path_of(layer.outline)) - area(hole)) / (outside + inside)
        if wall > _WIDEST_WALL * inside:
            continue
        inner += inside * layer.thickness
        through += _CONDUCTIVITY[layer.material.kind] * layer.thickness * (outside + inside) / 2.0 / wall
    return inner, through


def _outer_edge(layer: Layer) -> float:
    """Length of the outside [mm]; pieces on a circle count as the round that they stand on."""
    if layer.around is not None:
        return pi * layer.around.circle
    return length(path_of(layer.outline))


def _main_hole(layer: Layer) -> Path | None:
    holes = [path_of(opening.outline) for opening in layer.openings if opening.around is None]
    return max(holes, key=area, default=None)


def source_of(subject: Subject, lit: Lit) -> Source:
    """The areas by which a light loses its heat.

    A strip, and as much of the core beside it as heat spreads to, no more than the whole core;
    a metal tube gives to the air inside it too. Without a strip, each light point's board (its own
    face, or the usual round one of a power diode) with what heat spreads to beside it, no more
    than the face that they sit on; what goes down through that layer is left out, for a bound.
    """
    core, strip = subject.lamp.core, lit.light.layout.strip
    watts = (total_watts((lit,)) or 0.0) * (1.0 - _AS_LIGHT)
    if core is None or strip is None:
        return _on_layer(subject, lit, watts)
    part = subject.stack.part("core")
    tall = part.top - part.underside
    whole = length(path_of(core.outline)) * tall
    spread = 1000.0 * spread_width(_CONDUCTIVITY[core.material.kind], _thick(core) / 1000.0, _FILM)
    outside = min(whole, lit.length * (strip.width + 2.0 * spread))
    both = 2.0 if core.wall is not None and core.material.is_metal else 1.0
    return Source(watts, both * outside * 1e-6, outside * 1e-6, tall / 1000.0)


def _on_layer(subject: Subject, lit: Lit, watts: float) -> Source:
    layer = next(one for one in subject.lamp.layers if one.name == lit.light.layout.carrier)
    kind, thick = layer.material.kind, layer.thickness / 1000.0
    board = max(lit.light.emitter.face) / 2.0
    if lit.light.layout.set_current:
        board = max(board, _BOARD / 2.0)
    reach = board + 1000.0 * spread_width(_CONDUCTIVITY[kind], thick, _FILM)
    warmed = min(lit.count * pi * reach**2, area(path_of(layer.outline)))
    return Source(watts, warmed * 1e-6, warmed * 1e-6, 2.0 * reach / 1000.0)


def _thick(core: Core) -> float:
    """Wall of a tube, or half the thickness of a solid core [mm]."""
    radius = core.outline.radius
    half = radius if radius is not None else area(path_of(core.outline)) / length(path_of(core.outline)) * 2.0
    return core.wall if core.wall is not None else half
