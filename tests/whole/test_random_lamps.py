"""Random lamps from the file's own grammar are answered truly or refused clearly; ten thousand by a command of its own."""

import tomllib
from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest

from stackview.description.keys import every_table
from tests.whole.answers import ANSWERED, REFUSED, answer
from tests.whole.random_lamps import random_lamp
from tests.whole.refusals import check_offers, faults_of, offers

MATERIALS = (
    'name = "x"\nmaterials = { m = { wood = "ash", sold = 9 }, p = { acrylic = "clear", sold = 4 } }\n'
)
HEAD = f"{MATERIALS}light = [{{ diode = {{}}, watts = 3 }}]\n"
PLATE = 'material = "m", outline = { circle = 90 }'
TIER = ", ".join(f'{{ name = "{name}", {PLATE} }}' for name in "bcd")


def keys_in(node: Any, table: str = "") -> Iterator[tuple[str, str]]:
    """Every key that is written, with the name of the table that it stands in."""
    if isinstance(node, list):
        for each in node:
            yield from keys_in(each, table)
    elif isinstance(node, dict):
        for key, value in node.items():
            yield table, key
            yield from keys_in(value, key)


def test_a_number_always_gives_the_same_lamp_and_all_keys_of_the_file_are_written() -> None:
    texts = [random_lamp(number) for number in range(250)]
    assert texts[:50] == [random_lamp(number) for number in range(50)]
    assert len(set(texts)) == 250
    written = {key for text in texts for key in keys_in(tomllib.loads(text))}
    alone = {key for _, key in written}
    for table in every_table():
        for key in table.keys:
            above, _, name = key.path.rpartition(".")
            named = "NAME" in table.heading
            if above != "limits":
                assert name in alone if named else (above.rpartition(".")[2], name) in written, key.path


@pytest.mark.slow
def test_lamps_are_answered_truly_or_refused_clearly() -> None:
    tally: Counter[str] = Counter()
    for number in range(120):
        tally[answer(random_lamp(number), number, tally)] += 1
    assert tally[ANSWERED] + tally[REFUSED] == 120
    assert tally[ANSWERED] > 0.3 * 120  # what is refused at once tries nothing
    assert tally["lines judged"] > 500
    assert (
        min(tally[what] for what in ("numbers offered", "sheets laid", "pages drawn", "pictures drawn")) > 0
    )


@pytest.mark.parametrize("milliamps", ["0", "-1", "0.09"])
def test_a_light_that_draws_nothing_is_refused(milliamps: str) -> None:
    layer = 'layer = [{ name = "a", material = "m", outline = { circle = 90 } }]\n'
    assert answer(HEAD.replace("watts = 3", f"watts = 3, milliamps = {milliamps}") + layer) == REFUSED


@pytest.mark.parametrize(
    "cuts",
    [
        "outline = { circle = 90 }, wall = 45",
        "outline = { rectangle = [90, 60] }, wall = 29",
        "outline = { rectangle = [90, 60], corner_radius = 30.004 }",
        "outline = { sides = 6, across_flats = 77.749, corner_radius = 60 }",
        "outline = { circle = 90 }, recess = { depth = 2, outline = { circle = 80 } },"
        ' chamfer = { edge = "top outer", width = 7 }',
        "outline = { circle = 90 }, wall = 20, recess = { depth = 2, outline = { circle = 84 } },"
        ' chamfer = { edge = "top outer", width = 8.9 }',
        "outline = { circle = 90, inset = 50 }",
    ],
)
def test_a_number_that_a_refusal_offers_is_taken(cuts: str) -> None:
    """Found by typing in what random lamps were offered: rounded up, or refused by another cut."""
    text = HEAD + f'layer = [{{ name = "a", material = "m", {cuts} }}]\n'
    faults = faults_of(text)
    assert any(offers(fault) for fault in faults), faults
    assert check_offers(text, faults) > 0


@pytest.mark.parametrize(
    ("cuts", "more"),
    [
        # 170.6 / 2 − 2.8 / 2 is a last bit less than 83.9
        ("outline = { rectangle = [170.6, 170.6] }, wall = 88", "cutter = 2.8"),
        # 44.9 − 12.7 + 12.7 is a last bit more than 44.9
        ("outline = { circle = 44.9 }", "feet = { diameter = 12.7, height = 3, circle = 40 }"),
    ],
)
def test_a_number_that_is_offered_is_taken_to_the_last_bit(cuts: str, more: str) -> None:
    text = HEAD + f'{more}\nlayer = [{{ name = "a", material = "m", {cuts} }}]\n'
    assert check_offers(text, faults_of(text)) == 1


@pytest.mark.parametrize(
    ("more", "where"),
    [
        ("router = { least_rpm = 99999, most_rpm = 20000 }", "router · least_rpm"),
        ("router = { least_rpm = 9000, most_rpm = 1 }", "router · most_rpm"),
        ('light = [{ diode = {}, port = "usb 2.0", volts = 99 }]', "light 1 · volts"),
        # three layers a thousand times are more than a lamp may have
        (f"groups = {{ g = [{TIER}] }}", 'layer 2 (group "g") · repeat'),
    ],
)
def test_an_end_of_a_keys_own_range_is_not_refused_of_that_key(more: str, where: str) -> None:
    repeated = ', { group = "g", repeat = 2001 }' if "groups" in more else ""
    lamp = f'{MATERIALS}{more}\nlayer = [{{ name = "a", {PLATE} }}{repeated}]\n'
    faults = faults_of(lamp)
    assert [fault.where for fault in faults] == [where], faults
    assert check_offers(lamp, faults) == 2
