"""What is raised on purpose: one base, and messages that name file, field and every fault."""

import pickle

import pytest

from stackview.description.units import Units
from stackview.errors import Fault, LampError, OutputError, SolidError, StackviewError


def test_a_fault_is_its_place_and_what_to_do() -> None:
    assert str(Fault('layer "ring" · recess · depth', "0 mm is too little")) == (
        'layer "ring" · recess · depth: 0 mm is too little'
    )
    # A fault of the whole file has no place.
    assert str(Fault("", "the file is empty")) == "the file is empty"


def test_every_fault_of_a_lamp_is_told_with_its_file() -> None:
    faults = (Fault("layer", "no layers"), Fault("", "no name"))
    error = LampError("lamp.toml", faults)
    assert (error.file, error.faults) == ("lamp.toml", faults)
    assert str(error).splitlines() == ["lamp.toml: layer: no layers", "lamp.toml: no name"]


def test_a_solid_says_its_field() -> None:
    error = SolidError("chamfer", "2 mm is more than the wall")
    assert (error.field, error.what, str(error)) == (
        "chamfer",
        "2 mm is more than the wall",
        "chamfer: 2 mm is more than the wall",
    )


def test_a_solid_keeps_its_lengths_apart() -> None:
    error = SolidError(
        "wall",
        '"{name}" has {wall:small} at {where}, {room:most} of {width}',
        name="a {b}",
        wall=0.0254,
        where=(25.4, 0.0),
        room=12.6,
        width=25.4,
    )
    assert error.what == '"a {b}" has 0.0254 mm at (25.40, 0.00) mm, 12.6000 mm of 25.4 mm'
    assert error.said(Units("in")) == '"a {b}" has 0.001 in at x 1 in, y 0 in, 0.496 in of 1 in'
    # Without lengths nothing is read into a text, whatever a layer is called.
    assert SolidError("opening", 'nothing is left of "{}"').said(Units("in")) == 'nothing is left of "{}"'


@pytest.mark.parametrize("kind", [LampError, SolidError, OutputError])
def test_all_have_one_base(kind: type[Exception]) -> None:
    assert issubclass(kind, StackviewError)
    # A slip of ours is none of them, so that catching the base never hides one.
    assert not issubclass(kind, ValueError | TypeError | OSError)


def test_errors_come_back_whole_from_another_process() -> None:
    lamp = LampError("lamp.toml", (Fault("layer", "no layers"), Fault("", "no name")))
    solid = SolidError("wall", "{wide} is left at {at}", wide=3.0, at=(1.0, 2.0))
    for error in (lamp, solid):
        sent = pickle.loads(pickle.dumps(error))
        assert (type(sent), str(sent), sent.args) == (type(error), str(error), error.args)
    assert pickle.loads(pickle.dumps(lamp)).faults == lamp.faults
    assert pickle.loads(pickle.dumps(solid)).said(Units("in")) == solid.said(Units("in"))
