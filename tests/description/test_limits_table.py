"""The table of limits, and limits set in the lamp's file."""

import pytest

from stackview.description.limits_table import known_limits, own_limit
from stackview.description.reading import read_text
from stackview.description.units import MILLIMETRES
from stackview.description.written_lamp import schema
from stackview.errors import LampError


def test_every_limit_has_unit_purpose_source_and_a_default_within_its_range() -> None:
    for name, limit in known_limits().items():
        assert limit.name == name
        assert limit.low <= limit.value <= limit.high
        assert limit.purpose
        assert limit.source
        assert limit.unit or limit.value <= 1.0, f"{name}: only a share has no unit"


def test_lengths_are_read_in_the_lamps_unit(base: str) -> None:
    lamp = read_text(base + "[limits]\nwall_wood = 4\nledge = '1/4 in'\ncutter_reach = 7\n", "lamp", ".")
    assert {limit.name: limit.value for limit in lamp.limits} == {
        "wall_wood": 4.0,
        "ledge": pytest.approx(6.35),
        "cutter_reach": 7.0,
    }
    assert {limit.source for limit in lamp.limits} == {"your own limit, in the lamp's file"}
    inches = read_text(
        base.replace("cutter = 3", 'unit = "in"\ncutter = 0.1') + "[limits]\nwall_wood = 0.25\n", "", "."
    )
    assert inches.limits[0].value == pytest.approx(6.35)


def test_cutter_is_kept(base: str) -> None:
    assert read_text(base, "lamp", ".").cutter == 3.0


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("wall_wod = 4", 'did you mean "wall_wood"?'),
        ("wall_wood = 4000", "wall_wood"),
        ('cutter_reach = "long"', "write a number from 1 to 30 cutter diameters"),
        ("cutter_reach = true", "is not a number"),
        ("cutter_reach = 300", "outside its limits, 1 to 30"),
        ("ledge = nan", "ledge"),
    ],
)
def test_faults(base: str, line: str, words: str) -> None:
    with pytest.raises(LampError) as caught:
        read_text(f"{base}[limits]\n{line}\n", "lamp", ".")
    (fault,) = caught.value.faults
    assert fault.where.startswith("limits · ")
    assert words in str(fault)


def test_limits_that_are_no_table(base: str) -> None:
    with pytest.raises(LampError, match="limits"):
        read_text("limits = 3\n" + base, "lamp", ".")


def test_unknown_name_is_a_value_error() -> None:
    with pytest.raises(ValueError, match="no limit is called"):
        own_limit("nothing", 3, MILLIMETRES)


def test_schema_offers_every_limit() -> None:
    offered = schema()["properties"]["limits"]
    assert offered["properties"].keys() == known_limits().keys()
    assert offered["additionalProperties"] is False
    assert "plywood" in offered["properties"]["wall_wood"]["description"]
