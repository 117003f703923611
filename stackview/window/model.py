"""The lamp on the stage: its surfaces, brought up to date as the state changes, and nothing more often."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.sight.surface import surface_rim
from stackview.stills.emitters import faces
from stackview.stills.finish import developed
from stackview.stills.studio import backdrop_at
from stackview.stills.trace import UNDERSIDE
from stackview.window.cutting import cut_faces, cut_plane, kept_points
from stackview.window.grain import grain_places
from stackview.window.paint import (
    acrylic_places,
    ground_places,
    ground_triangles,
    mix_at,
    painted,
    wall_places,
)
from stackview.window.shown import Shown, display_camera, spread_ball
from stackview.window.stage import DrawnSurface, Stage
from stackview.window.state import ViewState


@dataclass(eq=False)
class _Group:
    """Triangles of one surface on the stage: which of the baked ones, where, and how they are lifted."""

    surface: DrawnSurface
    chosen: NDArray[np.int64]
    """(3k,) corners of the baked mesh."""
    places: NDArray[np.float32]
    lift: NDArray[np.float32]


class Model:
    """A lamp's surfaces on a stage."""

    def __init__(self, stage: Stage, shown: Shown, state: ViewState) -> None:
        self.stage, self.shown = stage, shown
        baked = shown.baked
        colours = painted(baked, state.light)
        self.ground: DrawnSurface | None = None
        if colours.ground is not None:
            self.ground = stage.surface(
                ground_places(baked), ground_triangles(), colours.ground, see_through=True
            )
        part = np.repeat(baked.walls.part, 3)
        lift = np.append(shown.lift, np.full(len(baked.ribbons), shown.ribbon_lift)).astype(np.float32)
        roles = np.array([one.stays_whole for one in baked.placed] + [True] * len(baked.ribbons), bool)
        places, at = wall_places(baked), grain_places(len(baked.walls.triangles))[0]
        self.walls = [
            self._group(np.flatnonzero(roles[part] == kept), places, lift[part], colours.walls, at)
            for kept in (False, True)
        ]
        places = acrylic_places(baked)
        owner = np.repeat(baked.acrylic.part, 3)
        self.acrylic = self._group(np.arange(len(places)), places, lift[owner], colours.acrylic, None)
        self.owner = owner[::3]
        mesh = faces(shown.study.light.points)[0]
        self.emitters = stage.surface(mesh[0], mesh[1], colours.points, one_sided=True)
        self.emitter_places, self.emitter_triangles = mesh[0], mesh[1]
        self.underside = self._underside()
        self.cut: DrawnSurface | None = None
        self.last: ViewState | None = None
        self.order: tuple[int, ...] = ()
        self.backdrop: tuple[float, tuple[int, int]] | None = None
        self.show(state)

    def _group(
        self,
        chosen: NDArray[np.int64],
        places: NDArray[np.float32],
        lift: NDArray[np.float32],
        colours: NDArray[np.uint8],
        at: NDArray[np.float32] | None,
    ) -> _Group:
        walls = at is not None
        surface = self.stage.surface(
            places[chosen],
            np.arange(len(chosen)).reshape(-1, 3),
            colours[chosen],
            grain=(self.shown.grain, at[chosen]) if at is not None else None,
            see_through=not walls,
            one_sided=not walls,
        )
        return _Group(surface, chosen, places[chosen], lift[chosen])

    def _underside(self) -> DrawnSurface | None:
        """The underside of what the lamp stands on: seen only from below."""
        surface = self.shown.study.sightlines.standpoint.surface
        if surface is None:
            return None
        rim = surface_rim(surface, 64)
        places = np.concatenate([rim, np.full((len(rim), 1), -0.1)], axis=1)
        k = np.arange(1, len(rim) - 1)
        triangles = np.stack([np.zeros_like(k), k + 1, k], axis=1)
        return self.stage.surface(places, triangles, np.zeros((len(rim), 3), np.uint8), one_sided=True)

    @property
    def surfaces(self) -> list[DrawnSurface]:
        """Everything on the stage."""
        groups = [group.surface for group in (*self.walls, self.acrylic)]
        rest = (self.ground, self.underside, self.cut, self.emitters)
        return groups + [one for one in rest if one is not None]

    def show(self, state: ViewState) -> None:
        """Bring the stage up to date with a state; what has not changed is not touched."""
        last = self.last
        if last is None or (state.light, state.spread) != (last.light, last.spread):
            self._light(state)
        if last is None or state.spread != last.spread:
            self._spread(state)
        cut = (state.cut, state.cut_bearing, state.spread, state.light)
        if last is None or cut != (last.cut, last.cut_bearing, last.spread, last.light):
            self._cut(state)
        self._look(state)
        self.last = state

    def _light(self, state: ViewState) -> None:
        colours = painted(self.shown.baked, state.light, state.spread)
        for group in self.walls:
            group.surface.colour(colours.walls[group.chosen])
        self.acrylic.surface.colour(colours.acrylic)
        self.emitters.colour(colours.points)
        if self.ground is not None and colours.ground is not None:
            self.ground.colour(colours.ground)
        if self.underside is not None:
            mix = mix_at(state.light, self.shown.baked.luminance)
            tone = np.asarray(mix.backdrop_low, np.float32)[None, None] * np.float32(UNDERSIDE)
            one = developed(tone, mix.exposure)[0]
            self.underside.colour(np.repeat(one, self.underside.data.GetNumberOfPoints(), axis=0))

    def _spread(self, state: ViewState) -> None:
        for group in (*self.walls, self.acrylic):
            places = group.places.copy()
            places[:, 2] += np.float32(state.spread) * group.lift
            group.surface.move(places)
        raised = self.emitter_places.copy()
        raised[:, 2] += state.spread * np.repeat(self.shown.point_lift, 4)
        self.emitters.move(raised)

    def _cut(self, state: ViewState) -> None:
        plane = cut_plane(state, self.shown)
        self.walls[0].surface.cut(plane)
        self.acrylic.surface.cut(plane)
        kept = kept_points(state, self.shown)
        self.emitters.order(self.emitter_triangles[np.repeat(kept, 2)])
        if self.cut is not None:
            self.stage.remove([self.cut])
            self.cut = None
        found = cut_faces(state, self.shown) if plane is not None else None
        if found is not None:
            white = np.full((len(found.places), 3), 255, np.uint8)
            corners = np.arange(len(found.places)).reshape(-1, 3)
            self.cut = self.stage.surface(found.places, corners, white, grain=(found.picture, found.at))

    def _look(self, state: ViewState) -> None:
        size = self.stage.size
        camera = display_camera(state, self.shown, size)
        if self.backdrop != (state.light, size):
            self.backdrop = (state.light, size)
            mix = mix_at(state.light, self.shown.baked.luminance)
            row, column = np.mgrid[0 : size[1], 0 : size[0]]
            radiance = backdrop_at(camera, mix, column.ravel() + 0.5, row.ravel() + 0.5)
            self.stage.backdrop(developed(radiance.reshape(size[1], size[0], 3), mix.exposure))
        above = bool(camera.eye[2] > 0) and state.whole
        ground = self.shown.baked.ground
        if self.ground is not None:
            self.ground.show(above)
        if self.underside is not None:
            self.underside.show(state.spread == 0.0)
        self._sort(float(camera.eye[2]), state)
        # Metres of cord may run out of the ball round the lamp, but not out of what can be seen.
        highest = float(self.acrylic.places[:, 2].max(initial=0.0))
        for group in self.walls:
            highest = max(highest, float(group.places[:, 2].max(initial=0.0)))
        radius = max(spread_ball(self.shown, state.spread).radius, highest)
        wide = 9.0 * ground.reach if ground is not None else 0.0
        if self.shown.study.sightlines.standpoint.surface is not None:
            wide = max(wide, *self.shown.study.sightlines.standpoint.surface.size)
        self.stage.look(camera, radius, wide)

    def _sort(self, eye: float, state: ViewState) -> None:
        """Draw sheets of acrylic from the far ones to the near ones: by height away from the eye's."""
        numbers = np.unique(self.owner)
        middles = {
            int(n): (self.shown.baked.placed[n].underside + self.shown.baked.placed[n].top) / 2.0
            + state.spread * float(self.shown.lift[n])
            for n in numbers
        }
        order = tuple(sorted(middles, key=lambda n: -abs(middles[n] - eye)))
        if order == self.order:
            return
        self.order = order
        rank = np.zeros(int(numbers.max(initial=0)) + 1, np.int64)
        rank[list(order)] = np.arange(len(order))
        triangles = np.arange(3 * len(self.owner)).reshape(-1, 3)
        self.acrylic.surface.order(triangles[np.argsort(rank[self.owner], kind="stable")])

    def clear(self) -> None:
        """Take the lamp off the stage."""
        self.stage.remove(self.surfaces)
