"""Light points inside parts: counted straight down."""

from stackview.sight.inside import buried
from stackview.sight.scene import scene_of
from tests.lamps import box, light_points, ring


def test_only_points_inside_a_body_are_buried() -> None:
    parts = (ring("ring", 40, 60, 0, 20), box("block", [-10, -10, 0], [10, 10, 20], "clear"))
    points = light_points(
        [[0, 0, 10], [50, 0, 10], [30, 0, 10], [50, 0, 25], [50, 0, -5], [-45, 5, 19]], [[1, 0, 0]] * 6
    )
    assert buried(scene_of(parts), points) == {"block": 1, "ring": 2}
