import math
from pathlib import Path

import pytest

from stackview.shop.bought_things import SAW_CUT, SPARE_GLUE, glue_amounts
from stackview.shop.parts_list import parts_list
from tests.shop.box_lamp import BOX, box_study

DRUM = """
name = "Drum"
[materials.ply]
plywood = "birch"
sold = 9
[[layer]]
name = "base"
material = "ply"
outline = { circle = 100 }
[[layer]]
name = "ring"
material = "ply"
outline = { circle = 100 }
wall = 6
"""


def test_glue_is_area_times_film_and_excess(tmp_path: Path) -> None:
    study = box_study(tmp_path, DRUM)
    ((glue, (amount, joints)),) = glue_amounts(study).items()
    assert (glue.name, joints) == ("wood glue", 1)
    # a ring 6 mm wide, narrower than the band that is glued of wide joints
    area = math.pi * (50.0**2 - 44.0**2)
    excess = study.limits.value("bead_excess")
    assert amount == pytest.approx(area * glue.film * (1.0 + excess) / 1000.0, rel=1e-3)
    (bought,) = [thing for thing in parts_list(study, 3).bought if thing.of == "ml"]
    assert bought.number == pytest.approx(3 * SPARE_GLUE * amount)


def test_a_lamp_without_light_needs_no_cable(tmp_path: Path) -> None:
    listed = parts_list(box_study(tmp_path, DRUM))
    assert [thing.of for thing in listed.bought] == ["mm²", "ml"]
    assert listed.bought[0].number == pytest.approx(2 * 100.0**2)


def test_rods_count_the_saw_and_strip_its_cut_marks(tmp_path: Path) -> None:
    listed = parts_list(box_study(tmp_path), 2)
    rods = [thing for thing in listed.bought if "rod" in thing.what]
    assert [thing.number for thing in rods] == pytest.approx([8 * (19.4 + SAW_CUT), 2 * (60.0 + SAW_CUT)])
    assert rods[1].price == pytest.approx(2 * 0.062 * 3.0)
    (strip,) = [thing for thing in listed.bought if "strip" in thing.what]
    # 60 light points a metre: a cut mark every 1000/60 mm, 13 of them on each lamp
    assert strip.number == pytest.approx(2 * 13 * 1000.0 / 60.0)
    assert strip.how == "2 of 216.67 mm (13 segments); a cut mark every 16.67 mm; 13 light points a lamp"
    assert strip.price == pytest.approx(strip.number / 1000.0 * 11.0)


def test_feet_cable_and_adapter(tmp_path: Path) -> None:
    things = {thing.what.partition(",")[0]: thing for thing in parts_list(box_study(tmp_path), 2).bought}
    assert things["feet"].number == 6
    assert things["feet"].price == pytest.approx(2.4)
    assert things["cable"].number == 3000.0
    assert things["cable"].price == pytest.approx(9.0)
    # 13 points of a strip of 9 W/m, 60 a metre, at 5 V
    assert "the light draws 0.39 A" in things["plug or adapter"].how


def test_a_price_for_something_else_is_told(tmp_path: Path) -> None:
    text = BOX.replace('price = "3 per m"', 'price = "30 per m2"')
    rods = [thing for thing in parts_list(box_study(tmp_path, text)).bought if "rod" in thing.what]
    assert all(
        thing.price is None and "30.00 per m² does not say what it costs" in thing.how for thing in rods
    )
    by_mass = BOX.replace('price = "3 per m"', 'price = "10 per kg"')
    study = box_study(tmp_path, by_mass)
    core = next(thing for thing in parts_list(study).bought if "⌀ 30" in thing.what)
    density = study.stack.part("core").material.density
    assert core.price == pytest.approx(math.pi * 15.0**2 * 62.0 * density * 1e-9 * 10.0)


def test_a_fuse_and_a_diode(tmp_path: Path) -> None:
    text = (
        DRUM
        + '[[light]]\ndiode = {}\nprice = "2 per piece"\n[supply]\nfuse = 2\nadapter = 1\nprice = "7 per piece"\n'
    )
    things = {thing.what: thing for thing in parts_list(box_study(tmp_path, text), 4).bought}
    assert things["fuse, 2 A"].number == 4
    assert things["plug or adapter, 5 V, rated 1 A"].price == pytest.approx(28.0)
    assert things['light "diode", 1 light point'].price == pytest.approx(8.0)


def test_screws_that_are_alike_are_bought_together(tmp_path: Path) -> None:
    screws = '[[screw]]\nname = "{}"\nthrough = "{}"\ninto = "ring b"\nlength = 25\ncount = {}\nprice = "0.1 per piece"\n'
    text = BOX.replace(
        "[core]", screws.format("lid", "cap", 4) + screws.format("under", "ring a", 2) + "[core]"
    )
    (bought,) = [thing for thing in parts_list(box_study(tmp_path, text), 3).bought if "screws" in thing.what]
    assert bought.what == "screws, 4 mm across, 25 mm long"
    assert (bought.number, bought.amount, bought.price) == (18.0, "18 pieces", pytest.approx(1.8))
    assert bought.how.startswith("lid: 12 through cap into ring b; under: 6 through ring a into ring b;")
