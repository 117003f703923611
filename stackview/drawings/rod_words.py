"""What a drawing says of a rod, tube or bar: one row for each thing that is cut, placed or stuck on it."""

from stackview.curves.arcs import bounds
from stackview.description.lamp import Core, Feet, Post
from stackview.description.light_source import Helix, Runs
from stackview.description.outline import Around
from stackview.description.units import Units
from stackview.drawings.cut_words import outline_words
from stackview.drawings.title_block import PageNote, TitleRow, part_row, scale_cell, unit_cell
from stackview.shop.core_side import LaidStrip
from stackview.shop.drawn_cuts import circle_of
from stackview.shop.rod_sheet import RodSheet
from stackview.shop.stock import material_words


def rod_words(sheet: RodSheet, units: Units) -> list[str]:
    """Rows about cross-section, length, place in the lamp, and strips; lengths said by ``units``."""
    rod = sheet.rod
    rows = [
        f"cross-section: {outline_words(sheet.outline, sheet.outer, units)}{_wall(sheet, units)}",
        f"{units.show(rod.long)} high"
        if rod.part.is_foot
        else f"cut to {units.show(rod.long)}, both ends square",
    ]
    match sheet.of:
        case Core() as core:
            host = (
                f"stands on {core.stands_on}"
                if core.stands_on is not None
                else f"hangs from {core.hangs_from}"
            )
            ((_, low, high),) = sheet.ends
            rows.append(
                f"{host}: its lower end {units.show(low)}, its upper end {units.show(high)} above the lamp's lowest point"
            )
        case Feet() as feet:
            rows.append(f"under the lowest layer{_around(feet.around, units)}")
        case posts:
            rows += [_post_words(post, units) for post in posts]
    return [*rows, *(_strip_words(strip, units) for strip in sheet.strips)]


def _wall(sheet: RodSheet, units: Units) -> str:
    wall = sheet.rod.stock.wall
    if wall is None or sheet.inner is None:
        return ""
    round_ = circle_of(sheet.inner)
    inside = "" if round_ is None else f", inside ⌀ {units.show(2.0 * round_[1])}"
    return f"; wall {units.show(wall)}{inside}"


def _post_words(post: Post, units: Units) -> str:
    low, high = post.inset
    short = [f"{units.show(gap)} above the first" for gap in (low,) if gap] + [
        f"{units.show(gap)} below the second" for gap in (high,) if gap
    ]
    ends = f", ending {' and '.join(short)}" if short else ""
    x, y = post.outline.at
    place = _around(post.around, units) if post.around is not None else ""
    if post.around is None and max(abs(x), abs(y)) > 1e-6:
        place = f", its middle at {units.at(x, y)}"
    return f"{post.name}: from the underside of {post.start} to the top of {post.end}{ends}{place}"


def _around(around: Around, units: Units) -> str:
    bearings = ", ".join(
        f"{(around.first + 360.0 * k / around.count) % 360.0:.6g}°" for k in range(around.count)
    )
    return f", {around.count} on ⌀ {units.show(around.circle)} at bearings {bearings}"


def _strip_words(strip: LaidStrip, units: Units) -> str:
    light, cuts = strip.lit.light, strip.lit.cuts
    layout = light.on_core
    segments = f"{cuts[0].segments} segment{'' if cuts[0].segments == 1 else 's'}"
    begins = f"its lowest corner {units.show(strip.begins[0])} above the lower end"
    if isinstance(layout, Helix):
        way = "right" if layout.hand == "right" else "left"
        return (
            f'strip "{light.name}", {units.show(cuts[0].length)} ({segments}): wound climbing to the {way}, '
            f"{units.show(layout.pitch)} a turn; it begins at bearing {layout.first % 360.0:.6g}°, {begins}, "
            f"and ends at bearing {strip.last_bearing:.1f}°, its highest corner {units.show(strip.ends[1])} above it"
        )
    assert isinstance(layout, Runs)
    bearings = ", ".join(f"{bearing % 360.0:.6g}°" for bearing in layout.bearings())
    return (
        f'strip "{light.name}", {len(cuts)} of {units.show(cuts[0].length)} ({segments}): upright, from '
        f"{units.show(strip.begins[0])} to {units.show(strip.ends[1])} above the lower end, the middle of each at "
        f"bearing {bearings}"
    )


def rod_title(sheet: RodSheet, note: PageNote) -> list[TitleRow]:
    """The rows of a rod's title block."""
    rod, units = sheet.rod, note.units
    material = rod.part.material
    kind = (
        ""
        if rod.part.is_foot
        else " tube"
        if rod.stock.wall is not None
        else " rod"
        if circle_of(sheet.outer)
        else " bar"
    )
    told = f"{material_words(material)}{kind}"
    x0, y0, x1, y1 = bounds(sheet.outer)
    across = units.show(x1 - x0) if circle_of(sheet.outer) else units.span(x1 - x0, y1 - y0)
    finish = {"paint": "painted", "mirror": "mirrored", None: "the file says nothing of it"}[
        material.optics.coat
    ]
    return [
        part_row(rod.title, note),
        [
            ("pieces for one lamp", str(rod.count), 0.5),
            ("material", told if told == material.name else f"{material.name}: {told}", 0.5),
        ],
        [
            ("height" if rod.part.is_foot else "length", units.show(rod.long), 0.18),
            ("across", across, 0.32),
            ("grain", "along its length" if material.is_figured else "none", 0.32),
            scale_cell(note),
        ],
        [
            ("finish", finish, 0.5),
            unit_cell(units),
            (
                "files beside this one",
                "none: " + ("it is bought" if rod.part.is_foot else "it is cut to length"),
                0.32,
            ),
        ],
    ]
