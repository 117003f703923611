"""What a camera makes of one LED's spot, as a function of all that is not known of it.

Unknowns, all but the roughness, stand in one row of numbers. The spot's height and that of the steps are free and stand
by their logarithm; all others count in standard deviations from what is expected, so that each is its own residual.
"""

from dataclasses import dataclass, field
from math import cos, log, pi, radians, sqrt

import numpy as np

from stackview.arrays import Floats
from stackview.glow.offcut import SandedSides
from stackview.glow.spot_table import (
    ERROR,
    GREATEST_DEPTH,
    LEAST_DEPTH,
    spot_of_face,
)
from stackview.glow.step_sheet import ToneSteps
from stackview.glow.tone_curves import ToneFamily, tone_family

_LENGTHS_ERROR = 0.03
"""How well a maker knows the LED's distance and the scale together, each to about 0.02: assumptions."""
_FACE_ERROR = 0.1
_CAMERA, _CAMERA_SPREAD = 300.0, 0.6
"""Distance of a camera that nobody told [mm], and its spread by logarithm: 100 mm to 1 m."""
_TILT_ERROR, _TILT_UNTOLD = 4.0, 8.0
"""How well a tilt is told, and how straight one looks on unawares [°]: assumptions."""
_SHAPE_ERROR, _TAIL_ERROR, _PEAK_ERROR, _SHAPE_NODES = 0.03, 0.03, 0.004, 9
"""What spot and camera are trusted to, as smooth bends by radius: share of the light anywhere, more of it with each
factor e that it is darker than the middle (how acrylic scatters far off depends on the sanding), and share of the
spot's height (glare in the lens, light led to the offcut's edges)."""
_LENS, _LENS_SPREAD = 0.1, 0.8
"""Squared tangent of the angle at the frame's corner by which the lens darkens (cos⁴), and its spread by logarithm."""
_BACKGROUND, _BACKGROUND_SPREAD = -5.0, 2.0
"""Logarithm of the background over the spot's height, and its spread."""
UNTOLD = 3.0
"""How well a ratio of exposures is known by logarithm that was not told."""
_ROOM_SPREAD = 1.5
"""How far the background of a photograph whose exposure was not told may be another, by logarithm."""
_STEP_ERROR = 0.05
"""How evenly steps are lit, and how well they are known: share of their light."""
_FREE, _SINGLE = 1, 6
_LOG_RADIUS = np.log(np.concatenate([[1e-4], np.geomspace(3e-3, 30.0, 160)]))


@dataclass(frozen=True, slots=True)
class Setup:
    """How the photograph was taken; all [mm].

    ``distance`` is from the LED's face to the offcut's near face; ``scale`` is mm for one pixel of
    the file, at the offcut; ``face`` is the side of a square as large as the LED's face;
    ``camera`` is from the lens to the offcut, ``tilt`` [°] how far aslant it looked; None where
    not known.
    """

    distance: float
    thickness: float
    scale: float
    sanded: SandedSides = "both"
    face: float = 3.0
    camera: float | None = None
    tilt: float | None = None
    camera_error: float = 0.05
    """How well ``camera`` is known, as a share of it."""

    @property
    def likely_camera(self) -> tuple[float, float]:
        """Distance of the camera [mm], and its spread by logarithm."""
        return (_CAMERA, _CAMERA_SPREAD) if self.camera is None else (self.camera, self.camera_error)

    def over(self, camera: float) -> float:
        """Distance of an LED that gives the same spot to an eye far away [mm].

        A camera at distance D sees a place r aside from the direction r/D, and the LED's light
        leaves the sheet there at r/d: for small angles the spot is that of an LED at d·D/(d + D)
        seen from far away.
        """
        return self.distance * camera / (self.distance + camera)

    @property
    def aslant(self) -> tuple[float, float]:
        """By how much a tilt widens the spot, as a logarithm, and its error.

        Seen aslant by t the spot stays round and moves; it is as wide as from an LED 1/cos t as far
        away (renderings at 8° to 30° agree to 4 %).
        """
        if self.tilt is None:
            untold = radians(_TILT_UNTOLD) ** 2 / 2.0
            return untold / 2.0, untold
        turned = radians(self.tilt)
        return -log(cos(turned)), sqrt((np.tan(turned) * radians(_TILT_ERROR)) ** 2 + (0.3 * turned**2) ** 2)


@dataclass(frozen=True, slots=True, eq=False)
class Shot:
    """One photograph's rings: radius (n,) [pixels of the file], value (n,) of full scale, its error (n,).

    ``exposure`` is the logarithm of its light over that of the first, ``spread`` how well that is known;
    ``corner`` half the frame's diagonal [pixels of the file].
    """

    radius: Floats
    value: Floats
    error: Floats
    corner: float
    exposure: float = 0.0
    spread: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class FacedSpot:
    """Logarithm of a spot over its height by radius, and how that grows as the LED's face is larger by its error."""

    level: Floats
    by_face: Floats


@dataclass(frozen=True, slots=True, eq=False)
class SpotModel:
    """Photographs of one spot, and steps photographed by the same camera, against the unknowns."""

    shots: tuple[Shot, ...]
    setup: Setup
    sure: float
    """How far the tone curve may be off, in the family's standard deviations."""
    steps: ToneSteps | None = None
    tones: ToneFamily = field(default_factory=tone_family)
    _nodes: Floats = field(init=False)
    """Logarithms of the radii at which the spot may bend."""
    _told: Floats = field(init=False)
    """Exposures of all shots but the first, and how well they are known (2, n)."""

    def __post_init__(self) -> None:
        far = max(float(shot.radius.max()) for shot in self.shots)
        nodes = np.log(np.geomspace(0.03 * far, far, _SHAPE_NODES))
        told = np.array([(shot.exposure, shot.spread) for shot in self.shots[1:]]).reshape(-1, 2).T
        object.__setattr__(self, "_nodes", nodes)
        object.__setattr__(self, "_told", told)

    @property
    def count(self) -> int:
        """How many unknowns there are."""
        return self._after_steps()

    def _after_tones(self) -> int:
        return _SINGLE + _SHAPE_NODES + int(self.tones.directions.shape[1])

    def _after_rooms(self) -> int:
        return self._after_tones() + len(self.shots) - 1

    def _after_exposures(self) -> int:
        return self._after_rooms() + len(self.shots) - 1

    def _after_steps(self) -> int:
        return self._after_exposures() + (0 if self.steps is None else 1 + self.steps.unknowns)

    def start(self) -> Floats:
        """Unknowns to begin from: as expected, and a spot as bright as the first photograph's."""
        values = np.zeros(self.count)
        top = float(self.shots[0].value.max())
        values[0] = float(np.interp(top, self.tones.value, self.tones.standard))
        if self.steps is not None:
            brightest = float(self.steps.values[0].mean())
            values[self._after_exposures()] = float(
                np.interp(brightest, self.tones.value, self.tones.standard)
            )
        return values

    def spot(self, roughness: float) -> "FacedSpot":
        """The spot of one roughness, which the other unknowns only stretch, lift and bend."""
        likely, _ = self.setup.likely_camera
        depth = float(np.clip(self.setup.thickness / self.setup.over(likely), LEAST_DEPTH, GREATEST_DEPTH))
        levels = []
        for size in (1.0, 1.0 + _FACE_ERROR):
            face = size * self.setup.face / sqrt(pi) / self.setup.distance
            seen = np.log(spot_of_face(np.exp(_LOG_RADIUS), roughness, depth, self.setup.sanded, face))
            levels.append(seen - seen[0])
        return FacedSpot(levels[0], levels[1] - levels[0])

    def left_over(self, spot: "FacedSpot", unknowns: Floats) -> Floats:
        """Rings, then steps, then the unknowns' own ways from what is expected, in standard deviations."""
        light = self._tone(unknowns)
        parts = [
            (np.interp(seen, light, self.tones.value) - shot.value) / shot.error
            for shot, seen in zip(self.shots, self.brightness(spot, unknowns), strict=True)
        ]
        if self.steps is not None:
            own = unknowns[self._after_exposures() : self._after_steps()]
            measured = np.log(np.exp(np.interp(self.steps.values, self.tones.value, light)).mean(axis=1))
            parts.append((measured - own[0] - self.steps.reflected(own[1:])) / _STEP_ERROR)
            parts.append(own[1:])
        return np.concatenate([*parts, unknowns[_FREE : self._after_exposures()]])

    def values_left(self, spot: "FacedSpot", unknowns: Floats) -> Floats:
        """What the fit leaves of each ring of all photographs, of full scale (n,)."""
        light = self._tone(unknowns)
        return np.concatenate(
            [
                np.interp(seen, light, self.tones.value) - shot.value
                for shot, seen in zip(self.shots, self.brightness(spot, unknowns), strict=True)
            ]
        )

    def brightness(self, spot: "FacedSpot", unknowns: Floats) -> list[Floats]:
        """Logarithm of the light in each ring of each photograph, in the first one's exposure."""
        level, stretch = spot.level + spot.by_face * unknowns[3], self._stretch(unknowns)
        bends = self._bends(unknowns, level, stretch)
        room = np.exp(self.background(unknowns))
        ratios = self.exposures(unknowns)
        found = []
        for shot, ratio, more in zip(self.shots, ratios, self._rooms(unknowns), strict=True):
            at = np.log(np.maximum(shot.radius, 1e-9))
            shape = np.interp(at + stretch, _LOG_RADIUS, level) + np.interp(at, self._nodes, bends)
            lens = _LENS * np.exp(_LENS_SPREAD * unknowns[5]) * (shot.radius / shot.corner) ** 2
            found.append(unknowns[0] + ratio - 2.0 * np.log1p(lens) + np.log(np.exp(shape) + more * room))
        return found

    def lengths_off(self, unknowns: Floats) -> float:
        """How far distance and scale, the LED's face or the camera are from what was told, at most [standard deviations]."""
        return float(np.abs(unknowns[2:5]).max())

    def background(self, unknowns: Floats) -> float:
        """Logarithm of the background over the spot's height."""
        return _BACKGROUND + _BACKGROUND_SPREAD * float(unknowns[1])

    def exposures(self, unknowns: Floats) -> Floats:
        """Logarithm of each photograph's light over the first's (n,)."""
        own = unknowns[self._after_rooms() : self._after_exposures()]
        return np.concatenate([[0.0], self._told[0] + self._told[1] * own])

    def _rooms(self, unknowns: Floats) -> Floats:
        """Background of each photograph over its spot's height, over that of the first (n,).

        The same where the exposures were told. Where not, the maker may have dimmed the LED, and the room stayed as it was.
        """
        own = unknowns[self._after_tones() : self._after_rooms()]
        return np.concatenate([[1.0], np.exp(_ROOM_SPREAD * (self._told[1] >= UNTOLD) * own)])

    def _tone(self, unknowns: Floats) -> Floats:
        """Logarithm of light at the family's values."""
        return self.tones.light_of(unknowns[_SINGLE + _SHAPE_NODES : self._after_tones()], self.sure)

    def _bends(self, unknowns: Floats, spot: Floats, stretch: float) -> Floats:
        """By how much spot and camera are off at the nodes, by logarithm."""
        level = np.interp(self._nodes + stretch, _LOG_RADIUS, spot)
        error = np.minimum(_SHAPE_ERROR - _TAIL_ERROR * level + _PEAK_ERROR * np.exp(-level), 1.0)
        return np.asarray(error * unknowns[_SINGLE : _SINGLE + _SHAPE_NODES])

    def _stretch(self, unknowns: Floats) -> float:
        """Logarithm of distances for one pixel."""
        likely, spread = self.setup.likely_camera
        widened, tilt_error = self.setup.aslant
        off = sqrt(_LENGTHS_ERROR**2 + ERROR**2 + tilt_error**2) * float(unknowns[2])
        over = self.setup.over(likely * float(np.exp(spread * unknowns[4])))
        return log(self.setup.scale / over) - widened + off
