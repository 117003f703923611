"""Straight strips side by side on the core: whether they lie over one another."""

from collections.abc import Sequence
from math import pi

import shapely

from stackview.checks.proposals import larger
from stackview.checks.subject import Subject
from stackview.curves.arcs import length
from stackview.description.lamp import Core
from stackview.description.light_source import Runs
from stackview.description.outline import path_of
from stackview.description.units import Units
from stackview.findings import Bound, Finding, Level, Way
from stackview.light.layout import Lit
from stackview.light.ribbon import Ribbon

_SOURCE = "plane geometry, the strips seen from above"


def side_by_side(
    subject: Subject, lit: Lit, layout: Runs, ribbons: Sequence[Ribbon], core: Core
) -> tuple[Finding, ...]:
    """A fault where neighbouring runs overlap."""
    units, width = subject.lamp.units, layout.strip.width
    across = [shapely.LineString([ribbon.low[0, :2], ribbon.high[0, :2]]) for ribbon in ribbons]
    following = across[1:] + across[:1] if len(across) > 1 else []
    if any(_over(one, other) for one, other in zip(across, following, strict=False)):
        return (_crowded(lit, layout.count, width, core, units),)
    return ()


def _over(one: shapely.LineString, other: shapely.LineString) -> bool:
    return bool(one.crosses(other) or one.overlaps(other) or one.equals(other))


def _crowded(lit: Lit, count: int, width: float, core: Core, units: Units) -> Finding:
    around = length(path_of(core.outline))
    return Finding(
        check="strip",
        level=Level.FAULT,
        where=f'light "{lit.light.name}"',
        what=(
            f"{count} strips {units.show(width)} wide lie over one another on a core {units.show(around)} around"
        ),
        value=count * width,
        unit="mm",
        limit=around,
        bound=Bound.MOST,
        source=_SOURCE,
        advice="Take fewer strips, narrower ones, or a thicker core.",
        ways=(
            Way(
                f"light.{lit.light.name}",
                "runs.count",
                float(count),
                float(around // width),
                is_length=False,
                stepped=True,
                rough=True,
            ),
            larger("core", (count * width - around) / (2.0 * pi), rough=True),
        ),
    )
