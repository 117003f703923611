"""Candidates: keys of the file that could hide light, and which way they go."""

from stackview.change.candidates import candidates
from tests.change.demos import study


def paths(name: str, *parts: str) -> dict[str, tuple[int, ...]]:
    return {each.path: each.towards for each in candidates(study(name), parts)}


def test_the_drums_rings_its_spacers_between_and_its_diode() -> None:
    found = paths("moor-drum", "ring 1", "ring 2")
    assert found["groups.open-tier.ring.thickness"] == (1, -1)
    assert found["groups.open-tier.ring.wall"] == (1,)
    assert found["groups.open-tier.ring.outline.circle"] == (1,)
    assert found["groups.open-tier.spacers.thickness"] == (1, -1)
    assert found["light.diode.diode.height"] == (1, -1)
    assert not any("plate" in path for path in found)


def test_parts_grow_and_openings_shrink() -> None:
    found = paths("moor-drum", "base")
    assert found["layer.base.outline.circle"] == (1,)
    assert found["layer.base.opening.circle"] == (-1,)
    assert found["layer.base.thickness"] == (1, -1)


def test_every_copy_that_moves_is_named() -> None:
    (ring,) = [
        each
        for each in candidates(study("moor-drum"), ["ring 1"])
        if each.path == "groups.open-tier.ring.thickness"
    ]
    assert ring.layers == ("ring 1", "ring 2")
    assert ring.now == 8.8
