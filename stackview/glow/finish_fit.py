"""Roughness of a sanded face from photographs of one LED's spot behind it.

The model is :mod:`stackview.glow.spot_model`'s: the spot of :mod:`stackview.glow.spot_table`, widened by the LED's own
face, times a height, plus an even background (the room's light, the camera's glare), darkened
towards the frame by the lens and bent by the camera's tone curve. One least squares finds the
roughness together with all of these, and with how far the spot's own shape may be off; each
has an error beforehand, so that the roughness has the error that they leave it. Several exposures share spot
and tone curve, which they show; steps of known reflectance show the curve too.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from math import exp, log

import numpy as np

from stackview.arrays import Floats
from stackview.glow.least_squares import least_squares
from stackview.glow.photograph import Photograph, PhotographError
from stackview.glow.spot import Profile, SpotPlace, clipped_too_far, find_spot, profile_of, with_plateau
from stackview.glow.spot_model import UNTOLD, Setup, Shot, SpotModel
from stackview.glow.spot_table import GREATEST_DEPTH, GREATEST_ROUGHNESS, LEAST_DEPTH, LEAST_ROUGHNESS
from stackview.glow.step_sheet import ToneSteps
from stackview.glow.tone_curves import from_light

MOST_PHOTOGRAPHS = 8
_NINE_IN_TEN = 1.645
"""Standard deviations of a normal error within which nine in ten lie."""
_VALUE_ERROR = {8: 0.004, 16: 0.0025}
"""How well a ring's number is known, whatever its pixels say: share of full scale, by bits."""
_TOLD = 0.03
"""How well a ratio of exposures is known by logarithm that camera or maker told."""
_SURE = {"unknown": 1.0, "srgb": 0.05, "linear": 0.02}
"""How far the tone curve may be off, in the family's standard deviations."""
_FEWEST = 8
_MODEL_ERROR = 0.035
"""Share by which renderings and table were off each other in roughness at the worst."""
_GOOD, _FAIR = 0.15, 0.35
"""Error over roughness up to which a fit is called good, and fair."""
_HOPELESS = 1.7
"""Root mean square of what is left over, in standard deviations, from which it is no such spot."""
_FAR_OFF = 3.5
"""Standard deviations by which no length is off what was told: else a wrong scale is made up for by the camera."""
_COARSE, _FINE = 16, 11
"""Roughnesses that are tried, over all that is known and then where it fits."""
_NEXT_TO = 1.1
"""Roughnesses within this factor of an end of what is known stand for what lies beyond it."""
_UNLIKELY = 8.0
"""Sum of squares over the best from which a roughness counts for nothing."""


@dataclass(frozen=True, slots=True)
class FinishFit:
    """``roughness``, and ``low`` and ``high`` between which it lies nine times in ten."""

    roughness: float
    low: float
    high: float
    left: float
    """Root mean square left over, over the spot's height in the file's own numbers."""
    background: float
    """Over the spot's height, as light."""
    rings: int
    exposures: tuple[float, ...]
    """Light of each photograph over that of the first."""
    told: bool
    """Whether these were told, by the maker or by the camera."""
    notes: tuple[str, ...]

    @property
    def error(self) -> float:
        """The greater way from the roughness to where it lies nine times in ten."""
        return max(self.high - self.roughness, self.roughness - self.low)

    @property
    def word(self) -> str:
        """How well the roughness is known, by its error alone: good to 15 %, fair to 35 %."""
        share = self.error / self.roughness
        return "good" if share <= _GOOD else "fair" if share <= _FAIR else "poor"


@dataclass(frozen=True, slots=True, eq=False)
class _Trial:
    """One roughness, the other unknowns that fit best with it, and the sum of squares left over."""

    roughness: float
    unknowns: Floats
    cost: float


def check_setup(setup: Setup) -> None:
    """Raise PhotographError where the table holds no spot for this set-up."""
    depth = setup.thickness / setup.distance
    if not LEAST_DEPTH <= depth <= GREATEST_DEPTH:
        low, high = setup.thickness / GREATEST_DEPTH, setup.thickness / LEAST_DEPTH
        raise PhotographError(
            f"distance {setup.distance:g} mm is outside what is known for a sheet of {setup.thickness:g} mm, "
            f"{low:.3g} to {high:.3g} mm: put the LED within that"
        )


def fit_finish(
    photographs: Sequence[Photograph],
    setup: Setup,
    *,
    exposures: Sequence[float] | None = None,
    steps: ToneSteps | None = None,
) -> FinishFit:
    """Fit the roughness to photographs of one spot, taken from one place with different exposures.

    Parameters
    ----------
    exposures : light of each photograph over that of any one, where told; else as the cameras wrote it
    steps : photographed by the same camera, and developed alike

    Raises
    ------
    PhotographError
        a photograph without one clear spot, a spot clipped in all of them, one too narrow or too
        wide for the table, or a set-up outside of it
    """
    check_setup(setup)
    shown = [with_plateau(photo) for photo in photographs]
    found = [(photo, place, profile_of(photo, place)) for photo in shown for place in [find_spot(photo)]]
    _check_clipped(found)
    ratios = exposures if exposures is not None else [photo.record.exposure for photo in photographs]
    shots = tuple(
        _shot(photo, profile, found[0][2], (ratio, ratios[0]))
        for (photo, _, profile), ratio in zip(found, ratios, strict=True)
    )
    model = SpotModel(shots, setup, max(_SURE[photo.curve] for photo in photographs), steps)
    name = photographs[0].name
    tried = _tried(model)
    best = min(tried, key=lambda one: one.cost)
    rings = sum(len(shot.radius) for shot in shots)
    # Each unknown but two brings a residual of its own, so the rings are what is left free.
    spread = max(1.0, best.cost / rings)
    _check_fit(tried, best, spread, name, lengths_fit=model.lengths_off(best.unknowns) <= _FAR_OFF)
    low, roughness, high = _likely(tried, spread)
    height = max(float(np.ptp(shot.value)) for shot in shots)
    return FinishFit(
        roughness=roughness,
        low=low,
        high=high,
        left=float(np.sqrt((model.values_left(model.spot(best.roughness), best.unknowns) ** 2).mean()))
        / height,
        background=exp(model.background(best.unknowns)),
        rings=rings,
        exposures=tuple(np.exp(model.exposures(best.unknowns)).tolist()),
        told=len(shots) > 1 and all(shot.spread == _TOLD for shot in shots),
        notes=tuple(dict.fromkeys(note for photo in photographs for note in photo.notes)),
    )


def _shot(
    photo: Photograph, profile: Profile, first: Profile, exposures: tuple[float | None, float | None]
) -> Shot:
    """Rings as numbers of the file: light by sRGB and back, so that any tone curve is one against sRGB.

    ``exposures`` are its own and the first photograph's, None where not told.
    """
    own, begin = exposures
    told = own is not None and begin is not None
    slope = (from_light(profile.light * 1.01 + 1e-6) - from_light(profile.light)) / (
        profile.light * 0.01 + 1e-6
    )
    tall, wide = photo.light.shape
    return Shot(
        radius=profile.radius,
        value=from_light(profile.light),
        error=np.hypot(_VALUE_ERROR[photo.bits], slope * profile.error),
        corner=photo.shrink * float(np.hypot(tall, wide)) / 2.0,
        exposure=log(own / begin) if own is not None and begin is not None else _brighter(profile, first),
        spread=_TOLD if told else UNTOLD,
    )


def _brighter(profile: Profile, first: Profile) -> float:
    """Logarithm of about how much brighter a photograph is than the first, where both show light."""
    there = np.interp(profile.radius, first.radius, first.light, left=0.0, right=0.0)
    both = (there > 0.01) & (profile.light > 0.01)
    return float(np.log(np.median(profile.light[both] / there[both]))) if both.any() else 0.0


def _tried(model: SpotModel) -> list[_Trial]:
    """The best fit at each of many roughnesses, rising: over all that is known, then closely where it fits."""
    ends = log(LEAST_ROUGHNESS), log(GREATEST_ROUGHNESS)
    found = _trials(model, np.linspace(*ends, _COARSE), model.start())
    best = min(found, key=lambda one: one.cost)
    near = [log(one.roughness) for one in found if one.cost < best.cost + _UNLIKELY]
    step = (ends[1] - ends[0]) / (_COARSE - 1)
    low, high = max(min(near) - step, ends[0]), min(max(near) + step, ends[1])
    found += _trials(model, np.linspace(low, high, _FINE), best.unknowns)
    return sorted(found, key=lambda one: one.roughness)


def _trials(model: SpotModel, logarithms: Floats, start: Floats) -> list[_Trial]:
    found = []
    for value in np.exp(logarithms).tolist():
        spot = model.spot(value)
        one = least_squares(partial(model.left_over, spot), start)
        found.append(_Trial(value, one.values, one.cost))
    return found


def _likely(tried: Sequence[_Trial], spread: float) -> tuple[float, float, float]:
    """Between what the roughness lies nine times in ten, and its middle: each trial counts by its likelihood.

    At a fixed roughness all other unknowns are at their best (profile likelihood); all roughnesses
    are as likely beforehand by their logarithm.
    """
    at = np.array([log(one.roughness) for one in tried])
    cost = np.array([one.cost for one in tried])
    fine = np.linspace(at[0], at[-1], 2000)
    weight = np.exp(-0.5 * (np.interp(fine, at, cost) - cost.min()) / spread)
    share = np.cumsum(weight) / weight.sum()
    low, middle, high = np.interp([0.05, 0.5, 0.95], share, fine).tolist()
    own = _NINE_IN_TEN * _MODEL_ERROR
    return (
        max(exp(middle - float(np.hypot(middle - low, own))), LEAST_ROUGHNESS),
        exp(middle),
        min(exp(middle + float(np.hypot(high - middle, own))), GREATEST_ROUGHNESS),
    )


def _check_clipped(found: Sequence[tuple[Photograph, SpotPlace, Profile]]) -> None:
    """At least one photograph shows the spot's middle, and each has rings enough."""
    photo, place, profile = min(found, key=lambda one: (one[2].clipped_to, one[1].peak))
    if clipped_too_far(place, profile, photo.shrink):
        raise PhotographError(
            f"{photo.name}: the middle of the spot is clipped; expose less, "
            "or give a darker photograph beside it with --second"
        )
    for photo, _, profile in found:
        if len(profile.radius) < _FEWEST:
            raise PhotographError(f"{photo.name}: too much of the spot is clipped to be used; expose it less")


def _check_fit(tried: Sequence[_Trial], best: _Trial, spread: float, name: str, *, lengths_fit: bool) -> None:
    """Raise where nothing fits, or nothing but what is next to an end of what is known, or with other lengths than told."""
    inside = [
        one.cost
        for one in tried
        if LEAST_ROUGHNESS * _NEXT_TO < one.roughness < GREATEST_ROUGHNESS / _NEXT_TO
    ]
    if lengths_fit and spread <= _HOPELESS**2 and min(inside) - best.cost < _UNLIKELY * spread:
        return
    if best.roughness <= LEAST_ROUGHNESS * _NEXT_TO:
        raise PhotographError(
            f"{name}: the spot is narrower than that of the smoothest sanding known (roughness "
            f"{LEAST_ROUGHNESS:g}); check --distance, --led and the scale, or call the sheet clear"
        )
    if best.roughness >= GREATEST_ROUGHNESS / _NEXT_TO:
        raise PhotographError(
            f"{name}: the spot is wider than that of the roughest sanding known (roughness "
            f"{GREATEST_ROUGHNESS:g}); check --distance and the scale, or whether the sheet is opal"
        )
    raise PhotographError(
        f"{name}: the spot is not that of one LED behind such an offcut; "
        "check --distance, --led, --sanded and the scale, and that the camera's picture style is an ordinary one, no log"
    )
