from itertools import pairwise

import numpy as np
import pytest

from stackview.stills.apart import building_order, lifts, spread_apart
from stackview.stills.setting import assembled
from tests.stills.demos import NAMES, demo


@pytest.mark.parametrize("name", NAMES)
def test_no_part_touches_the_next_and_none_is_lost(name):
    stack, light = demo(name)
    setting = spread_apart(stack, light)
    assert {part.name for part in setting.placed} == {p.name for p in stack.placed if p.role != "cord"}
    gaps = [
        upper.solid.vertices[:, 2].min() - lower.solid.vertices[:, 2].max()
        for lower, upper in pairwise(setting.placed)
    ]
    # One even step, whatever the parts' thickness.
    assert min(gaps) > 5.0
    assert np.ptp(gaps) < 1e-6


def test_parts_go_on_in_the_order_of_building():
    names = [part.name for part in building_order(demo("honeycomb")[0])]
    assert names[:3] == ["base", "core", "base plate"]
    assert names.index("ring 2") < names.index("lower pins") < names.index("ring 3")
    assert names[-1] == "cap"
    kelp = [part.name for part in building_order(demo("kelp")[0])]
    # Its core hangs from the lid, and goes under it.
    assert kelp[-2:] == ["core", "lid"]
    assert [part.name for part in building_order(demo("moor-drum")[0])][:2] == ["feet", "base"]


def test_light_points_stay_on_what_carries_them():
    stack, light = demo("honeycomb")
    before, after = assembled(stack, light), spread_apart(stack, light)
    up = lifts(stack)["core"]
    assert up > 1.0
    assert np.allclose(after.points.centres[:, 2] - before.points.centres[:, 2], up)
    ribbon = after.ribbons[0].vertices[:, 2] - before.ribbons[0].vertices[:, 2]
    assert np.allclose(ribbon, up)
    drum, lit = demo("moor-drum")
    risen = spread_apart(drum, lit).points.centres[:, 2] - lit.points.centres[:, 2]
    assert np.allclose(risen, lifts(drum)["base"])


def test_a_gap_can_be_asked_for():
    stack, _ = demo("moor-drum")
    tall = sum(float(np.ptp(p.solid.vertices[:, 2])) for p in stack.placed)
    up = lifts(stack, 40.0)
    cap = stack.part("cap")
    assert cap.top + up["cap"] == pytest.approx(tall + 40.0 * (len(stack.placed) - 1))
