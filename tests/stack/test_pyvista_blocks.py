"""The lamp handed to pyvista: named blocks, closed, with what they are made of."""

from pathlib import Path

import numpy as np
import pytest
import pyvista

from stackview.solids.measure import volume
from stackview.solids.solid import Face
from stackview.stack.assembly import Stack, assemble
from tests.stack.variants import demo


@pytest.fixture(scope="module")
def stack() -> Stack:
    return assemble(demo("honeycomb"))


def held(blocks: pyvista.MultiBlock, stack: Stack) -> None:
    assert blocks.keys() == [part.name for part in stack.placed]
    for part in stack.placed:
        block = blocks[part.name]
        assert block.is_manifold, part.name
        assert block.n_open_edges == 0
        assert block.volume == pytest.approx(volume(part.solid), rel=1e-6)
        assert block.bounds[4:] == pytest.approx((part.underside, part.top), abs=1e-9)
        assert list(block.field_data["material"]) == [part.material.name]
        assert list(block.field_data["role"]) == [part.role]
        assert list(block.field_data["unit"]) == ["mm"]
        assert block.field_data["colour"] == pytest.approx(part.material.colour)
        assert block.field_data["heights"] == pytest.approx((part.underside, part.top))


def test_every_part_is_a_closed_block_under_its_name(stack: Stack) -> None:
    held(stack.to_pyvista(), stack)


def test_a_file_of_blocks_brings_all_of_it_back(stack: Stack, tmp_path: Path) -> None:
    file = tmp_path / "lamp.vtm"
    stack.to_pyvista().save(file)
    held(pyvista.read(file), stack)


def test_triangles_say_what_they_belong_to(stack: Stack) -> None:
    block = stack.to_pyvista()["ring 1"]
    words = list(block.field_data["faces"])
    assert words == [face.word for face in Face]
    floor = block.extract_cells(block.cell_data["face"] == words.index("recess floor"))
    ring = stack.part("ring 1")
    recess = stack.lamp.layers[2].recesses[0]
    assert floor.bounds[4:] == pytest.approx([ring.top - recess.depth] * 2)


def test_blocks_are_their_own_so_that_changing_one_changes_no_stack(stack: Stack) -> None:
    block = stack.to_pyvista()["base"]
    block.points[:] = 0.0
    block.cell_data["face"][:] = 0
    assert np.ptp(stack.part("base").solid.vertices[:, 2]) > 1.0
    assert stack.part("base").solid.faces.max() > 0
