import pytest

from stackview.checks.assembly_order import assembly_order
from stackview.description.reading import read_text
from stackview.shop.bought_things import glue_amounts
from stackview.shop.glue_up import GlueUp, beads, place_key
from stackview.shop.work_order import work_order
from stackview.study import Study
from tests.shop.hand_lamps import GLUED, made, pendant, upside_down


def test_beads_hold_what_the_parts_list_buys() -> None:
    study = made(GLUED)
    bought = {glue.name: ml for glue, (ml, _) in glue_amounts(study).items()}
    for name, ml in bought.items():
        assert sum(one.ml for one in beads(study) if one.glue.name == name) == pytest.approx(ml)


def test_every_joint_is_glued_once() -> None:
    for study in (made(GLUED), made(), pendant(), upside_down()):
        order = assembly_order(study)
        up = GlueUp(study, order)
        fastened = [step for move in order.moves if (step := up.fastened(move)) is not None]
        steps = [up.step(move, ()) for move in order.moves]
        assert sum(step.glue_ml for step in (*fastened, *steps)) == pytest.approx(
            sum(one.ml for one in beads(study))
        )


def test_a_steps_clamp_time_is_that_of_its_slowest_glue() -> None:
    study = made(GLUED)
    up = GlueUp(study, assembly_order(study))
    waits = {step.key: step.minutes for step in (up.step(move, ()) for move in assembly_order(study).moves)}
    silicone = study.lamp.gluing.acrylic.clamp_minutes
    assert waits[place_key("plate 1")] == silicone
    assert waits[place_key("base")] == 0.0


def test_a_glue_without_times_says_so() -> None:
    own = '[glues.own]\nfilm = 0.2\ngrips = ["plywood", "acrylic", "metal"]\n'
    study = made(GLUED, ("[glue]\n", '[glue]\nacrylic = "own"\n'), more=own)
    up = GlueUp(study, assembly_order(study))
    steps = [up.step(move, ()) for move in assembly_order(study).moves]
    assert any("the lamp's file gives none" in line for step in steps for line in step.do)
    timed = made(
        GLUED,
        ("[glue]\n", '[glue]\nacrylic = "own"\n'),
        more=own + "open_minutes = 5\nclamp_minutes = 90\ncure_hours = 7\n",
    )
    up = GlueUp(timed, assembly_order(timed))
    lines = [line for move in assembly_order(timed).moves for line in up.step(move, ()).do]
    told = (
        "own: closed within 5 min, left under clamps or weights for 90 min at least, takes its load after 7 h"
    )
    assert f"{told}; the pack's own times come first." in lines


def test_screws_are_driven_when_both_their_parts_are_there() -> None:
    screw = '[[screw]]\nname = "cap screw"\ncount = 3\ndiameter = 3\nlength = 20\nthrough = "cap"\ninto = "ring 3"\n'
    study = made(more=screw)
    order = assembly_order(study)
    up = GlueUp(study, order)
    steps = {step.key: step for step in (up.step(move, ()) for move in order.moves)}
    told = {key for key, step in steps.items() if any("3 × cap screw" in line for line in step.do)}
    assert told == {"join cap"}
    assert "magnets" not in " ".join(steps["join cap"].do)


def test_a_hanging_core_is_fastened_at_the_bench() -> None:
    study = pendant()
    order = assembly_order(study)
    step = GlueUp(study, order).fastened(order.moves[-1])
    assert step is not None
    assert step.parts == ("cap", "core")
    assert not any(GlueUp(study, order).fastened(move) for move in order.moves[:-1])


def test_blocks_that_share_no_glued_joint_are_set_on_each_other_without_one() -> None:
    """Found by a random lamp: a plate that does not seat rests on its corners, and no layer there is named loose."""
    lamp = read_text(
        """name = "x"
cutter = 2
materials = { m = { wood = "ash", sold = 18 }, p = { acrylic = "opal", sold = 8 } }
layer = [
  { name = "ring", material = "m", outline = { rectangle = [140, 140] }, wall = 28, recess = { depth = 2 } },
  { name = "plate", material = "p", outline = { rectangle = [90, 90] } },
  { name = "top", material = "m", outline = { rectangle = [80, 80] } },
  { name = "cap", material = "m", outline = { rectangle = [80, 80] } },
]
glue = { loose = ["cap"] }
""",
        "lamp.toml",
        ".",
    )
    joins = {step.key: step.do[0] for step in work_order(Study(lamp)).steps if step.phase == "join"}
    assert joins == {
        "join plate": "the block of plate and top and what it stands on share no joint that glue would hold: "
        "hold it by screws, magnets or pins.",
        "join cap": "cap stays unglued, so that the lamp can be opened: hold it by screws, magnets or pins.",
    }
