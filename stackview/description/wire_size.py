"""Wire sizes as a maker writes them: square millimetres or American wire gauge."""

import math
import re

_AWG_RANGE = range(0, 41)


def gauge_diameter(gauge: int) -> float:
    """Diameter of a solid wire of an American wire gauge: d = 0.127·92^((36−n)/39) [mm] (ASTM B258).

    >>> gauge_diameter(36), round(gauge_diameter(18), 4)
    (0.127, 1.0237)
    """
    return float(0.127 * 92.0 ** ((36 - gauge) / 39))


def gauge_area(gauge: int) -> float:
    """Copper cross-section of a solid wire of an American wire gauge [mm²]."""
    diameter = gauge_diameter(gauge)
    return math.pi * diameter * diameter / 4


def is_gauge(written: str) -> bool:
    """Whether a wire's size is written as a gauge.

    >>> is_gauge("AWG 20"), is_gauge("20 awg"), is_gauge("0.5 mm2")
    (True, True, False)
    """
    return "awg" in written.lower()


def wire_area(written: str) -> float | None:
    """Copper cross-section [mm²] of ``"0.5 mm2"`` or ``"AWG 20"``; None where it is neither.

    >>> wire_area("0.5 mm2"), round(wire_area("AWG 20"), 4), wire_area("thin")
    (0.5, 0.5176, None)
    """
    text = " ".join(written.lower().replace("²", "2").split())
    metric = re.fullmatch(r"([0-9]*\.?[0-9]+) ?mm2", text)
    gauge = re.fullmatch(r"(?:awg ?([0-9]{1,2})|([0-9]{1,2}) ?awg)", text)
    if metric and 0.01 <= float(metric[1]) <= 100.0:
        return float(metric[1])
    if gauge and int(gauge[1] or gauge[2]) in _AWG_RANGE:
        return gauge_area(int(gauge[1] or gauge[2]))
    return None
