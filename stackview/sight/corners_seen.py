"""From where a corner of a light point's face shows, though its middle may not."""

from dataclasses import dataclass, replace

import numpy as np

from stackview.arrays import Floats, Whole
from stackview.description.lamp import Surface
from stackview.light.points import LightPoints
from stackview.sight.bands import Kind, all_bands, even_bearings, taken_at
from stackview.sight.crossings import wrapped
from stackview.sight.scene import Scene
from stackview.sight.surface import clear_of_surface, hidden_heights

_LINES = 60_000
"""Lines from corners at which their bands are worked out: more corners, fewer bearings each."""
_MOST, _FINE = 720, 0.1
"""Most bearings all round; towards one bearing, how close to each other they are [°]."""


@dataclass(frozen=True, slots=True, eq=False)
class FaceCorners:
    """Bare and veiled bands of all corners of all faces.

    places : three arrays (m,) of the corner that each band is of [mm]; way : two (m,), sine and
    cosine of its bearing; low, high : (m,) tangents; kind : (m,); apart : between bearings [rad]
    """

    places: tuple[Floats, Floats, Floats]
    way: tuple[Floats, Floats]
    low: Floats
    high: Floats
    kind: Whole
    apart: float

    def over(
        self, distance: float, bearing: float | None, surface: Surface | None
    ) -> tuple[Whole, Floats, Floats]:
        """Stretches of height [mm] in which a corner shows at ``distance`` [mm]: kind, low and high, in no order.

        From anywhere on that circle, or only near one ``bearing`` [rad].
        """
        x, y, z = self.places
        sine, cosine = self.way
        along = x * sine - y * cosine
        far = np.sqrt(np.maximum(along * along + distance * distance - x * x - y * y, 0.0)) - along
        kept = np.arange(len(x))
        if bearing is not None:
            to_x, to_y = distance * np.sin(bearing) - x, -distance * np.cos(bearing) - y
            off = np.abs(wrapped(np.arctan2(to_x, -to_y) - np.arctan2(sine, cosine)))
            kept = np.flatnonzero(np.minimum(off, 2.0 * np.pi - off) <= self.apart / 2.0)
        x, y, z, far, sine, cosine = (axis[kept] for axis in (x, y, z, far, sine, cosine))
        low, high, kind = z + far * self.low[kept], z + far * self.high[kept], self.kind[kept]
        if surface is not None:
            hidden = hidden_heights((x, y, z), x + far * sine, y - far * cosine, surface)
            number, low, high = clear_of_surface(low, high, hidden)
            kind = kind[number]
        return kind, low, high


def corners_seen(scene: Scene, points: LightPoints, bearing: float | None, near: float = 0.0) -> FaceCorners:
    """The corners' bands all round, or towards one ``bearing`` [°] for eyes no nearer to the axis than ``near`` [mm]."""
    count = points.corners.shape[1]
    corners = _as_points(points)
    if bearing is None:
        number = int(np.clip(_LINES // max(len(corners), 1), 60, _MOST))
        around, apart = even_bearings(number), 360.0 / number
    else:
        # From beside the axis the bearing to an eye is another than its own, the more the nearer it is.
        reach = float(np.hypot(corners.centres[:, 0], corners.centres[:, 1]).max(initial=0.0))
        aside = np.degrees(np.arcsin(min(reach / max(near, 1e-9), 1.0))) + 1.0
        around = np.unique((bearing + np.arange(-aside, aside + _FINE / 2.0, _FINE)) % 360.0)
        apart = _FINE
    bands = all_bands(scene, corners, around) if count and len(points) else None
    if bands is None:
        none = np.zeros(0)
        return FaceCorners(
            (none, none, none), (none, none), none, none, none.astype(np.int64), np.radians(apart)
        )
    bands = bands.chosen(bands.kind != Kind.GLAZED)
    place, turn = taken_at(corners)[bands.point].T.copy(), np.radians(around)[bands.bearing]
    # Straight up is no farther than a room is high.
    low, high = (np.clip(np.tan(np.radians(end)), -1e6, 1e6) for end in (bands.low, bands.high))
    ways = np.sin(turn), np.cos(turn)
    kind = bands.kind.astype(np.int64)
    return FaceCorners((place[0], place[1], place[2]), ways, low, high, kind, float(np.radians(apart)))


def _as_points(points: LightPoints) -> LightPoints:
    """Every corner of every face as a light point of its own."""
    count = points.corners.shape[1]
    own = {
        name: np.repeat(getattr(points, name), count, axis=0)
        for name in ("directions", "beams", "lumens", "kelvin", "source")
    }
    centres = points.corners.reshape(-1, 3).copy()
    return replace(points, centres=centres, corners=np.zeros((len(centres), 0, 3)), **own)
