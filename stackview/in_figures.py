"""How numbers that are no lengths are written, everywhere: angles, shares in percent, units behind them."""

from math import floor, log10


def degrees(value: float, *, signed: bool = True, places: int = 1) -> str:
    """Write an angle; signed, as elevations always are, with a true minus sign and never as minus nought.

    >>> degrees(-3.14159), degrees(12.0), degrees(-0.01), degrees(30.0, places=0)
    ('−3.1°', '+12.0°', '0.0°', '+30°')
    >>> degrees(6.5, signed=False)
    '6.5°'
    """
    rounded = round(value, places) + 0.0
    words = f"{rounded:+.{places}f}°" if signed and rounded else f"{rounded:.{places}f}°"
    return words.replace("-", "−")


def bearing_words(bearing: float) -> str:
    """Write the bearing that something is seen from, 0 to 360, to a tenth where it has one.

    Bearings that are cut or drilled to stand as exactly as they are written, and not here.

    >>> bearing_words(6.5), bearing_words(-90.0), bearing_words(359.99)
    ('6.5°', '270°', '0°')
    """
    return f"{round(bearing % 360.0, 1) % 360.0:g}°"


def percent(share: float, places: int = 0) -> str:
    """Write a share; one that is not nothing, or not all, is never written so.

    >>> percent(0.1234), percent(0.1234, 1), percent(0.0, 1), percent(1.0, 1)
    ('12%', '12.3%', '0%', '100%')
    >>> percent(1e-5, 1), percent(0.99999, 1), percent(0.001)
    ('under 0.1%', 'over 99.9%', 'under 1%')
    """
    if share in (0.0, 1.0):
        return f"{100.0 * share:.0f}%"
    least = 10.0**-places
    if 0.0 < 100.0 * share < least:
        return f"under {least:.{places}f}%"
    if 0.0 < 100.0 * (1.0 - share) < least:
        return f"over {100.0 - least:.{places}f}%"
    return f"{100.0 * share:.{places}f}%"


def figure(value: float, places: int = 0) -> str:
    """Write a quantity with so many places, and a small one with two figures, so that it is never written as nothing.

    >>> figure(1126.7), figure(8.64), figure(0.0), figure(0.16, 1), figure(1.44, 2), figure(0.0123, 2)
    ('1127', '8.6', '0', '0.16', '1.44', '0.012')
    >>> figure(0.5, 1), figure(0.96, 1), figure(9.96), figure(0.000651, 1)
    ('0.5', '0.96', '10', '0.00065')
    """
    if value == 0.0 or abs(value) >= 10.0 ** (1 - places):
        return f"{value:.{places}f}"
    more = 1 - floor(log10(abs(value)))
    return f"{value:.{more}f}".rstrip("0").rstrip(".")


def with_unit(number: str, of: str) -> str:
    """Put a unit after a number: a space between, as the SI has it, but none before ° and %.

    >>> with_unit("10", "%"), with_unit("1", "°"), with_unit("5", "kg"), with_unit("3", "")
    ('10%', '1°', '5 kg', '3')
    """
    return number + of if of in ("°", "%") else f"{number} {of}".rstrip()
