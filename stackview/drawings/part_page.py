"""One printed page for one part: plan, section, enlarged edge, table of cuts, title block."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from stackview.curves.arcs import bounds
from stackview.description.units import Units
from stackview.drawings.cut_words import cut_words
from stackview.drawings.label_room import LabelRoom
from stackview.drawings.page_frame import ON_NEXT_PAGE, PAGE_BORDER, continued_pages, framed_page
from stackview.drawings.paper import PAPERS, Paper, PaperBox, PaperSize
from stackview.drawings.part_edge import EdgeView, best_edge, draw_edge
from stackview.drawings.part_plan import PlanView, draw_plan, room_beside
from stackview.drawings.part_section import (
    STANDARD_SCALES,
    PartSection,
    draw_section,
    section_of_part,
)
from stackview.drawings.title_block import (
    LINE,
    PageNote,
    caption,
    draw_bar,
    draw_table,
    scale_words,
    table_lines,
    title_height,
    title_rows,
)
from stackview.drawings.underside_page import draw_underside_page
from stackview.errors import StackviewError
from stackview.shop.part_sheet import IndexMark, PartSheet

_ABOVE, _CAPTION, _BAR = 11.0, 6.5, 6.5
_RIGHT = 4.0
_SECTION_SIDES = 34.0
_EDGE_WIDTH, _EDGE_TALL = 38.0, 26.0
_EDGE_ROOM, _EDGE_LEFT, _EDGE_RIGHT = 90.0, 20.0, 30.0
_LARGEST_ENLARGED = 90.0
"""A part is drawn larger than it is only up to this size on the paper [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class PageLayout:
    """What of a page goes where, at one scale."""

    size: PaperSize
    scale: float
    section: PartSection | None
    edge: EdgeView | None
    lines: list[tuple[str, str]]
    left: float
    below: float
    title: float

    @property
    def mark(self) -> float | None:
        """Bearing of the enlarged edge that has to be marked on the plan [°]."""
        return None if self.edge is None or self.edge.is_of_section else self.edge.bearing

    @property
    def foot(self) -> float:
        """Height of table and enlarged edge beside each other [mm]."""
        table = LINE * len(self.lines) + 2.0
        return max(table, self.edge.height if self.edge else 0.0)

    def section_height(self) -> float:
        """Height of the section and its name [mm]."""
        return 0.0 if self.section is None else self.scale * self.section.box[3] + 4.0 + _CAPTION


def draw_part_page(
    sheet: PartSheet, note: PageNote, *, paper: str, cutter: float, chord_error: float
) -> tuple[list[Paper], float]:
    """Draw a part's page, and say its scale: the largest standard one that fits; small parts enlarged.

    What is cut into its underside is seen from below on a page of its own. Where the table of cuts is
    too long for the page it follows on pages of its own, and so do labels that find no room at any
    scale. ``paper`` is a name of PAPERS; lengths are said in ``note.units``. Raises StackviewError for
    a part that is too large at the smallest scale.
    """
    rows = [*cut_words(sheet.cuts, sheet.layer, cutter, note.units), *mark_words(sheet, note.units)]
    section = section_of_part(sheet, chord_error)
    edge = best_edge(sheet, section, chord_error, _EDGE_WIDTH, _EDGE_TALL)
    least: tuple[list[str], Paper, PageNote] | None = None
    for on_page, later in ((rows, []), ([ON_NEXT_PAGE], rows)):
        for scale in _scales(sheet):
            scaled = replace(note, scale=scale)
            layout = _laid_out(sheet, scaled, PAPERS[paper], on_page, section, edge)
            if layout is None:
                continue
            page, missing, at_edge = _drawn(sheet, scaled, layout)
            if not missing:
                # the edge has a scale of its own: a smaller one for the plan would not help it
                told = [*later, *_no_room(at_edge)]
                return [page, *_further(sheet, scaled, paper, told)], scale
            if least is None or len(missing) < len(least[0]):
                least = [*missing, *at_edge], page, scaled
    if least is None:
        raise StackviewError(f"{sheet.title}: it is larger than {paper} paper holds at {_SMALLEST_SCALE}")
    missing, page, scaled = least
    told = [*rows, *_no_room(missing)]
    return [page, *_further(sheet, scaled, paper, told)], scaled.scale


def _further(sheet: PartSheet, note: PageNote, paper: str, rows: Sequence[str]) -> Iterator[Paper]:
    """The pages after the first: a long table's, and the underside's."""
    yield from continued_pages(rows, title_rows(sheet, note), PAPERS[paper])
    if sheet.is_cut_from_below:
        yield draw_underside_page(sheet, note, paper=paper)


def _no_room(labels: Sequence[str]) -> list[str]:
    return [f"found no room beside the views: {', '.join(labels)}"] if labels else []


_SMALLEST_SCALE = scale_words(STANDARD_SCALES[-1])


def _scales(sheet: PartSheet) -> Iterable[float]:
    x0, y0, x1, y1 = bounds(sheet.cuts[0].paths[0])
    size = max(x1 - x0, y1 - y0)
    larger = [scale for scale in STANDARD_SCALES if scale > 1.0 and scale * size <= _LARGEST_ENLARGED]
    return (*larger, 1.0, *(scale for scale in STANDARD_SCALES if scale < 1.0))


def mark_words(sheet: PartSheet, units: Units) -> list[str]:
    """Rows of the table about index marks, and about turned parts that have none; none where nothing is to be told."""
    aside = [f"no index mark on {', '.join(sheet.aside)}: nothing of it lies towards the front"] * bool(
        sheet.aside
    )
    if not sheet.marks:
        return aside
    told = "; ".join(
        f"{mark.letter}: {', '.join(mark.names)}, {_mark_place(mark, units)}" for mark in sheet.marks
    )
    return [f"index marks on the edge, all to stand in one line at the lamp's front: {told}", *aside]


def _mark_place(mark: IndexMark, units: Units) -> str:
    """On a front edge the distance from the middle says it; elsewhere both."""
    x, y = mark.line[0].tolist()
    if y > -abs(x):
        return f"at {units.at(x, y)}"
    if abs(x) < 1e-6:
        return "in the middle"
    return f"{units.plain(abs(x))} {'left' if x < 0.0 else 'right'}"


def _laid_out(
    sheet: PartSheet,
    note: PageNote,
    size: PaperSize,
    rows: Sequence[str],
    section: PartSection | None,
    edge: EdgeView | None,
) -> PageLayout | None:
    """Lay the page out, or None where the part does not fit at this scale."""
    width, height = size.width - 2.0 * PAGE_BORDER, size.height - 2.0 * PAGE_BORDER
    x0, y0, x1, y1 = bounds(sheet.cuts[0].paths[0])
    lines = table_lines(rows, width - 4.0 - (_EDGE_ROOM if edge else 0.0))
    left, below = room_beside(sheet, note.units)
    title = title_height(title_rows(sheet, note), width)
    layout = PageLayout(size, note.scale, section, edge, lines, left, below, title)
    plan = _ABOVE + note.scale * (y1 - y0) + below + _CAPTION
    needed = plan + layout.section_height() + layout.foot + _BAR + title
    wide = left + note.scale * (x1 - x0) + _RIGHT
    deep = note.scale * (y1 - y0) + _SECTION_SIDES if section else 0.0
    return layout if needed <= height and max(wide, deep) <= width else None


def _drawn(sheet: PartSheet, note: PageNote, layout: PageLayout) -> tuple[Paper, list[str], list[str]]:
    """The page, and the labels for which plan and section have no room, and the edge has none."""
    page = framed_page(title_rows(sheet, note), layout.size)
    width, height = layout.size.width - 2.0 * PAGE_BORDER, layout.size.height - 2.0 * PAGE_BORDER
    frame: PaperBox = (PAGE_BORDER, PAGE_BORDER, PAGE_BORDER + width, PAGE_BORDER + height)
    y = frame[1] + layout.title
    draw_bar(page, note.units, (frame[0] + 4.0, y + 0.5 * _BAR))
    y += _BAR
    draw_table(page, layout.lines, (frame[0] + 2.0, y + layout.foot))
    missing: list[str] = []
    at_edge: list[str] = []
    if layout.edge is not None:
        at_edge += _draw_edge_at(
            page, layout.edge, note.units, (frame[2] - _EDGE_ROOM, y, frame[2], y + layout.foot)
        )
    y += layout.foot
    spare = height - (y - frame[1]) - layout.section_height()
    if layout.section is not None:
        y, more = _draw_section_at(
            page, layout, note, (frame[0], y, frame[2], frame[3]), _spare(layout, sheet, spare)
        )
        missing += more
    missing += _draw_plan_at(page, sheet, note, layout, (frame[0], y, frame[2], frame[3]))
    return page, missing, at_edge


def _spare(layout: PageLayout, sheet: PartSheet, height: float) -> float:
    """Height that is left over beside all that is drawn [mm]."""
    _, y0, _, y1 = bounds(sheet.cuts[0].paths[0])
    return height - (_ABOVE + layout.scale * (y1 - y0) + layout.below + _CAPTION)


def _draw_edge_at(page: Paper, edge: EdgeView, units: Units, room: PaperBox) -> list[str]:
    wide = edge.scale * edge.depth
    x = room[0] + _EDGE_LEFT + 0.5 * (_EDGE_ROOM - _EDGE_LEFT - _EDGE_RIGHT - wide)
    y = room[3] - edge.above - edge.scale * edge.section.box[3]
    caption(page, (0.5 * (room[0] + room[2]), room[1] + 2.0), f"{edge.words}, {scale_words(edge.scale)}")
    return draw_edge(page, edge, (x, y), units, (room[0], room[1] + 6.0, room[2], room[3]))


def _draw_section_at(
    page: Paper, layout: PageLayout, note: PageNote, room: PaperBox, spare: float
) -> tuple[float, list[str]]:
    section = layout.section
    assert section is not None
    front, low, back, high = section.box
    y = room[1] + 0.25 * max(spare, 0.0)
    middle = 0.5 * (room[0] + room[2])
    room_left = LabelRoom((room[0], y, room[2], room[3]))
    room_left.take(caption(page, (middle, y + 2.0), "A–A: front at the left, top up"))
    at = (middle - 0.5 * note.scale * (front + back), y + _CAPTION - note.scale * low)
    top = at[1] + note.scale * high
    missing = draw_section(page, section, at, note.scale, note.units, room_left)
    return top + 4.0 + 0.25 * max(spare, 0.0), missing


def _draw_plan_at(
    page: Paper, sheet: PartSheet, note: PageNote, layout: PageLayout, room: PaperBox
) -> list[str]:
    x0, y0, x1, y1 = bounds(sheet.cuts[0].paths[0])
    scale = note.scale
    spare = room[3] - room[1] - (_ABOVE + scale * (y1 - y0) + layout.below + _CAPTION)
    foot = room[1] + 0.5 * max(spare, 0.0)
    wide = scale * (x1 - x0)
    # in the middle of the page, but with room for its dimensions
    middle = max(0.5 * (room[0] + room[2]), room[0] + layout.left + 0.5 * wide)
    middle = min(middle, room[2] - _RIGHT - 0.5 * wide)
    view = PlanView(
        (middle - scale * 0.5 * (x0 + x1), foot + _CAPTION + layout.below - scale * y0),
        scale,
        edge=layout.mark,
    )
    named = caption(page, (middle, foot + 2.0), "seen from above, front below")
    region = (room[0] + 1.0, named[3] + 0.5, room[2] - 1.0, room[3] - 1.0)
    return draw_plan(page, sheet, view, note.units, region)
