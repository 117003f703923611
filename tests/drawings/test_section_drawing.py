import matplotlib
import numpy as np
import pytest
from matplotlib.collections import LineCollection
from matplotlib.colors import to_hex
from matplotlib.patches import PathPatch
from numpy.typing import NDArray

from stackview.description.lamp import Surface
from stackview.drawings.chart_style import KIND_COLOURS, Sheet
from stackview.drawings.section_drawing import section_drawing, section_sheet
from stackview.drawings.section_parts import fill_of
from stackview.sight.bands import Kind
from tests import lamps as plain
from tests.drawings.drawn import EYES, SIZES, TABLE, check_words, studied, words_of
from tests.stills import lamps


def slot(surface: Surface | None = None, unit: str = "mm"):  # type: ignore[no-untyped-def]
    """Two square boards of 100 mm, 40 mm apart, and a light point on the axis 10 mm above the lower."""
    base, lid = plain.box("base", (-50, -50, 0), (50, 50, 10)), plain.box("lid", (-50, -50, 50), (50, 50, 60))
    points = plain.light_points([(0, 0, 20)], [(1, 0, 0)])
    return studied((base, lid), points, surface=surface, unit=unit)


def lines_of(sheet: Sheet, colour: str) -> list[NDArray[np.float64]]:
    found = [each for each in sheet.axes.collections if isinstance(each, LineCollection)]
    return [
        np.asarray(segment)
        for each in found
        if to_hex(each.get_colors()[0]) == colour
        for segment in each.get_segments()
    ]


def scale_of(sheet: Sheet, fill: str, millimetres: float) -> float:
    """Pixels per millimetre, from the drawn width of a part."""
    patches = [each for each in sheet.axes.patches if isinstance(each, PathPatch)]
    wide = [each.get_path().get_extents().width for each in patches if to_hex(each.get_facecolor()) == fill]
    return float(max(wide)) / millimetres


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", ["hexagons", "drum", "lantern", "gallows"])
def test_words_are_whole_apart_and_on_bare_paper(name: str, size: tuple[int, int]) -> None:
    lamp = getattr(lamps, name)()
    given = studied(
        lamp.placed, lamp.points, eyes=EYES, surface=TABLE, unit="in" if name == "hexagons" else "mm"
    )
    check_words(section_sheet(*given, None, size))


@pytest.mark.parametrize("bearing", [0.0, 35.0, 90.0, 180.0, 300.0])
def test_words_keep_their_place_at_any_bearing(bearing: float) -> None:
    lamp = lamps.hexagons()
    check_words(section_sheet(*studied(lamp.placed, lamp.points, eyes=EYES), bearing, (1000, 800)))


@pytest.mark.parametrize("count", [12, 60])
def test_names_of_thin_plates_are_fanned_out(count: int) -> None:
    """Plates of 1 mm under one another, far closer than their names are tall."""
    plates = tuple(plain.disc(f"plate {k}", 90, 40 + 1.2 * k, 41 + 1.2 * k, "opal", 24) for k in range(count))
    base = plain.disc("base", 100, 0, 20, facets=24)
    lines, stack = studied((base, *plates), plain.light_points([(0, 0, 25)], [(0, 0, 1)]), bearings=24)
    sheet = section_sheet(lines, stack, None, (1200, 900))
    check_words(sheet)
    named = [words for words in words_of(sheet) if words.startswith("plate ") and words[6:].isdigit()]
    assert len(named) == len(set(named))
    left_out = [words for words in words_of(sheet) if words.endswith(" not named")]
    assert len(named) == count - sum(int(words.split()[0]) for words in left_out)
    assert len(named) > 11


@pytest.mark.parametrize("size", [(640, 480), (1601, 1203), (2400, 900)])
def test_picture_has_exactly_the_size_asked_for(size: tuple[int, int]) -> None:
    picture = section_drawing(*slot(), None, size)
    assert picture.shape == (size[1], size[0], 3)
    assert picture.dtype == np.uint8


def test_same_lamp_gives_the_same_bits_whatever_the_makers_own_settings() -> None:
    lamp = lamps.hexagons()
    given = studied(lamp.placed, lamp.points, eyes=EYES, surface=TABLE)
    first = section_drawing(*given, None, (800, 600))
    with matplotlib.rc_context(
        {"font.size": 30, "lines.linewidth": 9, "text.color": "red", "path.simplify": False}
    ):
        second = section_drawing(*given, None, (800, 600))
    assert np.array_equal(first, second)


def test_rays_run_at_their_true_slope_from_the_point_through_the_edges() -> None:
    """Equal scale both ways: tan is −10/50 down to the base's edge and 30/50 up to the lid's."""
    sheet = section_sheet(*slot(), 90.0, (1600, 1200))
    rays = [
        each
        for each in lines_of(sheet, KIND_COLOURS[Kind.BARE])
        if len(each) == 2 and np.ptp(each[:, 0]) > 200
    ]
    slopes = sorted(float(np.diff(each[:, 1])[0] / np.diff(each[:, 0])[0]) for each in rays)
    assert slopes == pytest.approx([-10 / 50, 30 / 50], abs=1e-6)
    starts = np.array([each[np.argmin(each[:, 0])] for each in rays])
    assert np.ptp(starts, axis=0) == pytest.approx(0.0, abs=1e-6)
    assert {"A −11.3°", "A +31.0°"} <= set(words_of(sheet))


@pytest.mark.parametrize(("unit", "millimetres"), [("mm", 1.0), ("in", 25.4)])
def test_scale_bar_is_as_long_as_it_says(unit: str, millimetres: float) -> None:
    sheet = section_sheet(*slot(unit=unit), 90.0, (1600, 1200))
    words = next(each for each in words_of(sheet) if each.endswith(f" {unit}") and each[0].isdigit())
    bar = max((each for each in lines_of(sheet, "#26282b") if len(each) == 2), key=_level)
    part = slot()[1].placed[0]
    length = float(words.split()[0]) * millimetres
    assert np.ptp(bar[:, 0]) / scale_of(sheet, fill_of(part), 100.0) == pytest.approx(length, rel=1e-6)


def _level(line: NDArray[np.float64]) -> float:
    return float(np.ptp(line[:, 0])) if np.ptp(line[:, 1]) == 0 else 0.0


def test_rays_end_on_the_surface_that_the_lamp_stands_on() -> None:
    """The lower ray meets the table 100 mm from the axis, inside its rim at 150.

    Then no elevation can be written for it at the frame, and the key gives it.
    """
    sheet = section_sheet(*slot(Surface(700.0, (300.0,))), 90.0, (1600, 1200))
    words = words_of(sheet)
    assert "A −11.3°" not in words
    assert "A +31.0°" in words
    assert any("−11.3° to +31.0°" in each for each in words)
    rays = [
        each
        for each in lines_of(sheet, KIND_COLOURS[Kind.BARE])
        if len(each) == 2 and np.ptp(each[:, 0]) > 200
    ]
    scale = scale_of(sheet, fill_of(slot()[1].placed[0]), 100.0)
    falling = next(each for each in rays if each[1, 1] < each[0, 1])
    assert np.ptp(falling[:, 0]) / scale == pytest.approx(100.0, abs=1e-3)


def test_the_key_tells_class_edges_and_how_many_are_alike() -> None:
    base, lid = plain.box("base", (-50, -50, 0), (50, 50, 10)), plain.box("lid", (-50, -50, 50), (50, 50, 60))
    points = plain.light_points([(0, 0, 20), (0, 0, 30), (0, 0, 40)], [(1, 0, 0)] * 3)
    words = words_of(section_sheet(*studied((base, lid), points), 90.0, (1600, 1200)))
    # From 20 mm up and 20 mm down at the middle point; the others reach atan(30/50) either way.
    edges = "base, outer edge on top and lid, outer edge underneath"
    assert f"bare between {edges}; 2 more alike, −31.0° to +31.0° in all" in words
    assert words[0] == "Test Lamp: section at bearing 90° (right). Towards it 3 of 3 light points show bare"


def test_a_lamp_without_light_still_draws() -> None:
    lamp = lamps.gallows()
    sheet = section_sheet(*studied(lamp.placed, plain.light_points([], [])), None, (800, 600))
    check_words(sheet)
    assert words_of(sheet)[0] == "Test Lamp: section at bearing 0° (front)"
