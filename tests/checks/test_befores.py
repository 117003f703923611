"""What has to be there before what: by hand, on boxes."""

import shapely

from stackview.checks.befores import Before, covers, cycle_in
from stackview.checks.slabs import Slab


def box(low: float, high: float, x0: float, x1: float) -> Slab:
    return Slab(low, high, shapely.box(x0, 0.0, x1, 10.0))


def pairs(bodies: dict[str, tuple[Slab, ...]]) -> set[tuple[str, str]]:
    return {(one.first, one.then) for one in covers(bodies)}


def test_what_lies_over_it_comes_after_and_nothing_is_said_twice() -> None:
    stack = {"a": (box(0, 1, 0, 10),), "b": (box(1, 2, 0, 10),), "c": (box(2, 3, 0, 10),)}
    assert pairs(stack) == {("a", "b"), ("b", "c")}
    assert cycle_in(list(stack), list(covers(stack))) == ()


def test_parts_side_by_side_wait_for_nothing_even_where_facets_graze() -> None:
    assert pairs({"a": (box(0, 1, 0, 10),), "b": (box(1, 2, 9.9, 20),)}) == set()
    assert pairs({"a": (box(0, 1, 0, 10),), "b": (box(1, 2, 9.8, 20),)}) == {("a", "b")}


def test_a_plate_in_a_recess_lies_over_its_floor_alone() -> None:
    ring = (box(0, 4, 0, 20), Slab(4, 6, shapely.box(0, 0, 5, 10)))
    assert pairs({"ring": ring, "plate": (box(4, 8, 5.2, 20),)}) == {("ring", "plate")}


def test_hooked_bodies_wait_for_each_other() -> None:
    # two hooks: each has its lip under the other's
    one = (box(0, 1, 0, 10), box(1, 4, 0, 2), box(4, 5, 0, 6))
    other = (box(2, 3, 4, 14), box(3, 8, 12, 14), box(8, 9, 4, 14))
    found = list(covers({"one": one, "other": other}))
    assert {(each.first, each.then) for each in found} == {("one", "other"), ("other", "one")}
    waits = cycle_in(["one", "other"], found)
    assert {each.why for each in waits} == {"one below other", "other below one"}


def test_parts_in_one_space_are_no_hooks() -> None:
    one, other = (box(0, 1, 0, 10), box(2, 6, 0, 10)), (box(1, 3, 0, 10), box(7, 8, 0, 10))
    assert pairs({"one": one, "other": other}) == {("one", "other")}


def test_the_shortest_round_is_told() -> None:
    ways = [Before(a, b, f"{a}{b}") for a, b in ("ab", "bc", "cd", "da", "ca")]
    assert [one.why for one in cycle_in(list("abcd"), ways)] == ["ab", "bc", "ca"]
    assert cycle_in(list("abcd"), ways[:3]) == ()
