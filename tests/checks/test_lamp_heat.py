import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from stackview.checks.airing import heat_aired
from stackview.checks.convection import radiation_film, upright_film
from stackview.checks.lamp_heat import (
    EMISSIVITY,
    Shell,
    Source,
    film_heat,
    given_off,
    skin_temperature,
    solved,
    spread_width,
    warm,
)

SHELL = Shell(side=0.08, height=0.15, top=0.015, bottom=0.0, span=0.03, inner=0.06, through=0.6)


def source(watts: float, area: float = 0.012) -> Source:
    return Source(watts, area, area, 0.12)


def test_roots_against_scipy() -> None:
    def balance(t: float) -> float:
        return t**3 - 5000.0

    assert solved(balance, 0.0) == pytest.approx(brentq(balance, 0.0, 100.0), abs=1e-8)


def test_skin_of_a_plain_side_against_scipy() -> None:
    side = Shell(side=0.1, height=0.15, top=0.0, bottom=0.0, span=0.03, inner=0.1, through=1.0)

    def balance(skin: float) -> float:
        film = upright_film(0.15, skin, 25.0) + radiation_film(EMISSIVITY, skin, 25.0)
        return 0.1 * film * (skin - 25.0) - 10.0

    assert skin_temperature(side, 10.0, 25.0) == pytest.approx(brentq(balance, 25.1, 200.0), abs=1e-6)


def test_a_lamps_side_gives_off_what_the_books_films_say() -> None:
    # 0.15 m, 45 over 25 °C: 4.66 by convection (± 2 % for the air) and 5.98 by radiation
    side = Shell(side=1.0, height=0.15, top=0.0, bottom=0.0, span=0.03, inner=1.0, through=1.0)
    assert given_off(side, 45.0, 25.0) == pytest.approx((4.6647 + 5.9794) * 20.0, rel=0.015)


@given(st.floats(0.1, 30.0), st.floats(0.0, 35.0))
def test_heat_balances_and_warmth_falls_from_the_inside_out(watts: float, room: float) -> None:
    state = warm(SHELL, watts, room, source(watts))
    assert given_off(SHELL, state.skin, room) == pytest.approx(watts, rel=1e-6)
    assert room < state.skin < state.wall < state.air < state.source
    radiated = 0.012 * radiation_film(EMISSIVITY, state.source, state.wall) * (state.source - state.wall)
    convected = film_heat(0.012, 0.12, state.source, state.air)
    assert radiated + convected == pytest.approx(watts, rel=1e-5)
    assert film_heat(SHELL.inner, SHELL.height, state.air, state.wall) == pytest.approx(convected, rel=1e-5)


@given(st.floats(0.1, 20.0), st.floats(1.05, 3.0))
def test_more_watts_are_warmer_everywhere(watts: float, more: float) -> None:
    one, other = (warm(SHELL, w, 25.0, source(w)) for w in (watts, more * watts))
    assert one.skin < other.skin
    assert one.air < other.air
    assert one.source < other.source


def test_no_watts_no_warmth() -> None:
    assert skin_temperature(SHELL, 0.0, 25.0) == pytest.approx(25.0)


def test_heat_spreads_far_in_metal_and_little_in_wood() -> None:
    assert spread_width(100.0, 0.002, 10.0) > 0.1
    assert spread_width(0.13, 0.014, 10.0) == pytest.approx(0.0135, abs=1e-4)


@given(st.floats(0.5, 20.0), st.floats(1e-6, 1e-3))
def test_air_takes_its_share_and_cools_everything(watts: float, flow: float) -> None:
    shut, aired = (warm(SHELL, watts, 25.0, source(0.75 * watts), f) for f in (0.0, flow))
    assert aired.skin <= shut.skin
    assert aired.air < shut.air
    assert aired.source < shut.source
    away = heat_aired(flow, aired.air, 25.0)
    assert given_off(SHELL, aired.skin, 25.0) + away == pytest.approx(watts, rel=2e-3)


def test_a_bracket_that_begins_too_high_is_its_own_end() -> None:
    assert solved(lambda t: t - 10.0, 20.0) == 20.0
    assert solved(lambda t: t - 2000.0, 20.0) == 1000.0
