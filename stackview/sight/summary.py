"""The sightlines of a lamp: everything that tables, pictures and pages say about what shows."""

from collections.abc import Callable
from dataclasses import dataclass

from stackview.light.points import LightPoints
from stackview.one_line import one_line
from stackview.sight.bands import Bands, Kind, all_bands, even_bearings
from stackview.sight.beams import Beams, traced
from stackview.sight.causes import Cause, causes
from stackview.sight.edge_names import EdgeNames
from stackview.sight.eyes import Seen, Standpoint, look
from stackview.sight.glazed import with_glazed, without_glazed
from stackview.sight.scene import Scene, scene_of
from stackview.sight.sphere import CutOff, Merged, cut_offs, merged, share_of_sphere
from stackview.stack.assembly import Stack


@dataclass(frozen=True, slots=True, eq=False)
class Sightlines:
    """What shows of a lamp's light points, from all directions and to its named eyes."""

    points: LightPoints
    scene: Scene
    standpoint: Standpoint
    straight: Bands
    """Every point's bare and veiled bands along straight lines, over all directions."""
    beams: Beams
    """Every point's light that leaves through clear acrylic."""
    bands: Bands
    """Every point's open bands of every kind, the most exposed of each direction."""
    names: EdgeNames
    bare: Merged
    """Bare bands merged over points."""
    share_bare: float
    """Share of the sphere from which at least one bare point shows."""
    share_shown: float
    """Share of the sphere from which at least one point shows bare, glazed or veiled."""
    cut_offs: tuple[CutOff, ...]
    """The gaps that show bare points, the one that shows most first."""
    eyes: tuple[Seen, ...]
    causes: tuple[tuple[Cause, ...], ...]
    """For each eye, what would hide the bare points that it sees from its worst bearing."""

    __repr__ = one_line


def sightlines(
    stack: Stack,
    points: LightPoints,
    *,
    bearings: int = 720,
    progress: Callable[[int], None] | None = None,
) -> Sightlines:
    """Sightlines of every light point, at ``bearings`` bearings evenly all round.

    Bare and veiled are exact, along straight lines; glazed is traced, to the tolerance of
    :mod:`stackview.sight.beams`.

    ``progress`` is called with the number of steps done since its last call;
    :func:`steps` tells how many there are.
    """
    scene = scene_of(stack.placed)
    names = EdgeNames(scene)
    around = even_bearings(bearings)
    straight = all_bands(scene, points, around, progress=progress)
    beams = traced(scene, points, progress=progress)
    bands, straight = with_glazed(straight, beams), without_glazed(straight)
    only_bare = bands.chosen(bands.kind == Kind.BARE)
    bare = merged(only_bare)
    standpoint = Standpoint(stack.floor, stack.lamp.surface)
    eyes = look(
        scene, points, stack.lamp.eyes, standpoint, stack.height, around, beams=beams, progress=progress
    )
    return Sightlines(
        points=points,
        scene=scene,
        standpoint=standpoint,
        straight=straight,
        beams=beams,
        bands=bands,
        names=names,
        bare=bare,
        share_bare=share_of_sphere(bare, bearings),
        share_shown=share_of_sphere(merged(bands), bearings),
        cut_offs=cut_offs(only_bare, names),
        eyes=eyes,
        causes=tuple(causes(scene, names, points, seen, standpoint, seen.worst) for seen in eyes),
    )


def steps(stack: Stack, points: LightPoints) -> int:
    """How many steps of progress :func:`sightlines` reports."""
    return len(points) * (3 if stack.lamp.eyes else 2)
