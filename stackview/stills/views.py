"""What can be asked of a view: bearings, elevations and sizes, each refused with its limits."""

from collections.abc import Iterable
from difflib import get_close_matches
from math import isfinite
from numbers import Integral, Real

from stackview.errors import OutputError

_SMALLEST, _LARGEST = 64, 8192
"""Pixels along each side of a picture."""
MOST_PIXELS = 36_000_000
"""Pixels of a whole picture: 8K (7680 × 4320) is within it.

Drawing and packing take 25 to 95 bytes for each, by evening 147 (measured: 4.9 GB at 8K).
"""
_MOST_TURNING = 75_000_000
"""Pixels of all frames of a turntable together: 36 of 1920 × 1080 are within it."""
_WORDS_NEED = (640, 480)
"""Least width and height of a picture with words in it."""

VIEWS = {
    "room": "the room from the side: what an eye sees from every place in it, people and table to scale",
    "plan": "the same from above, all round the lamp, for eyes as high as one of the named ones",
    "map": "all directions from far away; or all round at an eye's own distance, by bearing and height",
    "section": "cut upright, with the rays to a named eye, or those that begin and end each gap",
    "studio": "three-quarter view in daylight",
    "evening": "the same, lit, in a dim room, with the light that it truly has",
    "front": "from the front",
    "side": "from the right",
    "top": "from above",
    "beneath": "from below, lifted up",
    "spread": "layers apart along the axis, each with its name, material, thickness and size",
    "half": "cut in half through the axis",
    "elevation": "parallel view with dimensions",
    "sheet": "contact sheet of the views",
    "turn": "turntable, as animated WebP and GIF",
    "eyes": "what each named eye sees from its worst bearing, bare light points ringed",
}
_WITH_WORDS = ("room", "plan", "map", "section", "spread", "elevation", "sheet", "eyes")
_USUAL = {
    "turn": (640, 480),
    "spread": (1200, 1600),
    "room": (1600, 900),
    "plan": (1200, 1300),
    "map": (1600, 1000),
}
"""Sizes of pictures that are not as most [px]."""
FRAMES = 36
"""Frames of a turntable: one every 10°."""
_MOST_FRAMES = 3600


def chosen(names: Iterable[str]) -> tuple[str, ...]:
    """Views by name, each once, in the order of :data:`VIEWS`; all where none is named.

    Raises OutputError that offers the nearest name for one that is not known.
    """
    wanted = [str(name).strip().lower() for name in names]
    for name in wanted:
        if name not in VIEWS:
            near = get_close_matches(name, VIEWS, 1, 0.5)
            hint = f'did you mean "{near[0]}"?' if near else "choose from " + ", ".join(VIEWS)
            raise OutputError(f'view "{name[:40]}": there is none of that name; {hint}')
    return tuple(name for name in VIEWS if name in wanted or not wanted)


def size_of(view: str, width: int | None, height: int | None) -> tuple[int, int]:
    """Size of a view's picture [px]: as asked for, else what suits the view best."""
    usual = _USUAL.get(view, (1600, 1200))
    if width is None and height is None:
        return usual
    if height is None and width is not None:
        return width, round(width * usual[1] / usual[0])
    if width is None and height is not None:
        return round(height * usual[0] / usual[1]), height
    return width or usual[0], height or usual[1]


def check_size(view: str, size: tuple[int, int]) -> None:
    """Raise OutputError where a view cannot be drawn at a size [px]."""
    check_view(0.0, 0.0, size)
    if view in _WITH_WORDS and (size[0] < _WORDS_NEED[0] or size[1] < _WORDS_NEED[1]):
        raise OutputError(
            f"{view}: its words need at least {_WORDS_NEED[0]} × {_WORDS_NEED[1]} pixels, "
            f"not {size[0]} × {size[1]}"
        )
    if view == "turn" and FRAMES * size[0] * size[1] > _MOST_TURNING:
        raise OutputError(
            f"turn: {FRAMES} frames of {size[0]} × {size[1]} are more than "
            f"{_MOST_TURNING // 1_000_000} million pixels; give a smaller width and height, such as 1920 × 1080"
        )


def check_view(bearing: float, elevation: float, size: tuple[int, int]) -> None:
    """Raise OutputError, naming value and limits, for a view that cannot be drawn.

    Callers may be anyone's, so that a value of another type is told as well.
    """
    check_bearing(bearing)
    if not _is_number(elevation) or not -90.0 <= elevation <= 90.0:
        raise OutputError(
            f"elevation {_said(elevation)}: give degrees from -90 (straight below) to 90 (straight above)"
        )
    check_pixels(size)
    for name, pixels in zip(("width", "height"), size, strict=True):
        if not _SMALLEST <= pixels <= _LARGEST:
            raise OutputError(f"{name} {pixels}: give a number of pixels from {_SMALLEST} to {_LARGEST}")
    width, height = size
    if width * height > MOST_PIXELS:
        raise OutputError(
            f"{width} × {height} pixels: a picture has at most {MOST_PIXELS // 1_000_000} million pixels, "
            "such as 7680 × 4320; give a smaller width or height"
        )


def check_bearing(bearing: float) -> None:
    """Raise OutputError for what is no bearing."""
    if not _is_number(bearing):
        raise OutputError(
            f"bearing {_said(bearing)}: give a number of degrees, 0 for the front, 90 for the right"
        )


def check_pixels(size: tuple[int, int]) -> None:
    """Raise OutputError for what is no width and height."""
    if not (
        isinstance(size, tuple | list)
        and len(size) == 2
        and all(isinstance(one, Integral) and not isinstance(one, bool) for one in size)
    ):
        raise OutputError(f"size {_said(size)}: give width and height in whole pixels, such as (1600, 1200)")


def check_frames(frames: int) -> None:
    """Raise OutputError for what is no number of frames."""
    if isinstance(frames, bool) or not isinstance(frames, Integral) or not 1 <= frames <= _MOST_FRAMES:
        raise OutputError(
            f"frames {_said(frames)}: give a whole number from 1 to {_MOST_FRAMES}, such as {FRAMES}"
        )


def check_units(units: str | None) -> None:
    """Raise OutputError for what no drawing can be lettered in."""
    if units not in (None, "mm", "in", "both"):
        raise OutputError(
            f'units {_said(units)}: give "mm", "in" or "both"; left out, as the lamp is written'
        )


def _is_number(value: object) -> bool:
    return isinstance(value, Real) and not isinstance(value, bool) and isfinite(value)


def _said(value: object) -> str:
    """A value as it was given, a long one shortened."""
    text = str(value) if isinstance(value, Real) else repr(value)
    return text if len(text) <= 60 else text[:59] + "…"
