"""Equal copies: all turned, shifted and turned-over ones are found, none that differs by 1e-4 mm."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.lamp import Bore, Chamfer, Layer, Opening, Recess
from stackview.description.material import Finish
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle, Rectangle, Regular, Shape
from stackview.shop.copies import cut_parts, parts_of_layers
from stackview.study import Study
from tests.lamps import WOOD, acrylic
from tests.shop.parts_to_cut import drawn_again

SHAPES: tuple[Shape, ...] = (
    Circle(120.0),
    Rectangle(150.0, 90.0, 12.0),
    Rectangle(100.0, 100.0),
    Regular(6, 139.7),
    Regular(5, 90.0, 4.0),
)


@st.composite
def parts(draw: st.DrawFn) -> Layer:
    place = st.floats(-25.0, 25.0)
    openings = [
        Opening(
            Outline(draw(st.sampled_from((Circle(6.0), Rectangle(9.0, 5.0)))), at=(draw(place), draw(place)))
        )
        for _ in range(draw(st.integers(0, 3)))
    ]
    if draw(st.booleans()):
        openings.append(Opening(Outline(Circle(4.0)), Around(draw(st.integers(2, 12)), 70.0, draw(place))))
    recesses = [
        Recess(
            draw(st.sampled_from(("top", "underside"))),
            draw(st.floats(0.5, 4.0)),
            Outline(Circle(20.0), at=(draw(place), draw(place))),
            0.0,
        )
        for _ in range(draw(st.integers(0, 2)))
    ]
    chamfer = (Chamfer("top outer", 2.0),) if draw(st.booleans()) else ()
    return Layer(
        "part",
        WOOD,
        10.0,
        Outline(draw(st.sampled_from(SHAPES)), turn=draw(st.floats(0.0, 90.0))),
        openings=tuple(openings),
        recesses=tuple(recesses),
        chamfers=chamfer,
        grain=draw(st.floats(0.0, 360.0)),
    )


@given(parts(), st.floats(0.0, 360.0), st.floats(-50.0, 50.0), st.booleans())
def test_a_part_drawn_again_elsewhere_is_the_same_part(
    layer: Layer, turn: float, aside: float, over: bool
) -> None:
    again = drawn_again(layer, turn=turn, to=(aside, 2.0 * aside), over=over)
    found = parts_of_layers((layer, again))
    assert len(found) == 1
    assert found[0].names == ("part", "part again")
    # and the turn that is told lays the one on the other
    copy = found[0].copies[1]
    told = drawn_again(layer, turn=copy.turn, over=copy.turned_over)
    assert len(parts_of_layers((replace(told, grain=again.grain), again))) == 1


@given(
    parts(), st.floats(0.0, 360.0), st.booleans(), st.sampled_from(("all", "depth", "thick", "hole", "grain"))
)
def test_none_that_differs_is_taken_for_it(layer: Layer, turn: float, over: bool, what: str) -> None:
    other = drawn_again(layer, turn=turn, over=over)
    match what:
        case "all":
            # 1e-4 mm larger on every side
            other = replace(other, outline=other.outline.grown(1e-4))
        case "depth":
            if not other.recesses:
                return
            first = other.recesses[0]
            other = replace(other, recesses=(replace(first, depth=first.depth + 1e-4), *other.recesses[1:]))
        case "thick":
            other = replace(other, thickness=other.thickness + 1e-4)
        case "hole":
            # a round hole that none of the others is like, 10 mm from the middle of a square
            square = replace(layer, outline=Outline(Rectangle(100.0, 100.0)))
            holes = [
                replace(square, openings=(Opening(Outline(Circle(3.0), at=(x, 0.0))),), recesses=())
                for x in (10.0, 10.0001)
            ]
            layer, other = holes[0], drawn_again(holes[1], turn=turn, over=over)
        case _:
            rectangle = replace(layer, outline=Outline(Rectangle(100.0, 90.0)), openings=(), recesses=())
            layer, other = (
                rectangle,
                replace(drawn_again(rectangle, turn=turn), grain=rectangle.grain + turn + 0.01),
            )
    assert len(parts_of_layers((layer, other))) == 2


def test_grain_counts_modulo_half_a_turn_and_in_grained_materials_alone() -> None:
    plate = Layer("plate", WOOD, 5.0, Outline(Rectangle(100.0, 60.0)), grain=90.0)
    assert len(parts_of_layers((plate, replace(plate, grain=270.0)))) == 1
    assert len(parts_of_layers((plate, replace(plate, grain=0.0)))) == 2
    clear = replace(plate, material=acrylic("clear"))
    assert len(parts_of_layers((clear, replace(clear, grain=0.0)))) == 1
    # a square may be turned so that its grain runs as asked; a rectangle may not
    square = replace(plate, outline=Outline(Rectangle(60.0, 60.0)))
    assert len(parts_of_layers((square, replace(square, grain=0.0)))) == 1
    disc = replace(plate, outline=Outline(Circle(60.0)))
    (part,) = parts_of_layers((disc, replace(disc, name="other", grain=123.0)))
    assert part.copies[1].turn == pytest.approx(33.0)


def test_bores_and_their_heights_count() -> None:
    def bored(bearing: float, height: float) -> Layer:
        return Layer(
            "base", WOOD, 18.0, Outline(Regular(6, 100.0)), bores=(Bore(6.0, height, bearing),), grain=bearing
        )

    assert len(parts_of_layers((bored(180.0, 8.0), bored(60.0, 8.0)))) == 1
    assert len(parts_of_layers((bored(180.0, 8.0), bored(90.0, 8.0)))) == 2
    (part,) = parts_of_layers((bored(180.0, 8.0), bored(60.0, 10.0)))
    assert part.turned_over == ("base",)
    assert len(parts_of_layers((bored(180.0, 8.0), bored(60.0, 8.0001)))) == 2


def test_finishes_belong_to_faces() -> None:
    plate = Layer(
        "plate", acrylic("clear"), 4.0, Outline(Rectangle(100.0, 60.0)), finish=Finish(top="sanded")
    )
    (part,) = parts_of_layers((plate, replace(plate, name="below", finish=Finish(underside="sanded"))))
    assert part.turned_over == ("below",)
    assert len(parts_of_layers((plate, replace(plate, finish=Finish(edge="sanded"))))) == 2


@pytest.mark.parametrize(
    ("demo", "pieces", "different"),
    # counted by hand from the files: what is cut from sheets and rods as layers
    [("honeycomb", 17, 8), ("kelp", 13, 6), ("moor-drum", 18, 13), ("turning-lantern", 17, 6)],
)
def test_the_demos(demo: str, pieces: int, different: int) -> None:
    found = cut_parts(Study.read(f"demos/{demo}.toml"))
    assert sum(part.count for part in found) == pieces
    assert len(found) == different
    assert found[0].name in ("base", "bottom plate")
