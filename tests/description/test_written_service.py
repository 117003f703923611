"""Glue, climates, ports, supply and cable as written: limits of what is believable."""

import pytest
from pydantic import ValidationError

from stackview.description import written_service as written

UNIT = {"unit": "mm"}


@pytest.mark.parametrize(
    ("table", "fields"),
    [
        (written.WrittenGlue, {"film": 0, "grips": ["wood"], "stretch": 10}),
        (written.WrittenGluing, {}),
        (written.WrittenClimate, {"temperature": -40, "humidity": 100}),
        (written.WrittenPort, {"amps": 0.01}),
        (written.WrittenSupply, {"adapter": 100}),
        (written.WrittenCable, {"length": 50, "wire": "AWG 22"}),
    ],
)
def test_the_ends_of_every_range_are_allowed(table: type[written.Written], fields: dict[str, object]) -> None:
    made = table.model_validate(fields, context=UNIT)
    assert set(fields) == made.model_fields_set


@pytest.mark.parametrize(
    ("table", "fields"),
    [
        (written.WrittenGlue, {"grips": ["wood"]}),
        (written.WrittenGlue, {"film": -0.1, "grips": ["wood"]}),
        (written.WrittenGlue, {"film": 0.1, "grips": ["stone"]}),
        (written.WrittenGlue, {"film": 0.1, "grips": [], "on_acrylic": "melts"}),
        (written.WrittenGluing, {"metal": "epoxy"}),
        (written.WrittenClimate, {"temperature": 21}),
        (written.WrittenClimate, {"temperature": 21, "humidity": 101}),
        (written.WrittenPort, {"amps": 0}),
        (written.WrittenSupply, {"fuse": True}),
        (written.WrittenCable, {"length": 49}),
        (written.WrittenCable, {"strain_relief": "yes"}),
    ],
)
def test_what_is_beyond_them_is_refused(table: type[written.Written], fields: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        table.model_validate(fields, context=UNIT)


def test_a_port_is_five_volts_where_it_does_not_say() -> None:
    # USB 2.0 and IEC 62680-1-3: a port gives 5 V before anything else is agreed on.
    assert written.WrittenPort.model_validate({"amps": 3}, context=UNIT).volts == 5.0
