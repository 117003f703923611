"""Clashes: no two solids overlap silently."""

from itertools import combinations

from stackview.findings import Finding, Level
from stackview.solids.overlap import overlap
from stackview.stack.placed import Placed


def clashes(placed: tuple[Placed, ...]) -> tuple[Finding, ...]:
    """Every pair of parts whose solids share space, by boolean intersection, largest first."""
    found: list[tuple[float, Finding]] = []
    for one, other in combinations(placed, 2):
        if one.underside >= other.top or other.underside >= one.top:
            continue
        shared = overlap(one.solid, other.solid)
        if shared is None:
            continue
        x, y, z = shared.centre
        found.append(
            (
                shared.volume,
                Finding(
                    check="overlap",
                    level=Level.FAULT,
                    where=f"{one.name} and {other.name}",
                    what=(
                        f"they take the same space: {shared.volume:.1f} mm³ about x {x:.1f}, y {y:.1f}, "
                        f"{z:.1f} mm up"
                    ),
                    value=shared.volume,
                    unit="mm³",
                    limit=0.0,
                    source="boolean intersection of the two solids",
                    advice="Make the opening larger, the part smaller, or the recess deeper.",
                ),
            )
        )
    return tuple(finding for _, finding in sorted(found, key=lambda pair: -pair[0]))
