import math
from pathlib import Path

import pytest

from stackview.shop.model_bodies import single_parts, whole_lamp
from stackview.solids.measure import volume
from stackview.study import Study
from tests.shop.box_lamp import box_study


def test_every_different_part_once_on_the_bench(tmp_path: Path) -> None:
    bodies = {body.name: body for body in single_parts(box_study(tmp_path))}
    assert list(bodies) == ["base", "plate a", "ring a", "cap", "pins", "core", "foot"]
    for body in bodies.values():
        assert body.solid.vertices[:, 2].min() == pytest.approx(0.0, abs=1e-12)
        assert body.solid.vertices[:, 2].max() == pytest.approx(body.top)
    # one pin of the four, one foot of the three
    assert volume(bodies["pins"].solid) == pytest.approx(math.pi * 1.25**2 * 19.4, rel=0.05)
    assert volume(bodies["foot"].solid) == pytest.approx(math.pi * 6.0**2 * 3.0, rel=0.02)
    assert volume(bodies["core"].solid) == pytest.approx(math.pi * 15.0**2 * 60.0, rel=0.01)


def test_a_pendants_cord_is_left_out() -> None:
    kelp = Study.read("demos/kelp.toml")
    assert "cord" not in {body.name for body in whole_lamp(kelp)}
    assert len(whole_lamp(kelp)) == len(kelp.stack.placed) - 1
