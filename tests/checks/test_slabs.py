from math import pi

import pytest

from stackview.checks.slabs import core_plan, layer_slabs, slab_plan, slabs_of_parts
from tests.checks.written import changed, subject


def test_a_layer_with_a_recess_is_two_slabs_of_their_own_areas() -> None:
    ring = next(layer for layer in subject().lamp.layers if layer.name == "ring 1")
    low, high = layer_slabs(ring)
    assert (low.low, low.high, high.high) == (0.0, pytest.approx(7.3), pytest.approx(8.8))
    # a ring 14 wide within 120; in its recess lies a plate of 104 with 0.2 of play per side
    areas = [slab_plan(ring.outline, ring.around, slab.cuts, ring.turn)[0].area for slab in (low, high)]
    assert areas == [
        pytest.approx(pi * (60.0**2 - 46.0**2), rel=1e-3),
        pytest.approx(pi * (60.0**2 - 52.2**2), rel=1e-3),
    ]
    assert slab_plan(ring.outline, ring.around, low.cuts, 0.0)[1].area == pytest.approx(
        pi * 60.0**2, rel=1e-3
    )


def test_a_tube_is_hollow() -> None:
    core = subject().lamp.core
    assert core is not None
    assert core_plan(core).area == pytest.approx(pi * (20.0**2 - 18.0**2), rel=1e-3)


def test_slabs_stand_where_the_parts_do() -> None:
    study = changed(
        more='[[post]]\nname = "pin"\nmaterial = "tube"\noutline = { circle = 3 }\nfrom = "base"\nto = "base"\n'
    )
    slabs = slabs_of_parts(study)
    for part in study.stack.placed:
        assert slabs[part.name][0].low == pytest.approx(part.underside)
        assert slabs[part.name][-1].high == pytest.approx(part.top)
