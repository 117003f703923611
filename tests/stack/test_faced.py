"""Parts with the level faces of their pieces."""

from math import pi

import pytest

from stackview.stack.faced import FacedPart, faced, shaped
from tests.stack.layers import circle, plate, ring
from tests.stack.test_supports import spacers, stacked


def parts() -> list[FacedPart]:
    stack = stacked(ring("ring"), spacers(106.0), plate("plate", circle(120.0)))
    return [faced(part, shape) for part, shape in shaped(stack.lamp, stack.placed)]


def test_every_piece_has_its_faces_and_its_solid() -> None:
    found = parts()
    assert [each.part.name for each in found] == ["ring", "spacers", "plate"]
    assert [len(each.pieces) for each in found] == [1, 3, 1]
    for each in found:
        assert len(each.tops) == len(each.undersides) == len(each.pieces)
        assert [face.height for faces in each.undersides for face in faces] == [0.0] * len(each.pieces)
    assert sum(face.area.area for faces in found[1].tops for face in faces) == pytest.approx(
        27.0 * pi, rel=1e-3
    )


def test_the_mass_is_of_all_pieces() -> None:
    spacer = parts()[1]
    whole = 27.0 * pi * 5.0 * spacer.part.material.density * 1e-6
    assert spacer.grams == pytest.approx(whole, rel=0.02)  # facets within 0.05 mm of a circle of 6 mm
    assert spacer.grams < whole
