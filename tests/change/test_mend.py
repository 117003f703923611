"""A mend's words: what moves, from what to what, and what it costs."""

import json

import pytest

from stackview.change.mend import Mend, NewNumber
from stackview.description.units import Units
from stackview.findings import Finding, Level

MM = Units("mm")


@pytest.mark.parametrize(
    ("path", "layers", "text"),
    [
        (
            "groups.open-tier.ring.thickness",
            ("ring 1", "ring 2"),
            "groups.open-tier.ring.thickness 1 mm to 2 mm (ring 1 and ring 2)",
        ),
        (
            'layer."base plate".outline.across_flats',
            ("base plate",),
            'layer."base plate".outline.across_flats 1 mm to 2 mm',
        ),
        ("layer.3.thickness", ("cap",), "layer.3.thickness 1 mm to 2 mm (cap)"),
        ("light.diode.diode.height", (), "light.diode.diode.height 1 mm to 2 mm"),
        (
            "outlines.hexagon.across_flats",
            ("base", "cap"),
            "outlines.hexagon.across_flats 1 mm to 2 mm (base and cap)",
        ),
        ("clearance", (), "clearance 1 mm to 2 mm"),
    ],
)
def test_the_files_own_path_is_said_and_all_that_moves(path: str, layers: tuple[str, ...], text: str) -> None:
    assert NewNumber(path, "1 mm", "2 mm", 2.0, layers).text == text


def test_costs_are_told() -> None:
    number = NewNumber("core.height", "1 mm", "2 mm", 2.0)
    new = Finding("walls", Level.CAUTION, "base", "only 1 mm is left")
    mend = Mend((number,), "hides it", -2.2, 7.4, (new,))
    assert mend.text(MM) == (
        "core.height 1 mm to 2 mm: hides it; lamp 2.2 mm lower, 7 g heavier, "
        "it brings a caution: base: only 1 mm is left."
    )
    assert (
        Mend((number,), "hides it", 0.0, 0.0).text(MM)
        == "core.height 1 mm to 2 mm: hides it; lamp no taller."
    )
    assert mend.changes == {"core.height": 2.0}
    record = json.loads(json.dumps(mend.record()))
    assert record["changes"][0] == {
        "path": "core.height",
        "old": "1 mm",
        "new": "2 mm",
        "typed": 2.0,
        "layers": [],
    }
    assert record["new_findings"][0]["level"] == "caution"
    assert record["worse_findings"] == []
    worse = Mend((number,), "clears it", 0.0, 0.0, worse=(new,))
    assert worse.text(MM).endswith("lamp no taller, it makes a caution worse: base: only 1 mm is left.")
    assert worse.record()["worse_findings"] == record["new_findings"]


def test_less_power_is_said_to_be_dimming_or_a_weaker_light() -> None:
    assert NewNumber("light.runs.milliamps", "20", "6", 6).text.endswith(
        "20 to 6 (dimmed, or a weaker light)"
    )
    assert NewNumber("light.runs.port", "usb 2.0", "usb charger", "usb charger").text.endswith(
        "to usb charger"
    )
