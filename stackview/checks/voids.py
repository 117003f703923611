"""Everything cut into one layer, as curves between two heights in the layer's own frame."""

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from stackview.curves.arcs import Path, bounds, cos_sin, pieces_of
from stackview.curves.crossing import crossings
from stackview.description.lamp import Bore, Groove, Layer
from stackview.description.outline import around, path_of
from stackview.solids.cuts import groove_edges, groove_sides

MOUTH = 1e-3
"""By how much the bar that stands for a bore ends inside the outline [mm]."""

From = Literal["top", "underside", "through", "side"]


@dataclass(frozen=True, slots=True, eq=False)
class Void:
    """One thing cut out: what it is called, its curve, and the heights between which it lies [mm].

    A groove is a void inside its outer side; ``inner`` is the island that it leaves standing.
    """

    name: str
    path: Path
    low: float
    high: float
    entered: From
    inner: Path | None = None
    key: str = ""
    """Which of the layer's cuts it is, as a way names it: "opening 0", "recess 1", "groove 0", "bore 0"."""


def voids_of(layer: Layer) -> list[Void]:
    """Openings, recesses, grooves and bores of a layer, copies too."""
    thick = layer.thickness
    found = [
        Void("opening", path, 0.0, thick, "through", key=f"opening {number}")
        for number, opening in enumerate(layer.openings)
        for path in around(path_of(opening.outline, "opening"), opening.around)
    ]
    for number, recess in enumerate(layer.recesses):
        low, high = layer.heights_of_cut(recess.face, recess.depth)
        path = path_of(recess.outline, "recess")
        found.append(
            Void(f"recess in the {recess.face}", path, low, high, recess.face, None, f"recess {number}")
        )
    for number, groove in enumerate(layer.grooves):
        found += [replace(one, key=f"groove {number}") for one in _groove(layer, groove)]
    bars = [(number, bore_bar(layer, bore)) for number, bore in enumerate(layer.bores)]
    return found + [replace(bar, key=f"bore {number}") for number, bar in bars if bar is not None]


def _groove(layer: Layer, groove: Groove) -> list[Void]:
    """Where the solid has it: along the recess in which a neighbour is seated, not along pin holes."""
    main = [path_of(one.outline, "opening") for one in layer.openings if one.main]
    found = []
    for edge, below in groove_edges(groove, layer, path_of(layer.outline), main):
        near, far = groove_sides(groove, edge)
        outer, inner = (far, near) if groove.along == "opening" else (near, far)
        low, high = layer.heights_of_cut(groove.face, groove.depth, below)
        found.append(Void(f"groove in the {groove.face}", outer, low, high, groove.face, inner))
    return found


def bore_bar(layer: Layer, bore: Bore) -> Void | None:
    """The bore as seen from above: a bar from where it enters the outline to where it ends."""
    outer = path_of(layer.outline)
    cos, sin = cos_sin(bore.bearing)
    out = np.array((sin, -cos))
    far = float(np.abs(np.array(bounds(outer))).max()) * 2.0 + 1.0
    ray = Path(np.array(((0.0, 0.0, 0.0), (*(out * far), 0.0))))
    met = crossings(pieces_of(ray), pieces_of(outer))
    along = met.u[met.i == 0]
    if not along.size:
        return None
    entry = float(along.max()) * far
    end = 0.0 if bore.length is None else entry - bore.length
    radius = 0.5 * bore.diameter
    side = np.array((-out[1], out[0])) * radius
    # It ends inside the outline, so that it does not count as a wall of no thickness there.
    inside, last = out * end, out * (entry - MOUTH)
    corners = np.array((inside - side, last - side, last + side, inside + side))
    area = 0.5 * np.sum(
        corners[:, 0] * np.roll(corners[:, 1], -1) - np.roll(corners[:, 0], -1) * corners[:, 1]
    )
    rows = np.column_stack((corners if area > 0 else corners[::-1], np.zeros(4)))
    return Void("bore", Path(rows), bore.height - radius, bore.height + radius, "side")
