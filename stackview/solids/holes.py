"""Openings: the holes right through a layer, their bevels, and the walls that they leave."""

from dataclasses import dataclass

from stackview.arrays import Floats
from stackview.curves.arcs import Path, bounds, polygon
from stackview.curves.fit import inside, lies_inside, overlapping, room_inside
from stackview.curves.offset import mitre, offset
from stackview.description.lamp import FaceSide, Layer
from stackview.description.outline import around, path_of
from stackview.errors import SolidError
from stackview.solids.chamfer import Bevel, Block, Wall, block, wall
from stackview.solids.cuts import PAST_FACE
from stackview.solids.solid import Face


@dataclass(frozen=True, slots=True)
class Hole:
    """One opening: its exact curve, whether it is a main one, and the bevels of its edges.

    ``below`` and ``above`` are the depths of the recesses that its edges lie in [mm].
    """

    path: Path
    main: bool
    lower: Bevel | None
    upper: Bevel | None
    below: float = 0.0
    above: float = 0.0


def holes_of(layer: Layer, bevels: dict[str, Bevel]) -> list[Hole]:
    """Every opening of the layer, copies too; opening bevels go to the main ones."""
    lower, upper = bevels.get("underside opening"), bevels.get("top opening")
    holes = []
    for opening in layer.openings:
        low, high = (lower, upper) if opening.main else (None, None)
        for path in around(path_of(opening.outline, "opening"), opening.around):
            below, above = _depth(layer, "underside", path, low), _depth(layer, "top", path, high)
            holes.append(Hole(path, opening.main, low, high, below, above))
    if (lower or upper) and not any(hole.main for hole in holes):
        name = lower.name if lower else upper.name if upper else ""
        raise SolidError("chamfer", f"{name} chamfer, but the layer has no main opening: add one")
    return holes


def _depth(layer: Layer, face: FaceSide, path: Path, bevel: Bevel | None) -> float:
    """Depth of the floor that a bevelled edge lies in, where a recess has taken the face away [mm]."""
    depth = 0.0
    if bevel is None:
        return depth
    for recess in layer.recesses:
        if recess.face != face:
            continue
        pocket = path_of(recess.outline, "recess")
        if not lies_inside(path, pocket):
            continue
        depth = max(depth, recess.depth)
        if not lies_inside(offset(path, bevel.width, field="chamfer"), pocket):
            room = -inside(path, pocket).by
            raise SolidError(
                "chamfer",
                f"{bevel.name} chamfer of width {{width}} reaches under the wall of the recess: "
                "there are {room:most} from the opening to that wall; make it narrower",
                width=bevel.width,
                room=room,
            )
    return depth


def check_openings(outer: Path, holes: list[Hole], chord_error: float) -> None:
    """Check that every opening lies inside the outline and leaves a wall that the facets can show."""
    for hole in holes:
        if room_inside(hole.path, outer) >= chord_error:
            continue
        fit = inside(hole.path, outer)
        if not fit.fits:
            raise SolidError(
                "opening",
                "it reaches {by:small} outside the outline near {where}: make it smaller or move it inwards",
                by=fit.by,
                where=fit.at,
            )
        if -fit.by < chord_error:
            raise SolidError(
                "opening",
                "it leaves a wall of only {wall:small} near {where}: make it smaller or move it inwards, "
                "to leave at least {least}",
                wall=-fit.by,
                where=fit.at,
                least=chord_error,
            )


def check_walls(outer: Path, holes: list[Hole], bevels: dict[str, Bevel], chord_error: float) -> None:
    """Check what outer and opening bevels leave of the wall between them, face by face."""
    for hole in holes:
        _check_wall(
            outer, hole.path, bevels.get("top outer"), None if hole.above else hole.upper, chord_error
        )
        low = None if hole.below else hole.lower
        _check_wall(outer, hole.path, bevels.get("underside outer"), low, chord_error)


def _check_wall(outer: Path, edge: Path, out: Bevel | None, own: Bevel | None, chord_error: float) -> None:
    if out is None and own is None:
        return
    width, growth = out.width if out else 0.0, own.width if own else 0.0
    # No corner moves farther than its mitre, so a wall this wide needs no closer look.
    needed = width * mitre(outer) + growth * mitre(edge) + chord_error
    if room_inside(edge, outer) >= needed or -inside(edge, outer).by >= needed:
        return

    def left(share: float) -> float:
        rim = offset(outer, -share * width, field="chamfer")
        return -inside(offset(edge, share * growth, field="chamfer"), rim).by

    if left(1.0) >= chord_error:
        return
    low, high = 0.0, 1.0
    while (high - low) * max(width, growth) > 1e-5:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if left(middle) >= chord_error else (low, middle)
    bevels = [bevel for bevel in (out, own) if bevel is not None]
    names = " and ".join(
        f"{bevel.name} chamfer of width {{width{k}}} (largest that fits: {{most{k}:most}})"
        for k, bevel in enumerate(bevels)
    )
    values = {f"width{k}": bevel.width for k, bevel in enumerate(bevels)}
    values |= {f"most{k}": bevel.width * low for k, bevel in enumerate(bevels)}
    raise SolidError("chamfer", f"{names}: no wall is left between the outline and an opening", **values)


def hole_walls(
    holes: list[Hole], thick: tuple[float, float], chord_error: float
) -> tuple[list[Wall], list[Block]]:
    """Walls of the openings that stand alone, and blocks to subtract for the others.

    Those that run together, and those whose bevelled edge lies in a recess, have to be cut.
    """
    widest = max((b.width for hole in holes for b in (hole.lower, hole.upper) if b), default=0.0)
    together = run_together([hole.path for hole in holes], 2.0 * chord_error + widest)
    walls: list[Wall] = []
    cuts: list[Block] = []
    for hole, joined in zip(holes, together, strict=True):
        edge = polygon(hole.path, chord_error)[::-1]
        if joined or hole.below or hole.above:
            cuts += _hole_cuts(hole, edge, thick)
        else:
            walls.append(wall(edge, thick, Face.OPENING, hole.lower, hole.upper))
    return walls, cuts


def _hole_cuts(hole: Hole, edge: Floats, thick: tuple[float, float]) -> list[Block]:
    """One opening as blocks to subtract: a plain part through both faces, and its bevelled part."""
    cuts = [block([wall(edge[::-1], (thick[0] - PAST_FACE, thick[1] + PAST_FACE), Face.OPENING)])]
    if hole.lower or hole.upper:
        z = (thick[0] + hole.below, thick[1] - hole.above)
        cuts.append(block([wall(edge, z, Face.OPENING, hole.lower, hole.upper).flipped()]))
    return cuts


def run_together(paths: list[Path], room: float) -> list[bool]:
    """Which paths come nearer to another than ``room`` [mm]."""
    together = [False] * len(paths)
    boxes = [bounds(path) for path in paths]
    for i, a in enumerate(boxes):
        for j in range(i):
            b = boxes[j]
            apart = max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3])
            if apart <= room and overlapping(paths[i], paths[j], -room):
                together[i] = together[j] = True
    return together
