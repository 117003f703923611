from stackview.checks.squeeze_seen import shows
from stackview.description.lamp import Lamp, Layer
from stackview.sight.scene import scene_of
from stackview.stack.assembly import assemble
from stackview.stack.joints import joints
from tests.stack.layers import ASH, circle, ring


def seen(*layers: Layer, upper: str):  # type: ignore[no-untyped-def]
    stack = assemble(Lamp("test", "mm", layers))
    (joint,) = [one for one in joints(stack) if one.upper.name == upper]
    return shows(scene_of(stack.placed), joint)


def test_inside_a_closed_drum_nothing_is_seen() -> None:
    base, cap = Layer("base", ASH, 10.0, circle(120.0)), Layer("cap", ASH, 10.0, circle(120.0))
    assert seen(base, ring("ring"), cap, upper="ring") is None


def test_in_an_open_bowl_the_far_edge_is_seen_from_above_only() -> None:
    base = Layer("base", ASH, 10.0, circle(120.0))
    found = seen(base, ring("ring"), upper="ring")
    assert found is not None
    assert not found.glazed
    # over the near wall, 10 high, from the far edge 92 away: atan(9.8/91.8) at the flattest
    assert 5.0 < found.low < 8.0
    assert found.high > 85.0
