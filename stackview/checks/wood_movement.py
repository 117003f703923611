"""How wood takes up moisture from the air, and how much it moves for it."""

from math import cos, radians, sin


def equilibrium_moisture(celsius: float, humidity: float) -> float:
    """Moisture content that wood comes to in air, in % of its dry mass.

    Parameters
    ----------
    celsius : temperature [°C]
    humidity : relative humidity, 0 to 1

    References
    ----------
    Wood Handbook, FPL-GTR-190, Eq. 4-5; its chart has 6.2, 9.2 and 12.0 % at 21.1 °C for 30, 50
    and 65 % relative humidity:

    >>> [round(equilibrium_moisture(21.1, h), 2) for h in (0.30, 0.50, 0.65)]
    [6.17, 9.24, 11.96]
    """
    t, h = celsius, humidity
    w = 349.0 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    return float(
        1800.0 / w * (kh / (1.0 - kh) + (k1 * kh + 2.0 * k1 * k2 * kh**2) / (1.0 + k1 * kh + k1 * k2 * kh**2))
    )


def wood_moved(size: float, coefficient: float, moisture_before: float, moisture_after: float) -> float:
    """Change of a wooden dimension [mm] from one moisture content to another [%]; of a size of 1, the strain.

    ΔD = D·C·(M_F − M_I), for 6 to 14 % moisture. Wood Handbook, FPL-GTR-190, Eq. 13-2, with its
    worked example, a 232 mm board from 8 to 11 %:

    >>> round(wood_moved(232.0, 0.00245, 8.0, 11.0), 1)
    1.7
    """
    return size * coefficient * (moisture_after - moisture_before)


def strain_towards(across: float, along: float, grain: float, bearing: float) -> float:
    """Strain in one direction of a board that moves by ``across`` and ``along`` its grain.

    ε(δ) = ε_along·cos²δ + ε_across·sin²δ with δ the angle to the grain, both bearings in [°]
    (transformation of plane strain, Mohr's circle).

    >>> strain_towards(0.01, 0.0, 90.0, 0.0), round(strain_towards(0.01, 0.0, 90.0, 45.0), 12)
    (0.01, 0.005)
    """
    delta = radians(bearing - grain)
    return along * cos(delta) ** 2 + across * sin(delta) ** 2
