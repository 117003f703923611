"""How tightly a strip is bent on its core, and how flat it lies."""

from math import atan2, cos, degrees, pi, radians, sin, sqrt


def lead_angle(radius: float, pitch: float) -> float:
    """Angle at which a helix climbs [°]: atan(p/2πr).

    >>> round(lead_angle(13.5, 12.0), 6)
    8.052259
    """
    return degrees(atan2(pitch, 2.0 * pi * radius))


def helix_bend(radius: float, lead: float) -> float:
    """Radius of curvature of a helix of ``radius`` [mm] that climbs at ``lead`` [°]: R/cos²α.

    Differential geometry (κ = r/(r² + c²), c = p/2π). A ring is bent to its own radius; at 45°
    the bend is twice as wide:

    >>> helix_bend(20.0, 0.0), round(helix_bend(20.0, 45.0), 9)
    (20.0, 40.0)
    """
    return radius / cos(radians(lead)) ** 2


def radius_for_bend(bend: float, pitch: float) -> float:
    """Least radius of a helix of ``pitch`` that is bent to no less than ``bend`` [mm].

    R/cos²α = R + (p/2π)²/R solved for R, the larger root.

    >>> round(helix_bend(radius_for_bend(40.0, 14.0), lead_angle(radius_for_bend(40.0, 14.0), 14.0)), 9)
    40.0
    """
    return (bend + sqrt(max(bend**2 - (pitch / pi) ** 2, 0.0))) / 2.0


def edge_lift(radius: float, width: float, lead: float) -> float:
    """How far the edges of a flat strip stand off a round core [mm].

    Across a strip that climbs at ``lead`` [°] the core is curved by sin²α/R (Euler's theorem),
    so the edges of a stiff width w lie (w/2)²·sin²α/2R off: nothing for a ring, and the full
    sagitta R − √(R² − w²/4) for a strip straight up, where that is taken.

    >>> edge_lift(16.0, 8.0, 0.0), round(edge_lift(16.0, 8.0, 90.0), 6)
    (0.0, 0.508067)
    """
    bent = sin(radians(lead)) ** 2 / radius
    if bent == 0.0:
        return 0.0
    around, half = 1.0 / bent, width / 2.0
    return around if half >= around else around - sqrt(around**2 - half**2)
