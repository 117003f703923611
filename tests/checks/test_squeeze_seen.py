from math import atan2, degrees

import pytest

from stackview.checks import squeeze_seen
from stackview.checks.squeeze_seen import shows
from stackview.description.lamp import Lamp, Layer
from stackview.sight.scene import scene_of
from stackview.stack.assembly import assemble
from stackview.stack.joints import joints
from tests.stack.layers import ASH, circle, ring


def seen(*layers: Layer, upper: str):  # type: ignore[no-untyped-def]
    stack = assemble(Lamp("test", "mm", layers))
    (joint,) = [one for one in joints(stack) if one.upper.name == upper]
    return shows(scene_of(stack.placed), stack.placed, joint)


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


def chimney(tall: int, *top: Layer) -> tuple[Layer, ...]:
    """Alike rings, each 10 high and 92 wide inside, on a base."""
    rings = (ring(f"ring {number}") for number in range(tall))
    return Layer("base", ASH, 10.0, circle(120.0)), *rings, *top


def test_from_deep_in_an_open_chimney_only_what_passes_its_rim_is_seen() -> None:
    for tall in (3, 12, 40):
        found = seen(*chimney(tall), upper="ring 0")
        assert found is not None
        # from the far edge over the near rim, 10·tall above the base and 92 across: below that all is wall
        assert found.low == pytest.approx(degrees(atan2(10.0 * tall - 0.2, 91.8)), abs=0.6)
        assert found.high == 90.0


def test_a_cap_far_above_hides_a_joint_all_the_same() -> None:
    cap = Layer("cap", ASH, 10.0, circle(120.0))
    assert seen(*chimney(40, cap), upper="ring 0") is None


def test_between_plates_a_joint_in_a_tall_lamp_asks_the_layers_near_to_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: list[int] = []
    look = squeeze_seen._bare_among

    def counted(scene, *rest):  # type: ignore[no-untyped-def]
        asked.append(len(scene.names))
        return look(scene, *rest)

    monkeypatch.setattr(squeeze_seen, "_bare_among", counted)
    tiers = (
        one for k in range(30) for one in (ring(f"ring {k}"), Layer(f"shut {k}", ASH, 4.0, circle(120.0)))
    )
    assert seen(Layer("base", ASH, 10.0, circle(120.0)), *tiers, upper="ring 15") is None
    assert asked == [max(asked)]
    assert max(asked) <= 20
