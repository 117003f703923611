"""A layer as the cutter and as its neighbours take it: equal where they are alike, and only there."""

from dataclasses import replace

import numpy as np
import pytest

from stackview.description.lamp import Bore, Chamfer, Groove, Layer, Opening, Recess
from stackview.description.material import Finish
from stackview.description.outline import Outline
from stackview.description.shapes import Circle
from stackview.solids.build import solid_of
from tests.lamps import WOOD, acrylic

RING = Layer(
    "ring 1",
    WOOD,
    10.0,
    Outline(Circle(100.0)),
    openings=(Opening(Outline(Circle(60.0)), main=True),),
    recesses=(Recess("top", 2.0, Outline(Circle(80.4)), 0.2, "plate 1"),),
    chamfers=(Chamfer("top outer", 1.0),),
    turn=15.0,
)
ALIKE = (
    {"name": "ring 2"},
    {"material": acrylic("clear"), "finish": Finish("sanded")},
    {"turn": 40.0},
    {"grain": 10.0},
    {"recesses": (replace(RING.recesses[0], clearance=0.3, fitted_to="plate 2"),)},
)
OTHER = (
    {"thickness": 9.0},
    {"outline": Outline(Circle(101.0))},
    {"openings": ()},
    {"recesses": (replace(RING.recesses[0], depth=3.0),)},
    {"recesses": ()},
)
WORK = (
    {"chamfers": ()},
    {"grooves": (Groove("top", "recess", 1.0, 1.5, 0.8),)},
    {"bores": (Bore(4.0, 5.0, 180.0),)},
)


@pytest.mark.parametrize("change", ALIKE, ids=str)
def test_names_materials_and_turns_are_nothing_to_the_cutter(change: dict[str, object]) -> None:
    other = replace(RING, **change)
    assert other.as_cut == RING.as_cut
    assert hash(other.as_cut) == hash(RING.as_cut)
    # And so the same mesh is cut.
    one, two = solid_of(RING, 0.05), solid_of(other, 0.05)
    assert np.array_equal(one.vertices, two.vertices)
    assert np.array_equal(one.triangles, two.triangles)


@pytest.mark.parametrize("change", [*OTHER, *WORK], ids=str)
def test_every_cut_makes_it_another_part(change: dict[str, object]) -> None:
    assert replace(RING, **change).as_cut != RING.as_cut


@pytest.mark.parametrize("change", WORK, ids=str)
def test_neighbours_meet_no_bevel_groove_or_bore(change: dict[str, object]) -> None:
    assert replace(RING, **change).as_met == RING.as_met


@pytest.mark.parametrize("change", [*OTHER, {"turn": 40.0}], ids=str)
def test_neighbours_meet_faces_openings_recesses_and_the_turn(change: dict[str, object]) -> None:
    assert replace(RING, **change).as_met != RING.as_met


def test_a_recess_fitted_to_a_neighbour_is_not_one_cut_as_written() -> None:
    written = replace(RING, recesses=(replace(RING.recesses[0], fitted_to=None),))
    assert written.as_cut != RING.as_cut


def test_taking_it_so_twice_changes_nothing_more() -> None:
    assert RING.as_cut.as_cut == RING.as_cut
    assert RING.as_met.as_met == RING.as_met
    assert RING.name == "ring 1"


def test_a_cut_lies_between_its_floor_and_the_face_or_floor_that_it_goes_into() -> None:
    layer = Layer("ring", WOOD, 10.0, Outline(Circle(80)))
    assert (layer.height_of("top"), layer.height_of("underside")) == (10.0, 0.0)
    assert layer.heights_of_cut("top", 3.0) == (7.0, 10.0)
    assert layer.heights_of_cut("underside", 3.0) == (0.0, 3.0)
    assert layer.heights_of_cut("top", 1.0, below=3.0) == (6.0, 7.0)
    assert layer.heights_of_cut("underside", 1.0, below=3.0) == (3.0, 4.0)
