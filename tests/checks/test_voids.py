"""What is cut into a layer lies between the heights that its depths say."""

import numpy as np
import pytest

from stackview.checks.voids import voids_of
from stackview.curves.arcs import area, bounds
from stackview.description.lamp import Bore, Groove, Layer, Opening
from stackview.description.outline import Around
from tests.checks.subjects import ASH
from tests.stack.layers import circle, pocket


def test_heights_of_everything() -> None:
    layer = Layer(
        "ring",
        ASH,
        10.0,
        circle(120.0),
        openings=(Opening(circle(60.0), main=True), Opening(circle(4.0), Around(3, 110.0))),
        recesses=(pocket(circle(100.0), 2.0), pocket(circle(90.0), 3.0, face="underside")),
        grooves=(Groove("top", "recess", 1.0, 1.5, 0.8), Groove("underside", "outline", 2.0, 1.5, 0.5)),
        bores=(Bore(3.0, 5.0, 180.0),),
    )
    found = [(void.name, round(void.low, 9), round(void.high, 9)) for void in voids_of(layer)]
    assert found == [
        ("opening", 0.0, 10.0),
        *[("opening", 0.0, 10.0)] * 3,
        ("recess in the top", 8.0, 10.0),
        ("recess in the underside", 0.0, 3.0),
        ("groove in the top", 7.2, 8.0),  # from the recess floor
        ("groove in the underside", 0.0, 0.5),
        ("bore", 3.5, 6.5),
    ]


@pytest.mark.parametrize(("along", "outer", "inner"), [("outline", 58.0, 56.5), ("opening", 33.5, 32.0)])
def test_sides_of_a_groove(along, outer: float, inner: float) -> None:  # type: ignore[no-untyped-def]
    layer = Layer(
        "ring",
        ASH,
        10.0,
        circle(120.0),
        openings=(Opening(circle(60.0), main=True),),
        grooves=(Groove("top", along, 2.0, 1.5, 0.8),),
    )
    groove = voids_of(layer)[1]
    assert groove.inner is not None
    assert area(groove.path) == pytest.approx(np.pi * outer**2)
    assert area(groove.inner) == pytest.approx(np.pi * inner**2)


@pytest.mark.parametrize(
    ("bearing", "length", "box"),
    [
        (180.0, None, (-1.5, 0.0, 1.5, 60.0)),  # from the back, +y
        (90.0, 20.0, (40.0, -1.5, 60.0, 1.5)),  # from the right, +x
    ],
)
def test_bore_seen_from_above(bearing: float, length: float | None, box: tuple[float, ...]) -> None:
    layer = Layer("base", ASH, 10.0, circle(120.0), bores=(Bore(3.0, 5.0, bearing, length),))
    (bore,) = voids_of(layer)
    assert bounds(bore.path) == pytest.approx(box, abs=2e-3)
    assert area(bore.path) > 0.0


def test_a_groove_runs_along_the_seat_and_not_in_pin_holes() -> None:
    """Found by a random lamp: the check of walls could not be made, for in a pin hole no groove is left."""
    seat, pins = pocket(circle(100.0), 2.0, to="plate"), pocket(circle(3.0), 5.5)
    layer = Layer(
        "ring",
        ASH,
        10.0,
        circle(120.0),
        recesses=(pins, seat),
        grooves=(Groove("top", "recess", 1.0, 1.5, 0.8),),
    )
    grooves = [void for void in voids_of(layer) if void.name.startswith("groove")]
    assert [(round(void.low, 9), round(void.high, 9)) for void in grooves] == [(7.2, 8.0)]
    assert area(grooves[0].path) == pytest.approx(np.pi * 49.2**2)
