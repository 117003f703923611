"""Roughness of a sanded face from the spot of one LED behind it, by least squares.

The model is :mod:`stackview.glow.spot_table`'s spot, widened by the LED's own face, times a height,
plus an even background (the room's light, the camera's glare). Height and background follow by
linear least squares for each roughness; the roughness is the one that leaves the least.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import log, pi, sqrt

import numpy as np

from stackview.arrays import Floats
from stackview.glow.offcut import SandedSides
from stackview.glow.photograph import Photograph, PhotographError
from stackview.glow.spot import Profile, SpotPlace, clipped_too_far, find_spot, profile_of
from stackview.glow.spot_table import (
    ERROR,
    GREATEST_DEPTH,
    GREATEST_ROUGHNESS,
    LEAST_DEPTH,
    LEAST_ROUGHNESS,
    spot_of_face,
)
from stackview.in_figures import percent

MOST_PHOTOGRAPHS = 8
_EVEN_ERROR, _PEAK_ERROR = 0.02, 0.003
"""What model and camera are trusted to: share of a ring's own light, and of the brightest ring's."""
_DISTANCE_ERROR, _FACE_ERROR = 0.02, 0.1
"""How well a maker knows the LED's distance and the size of its face: assumptions."""
_FEWEST = 8
GOOD, _FAIR, _HOPELESS = 0.02, 0.04, 0.12
"""Root mean square of what the fit leaves, over the spot's height."""


@dataclass(frozen=True, slots=True)
class Setup:
    """How the photograph was taken; all [mm].

    ``distance`` is from the LED's face to the offcut's near face; ``scale`` is mm for one pixel of
    the file, at the offcut; ``face`` is the side of a square as large as the LED's face;
    ``camera`` is from the lens to the offcut, None for far away.
    """

    distance: float
    thickness: float
    scale: float
    sanded: SandedSides = "both"
    face: float = 3.0
    camera: float | None = None


@dataclass(frozen=True, slots=True)
class FinishFit:
    """``roughness`` ± ``error`` (one standard deviation, everything together), and how well it fits."""

    roughness: float
    error: float
    left: float
    """Root mean square left over, over the spot's height."""
    background: float
    """Over the spot's height."""
    rings: int
    exposures: tuple[float, ...]
    """Light of each photograph over that of the darkest."""
    notes: tuple[str, ...]

    @property
    def word(self) -> str:
        """How well the model fits."""
        return "good" if self.left < GOOD else "fair" if self.left < _FAIR else "poor"


def check_setup(setup: Setup) -> None:
    """Raise PhotographError where the table holds no spot for this set-up."""
    depth = setup.thickness / setup.distance
    if not LEAST_DEPTH <= depth <= GREATEST_DEPTH:
        low, high = setup.thickness / GREATEST_DEPTH, setup.thickness / LEAST_DEPTH
        raise PhotographError(
            f"distance {setup.distance:g} mm is outside what is known for a sheet of {setup.thickness:g} mm, "
            f"{low:.3g} to {high:.3g} mm: put the LED within that"
        )


def fit_finish(photographs: Sequence[Photograph], setup: Setup) -> FinishFit:
    """Fit the roughness to photographs of one spot, taken from one place with different exposures.

    Raises
    ------
    PhotographError
        a photograph without one clear spot, a spot clipped in all of them, one too narrow or too
        wide for the table, or a set-up outside of it
    """
    check_setup(setup)
    found = [
        (photo, place, profile_of(photo, place)) for photo in photographs for place in [find_spot(photo)]
    ]
    profile, exposures = merged_profile(found)
    best = _best(profile, setup)
    _check_inside(best, photographs[0].name)
    random = _random_error(profile, setup, best)
    near = replace(setup, distance=setup.distance * (1.0 + _DISTANCE_ERROR))
    wide = replace(setup, face=setup.face * (1.0 + _FACE_ERROR))
    given = [abs(_best(profile, other) - best) for other in (near, wide)]
    error = sqrt(random**2 + (ERROR * best) ** 2 + sum(shift**2 for shift in given))
    height, background, rest = _left(profile, setup, best)
    left = float(np.sqrt((rest**2).mean())) / height
    if left > _HOPELESS:
        raise PhotographError(
            f"{photographs[0].name}: the spot is not that of one LED behind such an offcut "
            f"({percent(left)} of its height is left over); check --distance, --led, --sanded and the scale"
        )
    notes = tuple(dict.fromkeys(note for photo in photographs for note in photo.notes))
    return FinishFit(
        roughness=best,
        error=error,
        left=left,
        background=background / height,
        rings=len(profile.radius),
        exposures=exposures,
        notes=notes + _warnings(found, best, given[1]),
    )


def merged_profile(
    found: Sequence[tuple[Photograph, SpotPlace, Profile]],
) -> tuple[Profile, tuple[float, ...]]:
    """One profile from several exposures, in the light of the darkest.

    How much brighter each of the others is follows from rings that neither clips, by linear least
    squares with a background of its own.

    Raises PhotographError where the spot is clipped in all, or two have no rings in common.
    """
    ordered = sorted(found, key=lambda one: (one[2].clipped_to, one[1].peak))
    photo, place, dark = ordered[0]
    if clipped_too_far(place, dark, photo.shrink):
        raise PhotographError(
            f"{photo.name}: the middle of the spot is clipped; expose less, "
            "or give a darker photograph beside it with --second"
        )
    parts, exposures = [dark], [1.0]
    for other, _, bright in ordered[1:]:
        # Rings where the bright one is not mere noise and the dark one knows the light.
        inside = (bright.radius >= dark.radius[0]) & (bright.radius <= dark.radius[-1])
        level = np.interp(bright.radius[inside], dark.radius, dark.light)
        if inside.sum() < _FEWEST or float(np.ptp(level)) < 0.02 * float(dark.light.max()):
            raise PhotographError(
                f"{other.name}: too much of the spot is clipped to be joined to {photo.name}; expose it less"
            )
        design = np.stack([level, np.ones_like(level)], axis=1)
        (ratio, shift), *_ = np.linalg.lstsq(design, bright.light[inside], rcond=None)
        if ratio <= 0.0:
            raise PhotographError(
                f"{other.name}: does not show the spot of {photo.name}; photograph the same LED"
            )
        parts.append(
            Profile(bright.radius, (bright.light - shift) / ratio, bright.error / ratio, bright.clipped_to)
        )
        exposures.append(float(ratio))
    return (
        Profile(
            np.concatenate([part.radius for part in parts]),
            np.concatenate([part.light for part in parts]),
            np.concatenate([part.error for part in parts]),
            dark.clipped_to,
        ),
        tuple(exposures),
    )


def model(radius: Floats, setup: Setup, roughness: float) -> Floats:
    """Brightness of the spot at radii [pixels of the file], 1 being I0/d².

    A camera at distance D sees a place r aside from the direction r/D, and the LED's light leaves
    the sheet there at r/d: for small angles the spot is that of an LED at d·D/(d + D) seen from
    far away.
    """
    over = setup.distance
    if setup.camera is not None:
        over = setup.distance * setup.camera / (setup.distance + setup.camera)
    depth = min(max(setup.thickness / over, LEAST_DEPTH), GREATEST_DEPTH)
    face = setup.face / sqrt(pi) / setup.distance
    return spot_of_face(radius * setup.scale / over, roughness, depth, setup.sanded, face)


def _weights(profile: Profile) -> Floats:
    top = float(profile.light.max())
    return np.asarray(
        1.0 / np.sqrt(profile.error**2 + (_EVEN_ERROR * profile.light) ** 2 + (_PEAK_ERROR * top) ** 2)
    )


def _left(profile: Profile, setup: Setup, roughness: float) -> tuple[float, float, Floats]:
    """Height and background that fit best, and what they leave of each ring."""
    shape = model(profile.radius, setup, roughness)
    weight = _weights(profile)
    design = np.stack([shape, np.ones_like(shape)], axis=1)
    (height, background), *_ = np.linalg.lstsq(design * weight[:, None], profile.light * weight, rcond=None)
    if background < 0.0:  # there is no less than no light
        background, lone = 0.0, shape * weight
        height = float(lone @ (profile.light * weight)) / float(lone @ lone)
    return float(height * shape.max()), float(background), profile.light - (height * shape + background)


def _cost(profile: Profile, setup: Setup, roughness: float) -> float:
    height, _, rest = _left(profile, setup, roughness)
    return float(((rest * _weights(profile)) ** 2).sum()) if height > 0.0 else float("inf")


def _best(profile: Profile, setup: Setup) -> float:
    """Roughness of least cost: a grid by logarithm, then golden sections."""
    grid = np.linspace(log(LEAST_ROUGHNESS), log(GREATEST_ROUGHNESS), 41)
    costs = [_cost(profile, setup, float(np.exp(value))) for value in grid]
    middle = int(np.argmin(costs))
    low, high = float(grid[max(middle - 1, 0)]), float(grid[min(middle + 1, len(grid) - 1)])
    share = (sqrt(5.0) - 1.0) / 2.0
    for _ in range(24):
        left, right = high - share * (high - low), low + share * (high - low)
        if _cost(profile, setup, float(np.exp(left))) < _cost(profile, setup, float(np.exp(right))):
            high = right
        else:
            low = left
    return float(np.exp((low + high) / 2.0))


def _random_error(profile: Profile, setup: Setup, best: float) -> float:
    """Standard deviation of the roughness by the cost's curvature, widened where the fit is poor."""
    step = 0.04
    centre = _cost(profile, setup, best)
    sides = [_cost(profile, setup, best * float(np.exp(move))) for move in (-step, step)]
    curvature = (sides[0] + sides[1] - 2.0 * centre) / step**2
    if curvature <= 0.0:
        return best
    spread = max(1.0, centre / max(len(profile.radius) - 3, 1))
    return float(best * sqrt(2.0 * spread / curvature))


def _check_inside(best: float, name: str) -> None:
    if best < LEAST_ROUGHNESS * 1.02:
        raise PhotographError(
            f"{name}: the spot is narrower than that of the smoothest sanding known (roughness "
            f"{LEAST_ROUGHNESS:g}); check --distance, --led and the scale, or call the sheet clear"
        )
    if best > GREATEST_ROUGHNESS * 0.98:
        raise PhotographError(
            f"{name}: the spot is wider than that of the roughest sanding known (roughness "
            f"{GREATEST_ROUGHNESS:g}); check --distance and the scale, or whether the sheet is opal"
        )


def _warnings(
    found: Sequence[tuple[Photograph, SpotPlace, Profile]], best: float, by_face: float
) -> tuple[str, ...]:
    notes = []
    if any(place.stretch > 1.1 for _, place, _ in found):
        notes.append("the spot is not quite round: look at the offcut straight on")
    if by_face > 0.05 * best:
        notes.append("the LED's own face makes up much of the spot: a greater distance tells more")
    return tuple(notes)
