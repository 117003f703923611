"""What a DXF draws that may be the outline and is not read, so that no hole is taken for it."""

from typing import Any

from stackview.description.dxf_entities import EntityError
from stackview.description.units import shown

_WORDS = {
    "LINE": "lines and arcs that close",
    "ARC": "lines and arcs that close",
    "ELLIPSE": "an ellipse",
    "SPLINE": "a spline that closes",
    "INSERT": "a block",
}
_PLACES = 3
"""Ends that agree to so many places of the drawing's unit meet."""

_End = tuple[float, float]


class Unread:
    """Entities that are passed over, until some of them close a curve; ``found`` then says which."""

    def __init__(self) -> None:
        self.found = ""
        self._meets: dict[_End, _End] = {}

    def add(self, entity: Any) -> None:
        """Pass over an entity of the drawing; raises EntityError for one whose ends are not known."""
        kind = entity.dxftype()
        if kind not in _WORDS or self.found:
            return
        try:
            ends = _ends(entity)
        except ArithmeticError:
            # Of a minor axis too short for its length to be a number: what is inside is not known.
            ends = None
        except (AttributeError, IndexError, TypeError, ValueError):
            raise EntityError(
                f"holds a {shown(kind.lower())} without all of its numbers: draw it again, or save it again"
            ) from None
        if ends is None or self._closes(*ends):
            self.found = _WORDS[kind]

    def _closes(self, start: _End, end: _End) -> bool:
        """Whether a way from end to end was there already; joins the two."""
        first, last = self._group(start), self._group(end)
        self._meets[first] = last
        return first == last

    def _group(self, end: _End) -> _End:
        while (further := self._meets.get(end, end)) != end:
            self._meets[end] = self._meets.get(further, further)
            end = further
        return end


def _ends(entity: Any) -> tuple[_End, _End] | None:
    """Where an entity begins and ends; None for one that is closed, or whose inside is not known."""
    kind = entity.dxftype()
    if kind == "INSERT":
        return None
    if kind == "LINE":
        start, end = entity.dxf.start, entity.dxf.end
    elif kind == "SPLINE":
        points = entity.control_points if len(entity.control_points) else entity.fit_points
        if entity.closed or not len(points):
            return None
        start, end = points[0], points[-1]
    else:
        if kind == "ELLIPSE" and not entity.dxf.extrusion.cross(entity.dxf.major_axis).magnitude:
            return None  # without a long axis, or upright to the drawing
        start, end = entity.start_point, entity.end_point
    return (round(start[0], _PLACES), round(start[1], _PLACES)), (
        round(end[0], _PLACES),
        round(end[1], _PLACES),
    )
