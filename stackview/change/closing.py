"""Which changes begin to close a gap: the closed form at a few lines, on the lamp with one small change.

An edge that bounds the gap through which a line passes has to rise by t·ρ − ζ to touch it
(:mod:`stackview.sight.causes`). One small change of a number shows by how much that shrinks, and so how
far it would have to go. This says where to look; whether anything is hidden there is for the trial.
"""

from dataclasses import dataclass

import numpy as np

from stackview.change.candidates import Candidate
from stackview.change.printed import millimetres
from stackview.change.trial import Bench
from stackview.description.lamp import Eye
from stackview.sight.bands import Kind
from stackview.sight.causes import gap_at
from stackview.sight.eyes import Seen, Standpoint, eye_places
from stackview.study import Study

_LINES = 3
"""Lines that are followed: bare points of different gaps."""
_PROBE = 0.5
"""The small change [mm]."""
_STILL = 1e-6
"""Less than this is no movement [mm]."""
_FARTHEST = 30.0
"""A change that would have to be greater than this by the closed form is not looked at [mm]."""


@dataclass(frozen=True, slots=True)
class Hardest:
    """A few bare lines, each past edges of its own."""

    eye: Eye
    lines: tuple[tuple[int, float], ...]
    """Light points, each with a bearing [°]."""
    parts: frozenset[str]
    """The parts whose edges bound the gaps."""
    open_by: tuple[tuple[float, ...], ...]
    """For each line what its edges are short of it, below and above [mm]."""


@dataclass(frozen=True, slots=True)
class Promise:
    """One number, one way to change it, and how far that would have to go to close each line [mm]."""

    candidate: Candidate
    towards: int
    needs: tuple[float, ...]

    @property
    def closes_all(self) -> bool:
        """Whether it begins to close every line."""
        return max(self.needs, default=np.inf) <= _FARTHEST

    @property
    def first(self) -> float:
        """Where to begin looking [mm]: what it takes for the middles of faces."""
        known = [need for need in self.needs if need <= _FARTHEST]
        return float(np.clip(max(known, default=1.0), 0.1, 5.0))

    def with_(self, other: "Promise") -> bool:
        """Whether the two together begin to close every line, which neither does alone."""
        both = [min(pair) for pair in zip(self.needs, other.needs, strict=True)]
        return max(both, default=np.inf) <= _FARTHEST


def hardest(study: Study, seen: Seen) -> Hardest:
    """Bare lines of an eye from its worst bearing, and from others, one for each gap that they pass."""
    scene, points = study.sightlines.scene, study.light.points
    counts = seen.counts(Kind.BARE)
    lines: dict[frozenset[str], tuple[int, float, tuple[float, ...]]] = {}
    for at in np.argsort(-counts, kind="stable")[: 2 * _LINES].tolist():
        for index in np.flatnonzero(seen.kind[:, at] == Kind.BARE).tolist():
            gap = gap_at(scene, points, index, _place(study, seen.eye, float(seen.bearings[at])))
            if gap:
                key = frozenset(scene.names[scene.solid_of_triangle[scene.left[edge]]] for edge, _ in gap)
                short = tuple(abs(up) for _, up in gap)
                known = lines.get(key)
                if known is None or min(short) > min(known[2]):
                    lines[key] = index, float(seen.bearings[at]), short
        if len(lines) >= _LINES:
            break
    kept = list(lines.values())[:_LINES]
    parts = frozenset(part for key in lines for part in key)
    return Hardest(
        seen.eye, tuple((index, bearing) for index, bearing, _ in kept), parts, tuple(s for *_, s in kept)
    )


def promising(bench: Bench, hard: Hardest, chosen: tuple[Candidate, ...]) -> list[Promise]:
    """Numbers that begin to close a line, with what they would need.

    A height that lifts the light and its edges alike closes nothing but by lifting the lamp before the
    eye: it is left out where it gains nothing for an eye that is lifted with the light.
    """
    found = []
    was = bench.study.light.points.centres[:, 2]
    for candidate in chosen:
        for towards in candidate.towards:
            variant = bench.changed({candidate.path: millimetres(candidate.now + towards * _PROBE)})
            if variant is None:
                continue
            lifted = variant.study.light.points.centres[:, 2] - was
            needs = _needs(variant.study, hard, np.zeros(len(was)))
            if candidate.is_height and np.abs(lifted).max(initial=0.0) > _STILL:
                with_light = _needs(variant.study, hard, lifted)
                needs = tuple(max(pair) for pair in zip(needs, with_light, strict=True))
            if min(needs, default=np.inf) <= _FARTHEST:
                found.append(Promise(candidate, towards, needs))
    return found


def _needs(study: Study, hard: Hardest, lifted: np.ndarray) -> tuple[float, ...]:
    """How far a change would have to go to close each line, by what its small beginning does [mm]; eyes lifted too."""
    return tuple(
        _need(study, index, _place(study, hard.eye, bearing) + np.array([0.0, 0.0, lifted[index]]), was)
        for (index, bearing), was in zip(hard.lines, hard.open_by, strict=True)
    )


def _need(study: Study, index: int, place: np.ndarray, was: tuple[float, ...]) -> float:
    gap = gap_at(study.sightlines.scene, study.light.points, index, place)
    if not gap:
        return _PROBE
    short = tuple(abs(up) for _, up in gap)
    if len(short) != len(was):
        return _PROBE * 2.0
    gained = [
        (before, before - after) for before, after in zip(was, short, strict=True) if before - after > _STILL
    ]
    return min((_PROBE * before / by for before, by in gained), default=float(np.inf))


def _place(study: Study, eye: Eye, bearing: float) -> np.ndarray:
    standpoint = Standpoint(study.stack.floor, study.lamp.surface)
    return np.asarray(eye_places(eye, standpoint, np.array([bearing]))[0])
