"""Elevations in words."""

from collections.abc import Iterable

from stackview.in_figures import degrees


def elevations(low: float, high: float, places: int = 0) -> str:
    """Between which angles [°] something shows, to some places; two that read alike are said once.

    >>> elevations(-2.2, 17.0), elevations(4.8, 5.3), elevations(4.81, 4.93, 1), elevations(-0.2, 0.3)
    ('between −2° and +17°', 'of about +5°', 'between +4.8° and +4.9°', 'of about 0°')
    """
    words = [degrees(angle, places=places) for angle in (low, high)]
    return f"of about {words[0]}" if words[0] == words[1] else f"between {words[0]} and {words[1]}"


def ranges_joined(ranges: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Ranges from the lowest up, those that meet as one.

    >>> ranges_joined([(5.0, 21.0), (-20.0, -6.0), (-9.0, -4.0)])
    [(-20.0, -4.0), (5.0, 21.0)]
    """
    found: list[tuple[float, float]] = []
    for low, high in sorted(ranges):
        if found and low <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found
