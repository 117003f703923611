"""Assembly: parts where they belong, heights and masses, clashes, and faults told together."""

import json
from dataclasses import replace
from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.lamp import Chamfer, Core, Feet, Lamp, Layer, Opening, Post, Surface
from stackview.description.outline import Around, Outline
from stackview.description.service import AIR
from stackview.description.service_tables import usual_gluing
from stackview.description.shapes import Circle
from stackview.errors import LampError
from stackview.stack.assembly import assemble, masses
from stackview.stack.joints import joints
from tests.stack.layers import ASH, circle, plate, pocket, ring, square
from tests.stack.variants import demo


def lamp(*layers: Layer, **more) -> Lamp:  # type: ignore[no-untyped-def]
    return Lamp("test", "mm", layers, **more)


BASE = Layer("base", ASH, 18.0, circle(130))


def test_heights_and_floor() -> None:
    stack = assemble(lamp(BASE, ring("ring"), surface=Surface(740.0, (1200.0, 700.0))))
    assert stack.height == 28.0
    assert stack.floor == 740.0
    assert [(part.underside, part.top) for part in stack.placed] == [(0.0, 18.0), (18.0, 28.0)]
    for part in stack.placed:
        assert part.solid.vertices[:, 2].min() == pytest.approx(part.underside)
        assert part.solid.vertices[:, 2].max() == pytest.approx(part.top)


def test_the_lowest_point_is_zero_even_where_a_plate_is_sunk() -> None:
    over = ring("over", recess=pocket(circle(104), 3.0, to="plate", face="underside"))
    stack = assemble(lamp(plate("plate", circle(104), 2.95), over, hangs_at=1500.0))
    assert stack.part("over").underside == pytest.approx(0.0)
    assert stack.part("plate").underside == pytest.approx(0.05)
    assert stack.floor == 1500.0


def test_core_stands_on_a_layer_or_hangs_from_one() -> None:
    core = Core(ASH, circle(30), 40.0, "base", None)
    assert assemble(lamp(BASE, core=core)).part("core").top == 58.0
    sunk = replace(core, sunk=3.0)
    base = replace(BASE, openings=(Opening(circle(31)),))
    assert assemble(lamp(base, core=sunk)).part("core").underside == 15.0
    lid = replace(BASE, name="lid")
    under = assemble(lamp(BASE, ring("ring", thick=60), lid, core=Core(ASH, circle(30), 50.0, None, "lid")))
    assert (under.part("core").underside, under.part("core").top) == (28.0, 78.0)
    between = assemble(
        lamp(BASE, ring("ring", thick=60), lid, core=Core(ASH, circle(30), None, "base", "lid"))
    )
    assert (between.part("core").underside, between.part("core").top) == (18.0, 78.0)


def test_a_core_without_a_height_reaches_to_the_layer_that_closes_the_lamp() -> None:
    lid = replace(BASE, name="lid")
    layers = (BASE, ring("ring", thick=30), ring("upper", thick=30), lid)
    up = assemble(lamp(*layers, core=Core(ASH, circle(30), None, "base", None))).part("core")
    assert (up.underside, up.top) == (18.0, 78.0)
    down = assemble(lamp(*layers, core=Core(ASH, circle(30), None, None, "lid"))).part("core")
    assert (down.underside, down.top) == (18.0, 78.0)


def test_core_stands_on_the_floor_of_a_recess_that_takes_it() -> None:
    core = Core(ASH, circle(30), 40.0, "base", None, wall=2.0)
    low = replace(BASE, recesses=(pocket(circle(100), 2.5),), openings=(Opening(circle(8)),))
    assert assemble(lamp(low, core=core)).part("core").underside == 15.5
    narrow = replace(BASE, recesses=(pocket(circle(20), 2.5),))
    assert assemble(lamp(narrow, core=core)).part("core").underside == 18.0
    lid = replace(BASE, name="lid", recesses=(pocket(circle(31), 4.0, face="underside"),))
    hung = assemble(lamp(BASE, ring("ring", thick=60), lid, core=Core(ASH, circle(30), 50.0, None, "lid")))
    assert hung.part("core").top == 82.0


def test_posts_reach_through_their_layers() -> None:
    post = Post("pin", ASH, circle(4), "base", "ring", Around(3, 106.0), inset=(2.0, 1.0))
    stack = assemble(lamp(BASE, ring("ring"), posts=(post,)))
    part = stack.part("pin")
    assert (part.underside, part.top) == (2.0, 27.0)
    assert {finding.check for finding in stack.findings} == {"overlap"}
    drilled = replace(BASE, openings=(Opening(circle(4.2), Around(3, 106.0)),))
    holed = replace(ring("ring"), openings=(*ring("ring").openings, Opening(circle(4.2), Around(3, 106.0))))
    assert assemble(lamp(drilled, holed, posts=(post,))).findings == ()


def test_feet_lift_the_lamp() -> None:
    stack = assemble(lamp(BASE, feet=Feet(ASH, 12.0, 5.0, Around(3, 100.0))))
    assert stack.height == 23.0
    assert stack.part("base").underside == 5.0
    assert stack.part("feet").underside == 0.0


def test_a_turned_layer_turns_counter_clockwise_from_above() -> None:
    stack = assemble(lamp(replace(BASE, outline=Outline(Circle(10), at=(50.0, 0.0)), turn=90.0, grain=90.0)))
    part = stack.part("base")
    assert part.solid.vertices[:, :2].mean(axis=0) == pytest.approx([0.0, 50.0], abs=1e-9)
    assert part.grain == 180.0


def test_clash_is_found_with_its_volume_and_place() -> None:
    stack = assemble(lamp(BASE, ring("ring"), core=Core(ASH, square(10), 28.0, "base", None, sunk=8.0)))
    (finding,) = stack.findings
    assert (finding.check, finding.where) == ("overlap", "base and core")
    assert finding.value == pytest.approx(800.0, rel=1e-9)
    assert "14 mm up" in finding.what


def test_clash_says_at_which_end_to_shorten_what_stands_too_tall() -> None:
    core = Core(ASH, circle(30), 62.5, "base", None)
    lid = replace(BASE, name="lid")
    (finding,) = assemble(lamp(BASE, ring("ring", thick=60), lid, core=core)).findings
    assert finding.where == "lid and core"
    # by how much is tried on the rebuilt lamp (tests/checks/test_clash.py)
    assert "Shorten core at its top" in finding.advice


def test_pins_without_holes_are_located_at_a_pin() -> None:
    post = Post("pin", ASH, circle(4), "base", "base", Around(3, 90.0))
    (finding,) = assemble(lamp(BASE, posts=(post,))).findings
    assert "in 3 places" in finding.what
    assert "x 0 mm, y 0 mm" not in finding.what


def test_a_fit_decided_on_curves_is_no_clash_on_facets() -> None:
    # At the corner rule's very limit the recess's facets cut into the plate's corner by a hair.
    outline = square(80)
    recess = pocket(outline, 2.0, 0.8787, 3.0, "plate")  # 3·0.292893 = 0.87868
    low = Layer("low", ASH, 10.0, square(120), recesses=(recess,))
    stack = assemble(lamp(low, plate("plate", outline)))
    assert stack.seats
    assert stack.findings == ()


def test_a_thin_level_clash_is_still_found() -> None:
    core = Core(ASH, circle(30), 60.02, "base", None)
    lid = replace(BASE, name="lid")
    (finding,) = assemble(lamp(BASE, ring("ring", thick=60), lid, core=core)).findings
    assert finding.check == "overlap"


def test_touching_parts_do_not_clash() -> None:
    low = ring("low", recess=pocket(square(80), 2.0, 0.0, to="plate"))
    assert assemble(lamp(low, plate("plate", square(80)), ring("high"))).findings == ()


def test_mass_is_volume_times_density() -> None:
    (mass,) = masses(assemble(lamp(Layer("block", ASH, 20.0, square(100)))))
    assert mass.volume == pytest.approx(200_000.0, rel=1e-9)
    assert mass.grams == pytest.approx(200_000.0 * 600.0 * 1e-6, rel=1e-9)


def test_facetted_disc_weighs_its_polygon() -> None:
    # Between the inscribed polygon's area with chord error 0.05 and the true circle's.
    (mass,) = masses(assemble(lamp(Layer("disc", ASH, 10.0, circle(100)))))
    assert pi * (50 - 0.05) ** 2 * 10 < mass.volume < pi * 50**2 * 10


def test_all_parts_that_cannot_be_made_are_told_together() -> None:
    small = Layer("one", ASH, 10.0, circle(50), openings=(Opening(circle(60)),))
    with pytest.raises(LampError) as error:
        assemble(lamp(small, replace(small, name="two")))
    assert [fault.where for fault in error.value.faults] == ['layer "one" · opening', 'layer "two" · opening']


def test_a_core_with_no_room_is_told() -> None:
    with pytest.raises(LampError, match="core · height"):
        assemble(lamp(BASE, ring("ring"), core=Core(ASH, circle(30), None, "base", "ring")))


def test_a_post_inset_away_is_told() -> None:
    post = Post("pin", ASH, circle(4), "base", "base", inset=(10.0, 9.0))
    with pytest.raises(LampError, match="pin.*inset"):
        assemble(lamp(BASE, posts=(post,)))


def test_results_are_read_only() -> None:
    part = assemble(lamp(BASE)).placed[0]
    with pytest.raises(ValueError, match="read-only"):
        part.solid.vertices[0, 0] = 1.0
    assert isinstance(part.solid.vertices, np.ndarray)


def test_a_value_says_in_one_line_what_it_is_and_works_nothing_out_for_it() -> None:
    stack = assemble(demo("honeycomb"))
    assert repr(stack) == 'Stack("Honeycomb", 16 parts, 6.369 in (161.77 mm) tall, findings: not asked)'
    assert "findings" not in vars(stack)
    assert len(stack.findings) == 1
    assert repr(stack) == 'Stack("Honeycomb", 16 parts, 6.369 in (161.77 mm) tall, findings: 1)'
    values = (stack, *stack.placed, *(part.solid for part in stack.placed), *stack.seats, *stack.misfits)
    for value in (*values, stack.standing, *joints(stack), *(one.strips[0] for one in joints(stack))):
        assert len(repr(value)) <= 150
        assert "\n" not in repr(value)
        assert repr(value).startswith(type(value).__name__)
    assert repr(stack.part("ring 1")) == 'Placed("ring 1", layer, walnut, 24.4348 to 43.2816 mm)'


def test_the_table_holds_plain_values_of_every_part() -> None:
    stack = assemble(demo("honeycomb"))
    rows = stack.table()
    assert [row["part"] for row in rows] == [part.name for part in stack.placed]
    assert {type(value) for row in rows for value in row.values()} == {str, float}
    assert len({tuple(row) for row in rows}) == 1
    assert json.loads(json.dumps(rows)) == rows
    ring = rows[2]
    assert ring["height_mm"] == pytest.approx(0.742 * 25.4)
    assert ring["top_mm"] == stack.part("ring 1").top
    assert sum(float(row["grams"]) for row in rows) == pytest.approx(sum(one.grams for one in masses(stack)))


def test_glue_fills_the_joints_of_what_is_not_loose() -> None:
    gluing = replace(usual_gluing(), loose=("ring",))
    stack = assemble(lamp(BASE, ring("ring"), gluing=gluing, feet=Feet(ASH, 10.0, 5.0, Around(3, 40.0))))
    film = {part.name: part.film.index for part in stack.placed}
    assert (film["base"], film["ring"]) == (1.41, 1.0)
    assert all(part.film == AIR for part in stack.placed if part.role == "foot")
    assert [part.film.index for part in assemble(lamp(BASE)).placed] == [1.41]


@pytest.mark.slow
@given(
    sizes=st.lists(
        st.tuples(st.floats(6.0, 24.0), st.floats(3.0, 20.0), st.floats(0.3, 6.0)), min_size=1, max_size=4
    ),
    depth=st.floats(0.5, 2.9),
    recess=st.floats(0.5, 8.0),
)
def test_every_solid_reaches_as_far_as_the_stack_says(
    sizes: list[tuple[float, float, float]], depth: float, recess: float
) -> None:
    layers = []
    for number, (wall, thick, bevel) in enumerate(sizes):
        chamfers = (Chamfer("top outer", bevel, 30.0), Chamfer("underside opening", 0.5 * bevel, 30.0))
        pit = (pocket(circle(120.0 - 2.0 * recess), depth, clearance=0.0),) if depth < thick else ()
        opening = Opening(circle(120.0 - 2.0 * wall), main=True)
        layers.append(
            Layer(
                f"ring {number}",
                ASH,
                thick,
                circle(120.0),
                openings=(opening,),
                recesses=pit,
                chamfers=chamfers,
            )
        )
    try:
        stack = assemble(Lamp("test", "mm", tuple(layers)))
    except LampError:
        return
    for part in stack.placed:
        heights = part.solid.vertices[:, 2]
        assert (heights.min(), heights.max()) == pytest.approx((part.underside, part.top), abs=1e-9)
    assert stack.height == pytest.approx(
        max(part.solid.vertices[:, 2].max() for part in stack.placed), abs=1e-9
    )


def test_rods_weigh_what_their_exact_cross_section_does() -> None:
    # a tube's π (16² − 14²) · 150, pins' π 2.45² · 16, feet's π 6² · 3; facets would lack up to 5 %
    tower = lamp(
        BASE,
        core=Core(ASH, circle(32.0), 150.0, "base", None, 2.0),
        posts=(Post("pins", ASH, circle(4.9), "base", "base", Around(6, 90.0), (1.0, 1.0)),),
        feet=Feet(ASH, 12.0, 3.0, Around(3, 100.0)),
    )
    volumes = {mass.name: mass.volume for mass in masses(assemble(tower))}
    assert volumes["core"] == pytest.approx(pi * (16.0**2 - 14.0**2) * 150.0, rel=1e-12)
    assert volumes["pins"] == pytest.approx(6.0 * pi * 2.45**2 * 16.0, rel=1e-12)
    assert volumes["feet"] == pytest.approx(3.0 * pi * 6.0**2 * 3.0, rel=1e-12)
