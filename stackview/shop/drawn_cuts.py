"""Every curve that one part is cut to, with the face that it is cut from and how deep it goes.

Curves are exact paths of lines and arcs in the part's own frame, seen from above: axis at
x = y = 0, front at the lower side (−y), lengths in millimetres.
"""

import math
from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats
from stackview.curves.arcs import Path, cos_sin, pieces_of
from stackview.curves.offset import offset
from stackview.description.lamp import Bore, Chamfer, FaceSide, Groove, Layer, Opening, Recess
from stackview.description.outline import Outline, around, path_of
from stackview.solids.cuts import bore_entry, groove_edges, groove_sides

_SAME = 1e-9
"""Centres and radii that are this near are one circle's [mm]."""


@dataclass(frozen=True, slots=True)
class DrawnCut:
    """One thing that is cut: what the description says of it, and the curves that it is cut to.

    ``face`` is None for what goes right through or in from the edge; ``depth`` counts from that
    face [mm], also for a groove in a recess's floor, and ``floor`` says how deep that floor lies.
    """

    of: Outline | Opening | Recess | Groove | Chamfer | Bore
    paths: tuple[Path, ...]
    face: FaceSide | None = None
    depth: float | None = None
    floor: float = 0.0


def drawn_cuts(layer: Layer) -> tuple[DrawnCut, ...]:
    """Give all curves of a layer's one piece: outline, openings, recesses, grooves, chamfers, bores.

    A chamfer has the curve where its slope meets the face; a bore has the rectangle that it is
    seen as from above. Raises SolidError where the layer cannot be made as described.
    """
    outer = path_of(layer.outline, "outline")
    openings = [(one, around(path_of(one.outline, "opening"), one.around)) for one in layer.openings]
    main = [path for one, paths in openings if one.main for path in paths]
    found = [DrawnCut(layer.outline, (outer,)), *(DrawnCut(one, paths) for one, paths in openings)]
    found += recess_curves(layer)
    for groove in layer.grooves:
        for edge, floor in groove_edges(groove, layer, outer, main):
            found.append(
                DrawnCut(groove, groove_sides(groove, edge), groove.face, floor + groove.depth, floor)
            )
    for chamfer in layer.chamfers:
        found.append(_chamfer_curve(chamfer, outer, main))
    found += [DrawnCut(bore, (_bore_path(bore, outer),)) for bore in layer.bores]
    return tuple(found)


def recess_curves(layer: Layer) -> list[DrawnCut]:
    """Give a layer's recesses; those that are alike but for their place are one cut."""
    alike: dict[tuple[object, ...], list[Recess]] = {}
    for recess in layer.recesses:
        outline = recess.outline
        key = (recess.face, recess.depth, outline.shape, outline.grow, outline.cutter_radius)
        # A neighbour is taken by one recess; holes that stand around the axis are alike.
        alike.setdefault((*key, None if outline.at != (0.0, 0.0) else len(alike)), []).append(recess)
    return [
        DrawnCut(some[0], tuple(path_of(one.outline, "recess") for one in some), some[0].face, some[0].depth)
        for some in alike.values()
    ]


def _chamfer_curve(chamfer: Chamfer, outer: Path, main: list[Path]) -> DrawnCut:
    face: FaceSide = "top" if chamfer.edge.startswith("top") else "underside"
    height = chamfer.width * math.tan(math.radians(chamfer.angle))
    paths: tuple[Path, ...]
    if chamfer.edge.endswith("outer"):
        paths = (offset(outer, -chamfer.width, field="chamfer"),)
    else:
        paths = tuple(offset(path, chamfer.width, field="chamfer") for path in main)
    return DrawnCut(chamfer, paths, face, height)


def bore_length(bore: Bore, outer: Path) -> float:
    """How deep a bore goes in from the edge, along its middle line [mm]."""
    return bore_entry(outer, bore.bearing) if bore.length is None else bore.length


def _bore_path(bore: Bore, outer: Path) -> Path:
    entry = bore_entry(outer, bore.bearing)
    cos, sin = cos_sin(bore.bearing)
    out, side = np.array((sin, -cos)), 0.5 * bore.diameter * np.array((cos, sin))
    end = out * (entry - bore_length(bore, outer))
    corners = np.array((end - side, out * entry - side, out * entry + side, end + side))
    return Path(np.column_stack((corners, np.zeros(4))))


def circle_of(path: Path) -> tuple[Floats, float] | None:
    """Centre (2,) and radius of a path that is one whole circle [mm], else None.

    >>> from stackview.curves.corners import circle
    >>> centre, radius = circle_of(circle(3.0))
    >>> centre.tolist(), radius
    ([0.0, 0.0], 3.0)
    """
    p = pieces_of(path)
    if not p.arc.all():
        return None
    centre = p.centre.mean(axis=0)
    radius = float(np.hypot(*(p.start - centre).T).mean())
    near = np.abs(p.centre - centre).max() <= _SAME and np.abs(p.radius - radius).max() <= _SAME
    whole = abs(abs(float(p.sweep.sum())) - 2.0 * math.pi) <= 1e-9
    return (centre, radius) if near and whole else None
