"""What can be asked of a view: bearings, elevations and sizes, each refused with its limits."""

from math import isfinite

from stackview.errors import OutputError

SMALLEST, LARGEST = 64, 8192
"""Pixels along each side of a picture."""


def check_view(bearing: float, elevation: float, width: int, height: int) -> None:
    """Raise OutputError, naming value and limits, for a view that cannot be drawn."""
    if not isfinite(bearing):
        raise OutputError(f"bearing {bearing}: give a number of degrees, 0 for the front, 90 for the right")
    if not isfinite(elevation) or not -90.0 <= elevation <= 90.0:
        raise OutputError(
            f"elevation {elevation:g}°: give one from -90 (straight below) to 90 (straight above)"
        )
    for name, pixels in (("width", width), ("height", height)):
        if not SMALLEST <= pixels <= LARGEST:
            raise OutputError(f"{name} {pixels}: give a number of pixels from {SMALLEST} to {LARGEST}")
