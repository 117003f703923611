"""Light baked onto a lamp once: the sky's part and the lamp's own part, apart.

Illustrative, not photometric: relative brightness is believable, absolute is not claimed.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from stackview.arrays import Singles
from stackview.light.points import LightPoints
from stackview.solids.rays import Target, target
from stackview.solids.solid import Face
from stackview.stack.placed import Placed
from stackview.stills.coloured_mesh import ColouredMesh
from stackview.stills.emitters import faces, lights, luminance_of_one
from stackview.stills.exchange import CornerLight, exchange
from stackview.stills.gather import World
from stackview.stills.ground import Ground, GroundBaking, reach_of
from stackview.stills.panes import Panes
from stackview.stills.refine import Facets, Mesh, facets
from stackview.stills.sheets import Sheets, sheets_of
from stackview.stills.thin_walls import parted

_EDGE = 7.0
"""Longest edge between baked corners, for a lamp 160 mm in size [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class LitMeshes:
    """The part of a baked lamp that takes time to work out: meshes with light, and the ground."""

    walls: Facets
    wall_light: CornerLight
    acrylic: Facets
    sheet_light: CornerLight
    ground: Ground | None


@dataclass(frozen=True, slots=True, eq=False)
class Baked:
    """A lamp with its light: what every picture of it, from anywhere, starts from."""

    placed: tuple[Placed, ...]
    ribbons: tuple[ColouredMesh, ...]
    walls: Facets
    wall_target: Target
    wall_light: CornerLight
    acrylic: Facets
    sheets: Sheets
    sheet_target: Target
    sheet_light: CornerLight
    emitter_target: Target
    emitter_colours: Singles
    emitter_powers: Singles
    emitter_directions: Singles
    ground: Ground | None
    size: float
    """Largest width of the lamp [mm]."""
    luminance: float
    """Luminance of a white surface where the lamp's light is 1 [cd/m²]."""

    @property
    def panes(self) -> Panes:
        """Its acrylic as what lets light straight through."""
        return Panes(self.sheet_target, self.acrylic.flat, self.sheets.straight)


def light_of(
    placed: Sequence[Placed], points: LightPoints, ribbons: Sequence[ColouredMesh], *, ground: bool
) -> LitMeshes:
    """Work out the light of a studio and of the lamp's own points on every part, the same every time.

    ``ground`` False leaves out what the lamp stands on, for one that hangs.
    """
    size = _size(placed)
    edge = _EDGE * max(size / 160.0, 1.0) ** 0.5
    walls = facets(*_opaque(placed, ribbons), edge=edge)
    acrylic = facets(*_acrylic(placed), edge=1.6 * edge)
    sheets = sheets_of(placed, acrylic)
    lamp = lights(points, size / 2.0)
    panes = Panes(target(acrylic.vertices, acrylic.triangles), acrylic.flat, sheets.passing)

    def world_of(walls: Facets) -> World:
        found = target(walls.vertices, walls.triangles)
        return World(found, walls.flat, walls.part < len(placed), panes, ground_sky=None)

    walls, world = parted(walls, world_of)
    floor = GroundBaking(world, reach_of(placed)) if ground else None
    if floor is not None:
        world = replace(world, ground_sky=(floor.sky(), floor.reach))
    albedo = np.array([p.material.colour for p in placed] + [r.colour for r in ribbons], np.float32)
    light = exchange(walls, acrylic, sheets, world, lamp, albedo)
    shade = floor.ground(world, lamp, light.from_walls, light.from_sheets) if floor else None
    return LitMeshes(walls, light.walls, acrylic, light.sheets, shade)


def put_together(
    placed: Sequence[Placed], points: LightPoints, ribbons: Sequence[ColouredMesh], lit: LitMeshes
) -> Baked:
    """Make a lamp and its light, worked out now or kept from before, ready for pictures."""
    mesh, colours, powers = faces(points)
    return Baked(
        placed=tuple(placed),
        ribbons=tuple(ribbons),
        walls=lit.walls,
        wall_target=target(lit.walls.vertices, lit.walls.triangles),
        wall_light=lit.wall_light,
        acrylic=lit.acrylic,
        sheets=sheets_of(placed, lit.acrylic),
        sheet_target=target(lit.acrylic.vertices, lit.acrylic.triangles),
        sheet_light=lit.sheet_light,
        emitter_target=target(mesh[0], mesh[1]),
        emitter_colours=colours,
        emitter_powers=powers,
        emitter_directions=points.directions.astype(np.float32),
        ground=lit.ground,
        size=_size(placed),
        # For the same distance as the lights were made for.
        luminance=luminance_of_one(points, _size(placed) / 2.0),
    )


def _size(placed: Sequence[Placed]) -> float:
    """Largest width of the lamp [mm]."""
    solids = [part.solid.vertices[:, :2] for part in placed if not part.is_cord]
    together = np.concatenate(solids) if solids else np.zeros((1, 2))
    return max(float(np.ptp(together, axis=0).max()), 1.0)


def _opaque(placed: Sequence[Placed], ribbons: Sequence[ColouredMesh]) -> tuple[list[Mesh], list[int]]:
    """Meshes of everything that stops light, with part numbers; ribbons follow the parts."""
    parts = [k for k, part in enumerate(placed) if part.opaque]
    meshes = [(placed[k].solid.vertices, placed[k].solid.triangles, placed[k].solid.faces) for k in parts]
    for k, ribbon in enumerate(ribbons):
        meshes.append(
            (ribbon.vertices, ribbon.triangles, np.full(len(ribbon.triangles), Face.OUTER, np.int8))
        )
        parts.append(len(placed) + k)
    return meshes, parts


def _acrylic(placed: Sequence[Placed]) -> tuple[list[Mesh], list[int]]:
    parts = [k for k, part in enumerate(placed) if not part.opaque]
    return [
        (placed[k].solid.vertices, placed[k].solid.triangles, placed[k].solid.faces) for k in parts
    ], parts
