"""Sheets: whether what the lamp is cut from is sold that thick, and that large."""

from collections.abc import Iterator

import numpy as np
import shapely

from stackview.checks.alike import together
from stackview.checks.facets import AT_LARGE
from stackview.checks.held import over
from stackview.checks.subject import Check, Subject
from stackview.curves.arcs import polygon
from stackview.description.lamp import Layer
from stackview.description.outline import path_of
from stackview.description.sheets_table import SoldSheet, sheet_of
from stackview.findings import Bound, Finding, Level


def bought(subject: Subject) -> tuple[Finding, ...]:
    """Cautions of thicknesses that are not sold (notes where a caliper has been on them) and of parts too large."""
    layers: dict[str, list[Layer]] = {}
    for layer in subject.lamp.layers:
        layers.setdefault(layer.material.name, []).append(layer)
    return tuple(
        finding
        for some in layers.values()
        if (sheet := sheet_of(some[0].material)) is not None
        for finding in (*_thickness(subject, some, sheet), *_size(subject, some, sheet))
    )


def _thickness(subject: Subject, layers: list[Layer], sheet: SoldSheet) -> Iterator[Finding]:
    material, units = layers[0].material, subject.lamp.units
    if material.sold is None or sheet.sells(material.sold.mm):
        return
    names, beside = [layer.name for layer in layers], sheet.beside(material.sold.mm)
    near = " and ".join(units.show(one) for one in beside)
    yield Finding(
        check="sheets",
        level=Level.CAUTION if material.measured is None else Level.NOTE,
        where=together(names),
        what=(
            f"{material.name} of {units.show(material.sold.mm)} is no common thickness of {sheet.name}; "
            f"the next are {near}"
        ),
        short=f"{material.name} of {units.show(material.sold.mm)} is not sold",
        value=material.sold.mm,
        unit="mm",
        source=sheet.source,
        advice="Ask for it before the lamp is drawn on it, or take one of those.",
        parts=tuple(names),
        cause=f"thickness of {material.name}",
    )


def longest_and_widest(layer: Layer) -> tuple[float, float]:
    """Sides of the smallest rectangle that a layer, or one piece of it, is cut from [mm], the longer first."""
    box = shapely.minimum_rotated_rectangle(shapely.Polygon(polygon(path_of(layer.outline), AT_LARGE)))
    corners = shapely.get_coordinates(box)
    sides = np.hypot(*np.diff(corners, axis=0).T)[:2]
    return float(sides.max()), float(sides.min())


def _size(subject: Subject, layers: list[Layer], sheet: SoldSheet) -> Iterator[Finding]:
    units = subject.lamp.units
    long, wide = max(sheet.sheet), min(sheet.sheet)
    large = [
        (layer.name, size, most)
        for layer in layers
        for size, most in zip(longest_and_widest(layer), (long, wide), strict=True)
        if over(size, most)
    ]
    if not large:
        return
    names, (_, size, most) = list(dict.fromkeys(name for name, _, _ in large)), large[0]
    yield Finding(
        check="sheets",
        level=Level.CAUTION,
        where=together(names),
        what=(
            f"{units.show(size)} is larger than the largest sheet of {sheet.name}, {units.show(long)} by "
            f"{units.show(wide)}"
        ),
        short=f"{units.show(size)} is larger than any sheet sold",
        value=size,
        unit="mm",
        limit=most,
        bound=Bound.MOST,
        source=sheet.source,
        advice="Make it smaller, or join it from several pieces.",
        parts=tuple(names),
        cause=f"size of {sheet.name}",
    )


CHECK = Check(
    name="sheets",
    question="Is every sheet sold in its thickness, and large enough for its parts?",
    formula="thickness in the table; sides of the smallest rectangle about each part ≤ those of the largest sheet",
    source="common practice, from memory",
    limits=(),
    run=bought,
)
