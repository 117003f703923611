"""Recesses, grooves and bores: what is cut into a layer, as blocks to subtract."""

import numpy as np

from stackview.arrays import Floats
from stackview.curves.arcs import Path, area, bounds, cos_sin, pieces_of, polygon
from stackview.curves.crossing import crossings
from stackview.curves.fit import inside, lies_inside, overlapping
from stackview.curves.offset import offset
from stackview.description.lamp import Bore, FaceSide, Groove, Layer, Recess
from stackview.description.outline import path_of
from stackview.errors import SolidError
from stackview.solids.chamfer import Block, block, wall
from stackview.solids.solid import Face

PAST_FACE = 1.0
"""How far a cut reaches past the face it enters by [mm]; any length does."""


def check_recesses(layer: Layer, outer: Path, openings: list[Path]) -> None:
    """Check that every recess cuts something, and not right through."""
    paths = [path_of(recess.outline, "recess") for recess in layer.recesses]
    for recess, path in zip(layer.recesses, paths, strict=True):
        _check_recess(recess, path, layer, outer, openings)
    _check_both_faces(layer, paths)


def recess_cuts(layer: Layer, chord_error: float) -> list[Block]:
    """One block a recess; its floor and walls carry their labels."""
    return [
        _pocket(
            _levels(layer, recess.face, recess.depth),
            recess.face,
            path_of(recess.outline, "recess"),
            chord_error,
        )
        for recess in layer.recesses
    ]


def _levels(layer: Layer, face: FaceSide, depth: float, below: float = 0.0) -> tuple[float, float]:
    """Heights between which the block of a cut lies: from its floor to past the face."""
    low, high = layer.heights_of_cut(face, depth, below)
    return (low, layer.thickness + PAST_FACE) if face == "top" else (-PAST_FACE, high)


def _pocket(z: tuple[float, float], face: str, path: Path, chord_error: float) -> Block:
    caps = (Face.RECESS_FLOOR, Face.RECESS_WALL) if face == "top" else (Face.RECESS_WALL, Face.RECESS_FLOOR)
    return block([wall(polygon(path, chord_error), z, Face.RECESS_WALL)], caps)


def _check_recess(recess: Recess, path: Path, layer: Layer, outer: Path, openings: list[Path]) -> None:
    if not 0.0 < recess.depth < layer.thickness:
        raise SolidError(
            "recess",
            f"depth {{depth}} in the {recess.face} is not between 0 and the thickness of "
            "{thick}: make it shallower, or an opening if it should go right through",
            depth=recess.depth,
            thick=layer.thickness,
        )
    if lies_inside(outer, path):
        raise SolidError(
            "recess",
            f"the recess in the {recess.face} reaches right over the whole layer: make its outline smaller "
            "than the layer's, or the layer thinner by {depth}",
            depth=recess.depth,
        )
    if not overlapping(path, outer):
        raise SolidError(
            "recess",
            f"the recess in the {recess.face} lies outside the layer's outline and cuts nothing: move it",
        )
    if any(lies_inside(path, opening) for opening in openings):
        raise SolidError(
            "recess",
            f"the recess in the {recess.face} lies within an opening and cuts nothing: make it larger than "
            "the opening, or leave it out",
        )


def _check_both_faces(layer: Layer, paths: list[Path]) -> None:
    """Check that no recess in the top meets one in the underside."""
    both = list(zip(layer.recesses, paths, strict=True))
    for above, path_a in both:
        for below, path_b in both:
            if above.face != "top" or below.face != "underside":
                continue
            if above.depth + below.depth >= layer.thickness and overlapping(path_a, path_b):
                raise SolidError(
                    "recess",
                    "{above} deep in the top and {below} in the underside meet in "
                    "a layer {thick} thick: together they must stay under its thickness",
                    above=above.depth,
                    below=below.depth,
                    thick=layer.thickness,
                )


def groove_cuts(
    layer: Layer, outer: Path, openings: list[Path], main: list[Path], chord_error: float
) -> list[Block]:
    """One block a groove edge; every face of it is the groove's."""
    cuts = []
    for groove in layer.grooves:
        for edge, below in groove_edges(groove, layer, outer, main):
            near, far = groove_sides(groove, edge)
            _check_groove(groove, near, far, below, layer, outer, openings)
            big, small = (far, near) if groove.along == "opening" else (near, far)
            z = _levels(layer, groove.face, groove.depth, below)
            walls = [
                wall(polygon(big, chord_error), z, Face.GROOVE),
                wall(polygon(small, chord_error)[::-1], z, Face.GROOVE),
            ]
            cuts.append(block(walls, (Face.GROOVE, Face.GROOVE)))
    return cuts


def groove_edges(groove: Groove, layer: Layer, outer: Path, main: list[Path]) -> list[tuple[Path, float]]:
    """Find the edges that a groove runs along, each with the depth of the floor that it is cut into."""
    if groove.along == "outline":
        return [(outer, 0.0)]
    if groove.along == "opening":
        if not main:
            raise SolidError("groove", 'runs along "opening", but the layer has no main opening: add one')
        return [(path, 0.0) for path in main]
    recesses = [r for r in layer.recesses if r.face == groove.face]
    # Pin holes are recesses too: glue is spread where a neighbour is seated, or else in the largest.
    seats = [r for r in recesses if r.fitted_to is not None]
    found = [(path_of(r.outline, "recess"), r.depth) for r in seats or recesses]
    if not seats and found:
        found = [max(found, key=lambda edge: area(edge[0]))]
    if not found:
        raise SolidError("groove", f'runs along "recess", but the {groove.face} has no recess: add one')
    return found


def groove_sides(groove: Groove, edge: Path) -> tuple[Path, Path]:
    """Give the sides of a groove that runs along ``edge``: the near one and the far one."""
    way = 1.0 if groove.along == "opening" else -1.0
    if not (groove.width > 0.0 and groove.distance >= 0.0):
        raise SolidError("groove", "its width must be over 0 and its distance from the edge not under 0")
    near = offset(edge, way * groove.distance, field="groove")
    try:
        return near, offset(edge, way * (groove.distance + groove.width), field="groove")
    except SolidError:
        # No number is offered: what is left within its distance may have an opening.
        raise SolidError(
            "groove",
            "its far side lies {far} from its edge, where its sides meet: make it narrower or bring it nearer "
            "to its edge",
            far=groove.distance + groove.width,
        ) from None


def _check_groove(
    groove: Groove, near: Path, far: Path, below: float, layer: Layer, outer: Path, openings: list[Path]
) -> None:
    left = layer.thickness - below
    if not 0.0 < groove.depth < left:
        raise SolidError(
            "groove",
            "depth {depth} is not between 0 and the {left} of material there: make it shallower",
            depth=groove.depth,
            left=left,
        )
    big, small = (far, near) if groove.along == "opening" else (near, far)
    fit = inside(big, outer)
    if not fit.fits:
        raise SolidError(
            "groove",
            "it reaches {by:small} outside the layer's outline near {where}: "
            "its far side lies {far} from its edge; bring it nearer",
            by=fit.by,
            where=fit.at,
            far=groove.distance + groove.width,
        )
    for opening in openings:
        if overlapping(opening, big) and not lies_inside(opening, small):
            raise SolidError(
                "groove",
                "it runs into an opening: its far side lies {far} from its edge; "
                "make it narrower or bring it nearer to its edge",
                far=groove.distance + groove.width,
            )


def bore_cut(bore: Bore, layer: Layer, outer: Path, chord_error: float) -> Block:
    """Lay a round bar along the bore, from outside the outline to the bore's end."""
    radius = 0.5 * bore.diameter
    if radius <= 0.0 or bore.height - radius <= 0.0 or bore.height + radius >= layer.thickness:
        most = 2.0 * min(bore.height, layer.thickness - bore.height)
        raise SolidError(
            "bore",
            "diameter {diameter} at height {height} does not stay inside the thickness of {thick}: "
            "there it must be over 0 and under {most}",
            diameter=bore.diameter,
            height=bore.height,
            thick=layer.thickness,
            most=max(most, 0.0),
        )
    cos, sin = cos_sin(bore.bearing)
    out = np.array((sin, -cos))
    far = _beyond(outer) + radius
    entry = bore_entry(outer, bore.bearing)
    end = entry - bore.length if bore.length is not None else 0.0
    if end >= entry:
        raise SolidError("bore", "length {length}: it must be over 0", length=entry - end)
    return _bar(out, end, far, radius, bore.height, chord_error)


def bore_entry(outer: Path, bearing: float) -> float:
    """Distance from the axis at which the bearing last leaves the outline [mm]; SolidError where it never meets it."""
    entry = edge_at(outer, bearing)
    if entry is None:
        raise SolidError(
            "bore", f"bearing {bearing:.6g}° never meets the layer's outline: choose one that does"
        )
    return entry


def edge_at(outer: Path, bearing: float) -> float | None:
    """Distance from the axis at which the bearing last leaves the outline [mm], or None where it never meets it."""
    cos, sin = cos_sin(bearing)
    out = np.array((sin, -cos))
    far = _beyond(outer)
    there = np.array(((0.0, 0.0, 0.0), (out[0] * far, out[1] * far, 0.0)))
    met = crossings(pieces_of(Path(there)), pieces_of(outer))
    along = met.u[met.i == 0]
    if not along.size or float(along.max()) <= 0.0:
        return None
    return float(along.max()) * far


def _beyond(outer: Path) -> float:
    """Give a distance from the axis that lies outside the outline [mm]."""
    x0, y0, x1, y1 = bounds(outer)
    return float(np.hypot(max(abs(x0), abs(x1)), max(abs(y0), abs(y1)))) + PAST_FACE


def _bar(out: Floats, end: float, far: float, radius: float, height: float, chord_error: float) -> Block:
    """Lay a round bar from ``end`` to ``far`` along ``out``."""
    quarter = float(np.tan(np.pi / 8))
    ends = ((radius, 0.0), (0.0, radius), (-radius, 0.0), (0.0, -radius))
    round_ = polygon(Path(np.array([(x, y, quarter) for x, y in ends])), chord_error)
    upright = block([wall(round_, (end, far), Face.BORE)], (Face.BORE, Face.BORE))
    x, y, along = upright.vertices.T
    # Axes of the bar: sideways, up and outwards; sideways × up = outwards, so no face turns inside out.
    side = np.array((-out[1], out[0]))
    flat = out[None, :] * along[:, None] + side[None, :] * x[:, None]
    return Block(np.column_stack((flat, height + y)), upright.triangles, upright.numbers)
