"""Layers as written: one or a list, a layer or a group, and nothing that is not known."""

from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from stackview.description.written_layer import LayerEntry, WrittenGroup, WrittenLayer, WrittenStep

PLATE = {"name": "plate", "material": "ply", "outline": "body"}


def entry(**fields: Any) -> WrittenLayer | WrittenGroup:
    made: WrittenLayer | WrittenGroup = TypeAdapter(LayerEntry).validate_python(
        fields, context={"unit": "mm"}
    )
    return made


def test_an_entry_with_group_is_a_group() -> None:
    group = entry(group="tier", repeat=4)
    assert isinstance(group, WrittenGroup)
    assert (group.group, group.repeat, group.step) == ("tier", 4, None)
    assert isinstance(entry(**PLATE), WrittenLayer)


def test_a_group_takes_no_layers_fields() -> None:
    with pytest.raises(ValidationError, match="Extra inputs"):
        entry(group="tier", material="ply")


@pytest.mark.parametrize(
    ("field", "one"),
    [
        ("opening", {"circle": 30}),
        ("recess", {"depth": 1.5}),
        ("groove", {"along": "outline"}),
        ("chamfer", {"edge": "top outer", "width": 1}),
        ("bore", {"diameter": 4}),
    ],
)
def test_one_may_be_written_without_brackets(field: str, one: dict[str, Any]) -> None:
    assert getattr(entry(**PLATE, **{field: one}), field) == getattr(entry(**PLATE, **{field: [one]}), field)
    assert len(getattr(entry(**PLATE, **{field: [one, one]}), field)) == 2
    assert getattr(entry(**PLATE), field) == []
    with pytest.raises(ValidationError):
        entry(**PLATE, **{field: [one] * 201})


def test_a_chamfer_names_an_edge() -> None:
    with pytest.raises(ValidationError):
        entry(**PLATE, chamfer={"edge": [], "width": 1})
    with pytest.raises(ValidationError):
        entry(**PLATE, chamfer={"edge": "outer", "width": 1})


def test_a_step_that_is_left_out_changes_nothing() -> None:
    step = WrittenStep()
    assert (step.size, step.turn, step.thickness, step.grain) == (None, 0.0, None, 0.0)


@pytest.mark.parametrize("missing", ["name", "material", "outline"])
def test_name_material_and_outline_are_needed(missing: str) -> None:
    with pytest.raises(ValidationError, match="Field required"):
        entry(**{key: value for key, value in PLATE.items() if key != missing})


def test_written_values_are_frozen() -> None:
    with pytest.raises(ValidationError, match="frozen"):
        entry(**PLATE).repeat = 2
