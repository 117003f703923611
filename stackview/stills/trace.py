"""What the eye sees along each ray: opaque surfaces, light points, and acrylic in front of them."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Ints, Singles
from stackview.description.lamp import Surface
from stackview.description.material import Material
from stackview.light.colour import LUMINANCE, light_colour
from stackview.solids.rays import Hits
from stackview.stack.placed import Placed
from stackview.stills.bake import Baked
from stackview.stills.dome import GROUND, mirrored
from stackview.stills.grid import on_ground
from stackview.stills.mix import Mix
from stackview.stills.surface import finished, surface_colour

_MOST_SHEETS = 24
"""A ray is followed through at most this many faces of acrylic."""
REFLECTANCE = 0.0387
"""Of one face of acrylic seen square on, ((n − 1)/(n + 1))² with n = 1.49 (Fresnel)."""
_POINT_LIGHT = 14.0
"""Radiance of a light point seen along its axis, relative to the lit parts around it."""
FAR = 9.0
"""Ground fades into the backdrop at this many lamp reaches."""
UNDERSIDE = 0.42
"""Tone of a surface's underside, relative to the backdrop."""
_TOUCHING = 0.5
"""What lies this little behind the ground still lies on it [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class MixedLamp:
    """A baked lamp in one mix: light at corners put together once, for every ray after."""

    baked: Baked
    mix: Mix
    wall: Singles
    """(c, 3) light, then (c, 3) the sky's part of it, then (c, 3) normals."""
    sheet_sky: Singles
    sheet_lamp: Singles
    points: Singles
    balance: Singles
    ground: Singles | None
    """(k, k, 3) radiance of the ground."""
    cut_out: bool = False
    """No backdrop; of the ground only its shadow is left, as cover."""
    surface: Surface | None = None
    """What the lamp stands on, where its underside hides the lamp from eyes below it."""


@dataclass(frozen=True, slots=True, eq=False)
class Traced:
    """What n rays see.

    ``front`` (n, 3) is radiance from in front of any frosted face, ``behind`` (n, 3) that from
    behind it, ``frosted`` (n,) 1 where there is such a face, ``key`` (n,) a number that tells one
    surface from another, ``cover`` (n,) the share of what lies behind everything that is hidden.
    """

    front: Singles
    behind: Singles
    frosted: Singles
    key: NDArray[np.int64]
    cover: Singles


def mixed(baked: Baked, mix: Mix, *, cut_out: bool = False, surface: Surface | None = None) -> MixedLamp:
    """Put the baked parts together for one mix."""
    white = light_colour(mix.white)
    balance = np.asarray((white @ LUMINANCE) / np.maximum(white, 0.03), np.float32)
    lamp = balance * np.float32(mix.lamp)
    sky = np.float32(mix.sky)
    wall_sky = baked.wall_light.sky * sky
    wall = np.concatenate([wall_sky + baked.wall_light.lamp * lamp, wall_sky, baked.walls.normals], axis=1)
    ground = None
    if baked.ground is not None:
        low = np.asarray(mix.backdrop_low, np.float32)
        ground = low * baked.ground.sky + GROUND * baked.ground.lamp * lamp
    return MixedLamp(
        baked=baked,
        mix=mix,
        wall=np.ascontiguousarray(wall),
        sheet_sky=baked.sheet_light.sky * sky,
        sheet_lamp=baked.sheet_light.lamp * lamp,
        points=np.asarray(
            baked.emitter_colours * balance * np.float32(_POINT_LIGHT * min(mix.lamp + 0.25, 1.0))
        ),
        balance=balance,
        ground=ground,
        cut_out=cut_out,
        surface=surface,
    )


def see(
    view: MixedLamp, eye: Singles, directions: Singles, backdrop: Singles, pixel: float, across: float = 0.0
) -> Traced:
    """Follow rays (n, 3) from an eye (3,) or each from its own place (n, 3).

    ``backdrop`` (n, 3) is what they see where they meet nothing. ``pixel`` is the width of one
    pixel at distance 1, ``across`` its width that does not grow with distance [mm].
    """
    count = len(directions)
    origins = np.broadcast_to(eye, directions.shape).astype(np.float32)
    wall = view.baked.wall_target.nearest(origins, directions)
    point = view.baked.emitter_target.nearest(origins, directions)
    deep, depth, key, cover = background(view, origins, directions, backdrop)
    before = depth + np.float32(_TOUCHING)
    lit = (point.distance < wall.distance) & (point.distance < before)
    met = (wall.triangle >= 0) & (wall.distance < before)
    struck = np.flatnonzero(met & ~lit)
    deep[struck] = _walls(view, origins, directions, wall, struck, (pixel, across))
    depth = np.where(met, wall.distance, depth)
    cover[met | lit] = 1.0
    key[struck] = _wall_key(view, wall.triangle[struck])
    shown = np.flatnonzero(lit)
    deep[shown] = _points(view, point.triangle[shown], directions[shown])
    depth[shown] = point.distance[shown]
    key[shown] = -2 - point.triangle[shown] // 2
    front = np.zeros((count, 3), np.float32)
    behind = np.zeros((count, 3), np.float32)
    frosted = np.zeros(count, np.bool_)
    through = np.ones((count, 3), np.float32)
    _acrylic(view, origins, directions, depth, (front, behind, through), frosted, key)
    clear = ~frosted
    front[clear] += through[clear] * deep[clear]
    behind[frosted] += through[frosted] * deep[frosted]
    cover = 1.0 - through.mean(axis=1) * (1.0 - cover)
    return Traced(front, behind, frosted.astype(np.float32), key, cover)


def surface_keys(view: MixedLamp, eye: Singles, directions: Singles) -> NDArray[np.int64]:
    """Give a number to the first surfaces along each ray (n,): the same on one face."""
    origins = np.broadcast_to(eye, directions.shape).astype(np.float32)
    wall = view.baked.wall_target.nearest(origins, directions)
    point = view.baked.emitter_target.nearest(origins, directions)
    sheet = view.baked.sheet_target.nearest(origins, directions)
    key = np.full(len(directions), -1, np.int64)
    struck = wall.triangle >= 0
    key[struck] = _wall_key(view, wall.triangle[struck])
    lit = point.distance < wall.distance
    key[lit] = -2 - point.triangle[lit] // 2
    covered = sheet.distance < np.minimum(wall.distance, point.distance)
    key[covered] = key[covered] * 31 + _sheet_key(view, sheet.triangle[covered])
    return key


def background(
    view: MixedLamp, origins: Singles, directions: Singles, backdrop: Singles
) -> tuple[Singles, Singles, NDArray[np.int64], Singles]:
    """What lies behind the lamp along each ray (n, 3): ground, a surface's underside or backdrop.

    Returns its radiance (n, 3), its distance (n,) [mm], keys (n,) below 0, and its cover (n,):
    1 everywhere, or, where the lamp is to be cut out, the shadow on the ground.
    """
    count = len(directions)
    colour = np.zeros((count, 3), np.float32) if view.cut_out else np.array(backdrop, np.float32)
    depth = np.full(count, np.inf, np.float32)
    key = np.full(count, -1, np.int64)
    cover = np.full(count, 0.0 if view.cut_out else 1.0, np.float32)
    floor = view.baked.ground
    down = np.flatnonzero((directions[:, 2] < -1e-4) & (origins[:, 2] > 0))
    if view.ground is not None and floor is not None and len(down):
        way = -origins[down, 2] / directions[down, 2]
        x, y = (origins[down, k] + way * directions[down, k] for k in (0, 1))
        near = np.clip(1.0 - np.hypot(x, y) / (floor.reach * FAR), 0.0, 1.0)[:, None]
        near = near * near * (3 - 2 * near)
        if view.cut_out:
            # Whoever lays the picture over another mixes coded values: the power is sRGB's own, about.
            left = np.clip(on_ground(floor.sky, floor.reach, x, y).mean(axis=1), 0.0, 1.0)
            cover[down] = (1.0 - left ** np.float32(1 / 2.2)) * near[:, 0]
        else:
            seen = on_ground(view.ground, floor.reach, x, y)
            colour[down] = seen * near + colour[down] * (1 - near)
        depth[down] = way
    if view.surface is not None:
        _underside(view, view.surface, (origins, directions), (colour, depth, key, cover))
    return colour, depth, key, cover


def _underside(
    view: MixedLamp,
    surface: Surface,
    along: tuple[Singles, Singles],
    into: tuple[Singles, Singles, NDArray[np.int64], Singles],
) -> None:
    """Put the underside of what the lamp stands on, in the plane z = 0, before eyes below it."""
    origins, directions = along
    colour, depth, key, cover = into
    rising = np.flatnonzero((directions[:, 2] > 1e-6) & (origins[:, 2] < 0))
    way = -origins[rising, 2] / directions[rising, 2]
    x, y = (origins[rising, k] + way * directions[rising, k] + np.float32(surface.at[k]) for k in (0, 1))
    if len(surface.size) == 1:
        on = np.hypot(x, y) <= surface.size[0] / 2
    else:
        on = (np.abs(x) <= surface.size[0] / 2) & (np.abs(y) <= surface.size[1] / 2)
    met = rising[on]
    colour[met] = np.asarray(view.mix.backdrop_low, np.float32) * np.float32(UNDERSIDE)
    depth[met] = np.maximum(way[on] - np.float32(2 * _TOUCHING), 0.0)
    key[met] = -1_000_003
    cover[met] = 1.0


def _mixed(values: Singles, corners: NDArray[np.int64], u: Singles, v: Singles) -> Singles:
    """Values (c, k) at barycentric places in triangles with these corners (n, 3)."""
    a, b, c = corners.T
    return np.asarray(
        values[a] * (1 - u - v)[:, None] + values[b] * u[:, None] + values[c] * v[:, None], np.float32
    )


def _walls(
    view: MixedLamp,
    origins: Singles,
    directions: Singles,
    hits: Hits,
    struck: NDArray[np.int64],
    widths: tuple[float, float],
) -> Singles:
    mesh = view.baked.walls
    triangle, distance = hits.triangle[struck], hits.distance[struck]
    ways = directions[struck]
    mixed = _mixed(view.wall, mesh.corner[triangle], hits.u[struck], hits.v[struck])
    light, sky = np.ascontiguousarray(mixed[:, :3]), np.ascontiguousarray(mixed[:, 3:6])
    normals = mixed[:, 6:]
    normals = normals / np.maximum(np.sqrt((normals * normals).sum(axis=1)), 1e-6)[:, None]
    at = origins[struck] + ways * distance[:, None]
    facing = np.abs((ways * normals).sum(axis=1))
    wide = distance * np.float32(widths[0]) + np.float32(widths[1])
    covered = wide / np.maximum(facing, 0.06) ** 0.75
    colour = np.zeros((len(struck), 3), np.float32)
    part_of = mesh.part[triangle]
    for number in np.unique(part_of):
        mine = np.flatnonzero(part_of == number)
        if number >= len(view.baked.placed):
            ribbon = view.baked.ribbons[number - len(view.baked.placed)]
            colour[mine] = np.asarray(ribbon.colour, np.float32) * light[mine]
            continue
        part = view.baked.placed[number]
        base = surface_colour(part, at[mine], normals[mine], covered[mine])
        colour[mine] = finished(part, base, light[mine], sky[mine], normals[mine], ways[mine])
    return colour


def _wall_key(view: MixedLamp, triangle: Ints) -> NDArray[np.int64]:
    """Give a number to the part and the way its surface faces, so that edges can be found."""
    mesh = view.baked.walls
    turned = np.rint(mesh.flat[triangle] * 3).astype(np.int64) + 3
    return (mesh.part[triangle] * 8 + turned[:, 0]) * 64 + turned[:, 1] * 8 + turned[:, 2]


def _points(view: MixedLamp, triangle: Ints, directions: Singles) -> Singles:
    """Radiance (n, 3) of light points: I(θ)/cos θ, so cos^(m−1) of the angle from the axis."""
    number = triangle // 2
    facing = np.clip(-(directions * view.baked.emitter_directions[number]).sum(axis=1), 0.0, 1.0)
    power = np.maximum(view.baked.emitter_powers[number] - 1.0, 0.0)
    # The back of a light point is its dark carrier.
    shine = np.where(facing > 0, np.maximum(facing, 1e-3) ** power, 0.0)
    return np.asarray(view.points[number] * shine[:, None] + 0.02, np.float32)


def _acrylic(
    view: MixedLamp,
    origins: Singles,
    directions: Singles,
    depth: Singles,
    into: tuple[Singles, Singles, Singles],
    frosted: NDArray[np.bool_],
    key: NDArray[np.int64],
) -> None:
    """Blend the faces of acrylic front to back, up to ``depth``, into front, behind and through."""
    front, behind, through = into
    start = np.zeros(len(directions), np.float32)
    entered = np.zeros(len(directions), np.float32)
    active = np.arange(len(directions))
    for _ in range(_MOST_SHEETS):
        at = origins[active] + directions[active] * start[active, None]
        hits = view.baked.sheet_target.nearest(at, directions[active])
        distance = hits.distance + start[active]
        inside = (hits.triangle >= 0) & (distance < depth[active] - 0.02)
        active, distance = active[inside], distance[inside]
        if len(active) == 0:
            return
        triangle = hits.triangle[inside]
        added, passed, frosts = _face(
            view, triangle, hits.u[inside], hits.v[inside], directions[active], distance - entered[active]
        )
        added *= through[active]
        was = frosted[active]
        front[active[~was]] += added[~was]
        behind[active[was]] += added[was]
        through[active] *= passed
        frosted[active] |= frosts
        key[active] = key[active] * 31 + _sheet_key(view, triangle)
        entered[active] = distance
        start[active] = distance + 0.01
        active = active[through[active, 1] > 0.01]


def _sheet_key(view: MixedLamp, triangle: Ints) -> NDArray[np.int64]:
    mesh = view.baked.acrylic
    turned = np.rint(mesh.flat[triangle] * 2).astype(np.int64) + 2
    return 1 + mesh.part[triangle] * 125 + turned[:, 0] * 25 + turned[:, 1] * 5 + turned[:, 2]


def _tint(material: Material) -> Singles:
    """Share of each colour left after 1 mm inside clear acrylic, its colour being that of 60 mm."""
    return np.maximum(np.asarray(material.colour, np.float32), 0.02) ** np.float32(1 / 60.0)


def _face(
    view: MixedLamp, triangle: Ints, u: Singles, v: Singles, directions: Singles, since: Singles
) -> tuple[Singles, Singles, NDArray[np.bool_]]:
    """Light that one crossing of a face adds (n, 3), the share it lets pass (n, 3), and whether it frosts.

    ``since`` (n,) is the way since the last face; entering counts no way inside.
    """
    baked = view.baked
    mesh, sheets = baked.acrylic, baked.sheets
    corners = mesh.corner[triangle]
    sky, lamp = _mixed(view.sheet_sky, corners, u, v), _mixed(view.sheet_lamp, corners, u, v)
    flat = mesh.flat[triangle]
    facing = (directions * flat).sum(axis=1)
    entering = (facing < 0)[:, None]
    opal, sanded, edge = (kind[triangle, None] for kind in (sheets.opal, sheets.sanded, sheets.edge))
    parts: list[Placed] = list(baked.placed)
    body = np.array([part.material.colour for part in parts], np.float32)[mesh.part[triangle]]
    tints = np.array([_tint(part.material) for part in parts], np.float32)[mesh.part[triangle]]

    # Schlick 1994 eq. 15, for a smooth face; a sanded one does not mirror.
    mirror = REFLECTANCE + (1 - REFLECTANCE) * (1.0 - np.clip(np.abs(facing), 0, 1))[:, None] ** 5
    mirror = np.where(sanded, 0.25 * mirror, mirror)
    open_ = np.minimum(sky[:, 1:2], 1.0)
    reflected = mirrored(directions - 2 * facing[:, None] * flat) * open_ * mirror
    glow = lamp * sheets.glowing[triangle, None]

    within = np.where(entering, 1.0, tints ** np.maximum(since, 0.0)[:, None])
    veil = np.where(sanded, 0.27, np.where(edge, 0.13, 0.0))
    added = np.where(
        opal,
        entering * (0.72 * body * sky + glow),
        0.80 * veil * body * sky + glow * np.where(sanded, 0.45, 1.0),
    )
    added = added * within + entering * reflected
    passed = np.where(opal, np.sqrt(sheets.straight)[triangle, None], (1.0 - veil) * within * (1 - mirror))
    return (
        np.asarray(added, np.float32),
        np.asarray(passed, np.float32),
        (opal | sanded).ravel(),
    )
