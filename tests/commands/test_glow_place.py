"""Where the glow is looked at from: the eye's own place, or one's own, and a picture as fine as the eye."""

from math import atan2, degrees
from pathlib import Path

import numpy as np
import pytest

from stackview.commands.glow_place import (
    FARTHEST_GLOW,
    NEAREST_GLOW,
    GlowPlace,
    place_for,
)
from stackview.errors import StackviewError
from stackview.spots.plate_views import LARGEST_GLOW, SMALLEST_GLOW
from stackview.study import Study

DEMOS = Path(__file__).parents[2] / "demos"
NONE = {"eye": None, "bearing": None, "elevation": None, "distance": None}


@pytest.fixture(scope="module")
def study() -> Study:
    return Study.read(DEMOS / "turning-lantern.toml", bearings=72)


def place(study: Study, **given: object) -> GlowPlace:
    return place_for(study, **(NONE | given))  # type: ignore[arg-type]


def test_an_eye_is_where_the_file_says(study: Study) -> None:
    for seen in study.sightlines.eyes:
        camera = place(study, eye=seen.eye.name).camera
        assert np.hypot(*camera.eye[:2]) == pytest.approx(seen.eye.distance)
        assert camera.eye[2] + study.stack.floor == pytest.approx(seen.eye.height)


def test_left_alone_it_is_the_first_eye_from_where_it_sees_most(study: Study) -> None:
    first = study.sightlines.eyes[0]
    found = place(study)
    assert f'eye "{first.eye.name}"' in found.words
    # Bearing b is (sin b, −cos b).
    bearing = degrees(atan2(found.camera.eye[0], -found.camera.eye[1])) % 360.0
    assert bearing == pytest.approx(float(first.bearings[first.worst]) % 360.0, abs=1e-6)


def test_a_bearing_turns_an_eye_to_another_side(study: Study) -> None:
    name = study.sightlines.eyes[0].eye.name
    camera = place(study, eye=name, bearing=90.0).camera
    assert camera.eye[0] == pytest.approx(study.sightlines.eyes[0].eye.distance)
    assert camera.eye[1] == pytest.approx(0.0, abs=1e-6)


def test_a_place_of_ones_own_is_seen_from_the_lamps_middle(study: Study) -> None:
    found = place(study, bearing=0.0, elevation=30.0, distance=1000.0)
    middle = study.stack.height / 2.0
    # 1000 mm away, 30° up: 866.025 mm out and 500 mm above.
    assert found.camera.eye == pytest.approx([0.0, -1000.0 * 3**0.5 / 2, middle + 500.0], abs=1e-6)
    assert "elevation +30.0°" in found.words


def test_the_picture_is_as_fine_as_the_eye_within_its_limits(study: Study) -> None:
    sizes = [place(study, distance=far).camera.size for far in (NEAREST_GLOW + 300.0, 1000.0, FARTHEST_GLOW)]
    tall = [size[1] for size in sizes]
    assert tall == sorted(tall, reverse=True)
    assert tall[-1] == SMALLEST_GLOW[1]
    for wide, high in sizes:
        assert SMALLEST_GLOW[0] <= wide <= LARGEST_GLOW[0]
        assert wide / high == pytest.approx(4 / 3, abs=0.01)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"eye": "nobody"}, 'it names "at the desk", "across the room"'),
        ({"eye": "at the desk", "elevation": 5.0}, "leave out --elevation"),
        ({"eye": "at the desk", "distance": 500.0}, "leave out --elevation"),
        ({"elevation": 90.0}, "--elevation 90"),
        ({"bearing": 3601.0}, "--bearing 3601"),
        ({"distance": 99.0}, "--distance 99"),
        ({"bearing": float("nan")}, "--bearing nan"),
    ],
)
def test_what_cannot_be_looked_from_is_refused(study: Study, given: dict[str, object], says: str) -> None:
    with pytest.raises(StackviewError) as caught:
        place(study, **given)
    assert says in str(caught.value)
