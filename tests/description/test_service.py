"""What fills the joints of acrylic, by what the file says of its glue."""

from dataclasses import replace

import pytest

from stackview.description.service import AIR, Film
from stackview.description.service_tables import glues, usual_gluing

USUAL = usual_gluing()


def test_air_bends_nothing_and_scatters_nothing() -> None:
    assert Film(1.0, clear=True) == AIR


@pytest.mark.parametrize(
    ("loose", "plate", "cap", "both"),
    [
        (None, Film(1.41), Film(1.41), True),
        ((), Film(1.41), Film(1.41), True),
        (("cap",), Film(1.41), AIR, False),
        (("plate", "cap"), AIR, AIR, False),
    ],
)
def test_a_joint_is_glued_but_where_a_part_stays_loose(
    loose: tuple[str, ...] | None, plate: Film, cap: Film, both: bool
) -> None:
    gluing = replace(USUAL, loose=loose)
    assert (gluing.film_of("plate"), gluing.film_of("cap")) == (plate, cap)
    assert gluing.holds("plate", "cap") is both


def test_the_film_is_that_of_the_glue_of_acrylic() -> None:
    gluing = replace(USUAL, acrylic=glues()["mounting tape"], wood=glues()["epoxy"])
    assert gluing.film_of("plate") == Film(1.47, clear=False)
