"""Whether a changed lamp hides its light from an eye: quickly while looking for a change, and to confirm one."""

from dataclasses import dataclass, field, fields, replace

import numpy as np
from numpy.typing import NDArray

from stackview.change.trial import Bench, Changes, Rebuilt
from stackview.description.lamp import Eye
from stackview.light.points import LightPoints
from stackview.sight.bands import Kind, even_bearings
from stackview.sight.eyes import Seen, Standpoint, look_straight, with_corners
from stackview.study import Study

EVENLY = even_bearings(180)
"""Bearings of the lamp as it is; every second one is asked of each change [°]."""
_WITNESSES = 4
"""Bearings kept from which light showed last; a change that fails is soonest told by them."""


@dataclass(slots=True)
class Goal:
    """Whether a changed lamp hides its light from one eye."""

    bench: Bench
    eye: Eye
    corners: bool
    """Whether corners of faces count."""
    witnesses: list[tuple[int, int]] = field(default_factory=list)
    """Light points that showed last, each with its bearing's number."""
    _held: dict[Rebuilt, bool] = field(default_factory=dict)

    def holds(self, changes: Changes) -> bool:
        """At 90 bearings, and at those from which light showed last, on the file's own curves."""
        variant = self.bench.changed(changes)
        if variant is None:
            return False
        if variant not in self._held:
            self._held[variant] = self._is_hidden(variant.study)
        return self._held[variant]

    def _is_hidden(self, study: Study) -> bool:
        if self.witnesses:
            points, at = (sorted(set(numbers)) for numbers in zip(*self.witnesses, strict=True))
            if self._bare(study, points_numbered(study.light.points, points), EVENLY[at]).any():
                return False
        bare = self._bare(study, study.light.points, EVENLY[::2])
        if bare.any():
            all_round = np.zeros((len(bare), len(EVENLY)), dtype=bool)
            all_round[:, ::2] = bare
            self.remember(all_round)
            return False
        return True

    def remember(self, bare: NDArray[np.bool_]) -> None:
        """Keep who showed most, of faces that are bare (n, b), as the first to be asked next time."""
        at = int(bare.sum(axis=0).argmax())
        point = int(np.flatnonzero(bare[:, at])[bare[bare[:, at]].sum(axis=1).argmax()])
        self.witnesses = [(point, at), *(one for one in self.witnesses if one != (point, at))][:_WITNESSES]

    def _bare(self, study: Study, points: LightPoints, bearings: NDArray[np.float64]) -> NDArray[np.bool_]:
        """Which faces (n, b) are bare: by their middles where any of these is, else by their corners too."""
        scene, standpoint = study.sightlines.scene, Standpoint(study.stack.floor, study.lamp.surface)
        seen = look_straight(study.stack, points, bearings=bearings, eyes=(self.eye,), scene=scene)
        if self.corners and not (seen[0].kind == Kind.BARE).any():
            seen = with_corners(scene, points, seen, standpoint)
        return faces_bare(seen[0])

    def is_confirmed(self, changes: Changes) -> tuple[Seen, ...] | None:
        """What all eyes see of the lamp on finer curves, at 2,880 bearings; None where the goal fails."""
        variant = self.bench.changed(changes)
        if variant is None or not self.holds(changes):
            return None
        own = variant.closely(self.eye)
        if (faces_bare(own) if self.corners else own.kind == Kind.BARE).any():
            return None
        return tuple(variant.closely(eye) for eye in variant.study.lamp.eyes)


def points_numbered(points: LightPoints, numbers: list[int]) -> LightPoints:
    """Some light points."""
    return replace(points, **{each.name: getattr(points, each.name)[numbers] for each in fields(LightPoints)})


def faces_bare(seen: Seen) -> NDArray[np.bool_]:
    """Which faces are bare, wholly or in a corner, from which bearing (n, b)."""
    return np.asarray((seen.kind == Kind.BARE) | seen.part_bare)
