"""How the cut parts of a section look, and where a leader to each of them ends."""

from collections.abc import Callable, Sequence
from typing import assert_never

import numpy as np
from numpy.typing import NDArray

from stackview.drawings.chart_style import INK, Sheet, draw_line, fill_area
from stackview.light.colour import encode
from stackview.stack.placed import Placed
from stackview.stack.section import CutFace

_Onto = Callable[[NDArray[np.float64]], NDArray[np.float64]]
"""From (across, height) (k, 2) [mm] to places on the sheet (k, 2) [px]."""

_ALONG = np.cos(np.radians(45.0))
"""Grain within 45° of the cut is drawn as long grain, else as end grain."""
_OPAL = "#fbf6e6"
_CLEAR = "#d3e9f6"
_FROSTED = "#dfe8ec"


def fill_of(part: Placed) -> str:
    """Choose a calm tone: wood and metal paler than they are, acrylic pale blue or milk white, the core darker."""
    material = part.material
    match part.sort:
        case "opal":
            return _OPAL
        case "sanded":
            return _FROSTED
        case "clear":
            return _CLEAR
        case "opaque":
            pass
        case _:
            assert_never(part.sort)
    own = encode(np.array(material.colour)).astype(np.float64)
    if part.is_core:
        return "#{:02x}{:02x}{:02x}".format(*np.rint(0.55 * own).astype(int).tolist())
    mixed = np.rint(0.6 * own + 0.4 * 255.0).astype(int)
    return "#{:02x}{:02x}{:02x}".format(*mixed.tolist())


def look_of(part: Placed) -> str:
    """Words for the legend: what the part is cut from."""
    if part.is_core:
        return f"core, {part.material.name}"
    name = part.material.name
    finish = part.finish.words
    return name if part.sort != "sanded" or finish.partition(" ")[0] in name else f"{name}, {finish}"


def draw_part(sheet: Sheet, face: CutFace, onto: _Onto, bearing: float) -> None:
    """Draw one cut part: filled, hatched by its grain where it is wood, outlined."""
    loops = [onto(loop) for loop in face.loops]
    fill = fill_of(face.part)
    fill_area(sheet, loops, fill, over=3.0)
    hatch = _hatch(sheet, face.part, loops, bearing)
    if hatch:
        draw_line(sheet, hatch, colour=_darker(fill), width=0.7, within=loops, over=3.2)
    fill_area(sheet, loops, None, edge=INK, width=0.9, over=3.4)


def draw_swatch(sheet: Sheet, part: Placed, loop: NDArray[np.float64], bearing: float) -> None:
    """Draw a sample of a part's look in a loop (k, 2) [px]."""
    fill = fill_of(part)
    fill_area(sheet, [loop], fill, over=3.0)
    hatch = _hatch(sheet, part, [loop], bearing)
    if hatch:
        draw_line(sheet, hatch, colour=_darker(fill), width=0.7, within=[loop], over=3.2)
    fill_area(sheet, [loop], None, edge=INK, width=0.7, over=3.4)


def _darker(fill: str) -> str:
    return "#{:02x}{:02x}{:02x}".format(*(int(0.8 * int(fill[i : i + 2], 16)) for i in (1, 3, 5)))


def _hatch(
    sheet: Sheet, part: Placed, loops: Sequence[NDArray[np.float64]], bearing: float
) -> list[NDArray[np.float64]]:
    """Lines along long grain and plies, slanting ones on end grain; none on what has no grain."""
    if not part.material.is_figured or part.is_core:
        return []
    corners = np.concatenate(loops)
    (left, low), (right, high) = corners.min(axis=0), corners.max(axis=0)
    if part.material.is_plywood or abs(np.cos(np.radians(part.grain - bearing))) > _ALONG:
        step = 0.42 * sheet.em
        heights = np.arange(low + 0.6 * step, high, step)
        return [np.array([[left, y], [right, y]]) for y in heights]
    step, rise = 0.6 * sheet.em, high - low
    # Lines on one grid for the whole sheet, so that the pieces of a part match.
    begin = np.arange(np.floor((left - rise) / step) * step, right, step)
    return [np.array([[x, low], [x + rise, high]]) for x in begin]


def crossed_at(loops: Sequence[NDArray[np.float64]], height: float) -> NDArray[np.float64]:
    """Where the level line at ``height`` is inside closed loops: (k, 2) from and to, from the left."""
    found = []
    for loop in loops:
        low, high = loop, np.roll(loop, -1, axis=0)
        passed = (low[:, 1] > height) != (high[:, 1] > height)
        (x, y), (x_on, y_on) = low[passed].T, high[passed].T
        found.append(x + (height - y) / (y_on - y) * (x_on - x))
    return np.sort(np.concatenate(found)).reshape(-1, 2)


def leader_end(
    face: CutFace, faces: Sequence[CutFace], taken: Sequence[float] = (), apart: float = 0.0
) -> tuple[float, float]:
    """Find where a level leader from the left best meets a part: (across, height) of its left side [mm].

    At the height where the least of other parts is in the way; of those, one farther than ``apart``
    from the heights ``taken`` by other leaders, and then the one nearest the part's middle.
    """
    _, low, _, high = face.box
    heights = low + (high - low) * (np.arange(25) + 0.5) / 25.0
    best = (np.inf, True, np.inf, 0.0, 0.0)
    for height in heights.tolist():
        inside = crossed_at(face.loops, height)
        if not len(inside):
            continue
        left = float(inside[0, 0])
        in_the_way = 0.0
        for other in faces:
            if other is not face and other.box[1] < height < other.box[3] and other.box[0] < left:
                spans = crossed_at(other.loops, height)
                in_the_way += float(np.maximum(np.minimum(spans[:, 1], left) - spans[:, 0], 0.0).sum())
        near = any(abs(height - one) < apart for one in taken)
        best = min(best, (round(in_the_way, 3), near, abs(height - (low + high) / 2.0), left, height))
    return best[3], best[4]
