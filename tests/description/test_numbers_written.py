"""All numbers of a file, with the layers that they belong to."""

from pathlib import Path

import pytest

from stackview.description.lamp_file import LampFile
from stackview.description.numbers_written import Number

DEMOS = Path(__file__).parents[2] / "demos"


def by_path(name: str) -> dict[str, Number]:
    return {number.path: number for number in LampFile.read(DEMOS / f"{name}.toml").numbers()}


def test_a_number_of_a_group_moves_all_its_copies() -> None:
    found = by_path("honeycomb")
    wall = found["groups.open-pair.0.wall"]
    assert (wall.written, wall.value, wall.layers) == (0.6, pytest.approx(15.24), ("ring 2", "ring 4"))
    assert (wall.is_length, wall.is_whole) == (True, False)
    assert found["outlines.hexagon.across_flats"].written == "5-1/2"
    assert found["outlines.hexagon.across_flats"].value == pytest.approx(139.7)
    assert found["outlines.hexagon.across_flats"].layers == (
        "base", "ring 1", "ring 2", "ring 3", "ring 4", "ring 5", "cap",
    )  # fmt: skip
    assert found["materials.plate-stock.measured"].layers == ("base plate", "plate 1", "plate 2", "plate 3")
    assert found["layer.open-pair.repeat"].is_whole
    assert found["light.runs.runs.count"].layers == ()
    assert found["surface.size.1"].written == 8


def test_an_outline_like_another_moves_with_it() -> None:
    found = by_path("kelp")
    assert "lowest ring" in found["groups.tier.ring.wall"].layers or found["groups.tier.ring.wall"].layers == (
        "ring 1", "ring 2", "ring 3", "ring 4",
    )  # fmt: skip
    # the plate is like the leaf, 8 mm smaller: only the plates have this inset
    assert set(found["outlines.plate.inset"].layers) == {
        "bottom plate", "lowest plate", "plate 1", "plate 2", "plate 3", "plate 4",
    }  # fmt: skip


def test_a_repeated_layer_and_own_limits(base: str, tmp_path: Path) -> None:
    file = LampFile.from_text(
        base + "repeat = 3\n[limits]\nledge = '1/4 in'\nslide = 2\n", "a.toml", tmp_path
    )
    found = {number.path: number for number in file.numbers()}
    assert found["layer.base.outline.circle"].layers == ("base 1", "base 2", "base 3")
    assert (found["limits.ledge"].value, found["limits.ledge"].is_length) == (6.35, True)


@pytest.mark.parametrize("demo", sorted(DEMOS.glob("*.toml")), ids=lambda file: file.stem)
def test_every_path_leads_back_to_its_number(demo: Path) -> None:
    file = LampFile.read(demo)
    numbers = file.numbers()
    assert len({number.path for number in numbers}) == len(numbers) > 30
    for number in numbers:
        assert file.value(number.path) == number.written
    # every figure of the file that is a number of its own is among them
    assert sum(isinstance(n.written, int | float) for n in numbers) == _plain_numbers(file._tables)


def _plain_numbers(value: object) -> int:
    if isinstance(value, dict | list):
        return sum(map(_plain_numbers, value.values() if isinstance(value, dict) else value))
    return int(isinstance(value, int | float) and not isinstance(value, bool))
