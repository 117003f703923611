"""The script that made the table: its pieces, and that the table is its own."""

import numpy as np
import pytest

pytest.importorskip("mitsuba")

import itertools

from stackview.glow.spot_table import spot_table
from stackview.glow.tables import make_spot_table as maker


def test_rings_lie_one_after_the_other_over_all_scales() -> None:
    ends = [(maker.ring_edges(level)[0], maker.ring_edges(level)[-1]) for level in range(len(maker.HALVES))]
    assert all(before[1] == pytest.approx(after[0]) for before, after in itertools.pairwise(ends))
    assert maker.radii() == pytest.approx(spot_table().radius, rel=1e-6)
    assert (np.diff(maker.radii()) > 0).all()


def test_profiles_are_made_to_fall() -> None:
    radius = np.array([1.0, 2.0, 3.0, 4.0])
    found = maker._falling(np.array([5.0, 1.0, 3.0, np.nan]), radius)
    # Pool adjacent violators: 1 and 3, weighted by 4 and 9, become (4 + 27)/13.
    assert found == pytest.approx([5.0, 31.0 / 13.0, 31.0 / 13.0, 31.0 / 13.0])


def test_ray_from_the_led_meets_the_far_face_where_snell_says() -> None:
    # tan 45° at the near face, then sin θ' = sin 45°/1.49: r = 1 + depth·tan θ'.
    inside = np.arcsin(np.sin(np.radians(45.0)) / 1.49)
    assert maker._slope_at(1.0 + 0.5 * np.tan(inside), 0.5) == pytest.approx(1.0, rel=1e-4)


@pytest.mark.parametrize("sanded", ["lamp-side", "eye-side"])
def test_light_followed_either_way_gives_the_same_smooth_sheet_law(sanded) -> None:  # type: ignore[no-untyped-def]
    # Peak of one slightly rough face: T·D(0)/(n − 1)² over the facets' distance squared (paraxial).
    roughness, depth = 0.05, 0.32
    found = maker.profile(roughness, depth, sanded, 6)[0]
    away = 1.0 if sanded == "lamp-side" else 1.0 + depth / 1.49
    assert found == pytest.approx(0.9255 / (np.pi * roughness**2 * 0.49**2) / away**2, rel=0.05)


def test_table_is_what_the_script_makes() -> None:
    table = spot_table()
    row, column = 6, 2
    roughness, depth = float(table.roughness[row]), float(table.depth[column])
    fresh = maker.profile(roughness, depth, "both", 12, seed=11)
    held = 10.0 ** table.spots["both"][row, column]
    bright = held > 0.05 * held[0]
    assert fresh[bright] == pytest.approx(held[bright], rel=0.25)
    assert fresh[bright].sum() == pytest.approx(held[bright].sum(), rel=0.03)
