"""Sheets at hand as written → as values, each with what is wrong with it."""

from dataclasses import replace

from stackview.curves.arcs import bounds, polygon
from stackview.description import defaults
from stackview.description.context import Context, mm_or
from stackview.description.faults import place
from stackview.description.material import Material
from stackview.description.outline import Outline
from stackview.description.resolve_outline import pair, resolve_outline
from stackview.description.shapes import Rectangle
from stackview.description.sheet_at_hand import SheetAtHand, SheetZone
from stackview.description.units import shown
from stackview.description.wording import label
from stackview.description.written_fields import LEAST_SIZE
from stackview.description.written_sheet import WrittenSheet
from stackview.errors import SolidError

_FINE = 0.05
"""How near facets come to the curve of a sheet when it is asked what lies on it [mm]."""
_HAIR = 0.001
"""How well the widest place of a sheet is found [mm]."""


def resolve_sheets(context: Context) -> tuple[SheetAtHand, ...]:
    """Every sheet at hand, in the order of the file."""
    found: list[SheetAtHand] = []
    for index, written in enumerate(context.written.sheet):
        where = label("sheet", index, {"name": written.name})
        name = written.name or f"sheet {index + 1}"
        if name in (sheet.name for sheet in found):
            context.faults.add(
                place(where, "name"),
                f"another sheet is called {shown(name)}: give each its own name, and of equal ones the count",
            )
        sheet = _sheet(context, written, name, where)
        if sheet is not None:
            found.append(sheet)
    return tuple(found)


def _sheet(context: Context, written: WrittenSheet, name: str, where: str) -> SheetAtHand | None:
    material = context.material(written.material, place(where, "material"))
    outline = _outline(context, written, where)
    thickness = _thickness(context, written, material, where)
    if material is None or outline is None or thickness is None:
        return None
    sheet = SheetAtHand(
        name,
        material,
        outline,
        mm_or(written.margin, defaults.SHEET_MARGIN.number),
        defaults.SHEET_GRAIN.number if written.grain is None else written.grain,
        _zones(context, written, where),
        written.count or int(defaults.SHEET_COUNT.number),
        written.price,
        None if written.thickness is None else float(written.thickness.mm),
    )
    _check(context, sheet, where)
    return sheet


def _outline(context: Context, written: WrittenSheet, where: str) -> Outline | None:
    if (written.size is None) == (written.outline is None):
        both = written.size is not None
        what = "size and outline are both given" if both else "neither size nor outline is given"
        (context.faults.add if both else context.faults.absent)(
            where, f"{what}: give one of them, e.g. size = [600, 400]"
        )
        return None
    if written.outline is not None:
        return resolve_outline(context, written.outline, place(where, "outline"))
    return Outline(Rectangle(*pair(written.size)))


def _thickness(
    context: Context, written: WrittenSheet, material: Material | None, where: str
) -> float | None:
    if written.thickness is not None:
        return float(written.thickness.mm)
    if material is None:
        return None
    if material.thickness is None:
        context.faults.absent(
            place(where, "thickness"),
            f"material {shown(material.name)} has none: say how thick the sheet is, e.g. thickness = 18",
        )
    return material.thickness


def _zones(context: Context, written: WrittenSheet, where: str) -> tuple[SheetZone, ...]:
    found = []
    for number, zone in enumerate(written.zone, 1):
        named = f"zone {shown(zone.name)}" if zone.name else f"zone {number}"
        outline = resolve_outline(context, zone.outline, place(where, named, "outline"))
        if outline is not None:
            x, y = pair(zone.at)
            found.append(SheetZone(zone.name or "", _moved(outline, x, y)))
    return tuple(found)


def _moved(outline: Outline, x: float, y: float) -> Outline:
    return replace(outline, at=(outline.at[0] + x, outline.at[1] + y))


def _check(context: Context, sheet: SheetAtHand, where: str) -> None:
    """Faults for a margin that leaves nothing of the sheet, and for zones that lie beside it."""
    import shapely

    try:
        face = shapely.Polygon(polygon(sheet.path, _FINE))
        room = shapely.maximum_inscribed_circle(face, tolerance=_HAIR).length
        if sheet.margin >= room:
            most = room - LEAST_SIZE / 2
            takes = f"at most {context.units.most(most)}" if most > 0 else "it is too narrow for any"
            context.faults.add(
                place(where, "margin"),
                f"{context.say(sheet.margin)} along every edge leaves nothing of a sheet "
                f"{context.units.span(*sheet.size)}: {takes}",
            )
        for number, zone in enumerate(sheet.zones, 1):
            if face.disjoint(shapely.Polygon(polygon(zone.path, _FINE))):
                x0, y0, x1, y1 = bounds(zone.path)
                middle = context.units.at(0.5 * (x0 + x1), 0.5 * (y0 + y1))
                named = f"zone {shown(zone.name)}" if zone.name else f"zone {number}"
                context.faults.add(
                    place(where, named, "at"),
                    f"its middle stands at {middle} and it does not lie on the sheet, "
                    f"{context.units.span(*sheet.size)}: its place counts from the sheet's left and lower edge",
                )
    except SolidError as error:
        context.faults.add(where, f"{error.field}: {error.said(context.units)}")
