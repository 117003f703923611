"""Names of layers: found, near, repeated, or lost with their table."""

from pathlib import Path

import pytest

from stackview.description.context import Context
from stackview.description.faults import Faults
from stackview.description.lamp import Layer
from stackview.description.outline import Outline
from stackview.description.references import known_layer
from stackview.description.shapes import Circle
from stackview.description.written_lamp import WrittenLamp
from tests.lamps import WOOD

NAMES = ("base", "ring 1", "ring 2", "ring 3", "cap")
LAYERS = tuple(Layer(name, WOOD, 9.0, Outline(Circle(100.0))) for name in NAMES)


@pytest.fixture
def context() -> Context:
    written = WrittenLamp.model_validate({"name": "lamp"}, context={"unit": "mm"})
    return Context(written, Path(), False, Faults())


@pytest.mark.parametrize("name", [*NAMES, None])
def test_a_known_name_is_kept(context: Context, name: str | None) -> None:
    assert known_layer(context, name, "post", LAYERS) == name
    assert context.faults.all() == ()


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("ring", 'layer "ring" is repeated: say which, "ring 1" to "ring 3"'),
        ("bas", 'no layer is called "bas"; did you mean "base"? known: "base", '),
        ("xyz", 'no layer is called "xyz"; known: "base", '),
    ],
)
def test_an_unknown_name_says_what_to_write(context: Context, name: str, says: str) -> None:
    assert known_layer(context, name, "post · start", LAYERS) is None
    (fault,) = context.faults.all()
    assert fault.where == "post · start"
    assert fault.what.startswith(says)


def test_a_name_that_only_begins_alike_is_no_copy(context: Context) -> None:
    inner = [Layer("ring inner", WOOD, 9.0, Outline(Circle(100.0)))]
    assert known_layer(context, "ring", "post", inner) is None
    assert "is repeated" not in context.faults.all()[0].what


@pytest.mark.parametrize("lost", [{"layer": {"lid"}}, {"any": {"layer"}}])
def test_a_layer_that_could_not_be_read_is_not_missed(context: Context, lost: dict[str, set[str]]) -> None:
    context.faults.lost.update(lost)
    assert known_layer(context, "lid", "post", LAYERS) is None
    assert context.faults.all() == ()
