"""Variants in one process: whatever was asked before, each is answered as in a fresh process."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import _lru_cache_wrapper, cache
from threading import Barrier, Thread

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.by_value import ByValue
from stackview.description.lamp import Lamp
from stackview.solids import build, level_faces, placing
from stackview.stack import clashes, faced, footprint, joints, mending, seating, supports
from stackview.stack.assembly import Stack, assemble, masses
from stackview.stack.joints import joints as joints_of
from tests.stack.variants import demo, depth, plate_size, thickness, turn, wall

CHANGES = {
    "moor-drum": (wall, depth, plate_size, thickness("ring"), thickness("spacers"), thickness("plate")),
    "honeycomb": (wall, depth, plate_size, thickness("spacers"), thickness("base"), turn),
    "turning-lantern": (wall, thickness("ring 2"), turn),
}
STEPS = (0.0, 0.07, -0.13, 0.4)
BOUNDED = (
    build._as_cut,
    build.rod,
    placing._lifted,
    placing._turned_by,
    footprint._areas,
    footprint._edges,
    footprint.shared_area,
    seating._contact,
    mending._mends,
    clashes._shared,
    joints.level_areas,
    joints._touching,
    level_faces._standing,
    level_faces._of_one,
    faced._pieces,
    supports._shared,
)


@dataclass(frozen=True)
class Answer:
    """All that a stack says, in values that compare bit for bit."""

    solids: tuple[tuple[bytes, bytes, bytes], ...]
    heights: tuple[tuple[float, float], ...]
    rest: tuple[object, ...]


def answer(stack: Stack) -> Answer:
    return Answer(
        tuple(
            (part.solid.vertices.tobytes(), part.solid.triangles.tobytes(), part.solid.faces.tobytes())
            for part in stack.placed
        ),
        tuple((part.underside, part.top) for part in stack.placed),
        (
            stack.height,
            stack.seats,
            stack.rests_on,
            stack.misfits,
            stack.findings,
            masses(stack),
            tuple(
                (one.name, one.height, one.area.wkb, one.carries.wkb, one.rests.wkb)
                for one in joints_of(stack)
            ),
            tuple(
                (one.part.name, one.area.wkb, one.on, one.drop, one.onto, one.margin)
                for one in (*stack.supports.pieces, *stack.supports.feet)
            ),
            stack.supports.loads,
            stack.supports.passed,
        ),
    )


def forget_everything() -> None:
    for thing in gc.get_objects():
        if isinstance(thing, ByValue):
            thing._held.clear()
            thing.bytes = 0
        if isinstance(thing, _lru_cache_wrapper) and thing.__module__.startswith("stackview"):
            thing.cache_clear()


@cache
def fresh(name: str, number: int, by: float) -> Answer:
    """The answer of a process that has been asked nothing yet."""
    forget_everything()
    return answer(assemble(variant(name, number, by)))


@cache
def variant(name: str, number: int, by: float) -> Lamp:
    lamp = demo(name)
    return CHANGES[name][number](lamp, by) if by else lamp


@contextmanager
def room_for(most: int | None) -> Iterator[None]:
    """Bounds of all caches at most so many bytes."""
    before = [one.most for one in BOUNDED]
    for one in BOUNDED:
        one.most = most or one.most
    yield
    for one, bound in zip(BOUNDED, before, strict=True):
        one.most = bound


questions = st.sampled_from(
    [(name, number, by) for name, all_ in CHANGES.items() for number in range(len(all_)) for by in STEPS]
)


# As roomy as they are, and so small that most is let go of within one lamp.
@pytest.mark.slow
@pytest.mark.parametrize("most", [None, 300_000])
@settings(max_examples=4, deadline=None)
@given(asked=st.lists(questions, min_size=4, max_size=10))
def test_random_variants_are_answered_as_in_a_fresh_process(
    most: int | None, asked: list[tuple[str, int, float]]
) -> None:
    expected = [fresh(*question) for question in asked]
    forget_everything()
    with room_for(most):
        for question, right in zip(asked, expected, strict=True):
            assert answer(assemble(variant(*question))) == right


@pytest.mark.slow
def test_two_threads_get_the_same_answers_and_the_same_solids() -> None:
    asked = [("honeycomb", number, by) for number in (0, 1, 3, 5) for by in STEPS[1:3]]
    expected = [fresh(*question) for question in asked]
    forget_everything()
    begin = Barrier(2)
    stacks: dict[int, list[Stack]] = {0: [], 1: []}
    right: dict[int, bool] = {}

    def work(own: int) -> None:
        begin.wait(60.0)
        stacks[own] = [assemble(variant(*question)) for question in asked]
        right[own] = [answer(stack) for stack in stacks[own]] == expected

    threads = [Thread(target=work, args=(own,)) for own in (0, 1)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert right == {0: True, 1: True}
    for one, other in zip(stacks[0], stacks[1], strict=True):
        assert all(a.solid is b.solid for a, b in zip(one.placed, other.placed, strict=True))


def test_one_stack_asked_by_two_threads_has_one_answer() -> None:
    stack = assemble(demo("honeycomb"))
    begin = Barrier(2)
    found: list[object] = []

    def work() -> None:
        begin.wait(60.0)
        found.append(stack.findings)

    threads = [Thread(target=work) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found[0] is found[1] is stack.findings


def test_what_a_change_does_not_reach_is_the_same_object() -> None:
    lamp = demo("moor-drum")
    before, after = assemble(lamp), assemble(thickness("spacers 2")(lamp, 0.5))
    for part in before.placed:
        other = after.part(part.name)
        lower = part.top <= before.part("spacers 2").underside + 1e-9
        assert (other.solid is part.solid) == lower, part.name
        assert (other.solid.ground is part.solid.ground) == (part.name != "spacers 2"), part.name
    again = assemble(demo("moor-drum"))
    assert all(one.solid is two.solid for one, two in zip(before.placed, again.placed, strict=True))


def test_layers_cut_alike_share_one_solid_whatever_their_names() -> None:
    stack = assemble(demo("honeycomb"))
    assert stack.part("plate 1").solid.ground is stack.part("plate 2").solid.ground
    assert stack.part("ring 2").solid.ground is stack.part("ring 4").solid.ground


def test_findings_are_not_worked_out_until_asked() -> None:
    forget_everything()
    stack = assemble(demo("honeycomb"))
    assert stack.misfits
    assert len(mending._mends) == len(clashes._shared) == 0
    assert stack.findings is stack.findings
    assert len(mending._mends) > 0
    assert len(clashes._shared) > 0


def test_memory_stays_bounded_over_many_variants() -> None:
    forget_everything()
    most = build._as_cut.most
    build._as_cut.most = placing._lifted.most = 1_000_000
    try:
        for step in range(1, 40):
            assemble(thickness("ring")(demo("moor-drum"), 0.01 * step))
            for one in BOUNDED:
                assert one.bytes <= one.most
    finally:
        build._as_cut.most = placing._lifted.most = most
    # All of them together, however many lamps one process sees.
    assert sum(one.most for one in BOUNDED) < 350_000_000


def test_kept_arrays_are_read_only() -> None:
    stack = assemble(demo("honeycomb"))
    for part in stack.placed:
        for array in (part.solid.vertices, part.solid.triangles, part.solid.faces):
            with pytest.raises(ValueError, match="read-only"):
                array[0] = 0
    for joint in joints_of(stack):
        for strip in joint.strips:
            for edge in strip.open_edges:
                assert not edge.flags.writeable
    assert np.isfinite(stack.height)
