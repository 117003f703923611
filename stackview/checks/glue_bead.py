"""How much glue a joint takes, and what is squeezed out of it."""

from math import pi, sqrt


def bead_diameter(volume: float, length: float) -> float:
    """Diameter of a round bead that holds ``volume`` [mm³] over ``length`` [mm]: d = √(4V/πL).

    >>> round(bead_diameter(3.141592653589793 * 100.0, 100.0), 12)
    2.0
    """
    return sqrt(4.0 * volume / (pi * length))


def squeezed_out(film_section: float, excess: float, spread: float) -> tuple[float, float]:
    """Glue that leaves each edge of a joint, over its length [mm²], as meant and at most.

    ``film_section`` is width × film; the bead holds (1 + excess) of it, laid to within
    ± ``spread``, and leaves by both edges alike.

    >>> [round(q, 6) for q in squeezed_out(1.0, 0.3, 0.2)]
    [0.15, 0.28]
    """
    most = (1.0 + excess) * (1.0 + spread) - 1.0
    return film_section * excess / 2.0, film_section * max(most, 0.0) / 2.0


def fillet_size(section: float) -> float:
    """How far squeezed-out glue of ``section`` [mm²] stands out of the edge: a quarter round, √(4A/π).

    >>> round(fillet_size(3.141592653589793 / 4.0), 12)
    1.0
    """
    return sqrt(4.0 * section / pi)
