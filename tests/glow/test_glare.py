"""UGR: a published value, limits, scaling, and small sources laid over each other."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.glow.glare import (
    SMALL,
    Sources,
    glare_term,
    most_glare_term,
    shared,
    sources_seen,
    ugr,
    word_of,
)
from stackview.glow.position_index import position_index


def sources(places: list[list[float]], candela: float | list[float] = 10.0, area: float = 25.0) -> Sources:
    at = np.array(places, dtype=float)
    return Sources(
        at, np.broadcast_to(np.array(candela, dtype=float), (len(at),)).copy(), np.full(len(at), area)
    )


def test_published_value_of_cie_117() -> None:
    # Lb 47.75, L 6484.6, ω 4.86014e-4, p 1.26 → 14.629.
    assert ugr(6484.6**2 * 4.86014e-4 / 1.26**2, 47.75) == pytest.approx(14.629, abs=0.05)


def test_a_large_source_counts_by_its_luminance_and_solid_angle() -> None:
    # 1 m², 3000 cd, straight ahead at 2 m: L = 3000 cd/m², ω = 1/4 sr, p = 1.
    one = sources([[0.0, 0.0, 2000.0]], 3000.0, 1e6)
    assert glare_term(one) == pytest.approx(3000.0**2 / 4.0)
    assert one.luminance.tolist() == [3000.0]


def test_a_small_source_counts_as_cie_147_has_it() -> None:
    # 200·I²/(r²p²) (CIE 147, from memory); 10 cd at 2 m on the line of sight.
    assert glare_term(sources([[0.0, 0.0, 2000.0]])) == pytest.approx(200.0 * 10.0**2 / 2.0**2)
    # At 0.005 m² both rules are one.
    limit = sources([[0.0, 0.0, 2000.0]], area=SMALL)
    below = sources([[0.0, 0.0, 2000.0]], area=SMALL * (1 - 1e-12))
    assert glare_term(limit) == pytest.approx(glare_term(below))


def test_far_apart_they_add_and_in_one_place_they_are_one() -> None:
    alone = glare_term(sources([[0.0, 0.0, 2000.0]]))
    index = float(position_index(np.array(300.0), np.array(0.0), np.array(2000.0)))
    aside = 200.0 * 10.0**2 / (2.0**2 + 0.3**2) / index**2
    assert glare_term(sources([[0.0, 0.0, 2000.0], [300.0, 0.0, 2000.0]])) == pytest.approx(
        alone + aside, rel=1e-9
    )
    assert glare_term(sources([[0.0, 0.0, 2000.0]] * 2)) == pytest.approx(4.0 * alone)


@settings(deadline=None, max_examples=40)
@given(parts=st.integers(1, 8), up=st.floats(-500.0, 500.0), across=st.floats(-500.0, 500.0))
def test_dividing_a_small_source_changes_nothing(parts: int, up: float, across: float) -> None:
    place = [across, up, 1500.0]
    divided = sources([place] * parts, 12.0 / parts, 25.0 / parts)
    assert glare_term(divided) == pytest.approx(glare_term(sources([place], 12.0)), rel=1e-6)


def test_shared_area_of_two_discs() -> None:
    radius = np.sqrt(SMALL / np.pi)
    assert shared(np.array([0.0, 2.0 * radius, 3.0 * radius])).tolist() == pytest.approx([1.0, 0.0, 0.0])
    # Middles one radius apart: lens (2π/3 − √3/2)·R² of πR² (plane geometry).
    assert float(shared(np.array(radius))) == pytest.approx((2 * np.pi / 3 - np.sqrt(3) / 2) / np.pi)


@settings(deadline=None, max_examples=40)
@given(scale=st.floats(0.01, 100.0), seed=st.integers(0, 50))
def test_ugr_rises_by_8_log_of_luminance_squared_and_falls_with_the_background(
    scale: float, seed: int
) -> None:
    rng = np.random.default_rng(seed)
    places = rng.uniform([-200.0, -200.0, 1300.0], [200.0, 200.0, 1700.0], (6, 3))
    candela = rng.uniform(0.1, 9.0, 6)
    base, more = (
        Sources(places, candela, np.full(6, 20.0)),
        Sources(places, scale * candela, np.full(6, 20.0)),
    )
    before = ugr(glare_term(base), 10.0)
    assert ugr(glare_term(more), 10.0) - before == pytest.approx(16.0 * np.log10(scale), abs=1e-6)
    assert ugr(glare_term(base), 10.0 * scale) - before == pytest.approx(-8.0 * np.log10(scale), abs=1e-6)
    assert glare_term(base) <= most_glare_term(base) * (1 + 1e-9)


def test_doubling_the_luminance_adds_16_log_2() -> None:
    assert ugr(4.0, 1.0) - ugr(1.0, 1.0) == pytest.approx(2 * 8 * np.log10(2.0))


def test_nothing_that_shines_does_not_glare() -> None:
    assert ugr(0.0, 10.0) == -np.inf
    assert word_of(-np.inf) == "imperceptible"
    with pytest.raises(ValueError, match="background"):
        ugr(1.0, 0.0)


@pytest.mark.parametrize(
    ("value", "word"),
    [(12.9, "imperceptible"), (13.0, "just perceptible"), (22.5, "not acceptable"), (35.0, "intolerable")],
)
def test_words_of_the_scale(value: float, word: str) -> None:
    assert word in word_of(value)


def seen_from(eye: list[float], direction: list[float], power: float = 1.0) -> Sources:
    one = np.array([10.0])
    return sources_seen(
        np.zeros((1, 3)), np.array([direction]), one, np.array([power]), np.array([25.0]), np.array(eye)
    )


def test_faces_are_seen_by_their_cosine() -> None:
    front = seen_from([0.0, -1000.0, 0.0], [0.0, -1.0, 0.0])
    assert front.places.tolist() == [[0.0, 0.0, 1000.0]]
    assert (front.candela.item(), front.areas.item()) == (10.0, 25.0)
    # 60° aside: half the intensity and half the area of a Lambertian face, and the same luminance.
    aside = seen_from([1000.0 * np.sin(np.radians(60.0)), -500.0, 0.0], [0.0, -1.0, 0.0])
    assert (aside.candela.item(), aside.areas.item()) == pytest.approx((5.0, 12.5))
    assert aside.luminance.item() == pytest.approx(front.luminance.item())
    narrow = seen_from([1000.0 * np.sin(np.radians(60.0)), -500.0, 0.0], [0.0, -1.0, 0.0], 2.0)
    assert narrow.candela.item() == pytest.approx(2.5)


def test_a_face_turned_away_is_no_source() -> None:
    assert len(seen_from([0.0, 1000.0, 0.0], [0.0, -1.0, 0.0])) == 0
    assert glare_term(seen_from([0.0, 1000.0, 0.0], [0.0, -1.0, 0.0])) == 0.0


def test_the_eye_looks_level_at_the_axis() -> None:
    # From the right (bearing 90°), front (−y) is to the eye's left; the lamp is below its line of sight.
    found = sources_seen(
        np.array([[0.0, -50.0, 0.0]]), np.array([[1.0, 0.0, 0.0]]), np.ones(1), np.ones(1), np.ones(1),
        np.array([800.0, 0.0, 300.0]),
    )  # fmt: skip
    assert found.places.tolist() == [[-50.0, -300.0, 800.0]]
    with pytest.raises(ValueError, match="axis"):
        seen_from([0.0, 0.0, 500.0], [0.0, 0.0, 1.0])
