"""Where a picture is taken from: a camera, how it is set to frame a lamp, and its rays."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.stack.placed import Placed

Triple = tuple[float, float, float]

BEARING = 35.0
ELEVATION = 18.0
FIELD = 24.0
"""Field of view across the picture's shorter side [°], near a portrait lens; keeps uprights calm."""
MARGINS = (0.14, 0.11, 0.15)
"""Empty share of the picture at each side, at the top and at the bottom."""
EYE_MARGIN = 1.16
"""Room around the lamp in an eye's picture."""
_WIDEST = 120.0
"""Field of view of an eye right beside the lamp, at most [°]."""


@dataclass(frozen=True, slots=True)
class Camera:
    """A camera that looks at ``target`` [mm] from ``distance`` [mm], at a bearing and elevation [°].

    ``field_of_view`` is the full angle across the picture's height [°]; ``size`` is
    (width, height) in pixels.
    """

    bearing: float
    elevation: float
    distance: float
    target: Triple
    field_of_view: float
    size: tuple[int, int]
    parallel: bool = False
    """Parallel projection: everything at the scale that perspective gives at ``target``."""

    @property
    def axes(self) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
        """Unit vectors to the picture's right, to its top, and away from the eye, each (3,)."""
        return axes(self.bearing, self.elevation)

    @property
    def eye(self) -> NDArray[np.float64]:
        """Where the camera stands, (3,) [mm]."""
        _, _, away = self.axes
        return np.asarray(self.target) - self.distance * away

    @property
    def pixel(self) -> float:
        """Width of one pixel at distance 1, the tangent of its angle in the middle."""
        return 2.0 * float(np.tan(np.radians(self.field_of_view) / 2.0)) / self.size[1]

    @property
    def scale(self) -> float:
        """Pixels for one millimetre at ``target``; everywhere, in parallel projection."""
        return 1.0 / (self.distance * self.pixel)


def axes(
    bearing: float, elevation: float
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Right, up and away unit vectors of an eye at ``bearing`` and ``elevation`` [°]."""
    b, e = np.radians(bearing), np.radians(elevation)
    right = np.array([np.cos(b), np.sin(b), 0.0])
    away = -np.array([np.sin(b) * np.cos(e), -np.cos(b) * np.cos(e), np.sin(e)])
    return right, np.cross(right, away), away


def frame(
    placed: Iterable[Placed],
    *,
    bearing: float = BEARING,
    elevation: float = ELEVATION,
    size: tuple[int, int] = (1600, 1200),
) -> Camera:
    """Set a camera so that the whole lamp stands in the picture with calm margins.

    Exact for a perspective view: a point at (x, y, z) in the camera's axes is inside when
    ±(x − cx) ≤ tx·(D + z), and the same for y, which is linear in the shift c and the
    distance D. A cord is left out: it may run out of the
    picture. ``size`` is (width, height) in pixels, each at least 1.

    Raises ValueError for an empty lamp or a size below one pixel.
    """
    parts = [part.solid.vertices for part in placed if not part.is_cord and len(part.solid.vertices)]
    width, height = size
    if not parts or width < 1 or height < 1:
        raise ValueError("a picture needs at least one part and one pixel")
    return frame_points(np.concatenate(parts), bearing=bearing, elevation=elevation, size=size)


def frame_points(
    points: NDArray[np.float64], *, bearing: float, elevation: float, size: tuple[int, int]
) -> Camera:
    """Set a camera as :func:`frame` does, for points (n, 3) [mm]."""
    width, height = size
    middle = (points.min(axis=0) + points.max(axis=0)) / 2.0
    right, up, away = axes(bearing, elevation)
    x, y, z = ((points - middle) @ axis for axis in (right, up, away))

    half = np.tan(np.radians(FIELD) / 2.0) / min(width, height)
    across, upright = half * width, half * height
    side, above, below = MARGINS
    shift_x, distance_x = _fit(x, z, across * (1 - 2 * side), across * (1 - 2 * side))
    shift_y, distance_y = _fit(y, z, upright * (1 - 2 * above), upright * (1 - 2 * below))
    # At the larger distance the slack of the other direction is shared evenly.
    distance = max(distance_x, distance_y)
    target = middle + shift_x * right + shift_y * up
    return Camera(
        bearing=bearing,
        elevation=elevation,
        distance=float(distance),
        target=(float(target[0]), float(target[1]), float(target[2])),
        field_of_view=float(np.degrees(2.0 * np.arctan(upright))),
        size=(width, height),
    )


def eye_view(
    points: NDArray[np.float64], eye: NDArray[np.float64], height: float, size: tuple[int, int]
) -> Camera:
    """The true perspective of an eye at ``eye`` (3,) [mm] that looks at the middle of the lamp.

    ``points`` (n, 3) are the lamp's, all to be in the picture; ``height`` is the lamp's own [mm].
    """
    target = (0.0, 0.0, height / 2.0)
    x, y, z = (float(value) for value in eye - np.array(target))
    distance = float(np.sqrt(x * x + y * y + z * z))
    bearing = float(np.degrees(np.arctan2(x, -y)))
    elevation = float(np.degrees(np.arcsin(z / distance)))
    right, up, away = axes(bearing, elevation)
    offset = points - eye
    depth = np.maximum(offset @ away, 1.0)
    wide, tall = size
    across = float(np.abs(offset @ right / depth).max()) * tall / wide
    upright = float(np.abs(offset @ up / depth).max())
    tangent = min(EYE_MARGIN * max(across, upright), float(np.tan(np.radians(_WIDEST / 2.0))))
    return Camera(bearing, elevation, distance, target, float(np.degrees(2.0 * np.arctan(tangent))), size)


def _fit(
    offset: NDArray[np.float64], depth: NDArray[np.float64], high: float, low: float
) -> tuple[float, float]:
    """Shift and least distance at which −low ≤ (offset − shift) / (distance + depth) ≤ high."""
    upper = float((offset - high * depth).max())
    lower = float((-offset - low * depth).max())
    distance = (upper + lower) / (high + low)
    return upper - high * distance, distance


def project(camera: Camera, points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Where points (n, 3) [mm] fall in the picture: (n, 2) pixels, x to the right, y down."""
    right, up, away = camera.axes
    from_eye = np.asarray(points) - camera.eye
    reach = np.full(len(from_eye), camera.distance) if camera.parallel else from_eye @ away
    depth = np.maximum(reach, 1e-6) * camera.pixel
    width, height = camera.size
    return np.stack(
        [width / 2.0 + (from_eye @ right) / depth, height / 2.0 - (from_eye @ up) / depth], axis=1
    )


def starts(camera: Camera, columns: NDArray[np.floating], rows: NDArray[np.floating]) -> NDArray[np.float32]:
    """Where the rays of :func:`rays` begin, (n, 3) [mm]: the eye, or their own place on its plane."""
    if not camera.parallel:
        return np.broadcast_to(camera.eye.astype(np.float32), (len(columns), 3))
    right, up, _ = camera.axes
    width, height = camera.size
    x = (np.asarray(columns) - width / 2.0) / camera.scale
    y = (height / 2.0 - np.asarray(rows)) / camera.scale
    return np.asarray(camera.eye + x[:, None] * right + y[:, None] * up, np.float32)


def rays(camera: Camera, columns: NDArray[np.floating], rows: NDArray[np.floating]) -> NDArray[np.float32]:
    """Give unit directions (n, 3) from the eye through the picture at (columns, rows), in pixels.

    A pixel's middle is at its index + 0.5.
    """
    if camera.parallel:
        return np.broadcast_to(camera.axes[2].astype(np.float32), (len(columns), 3)).copy()
    right, up, away = camera.axes
    width, height = camera.size
    x = (np.asarray(columns) - width / 2.0) * camera.pixel
    y = (height / 2.0 - np.asarray(rows)) * camera.pixel
    directions = away + x[:, None] * right + y[:, None] * up
    lengths = np.sqrt((directions**2).sum(axis=1, keepdims=True))
    return np.asarray(directions / lengths, np.float32)
