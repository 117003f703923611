"""Voltage lost in wires and along a strip."""

from stackview.description.service_tables import copper


def wire_resistance(mm2: float) -> float:
    """Resistance of one copper wire at 20 °C [Ω/m] from its cross-section [mm²]: ρ/A.

    ASTM B258 has 52.96 mΩ/m for AWG 22, of 0.3255 mm²:

    >>> round(1000.0 * wire_resistance(0.32554), 2)
    52.96
    """
    return copper()[0] / mm2


def two_wire_drop(ohms_per_metre: float, metres: float, amperes: float) -> float:
    """Voltage lost there and back in a two-wire cable: 2·R·L·I [V].

    NEC chapter 9, worked example to Table 8: 100 ft of AWG 16 at 4.99 Ω per 1000 ft and 4 A:

    >>> round(two_wire_drop(4.99 / 304.8, 30.48, 4.0), 3)
    3.992
    """
    return 2.0 * ohms_per_metre * metres * amperes


def strip_drop(count: int, amperes: float, ohms: float, *, both_ends: bool = False) -> float:
    """Voltage lost from the fed end of a strip to its farthest light point [V].

    ``count`` equal light points draw ``amperes`` each; ``ohms`` is the resistance of both tracks
    from one to the next. Summed by Kirchhoff's laws: ΔV = i·r·N(N + 1)/2 fed at one end. Fed at
    both ends, each half feeds itself: i·r·N(N + 2)/8, or i·r·(N + 1)²/8 where N is odd and the
    middle point draws from both sides.

    60 points of 20 mA on tracks of 0.5 Ω:

    >>> round(strip_drop(60, 0.020, 0.5 / 60), 3), round(strip_drop(60, 0.020, 0.5 / 60, both_ends=True), 4)
    (0.305, 0.0775)
    """
    if not both_ends:
        return amperes * ohms * count * (count + 1) / 2.0
    return amperes * ohms * ((count + 1) ** 2 if count % 2 else count * (count + 2)) / 8.0


def least_area(metres: float, amperes: float, volts: float) -> float:
    """Least copper cross-section [mm²] with which a two-wire cable loses no more than ``volts``.

    >>> round(two_wire_drop(wire_resistance(least_area(3.0, 2.56, 0.5)), 3.0, 2.56), 9)
    0.5
    """
    return 2.0 * copper()[0] * metres * amperes / volts
