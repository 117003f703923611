"""What is raised on purpose: one base, and messages that name file, field and every fault."""

import pytest

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


@pytest.mark.parametrize("kind", [LampError, SolidError, OutputError])
def test_all_have_one_base(kind: type[Exception]) -> None:
    assert issubclass(kind, StackviewError)
    # A slip of ours is none of them, so that catching the base never hides one.
    assert not issubclass(kind, ValueError | TypeError | OSError)
