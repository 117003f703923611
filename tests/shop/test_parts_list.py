"""The parts list of a lamp of our own, its numbers by hand."""

import math

import pytest

from stackview.description.lamp import Layer
from stackview.description.material import Finish
from stackview.description.outline import Outline
from stackview.description.shapes import Circle
from stackview.errors import StackviewError
from stackview.shop.listed import PartsList
from stackview.shop.parts_list import finish_words, parts_list
from stackview.study import Study
from tests.lamps import WOOD, acrylic
from tests.shop.box_lamp import box_study


@pytest.fixture(scope="module")
def box(tmp_path_factory: pytest.TempPathFactory) -> Study:
    return box_study(tmp_path_factory.mktemp("box"))


@pytest.fixture(scope="module")
def listed(box: Study) -> PartsList:
    return parts_list(box)


def test_equal_parts_are_one_line(listed: PartsList) -> None:
    assert [(part.title, part.count) for part in listed.parts] == [
        ("base", 1),
        ("plate a, plate b", 2),
        ("ring a, ring b", 2),
        ("cap", 1),
        ("pins", 4),
        ("core", 1),
    ]
    by_name = {part.title: part for part in listed.parts}
    assert by_name["ring a, ring b"].turned_over == ("ring b",)
    assert by_name["plate a, plate b"].turned_over == ("plate b",)
    assert by_name["plate a, plate b"].finish == "top sanded, underside clear, edge sanded"
    assert str(by_name["base"].tall) == "19.4 mm"
    assert by_name["core"].size == pytest.approx((30.0, 30.0))
    assert by_name["core"].grain == "along its length"


def test_prices_by_hand(listed: PartsList) -> None:
    by_name = {part.title: part for part in listed.parts}
    # 0.160 m by 0.110 m at 95 a square metre
    assert by_name["cap"].price == pytest.approx(0.160 * 0.110 * 95.0)
    # 140 mm by 90 mm at 12 a square foot
    assert by_name["plate a, plate b"].price == pytest.approx(140.0 * 90.0 / 304.8**2 * 12.0)
    # 60 mm at 3 a metre
    assert by_name["core"].price == pytest.approx(0.060 * 3.0)


def test_masses_by_closed_form(box: Study, listed: PartsList) -> None:
    cap = next(part for part in listed.parts if part.title == "cap")
    density = box.stack.part("cap").material.density

    # a rounded rectangle less its bevel: a frustum, the mean of both faces and four times the middle (Simpson)
    def face(inset: float) -> float:
        radius = 10.0 - inset
        return (160.0 - 2 * inset) * (110.0 - 2 * inset) - (4.0 - math.pi) * radius**2

    volume = face(0.0) * 16.4 + (face(0.0) + 4.0 * face(1.5) + face(3.0)) * 3.0 / 6.0
    assert cap.grams == pytest.approx(volume * density * 1e-6, rel=2e-4)
    assert listed.grams == pytest.approx(sum(box.stack.table()[k]["grams"] for k in range(8)), rel=1e-9)  # type: ignore[misc]


def test_several_lamps_take_so_many_times_as_much(box: Study, listed: PartsList) -> None:
    five = parts_list(box, 5)
    assert [part.count for part in five.parts] == [5 * part.count for part in listed.parts]
    assert [thing.number for thing in five.bought] == pytest.approx(
        [5 * thing.number for thing in listed.bought]
    )
    assert five.price == pytest.approx(5 * listed.price)
    assert five.grams == pytest.approx(5 * listed.grams)


@pytest.mark.parametrize("lamps", [0, -1, 10_001, True, 2.0])
def test_what_is_no_number_of_lamps(box: Study, lamps: int) -> None:
    with pytest.raises(StackviewError, match="give a whole number from 1 to 10000"):
        parts_list(box, lamps)


def test_finish_in_words() -> None:
    plate = Layer("plate", acrylic("clear"), 4.0, Outline(Circle(90.0)))
    assert finish_words(plate) == "clear on every face"
    sanded = Layer("plate", acrylic("clear"), 4.0, Outline(Circle(90.0)), finish=Finish(*["sanded"] * 3))  # type: ignore[list-item]
    assert finish_words(sanded) == "sanded on every face"
    assert finish_words(Layer("plate", acrylic("opal"), 4.0, Outline(Circle(90.0)))) == "opal, as it comes"
    assert finish_words(Layer("base", WOOD, 4.0, Outline(Circle(90.0)))) == ""


@pytest.mark.parametrize(
    ("demo", "pieces", "different"),
    # layers, posts and core as counted by hand from the files
    [("honeycomb", 24, 10), ("kelp", 14, 7), ("moor-drum", 18, 13), ("turning-lantern", 18, 7)],
)
def test_the_demos(demo: str, pieces: int, different: int) -> None:
    listed = parts_list(Study.read(f"demos/{demo}.toml"))
    assert sum(part.count for part in listed.parts) == pieces
    assert len(listed.parts) == different
    assert all(thing.amount and thing.how for thing in listed.bought)


def test_clear_and_sanded_plates_of_one_sheet_are_one_purchase() -> None:
    listed = parts_list(Study.read("demos/turning-lantern.toml"))
    plates = [part for part in listed.parts if "plate" in part.title]
    assert len(plates) == 2
    assert plates[0].stock == plates[1].stock
    assert sum(thing.what.startswith("clear acrylic") for thing in listed.bought) == 1
