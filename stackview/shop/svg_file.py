"""A part's curves as an SVG file in millimetres, of its true size (SVG 1.1, W3C)."""

import math
from collections.abc import Sequence
from xml.sax.saxutils import escape, quoteattr

from stackview.arrays import Floats
from stackview.curves.arcs import Path, bounds, pieces_of
from stackview.description.lamp import Bore, Chamfer, Groove, Opening, Recess
from stackview.shop.drawn_cuts import DrawnCut, circle_of
from stackview.shop.drawn_names import INDEX_LAYER, FileUnit, drawn_name
from stackview.shop.sheet_lines import (
    GRAIN_LAYER,
    MARGIN_LAYER,
    NAMES_LAYER,
    SHEET_LAYER,
    ZONE_LAYER,
    SheetLines,
)

SVG_MARK = '<?xml version="1.0" encoding="UTF-8"?>\n<!-- stackview drawing -->\n'
"""How an SVG of ours begins."""
_STRAIGHT = 1e-9
"""An arc that leaves its chord by less than this is written as a line: readers fail on huge radii [mm]."""
_MARGIN = 2.0
"""Paper round the part, so that no line is cropped [mm]."""
_INK = {Opening: "#1f5fa8", Recess: "#b3261e", Groove: "#8a3ea8", Chamfer: "#2e7d32", Bore: "#00838f"}
_SHEET_INK = {
    SHEET_LAYER: ("#000000", ""),
    MARGIN_LAYER: ("#808080", ' stroke-dasharray="4 2"'),
    ZONE_LAYER: ("#b35900", ""),
}
_NAME_INK = "#555555"
_OUTLINE_INK, _INDEX_INK, _LINE = "#000000", "#808080", "0.2"


def svg_text(
    title: str,
    cuts: Sequence[DrawnCut],
    marks: Sequence[Floats],
    unit: FileUnit,
    sheet: SheetLines | None = None,
) -> str:
    """Write cuts, and index marks (2, 2) as lines, seen from above; a group for each kind of cut.

    Its user unit is the millimetre whatever the lamp's; only depths in groups' names are in ``unit``.
    """
    boxes = [bounds(path) for cut in cuts for path in cut.paths]
    boxes += [bounds(path) for path in sheet.curves[SHEET_LAYER]] if sheet is not None else []
    left, low = (min(box[k] for box in boxes) - _MARGIN for k in (0, 1))
    right, high = (max(box[k] for box in boxes) + _MARGIN for k in (2, 3))
    width, height = right - left, high - low
    lines = [
        f'{SVG_MARK}<svg xmlns="http://www.w3.org/2000/svg" width="{width!r}mm" height="{height!r}mm" '
        f'viewBox="{left!r} {-high!r} {width!r} {height!r}">',
        f"  <title>{escape(_plain(title))}</title>",
    ]
    groups: dict[str, list[str]] = {}
    inks = {}
    for cut in cuts:
        name = drawn_name(cut, unit)
        inks[name] = _INK.get(type(cut.of), _OUTLINE_INK)
        groups.setdefault(name, []).extend(_element(path) for path in cut.paths)
    if marks:
        inks[INDEX_LAYER] = _INDEX_INK
        groups[INDEX_LAYER] = [
            f'<line x1="{a[0]!r}" y1="{-a[1]!r}" x2="{b[0]!r}" y2="{-b[1]!r}"/>'
            for a, b in (mark.tolist() for mark in marks)
        ]
    for name, elements in groups.items():
        lines.append(f'  <g id={quoteattr(name)} fill="none" stroke="{inks[name]}" stroke-width="{_LINE}">')
        lines += [f"    {element}" for element in elements]
        lines.append("  </g>")
    if sheet is not None:
        lines += _sheet_groups(sheet)
    return "\n".join([*lines, "</svg>", ""])


def _sheet_groups(sheet: SheetLines) -> list[str]:
    """What of a sheet is drawn but never cut: its edge, margin, zones, grain, and names of parts."""
    lines = []
    for name, paths in sheet.curves.items():
        ink, dashes = _SHEET_INK[name]
        lines.append(f'  <g id={quoteattr(name)} fill="none" stroke="{ink}" stroke-width="{_LINE}"{dashes}>')
        lines += [*(f"    {_element(path)}" for path in paths), "  </g>"]
    if sheet.grain:
        lines.append(f'  <g id="{GRAIN_LAYER}" fill="none" stroke="{_INDEX_INK}" stroke-width="{_LINE}">')
        lines += [
            f'    <line x1="{a[0]!r}" y1="{-a[1]!r}" x2="{b[0]!r}" y2="{-b[1]!r}"/>'
            for a, b in (mark.tolist() for mark in sheet.grain)
        ]
        lines.append("  </g>")
    lines.append(
        f'  <g id="{NAMES_LAYER}" fill="{_NAME_INK}" font-family="DejaVu Sans, sans-serif" text-anchor="middle">'
    )
    # an em is taller than its capitals, which are what is asked for
    lines += [
        f'    <text x="{x!r}" y="{-(y - 0.5 * tall)!r}" font-size="{tall / 0.729!r}">{escape(_plain(words))}</text>'
        for words, (x, y), tall in sheet.names
    ]
    return [*lines, "  </g>"]


def _plain(words: str) -> str:
    """Words without the signs that XML 1.0 does not allow."""
    return "".join(sign if sign.isprintable() else " " for sign in words)


def _element(path: Path) -> str:
    round_ = circle_of(path)
    if round_ is not None:
        (x, y), radius = round_[0].tolist(), round_[1]
        return f'<circle cx="{x!r}" cy="{-y!r}" r="{radius!r}"/>'
    p = pieces_of(path)
    x, y = path.vertices[0, :2].tolist()
    steps = [f"M {x!r},{-y!r}"]
    rows = zip(p.end.tolist(), p.radius.tolist(), p.sweep.tolist(), p.arc.tolist(), strict=True)
    for (x, y), radius, sweep, is_arc in rows:
        if not is_arc or radius * (1.0 - math.cos(0.5 * sweep)) < _STRAIGHT:
            steps.append(f"L {x!r},{-y!r}")
            continue
        # y points down the page, so that counter-clockwise seen from above is its negative sense
        large, positive = int(abs(sweep) > math.pi), int(sweep < 0.0)
        steps.append(f"A {radius!r},{radius!r} 0 {large} {positive} {x!r},{-y!r}")
    return f'<path d="{" ".join(steps)} Z"/>'
