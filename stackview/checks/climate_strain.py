"""How much each placed part moves from the workshop's climate to another, and in which direction."""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats
from stackview.checks.wood_movement import equilibrium_moisture, strain_towards, wood_moved
from stackview.description.service import Climate
from stackview.stack.placed import Placed

_STEP = 5.0
"""Directions in which extents are compared [°], besides those along and across the grain."""


@dataclass(frozen=True, slots=True)
class Strain:
    """Change of size over size: across and along the grain, whose bearing is ``grain`` [°]."""

    across: float
    along: float
    grain: float

    @property
    def tensor(self) -> Floats:
        """Plane strain in x and y (2, 2): its components along the axes and between them."""
        x, y = (strain_towards(self.across, self.along, self.grain, bearing) for bearing in (90.0, 0.0))
        # Towards bearing 45° lies (1, −1)/√2, where the shear counts against the mean of the two.
        shear = (x + y) / 2.0 - strain_towards(self.across, self.along, self.grain, 45.0)
        return np.array([[x, shear], [shear, y]])


def strain_of(part: Placed, before: Climate, after: Climate) -> Strain:
    """Strain of a part that goes from one climate to another and comes to rest there.

    Wood and boards by their equilibrium moisture (Wood Handbook Eq. 4-5 and 13-2), others by
    temperature and by swelling in proportion to humidity.
    """
    moves = part.material.movement
    if part.material.is_wooden:
        moist = [equilibrium_moisture(climate.celsius, climate.humidity) for climate in (before, after)]
        # What a size of one moves by is the strain.
        across, along = (wood_moved(1.0, coefficient, *moist) for coefficient in (moves.across, moves.along))
        return Strain(across, along, part.grain)
    both = moves.per_kelvin * (after.celsius - before.celsius)
    both += moves.per_humidity * (after.humidity - before.humidity)
    return Strain(both, both, part.grain)


@dataclass(frozen=True, slots=True)
class ClimateSlip:
    """Greatest difference in movement of two parts over a shared extent."""

    by: float
    """How much more the second grows than the first [mm]; negative where it shrinks against it."""
    bearing: float
    """Direction in which that is [°]."""
    extent: float
    """How long the shared part is in that direction [mm]."""


def slips(one: Strain, other: Strain, corners: Floats) -> tuple[ClimateSlip, ClimateSlip]:
    """Where ``other`` grows most against ``one``, and where it shrinks most, over points (n, 2) [mm].

    In each direction n the two farthest points on either side, p apart, move apart by n·ΔE·p,
    with ΔE the difference of the two strains: what a caliper would measure across them.
    """
    bearings = np.unique(
        np.concatenate(
            [
                np.arange(0.0, 180.0, _STEP),
                *([g % 180.0, (g + 90.0) % 180.0] for g in (one.grain, other.grain)),
            ]
        )
    )
    radians = np.radians(bearings)
    towards = np.column_stack((np.sin(radians), -np.cos(radians)))
    reach = corners @ towards.T
    apart = corners[reach.argmax(axis=0)] - corners[reach.argmin(axis=0)]
    by = np.einsum("bi,ij,bj->b", towards, other.tensor - one.tensor, apart)
    extents = np.ptp(reach, axis=0)
    most, least = (
        ClimateSlip(float(by[k]), float(bearings[k]), float(extents[k]))
        for k in (int(by.argmax()), int(by.argmin()))
    )
    return most, least
