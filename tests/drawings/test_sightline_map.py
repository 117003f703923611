import matplotlib
import numpy as np
import pytest

from stackview.description.lamp import Eye
from stackview.drawings.map_counts import map_counts
from stackview.drawings.sightline_map import coloured, map_sheet, sightline_map
from stackview.sight.bands import Kind
from stackview.sight.eyes import eye_places
from tests import lamps as plain
from tests.drawings.drawn import EYES, SIZES, TABLE, check_words, studied, words_of
from tests.stills import lamps


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", ["hexagons", "drum", "lantern"])
def test_words_are_whole_apart_and_on_bare_paper(name: str, size: tuple[int, int]) -> None:
    lamp = getattr(lamps, name)()
    check_words(map_sheet(*studied(lamp.placed, lamp.points, eyes=EYES, surface=TABLE), size))


def test_many_eyes_at_one_height_are_fanned_out_and_none_is_dropped_in_silence() -> None:
    lamp = lamps.gallows()
    # Far enough for a place on the chart.
    eyes = tuple(Eye(f"eye {index}", 15_000.0 + index, 1200.0) for index in range(30))
    sheet = map_sheet(*studied(lamp.placed, lamp.points, eyes=eyes, surface=TABLE), (1000, 700))
    check_words(sheet)
    named = sum(words.startswith("eye ") for words in words_of(sheet))
    rest = [words for words in words_of(sheet) if words.endswith("more not marked")]
    # With the surface's own mark there are 31.
    assert 5 < named < 30
    assert int(rest[0].split()[0]) in (31 - named, 30 - named)


@pytest.mark.parametrize("size", [*SIZES, (1601, 1003), (2400, 900)])
def test_picture_has_exactly_the_size_asked_for(size: tuple[int, int]) -> None:
    lamp = lamps.gallows()
    picture = sightline_map(*studied(lamp.placed, lamp.points), size)
    assert picture.shape == (size[1], size[0], 3)
    assert picture.dtype == np.uint8


def test_too_small_a_picture_is_refused() -> None:
    lamp = lamps.gallows()
    with pytest.raises(ValueError, match="640 × 480"):
        sightline_map(*studied(lamp.placed, lamp.points), (600, 480))


def test_same_lamp_gives_the_same_bits_whatever_the_makers_own_settings() -> None:
    lamp = lamps.hexagons()
    given = studied(lamp.placed, lamp.points, eyes=EYES, surface=TABLE)
    first = sightline_map(*given, (800, 600))
    own = {"font.size": 30, "lines.linewidth": 9, "savefig.dpi": 30, "text.color": "red", "figure.dpi": 50}
    with matplotlib.rc_context(own):
        second = sightline_map(*given, (800, 600))
    assert np.array_equal(first, second)


def test_title_tells_the_share_of_all_directions() -> None:
    """A square gap all round: 20 mm up and down, seen from the axis 50 mm behind the edges.

    One point that faces right shows at bearing b between ±atan(20·sin b/50) for 45° < b < 135°
    and ±atan(20·|cos b|/50) from there to where its own back begins. The share of the sphere is
    the mean over b of sin of that, by the trapezium rule.
    """
    base, lid = (
        plain.box("base", (-50, -50, -10), (50, 50, 0)),
        plain.box("lid", (-50, -50, 40), (50, 50, 50)),
    )
    lines, stack = studied(
        (base, lid), plain.light_points([(0, 0, 20)], [(1, 0, 0)]), name="Slot", bearings=720
    )
    around = np.radians(np.arange(0.0, 360.0, 0.01))
    near = np.maximum(np.abs(np.sin(around)), np.abs(np.cos(around)))
    share = np.where(np.sin(around) > 0, np.sin(np.arctan(20 * near / 50)), 0).mean()
    title = words_of(map_sheet(lines, stack, (1600, 1000)))[0]
    assert title == f"Slot: bare light points show from {100 * share:.1f}% of all directions"


def test_nothing_bare_is_said_in_words_and_the_rest_still_counted() -> None:
    # Base, lid and a clear window all round between them: what shows has gone through the window.
    base, lid = plain.disc("base", 60.0, -10.0, 0.0), plain.disc("lid", 60.0, 40.0, 50.0)
    window = plain.ring("window", 45.0, 48.0, 0.0, 40.0, body="clear")
    lines, stack = studied((base, window, lid), plain.wound(12, 10.0, 30.0))
    sheet = map_sheet(lines, stack, (1600, 1000))
    words = words_of(sheet)
    assert words[0] == "Test Lamp: no light point is bare from any direction"
    assert "from no direction" in words
    assert "traced through the acrylic, to 0.1°" in " ".join(words[:4])
    glazed = map_counts(lines.bands, Kind.GLAZED, 300, 200)
    assert glazed.most > 0


def test_lamp_without_light_still_draws() -> None:
    lamp = lamps.gallows()
    sheet = map_sheet(*studied(lamp.placed, plain.light_points([], [])), (800, 600))
    check_words(sheet)
    assert words_of(sheet)[0] == "Test Lamp: no light points"


def test_most_open_class_gives_a_pixel_its_colour() -> None:
    lamp = lamps.hexagons()
    lines, _ = studied(lamp.placed, lamp.points)
    counts = {kind: map_counts(lines.bands, kind, 360, 180) for kind in Kind}
    picture = coloured(counts).astype(int)
    bare, veiled = counts[Kind.BARE].shown > 0, counts[Kind.VEILED].shown > 0
    warmth = picture[..., 0] - picture[..., 2]
    assert bare.any()
    assert (veiled & ~bare).any()
    assert warmth[bare].min() > 60
    assert warmth[veiled & ~bare].max() < 0
    assert len(np.unique(picture[~bare & ~veiled], axis=0)) == 1


def test_an_eye_is_marked_where_every_light_point_is_within_a_degree_of_its_direction() -> None:
    """One point 20 mm beside the axis at mid-height is seen asin(20/d) aside at most: 1° at 1146 mm."""
    parts = plain.disc("base", 60.0, -10.0, 0.0), plain.disc("lid", 60.0, 40.0, 50.0)
    points = plain.light_points([(20, 0, 25)], [(1, 0, 0)])
    eyes = (Eye("just near", 1140.0, 25.0), Eye("just far", 1150.0, 25.0))
    lines, stack = studied(parts, points, eyes=eyes)
    assert lines.parallax(1150.0) == pytest.approx(np.degrees(np.arcsin(20 / 1150)))
    assert lines.parallax(20.0) == 180.0
    assert [lines.is_far(seen.from_middle) for seen in lines.eyes] == [False, True]
    words = words_of(map_sheet(lines, stack, (1600, 1000)))
    assert [text.split()[:2] for text in words if text.startswith("just")] == [["just", "far"]]
    below = " ".join(words[-2:])
    assert 'Not marked, as too near: "just near". What is seen from there stands in the room picture' in below
    assert "Light points lie up to 1.01° aside" in below


def test_where_every_eye_is_far_no_other_picture_is_named() -> None:
    lamp = lamps.gallows()
    given = studied(lamp.placed, lamp.points, eyes=(Eye("across the yard", 30_000.0, 1600.0),))
    words = " ".join(words_of(map_sheet(*given, (1600, 1000))))
    assert "across the yard" in words
    assert "room picture" not in words


def test_lines_to_an_eye_leave_within_the_parallax_of_its_direction() -> None:
    lamp = lamps.hexagons()
    lines, stack = studied(lamp.placed, lamp.points, eyes=EYES)
    middle = np.array([0.0, 0.0, stack.height / 2.0])
    for seen in lines.eyes:
        places = eye_places(seen.eye, lines.standpoint, seen.bearings)[:, None]
        own, others = places - middle, places - lines.points.centres
        cosines = (own * others).sum(axis=2) / np.linalg.norm(own, axis=2) / np.linalg.norm(others, axis=2)
        aside = np.degrees(np.arccos(np.clip(cosines, -1.0, 1.0))).max()
        assert 0.3 * lines.parallax(seen.from_middle) < aside <= lines.parallax(seen.from_middle) + 1e-9
