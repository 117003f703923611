"""What is drawn of a sheet: every cut where it lies, names that cover nothing, and the way of the grain."""

import numpy as np
import pytest
import shapely

from stackview.curves.arcs import area, polygon
from stackview.description.lamp import Opening
from stackview.description.outline import Outline
from stackview.sheets.drawn import cuts_of_sheet, grain_arrow, letters_tall, name_places, sheet_lines
from stackview.sheets.layout import FilledSheet
from stackview.sheets.plan import sheet_plan
from stackview.shop.sheet_lines import MARGIN_LAYER, SHEET_LAYER, ZONE_LAYER
from tests.sheets.flat_lamps import BOARD, KNOT, moth


@pytest.fixture(scope="module")
def filled() -> FilledSheet:
    plan = sheet_plan(moth(KNOT, BOARD), 2)
    return next(sheet for sheet in plan.sheets if sheet.sheet.name == "offcut")


def test_outlines_come_last_and_areas_add_up(filled: FilledSheet) -> None:
    cuts = cuts_of_sheet(filled)
    outlines = [isinstance(cut.of, Outline) for cut in cuts]
    assert outlines == sorted(outlines)
    whole = sum(area(path) for cut in cuts if isinstance(cut.of, Outline) for path in cut.paths)
    holes = sum(area(path) for cut in cuts if isinstance(cut.of, Opening) for path in cut.paths)
    assert whole - holes == pytest.approx(sum(one.part.net_area for one in filled.parts), rel=1e-9)


def test_the_sheets_own_lines(filled: FilledSheet) -> None:
    lines = sheet_lines(filled)
    assert area(lines.curves[SHEET_LAYER][0]) == pytest.approx(300.0 * 200.0)
    # a margin of 8 all round
    assert area(lines.curves[MARGIN_LAYER][0]) == pytest.approx(284.0 * 184.0)
    assert area(lines.curves[ZONE_LAYER][0]) == pytest.approx(np.pi * 225.0)
    assert {words for words, _, _ in lines.names} >= {str(one.part.number) for one in filled.parts}


def test_a_name_stands_clear_of_every_cut_of_its_part(filled: FilledSheet) -> None:
    lines = [shapely.LinearRing(polygon(path, 0.1)) for cut in cuts_of_sheet(filled) for path in cut.paths]
    for place in name_places(filled):
        middle = shapely.Point(place.x, place.y)
        assert min(line.distance(middle) for line in lines) >= place.radius
        tall = letters_tall(place.words, place.radius)
        # half of the words' width and height stand within the circle
        wide = 0.5 * 0.75 * tall * max(map(len, place.words))
        assert np.hypot(wide, 0.8 * tall * len(place.words)) <= place.radius + 1e-9


def test_the_arrow_lies_along_the_grain_and_on_no_part(filled: FilledSheet) -> None:
    (start, end), *heads = grain_arrow(filled)
    assert abs(end[0] - start[0]) < 1e-9 < abs(end[1] - start[1])  # front to back
    assert len(heads) == 4
    line = shapely.LineString((start, end))
    assert all(line.distance(shapely.Polygon(polygon(one.outline, 0.1))) >= 0.0 for one in filled.parts)
    assert not any(line.crosses(shapely.Polygon(polygon(one.outline, 0.1))) for one in filled.parts)
