"""Findings on glare and shielding: notes only, with the numbers of the functions behind them."""

import numpy as np
import pytest

from stackview.description.lamp import Eye, Lamp
from stackview.findings import Finding, Level
from stackview.glow.glare import glare_term, sources_seen, ugr
from stackview.glow.guidance import glare_guidance, glare_of, picture_guidance
from stackview.glow.picture_glare import PictureGlare
from stackview.glow.shielding import face_light
from stackview.light.points import LightPoints
from stackview.sight.bands import Kind
from stackview.sight.eyes import eye_places
from stackview.sight.summary import Sightlines, sightlines
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed
from stackview.stack.seating import Standing
from tests.lamps import disc, light_points, ring, wound

SOFA = Eye("sofa", 2000.0, 400.0)


def lines_of(parts: tuple[Placed, ...], points: LightPoints, *eyes: Eye) -> Sightlines:
    """Sightlines of parts and light points that no lamp's file describes."""
    lamp = Lamp(name="test", unit="mm", layers=(), eyes=eyes)
    return sightlines(Stack(lamp, parts, Standing(), height=100.0, floor=0.0), points, bearings=24)


BASE = (disc("base", 60.0, 0.0, 10.0),)


def open_lamp(*eyes: Eye) -> Sightlines:
    return lines_of(BASE, wound(24, 30.0, 90.0), *(eyes or (SOFA,)))


def hidden_lamp() -> Sightlines:
    parts = (*BASE, ring("wall", 40.0, 60.0, 10.0, 200.0), disc("lid", 60.0, 200.0, 210.0))
    return lines_of(parts, wound(24, 30.0, 90.0), SOFA)


def by_check(found: tuple[Finding, ...]) -> dict[str, Finding]:
    return {finding.check: finding for finding in found}


def test_guidance_is_never_more_than_a_note() -> None:
    for lines in (open_lamp(), hidden_lamp(), open_lamp(SOFA, Eye("bed", 800.0, 20.0))):
        for lumens in (10.0, np.nan):
            found = glare_guidance(lines, np.full(24, lumens))
            assert found
            assert all(finding.level is Level.NOTE and finding.source for finding in found)


def test_a_hidden_source_does_not_glare() -> None:
    found = glare_guidance(hidden_lamp(), np.full(24, 10.0))
    assert [finding.check for finding in found] == ["glare"]
    assert "none glares" in found[0].what
    lines = hidden_lamp()
    light = face_light(lines.points, np.full(24, 10.0))
    assert glare_of(lines.eyes[0], lines, light, 10.0).ugr == -np.inf


def test_worst_bearing_is_that_of_all_bearings_worked_out_one_by_one() -> None:
    lines = open_lamp(Eye("sofa", 700.0, 300.0))
    lumens = np.linspace(1.0, 20.0, 24)
    light, seen = face_light(lines.points, lumens), lines.eyes[0]
    terms = []
    for index, place in enumerate(eye_places(seen.eye, lines.standpoint, seen.bearings)):
        at = seen.kind[:, index] == Kind.BARE
        points = lines.points
        terms.append(
            glare_term(
                sources_seen(
                    points.centres[at],
                    points.directions[at],
                    light.candela[at],
                    light.powers[at],
                    light.areas[at],
                    place,
                )
            )
        )
    found = glare_of(seen, lines, light, 10.0)
    assert found.ugr == pytest.approx(ugr(max(terms), 10.0))
    assert found.bearing == seen.bearings[int(np.argmax(terms))]
    assert found.points == int((seen.kind[:, int(np.argmax(terms))] == Kind.BARE).sum())


def test_one_led_by_hand() -> None:
    # 10 lm Lambertian, 4 × 4 mm, facing an eye 2 m off at its own height: 10/π cd on the line of sight.
    lines = lines_of(BASE, light_points([[0, -20, 50]], [[0, -1, 0]], face=4.0), Eye("level", 2020.0, 50.0))
    found = glare_of(lines.eyes[0], lines, face_light(lines.points, np.array([10.0])), 10.0)
    assert found.ugr == pytest.approx(
        8.0 * np.log10(0.25 / 10.0 * 200.0 * (10.0 / np.pi) ** 2 / 2.0**2), abs=1e-3
    )
    assert found.luminance == pytest.approx(10.0 / np.pi / 16e-6, rel=1e-5)
    assert (found.bearing, found.points) == (0.0, 1)
    assert found.off_line == pytest.approx(0.0, abs=1e-6)
    note = by_check(glare_guidance(lines, np.array([10.0])))["glare"]
    assert "nearer than the rule for small sources" in note.what


def test_findings_say_what_was_assumed_and_where_limits_are_from() -> None:
    found = by_check(glare_guidance(open_lamp(), np.full(24, 10.0), assumed="lumens assumed: 10 lm each"))
    assert set(found) == {"shielding", "glare", "bare LEDs and eyes"}
    for check in ("shielding", "glare"):
        assert "lumens assumed: 10 lm each" in found[check].what
        assert "guidance" in found[check].what
        assert 'eye "sofa"' in found[check].where
    assert "EN 12464-1" in found["shielding"].source
    assert "CIE 117" in found["glare"].source
    assert "10 cd/m² (assumed)" in found["glare"].what
    assert "IEC 62471" in found["bare LEDs and eyes"].what
    assert "Do not stare" in found["bare LEDs and eyes"].advice


def test_shielding_and_its_advice_follow_the_luminance() -> None:
    # A strip in the open shows level: nothing shields it. 4 × 4 mm and 0.1 lm: 1990 cd/m², nothing asked.
    bright = by_check(glare_guidance(open_lamp(), np.full(24, 10.0)))["shielding"]
    dim = by_check(glare_guidance(open_lamp(), np.full(24, 0.1)))["shielding"]
    assert (bright.value, bright.limit) == (0.0, 20.0)
    assert "not met" in bright.what
    assert bright.advice
    assert dim.limit is None
    assert "ask no shielding" in dim.what
    assert not dim.advice


def test_unknown_lumens_are_said_and_not_guessed() -> None:
    found = by_check(glare_guidance(open_lamp(), np.full(24, np.nan)))
    assert "not known" in found["shielding"].what
    assert "not known" in found["glare"].what
    assert found["glare"].value is None


def test_a_brighter_room_lowers_the_glare() -> None:
    lines, lumens = open_lamp(), np.full(24, 10.0)
    evening = by_check(glare_guidance(lines, lumens))["glare"].value
    daylight = by_check(glare_guidance(lines, lumens, background=100.0))["glare"].value
    assert evening - daylight == pytest.approx(8.0)


def test_faulty_questions_are_refused() -> None:
    with pytest.raises(ValueError, match="lumens"):
        glare_guidance(open_lamp(), np.ones(3))
    with pytest.raises(ValueError, match="background"):
        glare_guidance(open_lamp(), np.ones(24), background=0.0)


def test_a_picture_s_glare_is_told() -> None:
    note = picture_guidance('eye "sofa"', PictureGlare(20.4, 31.2, -4.0, 0.02, 70.0))
    assert note.level is Level.NOTE
    assert "UGR 20, just acceptable" in note.what
    assert "lit plates and bare points alike" in note.what
    assert (note.value, note.limit) == (20.4, 19.0)
    assert note.advice
    dark = picture_guidance('eye "sofa"', PictureGlare(-np.inf, -np.inf, -np.inf, 0.0, 70.0))
    assert "nothing in the picture reaches 70 cd/m²" in dark.what
    assert dark.value is None
    assert not dark.advice
