from stackview.description.units import MILLIMETRES
from stackview.shop.copies import cut_parts
from stackview.shop.machining import AskedFigures, machining_steps
from stackview.shop.parts_list import parts_list
from stackview.shop.step import WorkStep
from stackview.study import Study
from tests.shop.hand_lamps import made


def steps(study: Study) -> dict[str, WorkStep]:
    figures = AskedFigures(study.lamp.workshop.router)
    found = machining_steps(study, cut_parts(study), parts_list(study).parts, figures)
    return {step.key: step for step in found}


def test_every_part_is_cut_in_one_step() -> None:
    study = made()
    cut = [name for step in steps(study).values() for name in step.parts]
    assert sorted(cut) == sorted(part.name for part in study.stack.placed)


def test_recesses_on_both_faces_are_flipped_once_on_dowels_before_the_outline() -> None:
    both = 'recess = [{ depth = 1.5 }, { depth = 2, face = "underside", outline = { circle = 100 } }]'
    (step,) = [
        one for key, one in steps(made(("recess = { depth = 1.5 }", both))).items() if key == "cut ring 1"
    ]
    where = [
        next(k for k, line in enumerate(step.do) if word in line)
        for word in ("Into the top", "dowels", "Into the underside", "outline last")
    ]
    assert where == sorted(where)
    assert sum("dowels" in line for line in step.do) == 1


def test_a_chamfer_on_the_other_face_needs_no_dowels() -> None:
    bevel = (
        "outline = { circle = 120 }\nwall = 14",
        'outline = { circle = 120 }\nwall = 14\nchamfer = { edge = "underside outer", width = 1 }',
    )
    step = steps(made(bevel))["cut ring 1"]
    assert not any("dowels" in line for line in step.do)
    assert any("bearing" in tool for tool in step.tools)


def test_passes_follow_the_cutter() -> None:
    # 17.6 mm of plywood with a cutter of 3 mm, passes as deep as it is wide: 6
    assert any("outline last" in line and "6 passes" in line for line in steps(made())["cut base"].do)
    wide = steps(made(more="[router]\noutline = 6\n"))["cut base"]
    assert any("cutter of 6 mm" in line and "3 passes" in line for line in wide.do)


def test_a_groove_takes_its_own_cutter() -> None:
    groove = (
        "recess = { depth = 1.5 }",
        'recess = { depth = 1.5 }\ngroove = { along = "recess", width = 1.5 }',
    )
    assert "cutter 1.5 mm" in steps(made(groove))["cut ring 1"].tools
    assert "cutter 1 mm" in steps(made(groove, more="[router]\ngroove = 1\n"))["cut ring 1"].tools


def test_holes_in_the_core_are_drilled() -> None:
    step = steps(made(("wall = 2\n", "wall = 2\nhole = { diameter = 5, height = 4 }\n")))["cut core"]
    assert "drill" in step.tools
    assert any(f"Drill {MILLIMETRES.show(5.0)} through the wall" in line for line in step.do)
