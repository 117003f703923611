"""The room round the lamp: what it stands on, and the light that comes from elsewhere."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.description.lamp import Surface
from stackview.glow.scene import SkinFaces
from stackview.glow.skins import Matt
from stackview.light.colour import LUMINANCE, Colour, light_colour
from stackview.sight.camera import Camera
from stackview.sight.surface import surface_rim
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed

_DAYLIGHT = 300.0
"""Luminance of a room's walls by day, near a window [cd/m²]; from memory."""
TABLE_GAP = 0.05
"""How far the table lies under the lamp's lowest point [mm], so that the two do not touch."""

WALL = 850.0
"""How far behind the lamp's rim the picture's wall stands [mm]."""
SWEEP: Colour = (0.50, 0.475, 0.44)
"""Reflectance of the picture's wall and table: matt, a warm pale grey; an assumption."""
SKY = 3000.0
"""Luminance of an overcast sky through a window's glass [cd/m²]; from memory."""
_WIDE = 6000.0
"""How far wall and table run on beside, above and below the lamp [mm]: past any picture's rim."""
_BEND = 420.0
"""Radius in which the table bends up into the wall [mm]."""
_LEDGE = 70.0
"""How far a ledge reaches before the lamp [mm]."""
_UNDER_LEDGE, _ROUND = 0.25, 360
"""How far a table of told size lies under the ledge's top [mm], and how many corners a round one has."""
_ABOVE = 10.0
"""An eye that is less than this above the table's top looks against its front edge [mm]."""
_ROWS = 180
_WINDOW_TURN = -58.0
"""Where the window's middle is, from the eye's own bearing [°]: to its left, before the lamp."""


@dataclass(frozen=True, slots=True, eq=False)
class Room:
    """``even`` is luminance by channel from all round [cd/m²]; ``around`` (h, w, 3) takes its place.

    The columns of ``around`` go all round, its top row is the zenith. Read-only.
    """

    bodies: tuple[SkinFaces, ...] = ()
    even: Colour = (0.0, 0.0, 0.0)
    around: NDArray[np.float32] | None = None

    def __post_init__(self) -> None:
        if self.around is not None:
            self.around.setflags(write=False)


DARK = Room()
"""Nothing but the lamp, as in a photometer's black room."""


def room_behind(stack: Stack, camera: Camera) -> Room:
    """What a lamp stands before: the backdrop, and before an eye below its table's top the table, as large as it is told."""
    drop = backdrop(stack.placed, camera, stands=stack.lamp.hangs_at is None)
    surface = stack.lamp.surface
    if surface is None or stack.lamp.hangs_at is not None or camera.eye[2] >= _ABOVE:
        return Room((drop,))
    return Room((drop, table_sheet(surface)))


def table_sheet(surface: Surface) -> SkinFaces:
    """The top of what the lamp stands on, a thin sheet, a little lower than the backdrop's ledge: they do not meet."""
    rim = surface_rim(surface, _ROUND)
    corners = np.column_stack([rim, np.full(len(rim), -TABLE_GAP - _UNDER_LEDGE)])
    k = np.arange(1, len(rim) - 1)
    triangles = np.stack([np.zeros_like(k), k, k + 1], axis=1).astype(np.int64)
    return SkinFaces("table", -1, Matt(SWEEP), corners, np.tile([0.0, 0.0, 1.0], (len(rim), 1)), triangles)


def backdrop(placed: Sequence[Placed], camera: Camera, *, stands: bool) -> SkinFaces:
    """What is behind and under the lamp in a picture: one matt sheet that runs from table to wall.

    The wall stands square to the view, behind the lamp; a table bends up into it, as a
    photographer's paper does, so that no edge crosses the picture. To an eye below the table's top
    the lamp stands at the front edge of a ledge. Behind a pendant there is only the wall.
    """
    body = [part.solid.vertices for part in placed if not part.is_cord and len(part.solid.vertices)]
    reach = float(max(np.hypot(corners[:, 0], corners[:, 1]).max() for corners in body))
    profile = [np.array([[reach + WALL, -_WIDE], [reach + WALL, _WIDE]])]
    if stands:
        near = camera.eye @ np.array([*-_away(camera.bearing), 0.0])
        low = camera.eye[2] < _ABOVE
        front = reach + _LEDGE if low else max(near + 100.0, reach + 600.0)
        profile = [_edge(front), _bend(reach + WALL), np.array([[reach + WALL, _WIDE]])]
    return _drawn_out(np.concatenate(profile), camera.bearing, Matt(SWEEP))


def _away(bearing: float) -> NDArray[np.float64]:
    """Unit vector (2,) from an eye at this bearing towards the axis."""
    return np.array([-np.sin(np.radians(bearing)), np.cos(np.radians(bearing))])


def _edge(front: float) -> NDArray[np.float64]:
    """The table's front, its edge rounded, from below: (k, 2) of way behind the axis and height [mm]."""
    turn, radius = np.radians(np.linspace(0.0, 90.0, 9)), 4.0
    rim = np.stack([-np.cos(turn), np.sin(turn)], axis=1) * radius + [radius - front, -radius - TABLE_GAP]
    return np.concatenate([[[-front, -_WIDE]], rim])


def _bend(wall: float) -> NDArray[np.float64]:
    """Where the table bends up into the wall (k, 2)."""
    turn = np.radians(np.linspace(0.0, 90.0, 37))
    return np.stack([np.sin(turn), -np.cos(turn)], axis=1) * _BEND + [wall - _BEND, _BEND - TABLE_GAP]


def _drawn_out(profile: NDArray[np.float64], bearing: float, skin: Matt) -> SkinFaces:
    """A profile (k, 2) drawn out to both sides, square to the view; it faces the eye."""
    away, count = _away(bearing), len(profile)
    side = np.array([away[1], -away[0]])
    steps = np.diff(profile, axis=0)
    flat = np.stack([-steps[:, 1], steps[:, 0]], axis=1) / np.linalg.norm(steps, axis=1, keepdims=True)
    normal = np.concatenate([flat[:1], flat[:-1] + flat[1:], flat[-1:]])
    normal /= np.linalg.norm(normal, axis=1, keepdims=True)
    ends = [
        np.column_stack([profile[:, :1] * away + way * side, profile[:, 1]])
        for way in (-2 * _WIDE, 2 * _WIDE)
    ]
    k = np.arange(count - 1)
    triangles = np.concatenate(
        [np.stack([k, k + count, k + count + 1], axis=1), np.stack([k, k + count + 1, k + 1], axis=1)]
    )
    normals = np.column_stack([normal[:, :1] * away, normal[:, 1]])
    return SkinFaces(
        "backdrop", -1, skin, np.concatenate(ends), np.tile(normals, (2, 1)), triangles.astype(np.int64)
    )


def daylight(bearing: float) -> NDArray[np.float32]:
    """A room by day for an eye at ``bearing`` [°]: light from all round (h, 2h, 3) [cd/m²].

    A tall window on the eye's left, a little before the lamp, shows an overcast sky over darker
    ground; ceiling, walls and floor get their light from it. For :attr:`Room.around`. Luminances
    are assumptions; the room's are about :data:`_DAYLIGHT` where the window lights it best.
    """
    rows = 90.0 - (np.arange(_ROWS) + 0.5) * (180.0 / _ROWS)
    # Its middle column is the front, and bearings fall to the right.
    columns = 180.0 - (np.arange(2 * _ROWS) + 0.5) * (180.0 / _ROWS)
    turn = (columns - bearing - _WINDOW_TURN + 180.0) % 360.0 - 180.0
    elevation, turn = rows[:, None], turn[None]
    facing = 0.5 - 0.5 * np.cos(np.radians(turn))
    height = np.clip((elevation + 12.0) / 70.0, 0.0, 1.0)
    level = _DAYLIGHT * ((0.28 + 0.42 * facing) * (1.0 - height) + 0.62 * height)
    level = level * (0.35 + 0.65 / (1.0 + np.exp(-(elevation + 16.0) / 7.0)))
    warm = np.asarray(light_colour(5400.0))
    room = level[..., None] * (warm / (warm @ LUMINANCE))
    glass = _panes(turn, elevation)[..., None]
    sky = np.asarray(light_colour(6800.0))
    outside = (
        SKY * (0.22 + 0.78 / (1.0 + np.exp(-(elevation - 6.0) / 3.0)))[..., None] * (sky / (sky @ LUMINANCE))
    )
    return np.asarray(room * (1.0 - glass) + outside * glass, np.float32)


def _panes(turn: NDArray[np.floating], elevation: NDArray[np.floating]) -> NDArray[np.float64]:
    """Share of glass (h, w) of a window two panes wide and three high, from its middle [°]."""
    across = np.clip(25.0 - np.abs(turn), 0.0, 1.0) * np.clip(np.abs(turn) - 1.5, 0.0, 1.0)
    upright = np.clip(29.0 - np.abs(elevation - 25.0), 0.0, 1.0)
    for bar in (15.7, 34.3):
        upright = upright * np.clip(np.abs(elevation - bar) - 1.0, 0.0, 1.0)
    return np.asarray(across * upright)
