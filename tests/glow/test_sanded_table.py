"""The table of sanded faces that comes with the program."""

import pytest

from stackview.glow.sanded_table import sanded_faces
from stackview.glow.tables.make_sanded_table import _ROUGHNESS, NODES


def test_the_table_comes_whole() -> None:
    table = sanded_faces()
    assert table.roughness.tolist() == list(_ROUGHNESS)
    assert table.shares.shape == table.ends.shape == (len(_ROUGHNESS), 4, NODES)
    # Light straight onto a face that is nearly smooth meets one facet, and no face needs more than all light.
    assert table.at(0.02)[1][:, -8:] == pytest.approx(0.0, abs=0.01)
    assert (table.shares[:, :2].sum(axis=1) < 1.0).all()
    assert (table.shares[:, 2:].sum(axis=1) < 1.0).all()


def test_between_its_roughnesses_it_is_read_by_a_straight_line_and_beyond_them_held() -> None:
    table = sanded_faces()
    wide, shares, ends = table.at(0.35)
    assert shares == pytest.approx((table.shares[6] + table.shares[7]) / 2)
    assert ends == pytest.approx((table.ends[6] + table.ends[7]) / 2)
    assert wide == pytest.approx((table.wide[6] + table.wide[7]) / 2)
    assert table.at(0.9)[0] == table.wide[-1]
