"""The order of work: known by hand on small lamps, and sound on demos and random lamps."""

from collections.abc import Callable
from functools import cache

import numpy as np
import pytest
import trimesh
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from stackview.checks import befores
from stackview.checks.assembly_order import assembly_order
from stackview.description.lamp_file import LampFile
from stackview.errors import StackviewError
from stackview.findings import Level
from stackview.shop.step import WorkOrder
from stackview.shop.work_order import work_order
from stackview.study import Study
from tests.checks.test_order import strips
from tests.checks.written import SOUND, exchanged, subject
from tests.shop.hand_lamps import GLUED, glued_order, made, pendant, upside_down


def keys(order: WorkOrder) -> list[str]:
    return [step.key for step in order.steps]


def check_sound(study: Study) -> WorkOrder:
    """What has to hold for every lamp: once each, nothing sealed is needed, reasons point backwards."""
    order = work_order(study)
    placed = [name for step in order.steps for name in step.places]
    wanted = [part.name for part in study.stack.placed if not part.is_cord]
    assert sorted(name for name in placed if not name.startswith("the strip of")) == sorted(wanted)
    assert len(set(placed)) == len(placed)
    shut: set[str] = set()
    for number, step in enumerate(order.steps, 1):
        assert not set(step.needs) & shut, (step.title, shut)
        shut |= set(step.seals)
        for one in step.after:
            assert order.number(one.key) < number, (step.title, one)
            assert one.why
    assert len({step.key for step in order.steps}) == len(order.steps)
    return order


def check_ways_are_free(study: Study) -> None:
    """By rays on the meshes, which the order knows nothing of: over every part that is set down nothing stands."""
    meshes = dict(study.stack.to_trimesh().geometry)
    there: dict[int, list[str]] = {}
    for move in assembly_order(study).moves:
        body = there.setdefault(0 if move.joins else move.block, [])
        names = [name for name in move.names if name in meshes]
        if body and names:
            standing = trimesh.util.concatenate([meshes[name] for name in body])
            down = move.from_top
            for name in names:
                mesh = meshes[name]
                face = mesh.face_normals[:, 2] * (-1.0 if down else 1.0) > 0.5
                starts = mesh.triangles_center[face] + np.array([0.0, 0.0, -0.01 if down else 0.01])
                ways = np.tile([0.0, 0.0, -1.0 if down else 1.0], (len(starts), 1))
                assert not standing.ray.intersects_any(starts, ways).any(), name
        body += names


def test_a_sound_lamp_in_its_whole_order() -> None:
    order = check_sound(made(GLUED))
    assert keys(order) == [
        "cut base",
        "cut ring 1",
        "cut plate 1",
        "cut cap",
        "cut core",
        "sand wood",
        "dry fit",
        "finish inside",
        "solder helix",
        "place base",
        "cable in",
        "place core",
        "join wires",
        "light test 1",
        "place ring 1",
        "light test 2",
        "place plate 1",
        *(f"place {name} {number}" for number in (2, 3) for name in ("ring", "plate")),
        "light test 3",
        "place cap",
        "finish outside",
        "run in",
    ]


@cache
def varied() -> WorkOrder:
    """With feet, a port that gives too little, and a finish that does not oxidise."""
    more = '[feet]\ncount = 3\n[finishing]\nwood = "water varnish"\n'
    weak = (('port = "usb charger"', 'port = "usb 2.0"'), ("watts_per_metre = 4", "watts_per_metre = 40"))
    return check_sound(made(GLUED, *weak, more=more))


def test_feet_come_last_before_the_light_is_left_on() -> None:
    assert keys(varied())[-3:] == ["finish outside", "feet", "run in"]


def test_a_pendant_is_hung_and_its_core_fastened_before_the_lid_goes_on() -> None:
    order = check_sound(pendant())
    tail = [
        "fasten core",
        "cable in",
        "join wires",
        "light test 1",
        "place cap",
        "finish outside",
        "hang",
        "run in",
    ]
    assert keys(order)[-len(tail) :] == tail
    assert set(order.steps[order.number("place cap") - 1].places) == {"cap", "core"}


def test_a_lamp_glued_from_the_top() -> None:
    order = check_sound(upside_down())
    assert order.from_top
    placed = [name for step in order.steps for name in step.places]
    assert (placed[0], set(placed[-2:])) == ("cap", {"base", "core"})
    check_ways_are_free(upside_down())


@pytest.mark.slow
def test_a_strip_that_is_on_before_the_core_closes() -> None:
    order = check_sound(strips(42.0, 5, 36))
    where = [
        order.number(f"place {name}")
        for name in ("core", 'the strip of light "5"', "plate 3", 'the strip of light "36"', "ring 4")
    ]
    assert where == sorted(where)


def test_a_loose_cap_is_set_on_without_glue_after_the_light_test() -> None:
    order = check_sound(made())
    last = [step for step in order.steps if step.phase == "join"]
    assert [step.parts for step in last] == [("cap",)]
    assert last[0].glue_ml == 0.0
    assert 'light "helix"' in last[0].seals


def test_findings_stand_at_the_first_step_that_they_concern_and_faults_come_first() -> None:
    order = varied()
    assert [fault.level for fault in order.faults] == [Level.FAULT] * len(order.faults)
    (test, *_) = [step for step in order.steps if step.phase == "test"]
    assert any("the port gives" in finding.gist for finding in test.findings)
    every = [finding for step in order.steps for finding in step.findings]
    assert len(set(map(id, every))) == len(every)


def test_what_is_said_of_a_joint_stands_where_it_is_glued() -> None:
    # one wide joint, of the cap on the clear plate: its glue is seen through the plate's hole
    order = work_order(Study(LampFile.from_text(CLEAR_TABLE)))
    (told,) = [
        (step.title, one.where) for step in order.steps for one in step.findings if one.check == "glue"
    ]
    assert told[0].startswith("Glue cap on plate")
    assert told[1] == "cap on plate"


CLEAR_TABLE = """
name = "Clear table"
materials.ply = { plywood = "birch", sold = 9 }
materials.clear = { acrylic = "clear", sold = 5 }
layer = [
    { name = "base", material = "ply", outline = { rectangle = [150, 100] }, recess = { depth = 2 } },
    { name = "plate", material = "clear", outline = { rectangle = [80, 60], corner_radius = 3 }, opening = { circle = 20 } },
    { name = "cap", material = "ply", outline = { circle = 54 } },
]
"""


@pytest.mark.parametrize(
    ("phase", "word"),
    [
        ("cut", "blades"),
        ("sand", "dust"),
        ("wire", "flux"),
        ("test", "stare"),
        ("finish", "catch fire"),
        ("run in", "watched"),
    ],
)
def test_cautions_stand_where_the_work_can_hurt(phase: str, word: str) -> None:
    steps = [step for step in glued_order().steps if step.phase == phase]
    assert any(word in each for step in steps for each in step.cautions)


def test_a_finish_that_does_not_oxidise_brings_no_caution_of_rags() -> None:
    assert not any(step.cautions for step in varied().steps if step.phase == "finish")


def test_what_goes_together_in_no_order_has_no_steps(monkeypatch: pytest.MonkeyPatch) -> None:
    hooked = tuple(
        befores.Before(a, b, f"{a} below {b}") for a, b in (("ring 1", "ring 2"), ("ring 2", "ring 1"))
    )
    monkeypatch.setattr("stackview.checks.assembly_order.what_lies_over_what", lambda _: hooked)
    order = work_order(made(GLUED))
    assert order.steps == ()
    assert any(set(fault.parts) == {"ring 1", "ring 2"} for fault in order.faults)


@pytest.mark.parametrize("lamp", [pendant, lambda: made(GLUED), made], ids=["pendant", "glued", "loose cap"])
def test_ways_are_free_as_meshes_have_it(lamp: Callable[[], Study]) -> None:
    check_ways_are_free(lamp())


@pytest.mark.slow
@pytest.mark.parametrize("demo", ["moor-drum", "honeycomb", "kelp", "turning-lantern"])
def test_demos_are_sound(demo: str) -> None:
    study = Study.read(f"demos/{demo}.toml")
    check_sound(study)
    check_ways_are_free(study)


@st.composite
def lamps(draw: st.DrawFn) -> Study:
    """Lamps of the sound one's kind: more or fewer tiers, other recesses, strips, cores, joints left loose."""
    face = draw(st.sampled_from(["top", "underside"]))
    depth = draw(st.sampled_from([1.0, 1.5, 3.0]))
    hole = draw(st.sampled_from([42, 44.2, 46, 60, 88]))
    tiers = draw(st.integers(1, 5))
    start, turns = draw(st.sampled_from([2, 5, 20, 30])), draw(st.sampled_from([1, 2]))
    loose = draw(st.sampled_from([[], ["cap"], ["base"], ["ring 1"], ["cap", "base"]]))
    pairs = [
        ("recess = { depth = 1.5 }", f'recess = {{ depth = {depth}, face = "{face}" }}'),
        ("opening = { circle = 46 }", f"opening = {{ circle = {hole} }}"),
        ("repeat = 3", f"repeat = {tiers}"),
        ("helix = { pitch = 12 }", f"helix = {{ pitch = 12, start = {start}, turns = {turns} }}"),
        ("height = 33", f"height = {draw(st.sampled_from([33, 45, 60]))}"),
        ('loose = ["cap"]', f"loose = {loose}".replace("'", '"')),
    ]
    if draw(st.booleans()):
        pairs.append(('stands_on = "base"', 'hangs_from = "cap"'))
    more = "[feet]\ncount = 3\n" if draw(st.booleans()) else ""
    return subject(exchanged(SOUND, *pairs) + more)


@pytest.mark.slow
@settings(max_examples=30, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(st.data())
def test_random_lamps_are_sound(data: st.DataObject) -> None:
    try:
        study = data.draw(lamps())
        order = work_order(study)
    except StackviewError:
        assume(False)
        return
    assume(not any(fault.check in ("overlap", "seat", "strip") for fault in order.faults))
    check_sound(study)
    check_ways_are_free(study)
