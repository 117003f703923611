"""The sightlines of a lamp: everything that tables, pictures and pages say about what shows."""

from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, field

import numpy as np

from stackview.at_once import AtOnce, one_by_one
from stackview.errors import StackviewError
from stackview.kept import kept
from stackview.light.points import LightPoints
from stackview.one_line import one_line
from stackview.sight.all_round import all_round
from stackview.sight.bands import Bands, Kind, all_bands, even_bearings
from stackview.sight.beams import Beams, traced
from stackview.sight.causes import Cause, causes
from stackview.sight.clear_bodies import ClearBodies, clear_bodies
from stackview.sight.corners_seen import corners_seen
from stackview.sight.edge_names import EdgeNames
from stackview.sight.eyes import Seen, Standpoint, look_from_eyes, with_corners
from stackview.sight.eyes_amiss import check_distance
from stackview.sight.glazed import with_glazed, without_glazed
from stackview.sight.glazed_slices import Tubes
from stackview.sight.inside import buried
from stackview.sight.room import RoomLight, extent_of
from stackview.sight.room_plan import RoomPlan, room_plan
from stackview.sight.room_round import RoomRound, room_round
from stackview.sight.room_side import RoomSide, room_side
from stackview.sight.scene import Scene, scene_of
from stackview.sight.sphere import CutOff, Merged, cut_offs, merged, share_of_sphere
from stackview.stack.assembly import Stack

Progress = Callable[[str, int], AbstractContextManager[Callable[[int], None]]]
"""Watches long work: given what is done and its number of steps, it yields a function to call with steps done."""


FAR_PARALLAX = 1.0
"""Greatest :meth:`Sightlines.parallax` of an eye on the map of all directions [°]: no more than its mark is wide."""


def unseen(_label: str, _steps: int) -> AbstractContextManager[Callable[[int], None]]:
    """Progress that nobody watches."""
    return nullcontext(lambda _done: None)


@dataclass(frozen=True, eq=False)
class Sightlines:
    """What shows of a lamp's light points, from all directions and to its named eyes.

    Frozen; each part is worked out when first asked, and kept. Several threads may ask at once.
    """

    stack: Stack
    points: LightPoints
    bearings: int
    """Number of bearings, evenly all round, at which it is worked out."""
    progress: Progress = field(default=unseen, repr=False)
    """Watches the long parts while they are worked out."""
    at_once: AtOnce = field(default=one_by_one, repr=False)
    """May do several works at once."""

    @kept
    def scene(self) -> Scene:
        """What stands between the light points and eyes."""
        return scene_of(self.stack.placed)

    @property
    def standpoint(self) -> Standpoint:
        """Where the lamp is in the room."""
        return Standpoint(self.stack.floor, self.stack.lamp.surface)

    @kept
    def buried(self) -> Mapping[str, int]:
        """Number of light points inside each part that holds any."""
        return buried(self.scene, self.points)

    @kept
    def names(self) -> EdgeNames:
        """What the scene's edges are called."""
        return EdgeNames(self.scene)

    @kept
    def _along_lines(self) -> Bands:
        """Straight bands, those that cross nothing but clear acrylic among them."""
        with self._watched("straight lines") as step:
            return all_bands(self.scene, self.points, even_bearings(self.bearings), progress=step)

    @kept
    def straight(self) -> Bands:
        """Every point's bare and veiled bands along straight lines, over all directions."""
        return without_glazed(self._along_lines)

    @kept
    def bodies(self) -> ClearBodies | None:
        """The clear acrylic that light is followed through; None where there is none."""
        return clear_bodies(self.scene)

    @kept
    def beams(self) -> Beams:
        """Every point's light that leaves through clear acrylic."""
        with self._watched("light through clear acrylic") as step:
            return traced(self.scene, self.points, progress=step, at_once=self.at_once)

    @kept
    def bands(self) -> Bands:
        """Every point's open bands of every kind, the most exposed of each direction."""
        return with_glazed(self._along_lines, self.beams)

    @kept
    def _bare_bands(self) -> Bands:
        return self.bands.chosen(self.bands.kind == Kind.BARE)

    @kept
    def bare(self) -> Merged:
        """Bare bands merged over points."""
        return merged(self._bare_bands)

    @kept
    def share_bare(self) -> float:
        """Share of the sphere from which at least one bare point shows."""
        return share_of_sphere(self.bare, self.bearings)

    @kept
    def share_shown(self) -> float:
        """Share of the sphere from which at least one point shows bare, glazed or veiled."""
        return share_of_sphere(merged(self.bands), self.bearings)

    @kept
    def cut_offs(self) -> tuple[CutOff, ...]:
        """The gaps that show bare points, the one that shows most first."""
        return cut_offs(self._bare_bands, self.names)

    @kept
    def from_middles(self) -> tuple[Seen, ...]:
        """What each named eye sees of the middles of faces from every bearing: all that checks ask."""
        lamp, around = self.stack.lamp, even_bearings(self.bearings)
        known = self.scene, self.points, lamp.eyes, self.standpoint, self.stack.height, around
        beams = self.beams if lamp.eyes else None
        with self._watched("lines to eyes") as step:
            return look_from_eyes(*known, beams=beams, progress=step)

    @kept
    def eyes(self) -> tuple[Seen, ...]:
        """What each named eye sees from every bearing, corners of faces too."""
        middles = self.from_middles
        with self._watched("lines from corners to eyes") as step:
            return with_corners(self.scene, self.points, middles, self.standpoint, progress=step)

    def eye(self, name: str | None = None) -> Seen:
        """What the named eye of that name sees; without one, the eye that sees most at worst.

        Raises StackviewError for a name that none has, and where no eye is named.
        """
        if name is None:
            worst = [(seen.counts(Kind.BARE), seen.counts(*Kind), seen) for seen in self.eyes]
            if not worst:
                raise StackviewError(f"{self.stack.lamp.name}: no eye is named")
            return max(worst, key=lambda one: (int(one[0].max(initial=0)), int(one[1].max(initial=0))))[2]
        for seen in self.eyes:
            if seen.eye.name.strip().lower() == str(name).strip().lower():
                return seen
        names = ", ".join(seen.eye.name for seen in self.eyes) or "none"
        raise StackviewError(f'eye "{str(name)[:60]}": there is none of that name; the eyes are {names}')

    def own_distance(self, eye: str | None, distance: float | None) -> float:
        """Distance from the axis at which a map of its own is asked for, by a named eye or itself [mm].

        Without either it is that of the eye that sees most. Raises StackviewError where both are given, for
        a name that no eye has, and for a distance within the lamp.
        """
        if eye is not None and distance is not None:
            raise StackviewError("a named eye has its own distance: give an eye or a distance, not both")
        far = self.eye(eye).eye.distance if distance is None else float(distance)
        check_distance(self.stack, far)
        return far

    @kept
    def _light_reach(self) -> float:
        """How far light points lie from the lamp's middle, on the axis at mid-height [mm]."""
        middle = np.array([0.0, 0.0, self.stack.height / 2.0])
        return float(np.linalg.norm(self.points.centres - middle, axis=1).max(initial=0.0))

    def parallax(self, distance: float) -> float:
        """Angle by which light points may be seen aside of where the lamp's middle is [°].

        From an eye at a distance [mm] from the middle: asin(r / distance), where r is how far light points
        lie from the middle. 180° where the eye is as near as they are.
        """
        share = self._light_reach / distance if distance > 0.0 else 1.0
        return float(np.degrees(np.arcsin(share))) if share < 1.0 else 180.0

    def is_far(self, distance: float) -> bool:
        """Whether an eye at a distance [mm] from the lamp's middle has a place on the map of all directions.

        One direction stands for it if every light point is seen within :data:`FAR_PARALLAX` of it.
        """
        return self.parallax(distance) <= FAR_PARALLAX

    @kept
    def causes(self) -> tuple[tuple[Cause, ...], ...]:
        """For each eye, what would hide the bare points that it sees from its worst bearing."""
        scene, names, points, standpoint = self.scene, self.names, self.points, self.standpoint
        return tuple(causes(scene, names, points, seen, standpoint, seen.worst) for seen in self.from_middles)

    @kept
    def _shows(self) -> RoomLight:
        """What can be asked of any place in the room."""
        with self._watched("lines all round") as step:
            return RoomLight(
                all_round(self.scene, self.points, progress=step),
                Tubes.of(self.beams),
                self.standpoint.floor,
                self.standpoint.surface,
            )

    @kept
    def room(self) -> RoomSide:
        """The room's side view: what shows at every distance and height from the worst bearing."""
        return self.room_towards(None)

    def room_towards(self, bearing: float | None) -> RoomSide:
        """The same to eyes at one bearing [°]."""
        extent = extent_of(self.stack, self.points)
        corners = corners_seen(self.scene, self.points, bearing, extent.near)
        return room_side(self._shows, corners, extent, bearing, self.bearings)

    def room_plan(self, height: float) -> RoomPlan:
        """The room's plan: what shows all round the lamp to eyes at a height above the floor [mm]."""
        return room_plan(self._shows, extent_of(self.stack, self.points), height)

    def room_round(self, distance: float) -> RoomRound:
        """What shows all round the lamp, by bearing and height, to eyes at a distance from its axis [mm].

        Raises StackviewError for a distance within the lamp, or farther than rooms are.
        """
        check_distance(self.stack, distance)
        return room_round(self._shows, float(distance), extent_of(self.stack, self.points).top, self.bearings)

    def _watched(self, what: str) -> AbstractContextManager[Callable[[int], None]]:
        return self.progress(f"{what}, {len(self.points)} light points", len(self.points))

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

    Each part is worked out when first asked. With ``progress`` the long ones (bands, beams and
    eyes) are worked out here and now, and it is called with the number of steps done since its
    last call. There are four for each light point: straight lines, beams, eyes and their corners.
    """
    if progress is None:
        return Sightlines(stack, points, bearings)
    lines = Sightlines(stack, points, bearings, lambda _label, _steps: nullcontext(progress))
    _ = lines._along_lines, lines.beams, lines.eyes
    return lines
