"""Outlines as written → outlines as values."""

import math
from dataclasses import replace
from pathlib import Path

from stackview.description.context import Context, mm_or
from stackview.description.curve_file import read_curve
from stackview.description.curve_limits import CurveError
from stackview.description.faults import did_you_mean, place
from stackview.description.material import Length
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle, Curve, Rectangle, Regular, Shape
from stackview.description.units import shown
from stackview.description.written_fields import LEAST_SIZE
from stackview.description.written_outline import SHAPE_KEYS, WrittenAround, WrittenOutline

_MOST_LIKE = 20
"""Outlines that may be like one another in a row."""
_ONLY_WITH = {
    "across_flats": ("sides",),
    "across_corners": ("sides",),
    "corner_radius": ("rectangle", "sides"),
    "unit": ("curve",),
    "origin": ("curve",),
    "pick": ("curve",),
}


def resolve_outline(context: Context, written: str | WrittenOutline, where: str) -> Outline | None:
    """The outline of a name under [outlines] or of a shape written in place; None after a fault."""
    if isinstance(written, str):
        return named_outline(context, written, where)
    given = [key for key in SHAPE_KEYS if getattr(written, key) is not None]
    if len(given) != 1:
        found = f"{' and '.join(given)} are given" if given else "no shape is given"
        what = f"{found}: give exactly one of {', '.join(SHAPE_KEYS)}, e.g. circle = 120"
        (context.faults.add if given else context.faults.absent)(where, what)
        return None
    for key, kinds in _ONLY_WITH.items():
        if getattr(written, key) is not None and given[0] not in kinds:
            context.faults.add(
                place(where, key), f"goes with {' or '.join(kinds)}, but this is a {given[0]}: leave it out"
            )
    if written.like is not None:
        same = named_outline(context, written.like, place(where, "like"))
    else:
        shape = _shape(context, written, where)
        same = Outline(shape) if shape is not None else None
    if same is None:
        return None
    inset, at = mm_or(written.inset, 0.0), pair(written.at)
    outline = replace(
        same,
        grow=same.grow - inset,
        turn=same.turn + (written.turn or 0.0),
        at=(same.at[0] + at[0], same.at[1] + at[1]),
    )
    if outline.narrowest <= 0 < same.narrowest:
        room = same.inner_reach - LEAST_SIZE
        do = f"make it at most {context.units.most(room)}" if room >= 0.0 else "leave it out"
        context.faults.add(place(where, "inset"), f"{written.inset} leaves nothing: {do}")
        return None
    return outline


def named_outline(context: Context, name: str, where: str) -> Outline | None:
    """The outline of this name under [outlines], resolved when first asked for; or a fault."""
    if name in context.outlines:
        return context.outlines[name]
    written = context.written.outlines.get(name)
    if written is None:
        if not context.faults.is_lost("outline", name):
            advice = did_you_mean(name, context.written.outlines)
            context.faults.add(where, f"no outline {shown(name)} under [outlines]{advice}")
        return None
    if name in context.following or len(context.following) > _MOST_LIKE:
        context.faults.add(
            where, f"outline {shown(name)} is like itself, by a round: give one of them a shape"
        )
        return None
    context.following.append(name)
    context.outlines[name] = resolve_outline(context, written, f"outline {shown(name)}")
    context.following.pop()
    return context.outlines[name]


def pair(lengths: tuple[Length, Length] | None) -> tuple[float, float]:
    """Two written lengths as millimetres; nothing written is (0, 0)."""
    return (lengths[0].mm, lengths[1].mm) if lengths else (0.0, 0.0)


def resolve_around(written: WrittenAround | None) -> Around | None:
    """Copies around the axis as a value."""
    return Around(written.count, written.circle.mm, written.first) if written else None


def _shape(context: Context, written: WrittenOutline, where: str) -> Shape | None:
    if written.circle is not None:
        return Circle(written.circle.mm)
    if written.rectangle is not None:
        width, depth = pair(written.rectangle)
        radius = mm_or(written.corner_radius, 0.0)
        return (
            Rectangle(width, depth, radius)
            if _rounds(context, radius, min(width, depth) / 2, where)
            else None
        )
    if written.sides is not None:
        return _regular(context, written, where)
    return _curve(context, written, where)


def _rounds(context: Context, radius: float, most: float, where: str) -> bool:
    if radius <= most:
        return True
    takes = (
        f"at most {context.units.most(most)}"
        if most >= LEAST_SIZE
        else "it is too thin for any; leave it out"
    )
    context.faults.add(
        place(where, "corner_radius"), f"{context.say(radius)} is larger than the shape takes: {takes}"
    )
    return False


def _regular(context: Context, written: WrittenOutline, where: str) -> Regular | None:
    assert written.sides is not None
    if (written.across_flats is None) == (written.across_corners is None):
        both = written.across_flats is not None
        found = "both are given" if both else "none is given"
        what = f"a polygon takes one size, and {found}: give across_flats or across_corners"
        (context.faults.add if both else context.faults.absent)(where, what)
        return None
    # across corners is twice the circumscribed circle's radius, R = r / cos(π/n)
    flats = (
        written.across_flats.mm
        if written.across_flats is not None
        else mm_or(written.across_corners, 0.0) * math.cos(math.pi / written.sides)
    )
    radius = mm_or(written.corner_radius, 0.0)
    return Regular(written.sides, flats, radius) if _rounds(context, radius, flats / 2, where) else None


def _curve(context: Context, written: WrittenOutline, where: str) -> Curve | None:
    assert written.curve is not None
    if written.unit is None:
        context.faults.absent(
            place(where, "unit"),
            f'the curve {shown(written.curve)} has no unit: add unit = "mm", or what it is drawn in',
        )
        return None
    try:
        file = within(context.folder, written.curve, context.allow_outside)
        return read_curve(
            file,
            written.unit,
            pick=written.pick,
            origin=written.origin or "middle",
            shown_as=written.curve,
            drawings=context.drawings,
            units=context.units,
        )
    except CurveError as wrong:
        context.faults.add(place(where, "curve"), f"{shown(written.curve)}: {wrong}")
        return None


def within(folder: Path, written: str, allow_outside: bool) -> Path:
    """The file that a lamp's file names, links followed; it must lie in the lamp's folder.

    Raises
    ------
    CurveError
        the file lies outside, or its path cannot be followed
    """
    try:
        root = folder.resolve()
        file = (root / written).resolve()
    except (OSError, RuntimeError, ValueError) as wrong:
        raise CurveError(f"the path cannot be followed ({type(wrong).__name__})") from None
    if not allow_outside and not file.is_relative_to(root):
        raise CurveError(
            "lies outside the lamp's folder, from which alone files are read: copy it beside the lamp's file"
        )
    return file
