"""The lamp in a photometer: its light over the whole sphere, by layer, and on the table.

Light is followed forwards from the light points onto a very large sphere round the lamp, as in a
far-field goniophotometer, in a black room and without what the lamp stands on (CIE 121 measures a
luminaire alone). By layer it is followed backwards, from many directions evenly all round.
"""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats, Singles
from stackview.glow import engine
from stackview.glow.parts_seen import first_parts, screen_of
from stackview.glow.room import DARK, Room
from stackview.glow.scene import GlowScene, SkinFaces
from stackview.glow.skins import Matt
from stackview.light.colour import LUMINANCE
from stackview.sight.camera import Camera, Triple

_FAR = 1e6
"""Radius of the photometer's sphere [mm]: a lamp is a point to it."""
VIEW = 320
"""Pixels across a view of the whole lamp: a slit of some millimetres must fill one, for each counts for one part."""
GREY = 1e-3
"""Reflectance of the sphere and of the table's receiver: what returns from them counts nothing."""
_ASIDE = 0.999
"""How far towards its poles the sphere is looked at from, as a share of its radius."""
_FACE = 96
"""Pixels along one side of each of the two views of the sphere."""
PARTS = 3
"""Places along one side of a pixel that its light is given to."""
_DEPTH = 48
"""Most surfaces on a way followed forwards."""


@dataclass(frozen=True, slots=True, eq=False)
class Thrown:
    """Light that a lamp sends out: directions (n, 3) unit vectors, lumens (n,). Read-only."""

    directions: Floats
    lumens: Floats

    def __post_init__(self) -> None:
        for array in (self.directions, self.lumens):
            array.setflags(write=False)

    @property
    def total(self) -> float:
        """All of it [lm]."""
        return float(self.lumens.sum())


def far_field(scene: GlowScene, photons: int, seed: int, variant: str = engine.STEADY) -> Thrown:
    """Light of the lamp over the whole sphere, from ``photons`` ways for each half.

    On a sphere of radius R the illuminance is I/R², and its matt surface of reflectance ρ has the
    luminance ρI/(πR²) (inverse square and Lambert's laws, IES). Each half is looked at from the
    other's pole, where all of it lies within 45° of the view's middle (Euclid III.20: the angle at
    the rim is half of that at the centre). A pixel of solid angle ω that sees the sphere at a
    distance s and at an angle α off its normal holds I·ωs²/(R²·cos α).
    """
    found, sphere, reach = [], _sphere(), _reach(scene)
    for side, elevation in enumerate((-90.0, 90.0)):
        camera = _from_pole(elevation)
        # A black screen before the lamp, which itself must not be seen: only light that goes the other
        # way is asked for.
        screen = _screen(camera, reach)
        built = engine.built(scene, Room((sphere, screen)), variant)
        (picture,) = engine.thrown(built, (camera,), photons, _DEPTH, 2 * seed + side)
        found.append(_half(camera, picture))
    return Thrown(np.concatenate([half[0] for half in found]), np.concatenate([half[1] for half in found]))


def _half(camera: Camera, picture: Singles) -> tuple[Floats, Floats]:
    """Directions (n, 3) and lumens (n,) of the half sphere that a camera near its pole sees."""
    luminance = np.repeat(np.repeat(picture.astype(np.float64) @ LUMINANCE, PARTS, axis=0), PARTS, axis=1)
    count = _FACE * PARTS
    at = ((np.arange(count) + 0.5) / count * 2.0 - 1.0) * float(
        np.tan(np.radians(camera.field_of_view / 2.0))
    )
    x, y = (grid.ravel() for grid in np.meshgrid(at, -at))
    right, up, away = camera.axes
    long = np.sqrt(1.0 + x * x + y * y)
    ways = (away + x[:, None] * right + y[:, None] * up) / long[:, None]
    solid = (at[1] - at[0]) ** 2 / long**3
    # |eye + s·way| = R, with the eye within the sphere.
    along = ways @ camera.eye
    far = -along + np.sqrt(along**2 + _FAR**2 - float(camera.eye @ camera.eye))
    directions = (camera.eye + far[:, None] * ways) / _FAR
    facing = (directions * ways).sum(axis=1)
    own = directions @ away > 0.0
    # Luminance is in candela a square metre, the sphere in millimetres.
    candela = luminance.ravel() * np.pi * (_FAR / 1000.0) ** 2 / GREY
    lumens = candela * solid * far**2 / (_FAR**2 * facing)
    return directions[own], lumens[own]


def by_part(
    scene: GlowScene, views: int, samples: int, seed: int, variant: str = engine.STEADY
) -> dict[int, float]:
    """Lumens that leave the lamp from each part as the last surface, by its number.

    Bare light-giving faces are left out: what they send straight out is known exactly from the
    sightlines. Φ = Σ L·A·Δω over ``views`` directions, A the pixel's area on a plane square to them.
    """
    built = engine.built(scene, DARK, variant)
    screen, (middle, reach) = screen_of(scene, DARK), _ball(scene)
    found: dict[int, float] = {}
    for number, (bearing, elevation) in enumerate(_all_round(views)):
        camera = _parallel(middle, reach, bearing, elevation)
        picture = engine.photographed(built, camera, samples, seed * 4096 + number, lights_shown=False)
        luminance = (picture.astype(np.float64) @ LUMINANCE).ravel()
        part = first_parts(screen, camera).ravel()
        share = 4.0 * np.pi / views * (1.0 / camera.scale / 1000.0) ** 2
        for own in np.unique(part):
            found[int(own)] = found.get(int(own), 0.0) + float(luminance[part == own].sum()) * share
    return found


@dataclass(frozen=True, slots=True)
class OnTable:
    """Illuminance on a level surface at a horizontal distance from the axis [mm]: over all bearings [lx]."""

    distance: float
    mean: float
    least: float
    most: float


def on_table(
    scene: GlowScene, height: float, distances: tuple[float, ...], photons: int, seed: int,
    variant: str = engine.STEADY,
) -> tuple[OnTable, ...]:  # fmt: skip
    """Illuminance that the lamp alone gives on the level plane z = ``height``, near field and all.

    A matt receiver of reflectance ρ under illuminance E has the luminance ρE/π.
    """
    across = 2.2 * max(distances)
    corners = np.array([[-1.0, -1], [1, -1], [1, 1], [-1, 1]]) * across * 2.0
    plane = SkinFaces(
        "receiver",
        -1,
        Matt((GREY, GREY, GREY)),
        np.column_stack([corners, np.full(4, height)]),
        np.tile([0.0, 0.0, 1.0], (4, 1)),
        np.array([[0, 1, 2], [0, 2, 3]]),
    )
    lowest = min(float(body.vertices[:, 2].min()) for body in scene.bodies)
    above = max(float(body.vertices[:, 2].max()) for body in scene.bodies) + 20.0 * across
    # A lamp that hangs is not in the way of a camera just under it.
    eye = above if lowest - height < 50.0 else lowest - 1.0
    away = eye - height
    field = float(np.degrees(2.0 * np.arctan(across / 2.0 / away)))
    camera = Camera(0.0, 90.0, away, (0.0, 0.0, height), field, (96, 96))
    built = engine.built(scene, Room((plane,)), variant)
    (picture,) = engine.thrown(built, (camera,), photons, _DEPTH, seed)
    lux = (picture.astype(np.float64) @ LUMINANCE) * np.pi / GREY
    step = across / 96
    at = (np.arange(96) + 0.5) * step - across / 2.0
    reach = np.hypot(*np.meshgrid(at, at))
    turn = np.degrees(np.arctan2(*np.meshgrid(at, at))) % 360.0
    return tuple(
        _ring(lux, reach, turn, distance, max(1.5 * step, 0.06 * distance)) for distance in distances
    )


def _ring(lux: Floats, reach: Floats, turn: Floats, distance: float, wide: float) -> OnTable:
    """Mean, least and greatest illuminance round a ring, its twelfths taken as places."""
    on = np.abs(reach - distance) <= wide
    twelfths = [lux[on & (turn // 30.0 == k)] for k in range(12)]
    around = [float(part.mean()) for part in twelfths if len(part)] or [0.0]
    return OnTable(distance, float(np.mean(around)), min(around), max(around))


def _reach(scene: GlowScene) -> float:
    """Farthest that anything of the lamp stands from the middle of its frame [mm]."""
    places = [body.vertices for body in scene.bodies] + [light.vertices for light in scene.lights]
    return max(float(np.linalg.norm(vertices, axis=1).max()) for vertices in places) + 10.0


def _ball(scene: GlowScene) -> tuple[Triple, float]:
    """Middle and radius [mm] of a ball about all of the lamp but its cord, which gives next to no light."""
    cords = {number for number, part in enumerate(scene.placed) if part.is_cord}
    places = [body.vertices for body in scene.bodies if body.part not in cords]
    places += [light.vertices for light in scene.lights]
    corners = np.concatenate(places)
    middle = (corners.min(axis=0) + corners.max(axis=0)) / 2.0
    reach = float(np.linalg.norm(corners - middle, axis=1).max())
    return (float(middle[0]), float(middle[1]), float(middle[2])), reach + 1.0


def _from_pole(elevation: float) -> Camera:
    """A view of the far half of the sphere from near the pole at an elevation of ±90°."""
    return Camera(0.0, elevation, _ASIDE * _FAR, (0.0, 0.0, 0.0), 90.5, (_FACE, _FACE))


def _screen(camera: Camera, reach: float) -> SkinFaces:
    """A black square between a camera and the lamp, just large enough to hide it."""
    right, up, away = camera.axes
    corners = np.array([[-1.0, -1], [1, -1], [1, 1], [-1, 1]]) * 1.5 * reach
    vertices = -1.5 * reach * away + corners[:, :1] * right + corners[:, 1:] * up
    return SkinFaces(
        "screen",
        -1,
        Matt((0.0, 0.0, 0.0)),
        vertices,
        np.tile(-away, (4, 1)),
        np.array([[0, 1, 2], [0, 2, 3]]),
    )


def _parallel(middle: Triple, reach: float, bearing: float, elevation: float) -> Camera:
    distance = 4.0 * reach
    field = float(np.degrees(2.0 * np.arctan(reach / distance)))
    return Camera(bearing, elevation, distance, middle, field, (VIEW, VIEW), parallel=True)


def _all_round(count: int) -> list[tuple[float, float]]:
    """Directions evenly over the sphere: bearing and elevation [°] (Fibonacci lattice, Swinbank & Purser 2006)."""
    k = np.arange(count) + 0.5
    rise = np.degrees(np.arcsin(1.0 - 2.0 * k / count))
    turn = (180.0 * (1.0 + np.sqrt(5.0)) * k) % 360.0
    return [(float(b), float(e)) for b, e in zip(turn, rise, strict=True)]


def _sphere() -> SkinFaces:
    """The photometer's sphere, looking inwards, by parallels and meridians."""
    rings, sides = 96, 192
    rise = np.linspace(-np.pi / 2.0, np.pi / 2.0, rings + 1)
    turn = np.linspace(0.0, 2.0 * np.pi, sides, endpoint=False)
    e, b = (grid.ravel() for grid in np.meshgrid(rise, turn, indexing="ij"))
    ways = np.stack([np.cos(e) * np.cos(b), np.cos(e) * np.sin(b), np.sin(e)], axis=1)
    # Facets lie within the sphere: their mean radius is to be the one reckoned with.
    radius = _FAR * (1.0 + (np.pi / sides) ** 2 / 3.0)
    row, column = (grid.ravel() for grid in np.meshgrid(np.arange(rings), np.arange(sides), indexing="ij"))
    a, c = row * sides + column, row * sides + (column + 1) % sides
    triangles = np.concatenate(
        [np.stack([a, a + sides, c], axis=1), np.stack([c, a + sides, c + sides], axis=1)]
    )
    return SkinFaces("sphere", -1, Matt((GREY, GREY, GREY)), radius * ways, -ways, triangles)
