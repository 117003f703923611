"""How long solids take, as ratios of what a general library takes for much less."""

import time
from collections.abc import Callable

import trimesh
from shapely.geometry import Point, box

from stackview.description.lamp import Chamfer, Layer, Recess
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle, Rectangle
from stackview.solids.build import solid_of
from tests.solids.conftest import WALNUT
from tests.solids.test_build import E, hole


def quickest(task: Callable[[float], object]) -> float:
    """Seconds that one of ten unlike layers takes, least of all."""
    took = []
    for number in range(10):
        begun = time.perf_counter()
        task(150.0 + number)
        took.append(time.perf_counter() - begun)
    return min(took)


def test_a_frame_with_chamfer_and_recess_takes_no_more_than_a_dozen_plain_extrusions() -> None:
    def frame(size: float) -> object:
        return solid_of(
            Layer(
                "plate",
                WALNUT,
                18.0,
                Outline(Rectangle(size, size, 8.0)),
                openings=(
                    hole(Rectangle(size - 60.0, size - 60.0, 5.0), main=True),
                    hole(Circle(5.0), around=Around(4, size + 10.0, 45.0)),
                ),
                recesses=(
                    Recess(
                        "top",
                        5.0,
                        Outline(Rectangle(size - 40.0, size - 40.0), grow=0.2, cutter_radius=3.0),
                        0.2,
                    ),
                ),
                chamfers=(Chamfer("top outer", 2.0),),
            ),
            E,
        )

    def extruded(size: float) -> object:
        plan = box(0.0, 0.0, size, size).buffer(8.0, 16)
        for x, y in ((20.0, 20.0), (20.0, 130.0), (130.0, 20.0), (130.0, 130.0), (75.0, 75.0)):
            plan = plan.difference(Point(x, y).buffer(5.0, 16))
        return trimesh.creation.extrude_polygon(plan, 18.0)

    for task in (frame, extruded):
        task(149.0)
    assert quickest(frame) < 12.0 * quickest(extruded)
