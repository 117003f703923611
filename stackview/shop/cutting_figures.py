"""Cutting figures as guidance: revolutions, feed and passes from the cutter, the material and the router.

The formulas are those of any table book of machining: surface speed v = π·D·n, feed f = n·z·f_z
(ISO 3002-3 has the terms; second-hand).
"""

from dataclasses import dataclass
from math import ceil, pi

from stackview.description.cutting_table import CuttingRange
from stackview.description.units import Units
from stackview.description.workshop import Router
from stackview.one_line import one_line

_FOOT, _INCH = 0.3048, 25.4
"""In m and in mm; exact by definition."""
_STEP = 500.0
"""Revolutions are told in steps of so many [rev/min]: no dial is finer."""


def surface_speed(diameter: float, rpm: float) -> float:
    """Speed of the cutter's edge [m/min] at a diameter [mm] and revolutions [rev/min]: v = π·D·n/1000.

    A cutting-tool maker's printed example (second-hand): 50 mm at 700 rev/min cut at 110 m/min.

    >>> round(surface_speed(50.0, 700.0))
    110
    """
    return pi * diameter * rpm / 1000.0


def revolutions(speed: float, diameter: float) -> float:
    """Revolutions [rev/min] at which a cutter of a diameter [mm] has a surface speed [m/min]: n = 1000·v/(π·D).

    A printed example in feet and inches, from memory: 100 ft/min on 10 in across are 38.2 rev/min.

    >>> round(revolutions(100.0 * 0.3048, 10.0 * 25.4), 1)
    38.2
    """
    return 1000.0 * speed / (pi * diameter)


def feed_rate(rpm: float, flutes: int, chip: float) -> float:
    """Feed [mm/min] at which each flute takes a chip [mm]: f = n·z·f_z.

    A router shop's printed example (second-hand): 2 flutes that take 0.1 mm at 18,000 rev/min go 3600 mm/min.

    >>> round(feed_rate(18000.0, 2, 0.1), 6)
    3600.0
    """
    return rpm * flutes * chip


def passes(depth: float, most: float) -> int:
    """In how many equal passes a depth is cut where one is to be no deeper than ``most`` [mm].

    >>> passes(6.0, 3.0), passes(6.1, 3.0), passes(2.0, 3.0)
    (2, 3, 1)
    """
    return max(1, ceil(depth / most - 1e-9))


@dataclass(frozen=True, slots=True)
class CuttingFigures:
    """How to cut one kind of material with one cutter: guidance, for the cutter's maker comes first."""

    kind: str
    diameter: float
    """Of the cutter [mm]."""
    flutes: int
    rpm: float
    speed: float
    """Surface speed at those revolutions [m/min]."""
    outside: str
    """Where the router's own speeds do not let it reach the material's range: "below" or "above"; else empty."""
    feed: tuple[float, float]
    """Least and most feed [mm/min]."""
    pass_depth: float
    """The deepest pass [mm]."""
    source: str

    __repr__ = one_line

    def words(self, units: Units) -> str:
        """The figures as a maker reads them."""
        feeds, speed = (
            " to ".join(f"{feed / 1000.0:.1f}" for feed in self.feed) + " m/min",
            f"{self.speed:.0f} m/min",
        )
        if units.in_inches:
            speed = f"{self.speed / _FOOT:.0f} ft/min"
            feeds = " to ".join(f"{feed / _INCH:.0f}" for feed in self.feed) + " in/min"
        out = f", {self.outside} the usual, as far as the router goes" if self.outside else ""
        return (
            f"{self.kind}, cutter {units.show(self.diameter)}: {self.rpm:,.0f} rev/min ({speed}{out}), "
            f"{self.flutes} flute{'s' if self.flutes > 1 else ''}, feed {feeds}, begin with the lower; passes "
            f"of {units.most(self.pass_depth)} at most"
        )


def cutting_figures(range_: CuttingRange, diameter: float, router: Router) -> CuttingFigures:
    """Figures for a cutter of a diameter [mm]: the middle of the material's speeds, as near as the router goes."""
    low, high = range_.speed
    wanted = revolutions((low + high) / 2.0, diameter)
    rpm = min(max(_STEP * round(wanted / _STEP), router.least_rpm), router.most_rpm)
    speed = surface_speed(diameter, rpm)
    chips = [share * diameter for share in range_.chip]
    return CuttingFigures(
        kind=range_.kind,
        diameter=diameter,
        flutes=router.flutes,
        rpm=rpm,
        speed=speed,
        outside="below" if speed < low else "above" if speed > high else "",
        feed=(feed_rate(rpm, router.flutes, chips[0]), feed_rate(rpm, router.flutes, chips[1])),
        pass_depth=range_.depth * diameter,
        source=range_.source,
    )
