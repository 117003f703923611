"""What fills the joints of acrylic, by what the file says of its glue."""

from dataclasses import replace

import pytest

from stackview.description.service import AIR, Film
from stackview.description.service_tables import glues, usual_gluing

DRY = usual_gluing()


def test_air_bends_nothing_and_scatters_nothing() -> None:
    assert Film(1.0, clear=True) == AIR


@pytest.mark.parametrize(
    ("loose", "written", "plate", "cap"),
    [
        (None, False, AIR, AIR),
        (None, True, Film(1.41), Film(1.41)),
        ((), False, Film(1.41), Film(1.41)),
        (("cap",), False, Film(1.41), AIR),
        (("plate", "cap"), True, AIR, AIR),
    ],
)
def test_a_joint_is_glued_where_the_file_says_so(
    loose: tuple[str, ...] | None, written: bool, plate: Film, cap: Film
) -> None:
    gluing = replace(DRY, loose=loose, acrylic_written=written)
    assert (gluing.film_of("plate"), gluing.film_of("cap")) == (plate, cap)


def test_the_film_is_that_of_the_glue_of_acrylic() -> None:
    gluing = replace(DRY, acrylic=glues()["mounting tape"], wood=glues()["epoxy"], acrylic_written=True)
    assert gluing.film_of("plate") == Film(1.47, clear=False)
