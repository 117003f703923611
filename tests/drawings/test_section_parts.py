import numpy as np
import pytest
from numpy.testing import assert_allclose

from stackview.description.lamp import Lamp
from stackview.drawings.section_parts import crossed_at, fill_of, leader_end
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed
from stackview.stack.seating import Standing
from stackview.stack.section import CutFace, section
from tests import lamps as plain


def cut(*parts: Placed) -> tuple[CutFace, ...]:
    return section(Stack(Lamp("test", "mm", ()), parts, Standing(), 100.0, 0.0), 90.0)


def test_level_line_is_inside_a_ring_twice() -> None:
    (face,) = cut(plain.ring("ring", 30.0, 45.0, 0.0, 10.0))
    assert_allclose(crossed_at(face.loops, 4.0), [[-45, -30], [30, 45]], atol=1e-9)
    assert crossed_at(face.loops, 11.0).shape == (0, 2)


def test_leader_meets_an_inner_part_where_it_shows_most_freely() -> None:
    """A post inside two rings with a gap from 10 to 14: the leader comes in through the gap."""
    faces = cut(
        plain.ring("low", 30, 45, 0, 10), plain.ring("high", 30, 45, 14, 40), plain.disc("post", 8, 0, 40)
    )
    across, height = leader_end(faces[2], faces)
    assert across == pytest.approx(-8.0, abs=1e-9)
    assert 10 < height < 14


def test_leader_meets_a_free_part_at_its_middle() -> None:
    faces = cut(plain.disc("base", 50, 0, 18), plain.disc("lid", 50, 30, 40))
    assert leader_end(faces[0], faces) == pytest.approx((-50.0, 9.0))


def test_leaders_to_parts_side_by_side_keep_apart() -> None:
    faces = cut(plain.ring("sleeve", 10, 14, 0, 10), plain.disc("pin", 8, 0, 10))
    _, first = leader_end(faces[0], faces)
    _, second = leader_end(faces[1], faces, [first], 2.0)
    assert first == pytest.approx(5.0)
    assert 2.0 <= abs(second - first) <= 2.5


def test_materials_can_be_told_apart() -> None:
    parts = [
        plain.disc("wood", 5, 0, 1),
        plain.disc("opal", 5, 0, 1, "opal"),
        plain.disc("clear", 5, 0, 1, "clear"),
        plain.disc("sanded", 5, 0, 1, "clear", finish=plain.Finish(top="sanded")),
    ]
    fills = [np.array([int(fill_of(part)[i : i + 2], 16) for i in (1, 3, 5)]) for part in parts]
    assert len({fill_of(part) for part in parts}) == 4
    assert all(fill.min() >= 0x70 for fill in fills)
    # Milk white is warm, clear acrylic is blue.
    assert fills[1][0] > fills[1][2]
    assert fills[2][2] > fills[2][0]
