"""What each number moves: held by changing it, and comparing the lamps as they are resolved."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from stackview.description.lamp import Lamp, Layer
from stackview.description.lamp_file import LampFile
from stackview.description.numbers_written import Number
from stackview.description.outline import path_of
from stackview.errors import LampError
from tests.stills.demos import FOLDER


def moves(file: LampFile) -> dict[str, tuple[str, ...]]:
    return {number.path: number.moves for number in file.numbers()}


def test_the_cutter_moves_what_has_inside_corners_and_the_clearance_what_is_fitted() -> None:
    found = moves(LampFile.read(FOLDER / "honeycomb.toml"))
    assert found["cutter"] == ("base", "ring 1", "ring 2", "ring 3", "ring 4", "ring 5")
    assert found["clearance"] == ("base", "ring 1", "ring 3", "ring 5")
    # all holes of the drum are round, so that no corner of it knows its cutter
    assert moves(LampFile.read(FOLDER / "moor-drum.toml"))["cutter"] == ()


def test_a_plate_moves_the_recess_that_is_fitted_to_it() -> None:
    found = moves(LampFile.read(FOLDER / "honeycomb.toml"))
    assert found['layer."base plate".outline.across_flats'] == ("base", "base plate")
    assert found['layer."base plate".opening.circle'] == ("base plate",)


def test_what_is_no_layer_is_named_by_what_it_is() -> None:
    found = moves(LampFile.read(FOLDER / "honeycomb.toml"))
    assert found["core.height"] == ("the core", 'light "runs"')
    assert found['post."lower pins".outline.circle'] == ('post "lower pins"',)
    assert found["light.runs.runs.count"] == ('light "runs"',)
    assert found["eye.seated.height"] == ('eye "seated"',)
    assert found["surface.height"] == ("the surface",)
    assert moves(LampFile.read(FOLDER / "kelp.toml"))["pendant.underside"] == ("the whole lamp",)


def test_a_sheet_that_was_measured_is_as_thick_as_that(base: str, tmp_path: Path) -> None:
    found = moves(LampFile.read(FOLDER / "honeycomb.toml"))
    assert found["materials.walnut.sold"] == ("the checks",)
    assert "spacers 1" not in found["materials.walnut.measured"]
    file = LampFile.from_text(
        base + "[limits]\nslide = 2\n[glues.mine]\nfilm = 0.1\ngrips = ['wood']\n", "a", tmp_path
    )
    assert moves(file)["limits.slide"] == ("the checks",)
    assert moves(file)["glues.mine.film"] == ('glue "mine"',)


@pytest.mark.parametrize(
    "demo",
    [
        "honeycomb",
        *(pytest.param(name, marks=pytest.mark.slow) for name in ("moor-drum", "kelp", "turning-lantern")),
    ],
)
def test_a_changed_number_moves_what_is_said(demo: str) -> None:
    file = LampFile.read(FOLDER / f"{demo}.toml")
    before, numbers = file.lamp(), file.numbers()
    tried = 0
    for number in numbers:
        after = _other(file, number)
        if after is None or number.path.endswith("repeat"):
            continue
        tried += 1
        strips = {f'light "{light.name}"' for light in before.lights if light.on_core}
        told = set(number.moves) - {"the checks"}
        if "the core" in told:
            told -= strips  # wound anew when they are placed, not when the file is read
        assert _differing(before, after) == told, number.path
    assert tried > 0.8 * len(numbers)


def _other(file: LampFile, number: Number) -> Lamp | None:
    """The lamp with the number a little greater, or less where that is refused."""
    unit = " mm" if number.is_length else ""
    for factor, step in ((1.01, 1), (0.99, -1)):
        value = number.value + step if number.is_whole else number.value * factor or 0.01
        try:
            return file.changed({number.path: f"{value}{unit}" if unit else value}).lamp()
        except LampError:
            continue
    return None


def _differing(before: Lamp, after: Lamp) -> set[str]:
    """Names, as ``moves`` has them, of all that is not the same in two lamps."""
    found = {
        one.name for one, two in zip(before.layers, after.layers, strict=True) if _shape(one) != _shape(two)
    }
    for word, key in (("core", "core"), ("feet", "feet"), ("cord", "cord"), ("surface", "surface")):
        if _shape(getattr(before, key)) != _shape(getattr(after, key)):
            found.add(f"the {word}")
    for word, ones, others in (
        ("post", before.posts, after.posts),
        ("light", before.lights, after.lights),
        ("eye", before.eyes, after.eyes),
        ("sheet", before.sheets, after.sheets),
    ):
        found |= {
            f'{word} "{one.name}"'
            for one, two in zip(ones, others, strict=True)
            if _shape(one) != _shape(two)
        }
    return found | ({"the whole lamp"} if before.hangs_at != after.hangs_at else set())


def _shape(value: Any) -> Any:
    """A part without the label of its sheet; a layer's cuts by their curves alone."""
    if value is None or not hasattr(value, "material"):
        return value
    value = replace(value, material=replace(value.material, sold=None, measured=None))
    if not isinstance(value, Layer):
        return value
    cut = [(one.main, one.around, path_of(one.outline)) for one in value.openings]
    cut += [(one.face, one.depth, path_of(one.outline)) for one in value.recesses]
    return replace(value, openings=(), recesses=()), cut
