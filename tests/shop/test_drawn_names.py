"""Names of cuts are good names of DXF layers, with depths in the file's own unit."""

import re

from stackview.description.units import Units
from stackview.shop.drawn_cuts import drawn_cuts
from stackview.shop.drawn_names import drawn_name, file_unit
from tests.shop.parts import full_layer


def test_every_unit_has_a_file_unit() -> None:
    assert [file_unit(Units(unit)).word for unit in ("mm", "cm", "m", "in", "ft")] == [
        "mm", "mm", "mm", "in", "in",
    ]  # fmt: skip


def test_names_hold_only_signs_that_a_layer_may_have() -> None:
    # DXF Reference: no < > / \ " : ; ? * | = ` in the names of layers
    for unit in ("mm", "in"):
        for cut in drawn_cuts(full_layer()):
            assert re.fullmatch(r"[A-Za-z0-9_.]+", drawn_name(cut, file_unit(Units(unit))))


def test_a_depth_is_told_to_a_ten_thousandth_of_a_millimetre() -> None:
    assert file_unit(Units("mm")).said(2.79401) == "2.794mm"
    assert file_unit(Units("in")).said(2.794) == "0.11in"
    assert file_unit(Units("in")).said(25.4) == "1in"
