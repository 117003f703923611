"""Reads one closed curve from an SVG or DXF drawing; the one file that knows their libraries.

Lines and circular arcs are exact; Bézier curves and elliptical arcs become arcs that lie within
:data:`CURVE_TOLERANCE` of them. An SVG's y, which points down the page, is turned round, so that the
top of the page is the lamp's back, seen from above.
"""

import io
import math
import re
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal
from xml.etree import ElementTree

import numpy as np

from stackview.curves.arcs import area, backwards, bounds, moved, without_points
from stackview.curves.biarcs import Vertex
from stackview.curves.crossing import crosses_itself
from stackview.description.curve_limits import (
    CURVE_TOLERANCE,
    LEAST_ACROSS,
    MOST_ACROSS,
    MOST_VERTICES,
    CurveError,
    check_near,
)
from stackview.description.dxf_entities import EntityError, points_of
from stackview.description.dxf_unread import Unread
from stackview.description.shapes import Curve
from stackview.description.svg_rules import (
    AS_DRAWN,
    Placing,
    SvgError,
    check_nested,
    check_path,
    check_sheet,
    is_unseen,
    placed_within,
    placing_of,
    tag_of,
)
from stackview.description.svg_run import closed_run
from stackview.description.units import MILLIMETRES, MM_PER_UNIT, UnitName, Units, shown

_SHORTEST = 1e-6
"""Pieces no longer than this are left out [mm]."""
MOST_CURVE_BYTES = 5_000_000
MOST_TOGETHER = 50_000_000
"""Characters of all drawings of one lamp."""
_MOST_KEPT = 16
"""Curves that a process keeps by the text they were read from."""
_MOST_SHAPES = 5_000
_SHAPES = {"path", "rect", "circle", "ellipse", "polygon", "polyline"}
_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
_POINTS = re.compile(r"[0-9eE+\-.,\s]*")
_UNSEEN = {"defs", "clipPath", "mask", "marker", "pattern", "symbol"}


class Drawings:
    """Texts of the drawings that one lamp's file names, each read once and kept for all its variants."""

    def __init__(self) -> None:
        self._texts: dict[Path, str] = {}
        self._characters = 0

    def text(self, file: Path) -> str:
        """The text of an SVG or DXF file.

        Raises
        ------
        CurveError
            it cannot be read, or the drawings of the lamp have become too large together
        """
        if file not in self._texts:
            text = _text(file)
            if self._characters + len(text) > MOST_TOGETHER:
                raise CurveError(
                    f"brings the lamp's drawings to more than {MOST_TOGETHER // 1_000_000} MB together: "
                    "draw them simpler, or fewer"
                )
            self._texts[file] = text
            self._characters += len(text)
        return self._texts[file]


def read_curve(
    file: Path,
    drawn_in: UnitName,
    *,
    pick: str | None = None,
    origin: Literal["middle", "file"] = "middle",
    shown_as: str = "",
    drawings: Drawings | None = None,
    units: Units = MILLIMETRES,
) -> Curve:
    """The first closed curve of a drawing, in millimetres, counter-clockwise.

    Parameters
    ----------
    file : SVG or DXF file, at most 5 MB and 20 000 vertices
    drawn_in : unit of the drawing (an SVG's user unit counts as one of it)
    pick : an SVG id or a DXF layer; without it the first closed curve is taken
    origin : "middle" puts the middle of the curve's extent at 0, 0; "file" keeps the drawing's
    drawings : holds what of the lamp's drawings has been read already
    shown_as, units : what messages call the file, and how they say lengths

    Raises
    ------
    CurveError
        unreadable, no closed curve, crossing itself, too large or too small
    """
    text = (drawings or Drawings()).text(file)
    return _curve_in(text, file.suffix, drawn_in, pick, origin, shown_as or file.name, units)


@lru_cache(maxsize=_MOST_KEPT)
def _curve_in(
    text: str,
    suffix: str,
    drawn_in: UnitName,
    pick: str | None,
    origin: Literal["middle", "file"],
    shown_as: str,
    units: Units,
) -> Curve:
    """The curve of a drawing's text; kept, for most variants of a lamp leave its drawing as it is."""
    kind = suffix.lower()
    if kind not in (".svg", ".dxf"):
        raise CurveError(f"is neither SVG nor DXF by its ending, {shown(suffix)}: save it as one of the two")
    scale = float(MM_PER_UNIT[drawn_in])
    flip = -1.0 if kind == ".svg" else 1.0
    vertices = _svg(text, scale, pick, units) if kind == ".svg" else _dxf(text, scale, pick, units)
    if not all(map(math.isfinite, (value for vertex in vertices for value in vertex))):
        raise CurveError("encloses nothing: draw a closed curve")
    path = without_points(np.array(vertices, dtype=np.float64).reshape(-1, 3), _SHORTEST)
    if len(path) > MOST_VERTICES:
        raise CurveError(f"has {len(path)} vertices, and at most {MOST_VERTICES} are read: draw it simpler")
    if len(path) < 2:
        raise CurveError("encloses nothing: draw a closed curve")
    left, low, right, high = bounds(path)
    size = max(right - left, high - low)
    if not LEAST_ACROSS <= size <= MOST_ACROSS:
        raise CurveError(
            f"is {units.show(size)} across, outside {units.least(LEAST_ACROSS)} to "
            f"{units.most(MOST_ACROSS)}: check its unit"
        )
    enclosed, met = area(path), crosses_itself(path)
    # a line there and back crosses itself too, and a figure of eight may enclose as much as nothing
    if abs(enclosed) < 1e-6 * size * size and (met is None or len(path) < 3):
        raise CurveError("encloses nothing: draw a closed curve")
    if met is not None:
        x, y = met[0] / scale, flip * met[1] / scale
        raise CurveError(
            f"crosses or touches itself near x {x:.2f}, y {y:.2f} of the drawing ({drawn_in}): mend it there"
        )
    path = path if enclosed > 0 else backwards(path)
    path = moved(path, -(left + right) / 2, -(low + high) / 2) if origin == "middle" else path
    rows = path.vertices.tolist()
    return Curve(tuple((x, y, bulge) for x, y, bulge in rows), shown_as)


def _text(file: Path) -> str:
    try:
        if file.exists() and not file.is_file():
            raise CurveError("is not an ordinary file: name an SVG or a DXF")
        if not file.is_file():
            raise CurveError("there is no such file: put it beside the lamp's file, or mend its name")
        with file.open("rb") as opened:
            data = opened.read(MOST_CURVE_BYTES + 1)
    except OSError as wrong:
        raise CurveError(f"cannot be read ({wrong.strerror})") from None
    if len(data) > MOST_CURVE_BYTES:
        raise CurveError(
            f"is larger than {MOST_CURVE_BYTES // 1_000_000} MB, the most that is read: draw it simpler"
        )
    if b"\0" in data:
        raise CurveError("is binary, not text: save it as plain SVG or as text (ASCII) DXF")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


# --- SVG -----------------------------------------------------------------------------------------


def _svg(text: str, scale: float, pick: str | None, units: Units) -> list[Vertex]:
    if "<!entity" in text.lower():
        raise CurveError("defines XML entities, which are not read: save it as plain SVG")
    try:
        root = ElementTree.fromstring(text)
    except (ElementTree.ParseError, ValueError) as wrong:
        raise CurveError(f"is not sound SVG ({shown(wrong, 100)}): save it again as plain SVG") from None
    import svgelements

    met, open_gap, copied = False, None, False
    for element, matrix in _drawn(root, pick):
        if tag_of(element) == "use":
            copied = True
            continue
        met = True
        if copied and pick is None:
            raise CurveError(
                "draws a copy (use) before its first curve, and copies are not read: "
                "unlink the copy, or name the curve with pick"
            )
        try:
            # y turned round and scaled before anything is measured, so tolerances are millimetres
            placing = svgelements.Matrix(*placed_within((scale, 0.0, 0.0, -scale, 0.0, 0.0), matrix))
            path = (svgelements.Path(_shape(element, svgelements)) * placing).reify()
            runs = [svgelements.Path(part) for part in path.as_subpaths()]
            for run in runs:
                gap, vertices = closed_run(run, svgelements, units)
                if gap <= CURVE_TOLERANCE and vertices:
                    return vertices
                if gap > CURVE_TOLERANCE and open_gap is None:
                    open_gap = gap
        except CurveError:
            raise
        except Exception as wrong:
            # the library raises whatever its parser stumbles on
            raise CurveError(f"holds a shape that cannot be read ({type(wrong).__name__})") from None
    raise _none_closed(met, pick, open_gap, units, "path, rect, circle, ellipse or polygon", "id")


def _none_closed(
    met: bool, pick: str | None, gap: float | None, units: Units, kinds: str, key: str
) -> CurveError:
    if pick is not None and not met:
        return CurveError(f"has no {kinds} with the {key} {shown(pick)}: mend pick")
    if gap is not None:
        return CurveError(f"is not closed: its ends are {units.small(gap)} apart; join them")
    return CurveError(f"holds no closed curve ({kinds})")


def _drawn(root: ElementTree.Element, pick: str | None) -> list[tuple[ElementTree.Element, Placing]]:
    """Every shape and copy that is drawn, or those of an id, in order, each with its placing in user units."""
    found = []
    stack = [(root, AS_DRAWN)]
    try:
        check_sheet(root)
        while stack:
            element, above = stack.pop()
            tag = tag_of(element)
            if tag in _UNSEEN or is_unseen(element):
                continue
            if tag == "svg" and element is not root:
                check_nested(element)
            matrix = placed_within(above, placing_of(element))
            if (tag in _SHAPES or (tag == "use" and pick is None)) and pick in (None, element.get("id")):
                found.append((element, matrix))
                if len(found) > _MOST_SHAPES:
                    raise CurveError(f"holds more than {_MOST_SHAPES} shapes: keep only the outline")
            stack += [(child, matrix) for child in reversed(element)]
    except SvgError as wrong:
        raise CurveError(str(wrong)) from None
    return found


def _shape(element: ElementTree.Element, svgelements: Any) -> Any:
    tag = tag_of(element)
    if tag in ("path", "polygon", "polyline"):
        written = element.get("d" if tag == "path" else "points", "")
        if len(_NUMBER.findall(written)) > 8 * MOST_VERTICES:
            raise CurveError(f"has more than {MOST_VERTICES} vertices: draw it simpler")
        if tag == "path":
            try:
                check_path(written)
            except SvgError as wrong:
                raise CurveError(str(wrong)) from None
        elif not _POINTS.fullmatch(written) or len(_NUMBER.findall(written)) % 2:
            raise CurveError(f"holds a {tag} that cannot be read, {shown(written)}")
        made = {"path": svgelements.Path, "polygon": svgelements.Polygon, "polyline": svgelements.Polyline}
        return made[tag](written)
    keys = ("x", "y", "width", "height", "rx", "ry", "cx", "cy", "r")
    sizes = {key: element.get(key, "") for key in keys if element.get(key) not in (None, "auto")}
    for key, value in sizes.items():
        if not _NUMBER.fullmatch(value.strip()):
            raise CurveError(f"holds a {tag} with {key} = {shown(value)}: draw it in the drawing's own units")
        if key in ("width", "height", "rx", "ry", "r") and float(value) < 0.0:
            raise CurveError(f"holds a {tag} with {key} = {shown(value)}: a size is not negative; mend it")
    rounds = {"rect": svgelements.Rect, "circle": svgelements.Circle, "ellipse": svgelements.Ellipse}
    return rounds[tag](**{key: float(value) for key, value in sizes.items()})


# --- DXF -----------------------------------------------------------------------------------------


def _dxf(text: str, scale: float, pick: str | None, units: Units) -> list[Vertex]:
    import ezdxf

    try:
        entities = list(ezdxf.read(io.StringIO(text)).modelspace())
    except Exception as wrong:
        # the library raises whatever its parser stumbles on
        raise CurveError(
            f"is not sound DXF ({shown(wrong, 100)}): save it again, as R2000 or later or as R12"
        ) from None
    met, open_gap, unread = False, None, Unread()
    for entity in entities:
        if pick is not None and entity.dxf.layer.lower() != pick.lower():
            continue
        try:
            points = points_of(entity)
            if points is None:
                unread.add(entity)
                continue
        except EntityError as wrong:
            raise CurveError(str(wrong)) from None
        met = True
        drawn, closed = points
        vertices = [(x * scale, y * scale, bulge) for x, y, bulge in drawn]
        check_near((complex(x, y) for x, y, _ in vertices), units)
        if not vertices:
            continue
        gap = math.dist(vertices[0][:2], vertices[-1][:2])
        if closed or (gap <= CURVE_TOLERANCE and len(vertices) > 2):
            if unread.found:
                raise CurveError(
                    f"draws {unread.found} before its first closed polyline or circle, and these are not read: "
                    "join them to a closed polyline, or draw the outline alone on a layer and name it with pick"
                )
            return vertices if closed else vertices[:-1]
        open_gap = gap if open_gap is None else open_gap
    raise _none_closed(met, pick, open_gap, units, "polyline or circle", "layer")
