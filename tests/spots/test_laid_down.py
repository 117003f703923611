"""Light laid down hit by hit: it adds up to the light that leaves, and no face gives out more than it got."""

import numpy as np
import pytest

from stackview.light.colour import LUMINANCE
from stackview.spots.laid_down import LightHits, follow_laid
from stackview.study import Study

TEXT = """
name = "Cup"
materials.ash = { wood = "ash", sold = 15 }
materials.milk = { acrylic = "opal", sold = 3 }
surface = { height = 700 }

[[layer]]
name = "base"
material = "ash"
outline = { circle = 80 }

[[layer]]
name = "ring"
material = "ash"
outline = { circle = 80 }
wall = 12
recess = { depth = 2 }

[[layer]]
name = "plate"
material = "milk"
outline = { circle = 64 }

[[light]]
diode = { }
watts = 1
lumens = 100
"""


@pytest.fixture(scope="module")
def cup(tmp_path_factory: pytest.TempPathFactory) -> Study:
    file = tmp_path_factory.mktemp("cup") / "cup.toml"
    file.write_text(TEXT, encoding="utf-8")
    return Study.read(file)


@pytest.fixture(scope="module")
def laid(cup: Study) -> dict[str, list[LightHits]]:
    found: dict[str, list[LightHits]] = {"walls": [], "acrylic": [], "leaving": []}
    follow_laid(
        cup.stack,
        cup.light,
        ways=32_768,
        on_walls=found["walls"].append,
        from_acrylic=found["acrylic"].append,
        leaving=found["leaving"].append,
    )
    return found


def lumens(parts: list[LightHits], upwards: bool | None = None) -> float:
    total = 0.0
    for one in parts:
        own = np.ones(len(one.part), bool) if upwards is None else (one.normal[:, 2] > 0.5) == upwards
        total += float((one.light[own] @ LUMINANCE).sum(dtype=np.float64)) * 1e-6
    return total


def test_what_leaves_is_the_light_that_leaves(cup: Study, laid: dict[str, list[LightHits]]) -> None:
    """Nothing of this lamp shows its light point through air, so all that leaves is laid down."""
    known = cup.light_leaving
    assert lumens(laid["leaving"]) == pytest.approx(known.lumens, rel=5.0 * known.error + 0.02)
    assert known.given == 100.0


def test_the_plates_upper_face_gives_out_what_leaves_upwards(laid: dict[str, list[LightHits]]) -> None:
    plate = {int(part) for one in laid["acrylic"] for part in np.unique(one.part)}
    assert len(plate) == 1
    # It lies on top of the lamp: what it gives to above meets nothing any more.
    assert lumens(laid["acrylic"], True) == pytest.approx(lumens(laid["leaving"]), rel=0.1)


def test_walls_inside_get_more_than_the_light_point_gives_straight_and_less_than_it_can_be_thrown(
    laid: dict[str, list[LightHits]],
) -> None:
    """In a cavity with walls of reflectance ρ light falls 1/(1 − ρ) times at most (integrating sphere)."""
    assert 20.0 < lumens(laid["walls"]) < 100.0 / (1.0 - 0.85)
    for one in laid["walls"]:
        assert np.linalg.norm(one.normal, axis=1) == pytest.approx(1.0, abs=1e-4)
