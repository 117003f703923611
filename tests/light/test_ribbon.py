"""The strip as a ribbon: as wide as the strip, on the core's face, behind its light points."""

import numpy as np
import pytest

from stackview.description.light_source import Helix, Runs, Strip
from stackview.light.layout import lay_out
from tests.light.lamps import stack_with

STRIP = Strip(spacing=10.0, cut_every=10.0, width=8.0, thickness=2.0)
LAYOUTS = (
    Runs(STRIP, count=4, first=0.0, start=5.0, length=None),
    Helix(STRIP, pitch=20.0, start=5.0, first=0.0, hand="right", turns=3.0, length=None),
)


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: type(layout).__name__)
def test_a_ribbon_lies_between_core_and_light_points(layout) -> None:  # type: ignore[no-untyped-def]
    made = lay_out(stack_with(layout))
    for ribbon in made.ribbons:
        assert ribbon.low.shape == ribbon.high.shape == ribbon.normal.shape
        assert np.linalg.norm(ribbon.normal, axis=1) == pytest.approx(1.0)
        across = ribbon.high - ribbon.low
        assert np.einsum("ij,ij->i", across, ribbon.normal) == pytest.approx(0.0, abs=1e-9)
        middle = (ribbon.low + ribbon.high) / 2.0
        radius = np.hypot(middle[:, 0], middle[:, 1])
        # The core's radius is 15 mm, the strip 2 mm thick, and light points lie on its outer side.
        assert radius.min() >= 15.0
        assert radius.max() <= 17.0 + 1e-9
    points = np.hypot(made.points.centres[:, 0], made.points.centres[:, 1])
    assert points.min() >= 17.0 - 1e-9


def test_a_runs_ribbon_is_as_wide_as_its_strip_and_as_long_as_its_cut() -> None:
    made = lay_out(stack_with(LAYOUTS[0]))
    assert len(made.ribbons) == 4
    for ribbon, cut in zip(made.ribbons, made.lit[0].cuts, strict=True):
        assert np.linalg.norm(ribbon.high - ribbon.low, axis=1) == pytest.approx(8.0)
        assert np.ptp(ribbon.low[:, 2]) == pytest.approx(cut.length)
