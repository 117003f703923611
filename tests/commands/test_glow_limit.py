import pytest

from stackview.commands import glow_limit
from stackview.commands.glow_limit import (
    DAYLIGHT,
    LIGHT_OUT,
    PICTURES,
    RATIOS,
    GlowLimit,
    fitting,
    least_time,
)
from stackview.commands.stopping import Stopped

ALL = (DAYLIGHT, RATIOS, LIGHT_OUT, PICTURES)


def test_what_does_not_fit_is_left_out_light_out_first_and_hot_spots_never() -> None:
    kept = [set(fitting(ALL, 1.0, left)) for left in (1000.0, 12.0, 9.5, 7.0, 0.0)]
    assert kept == [set(ALL), {DAYLIGHT, RATIOS, PICTURES}, {RATIOS, PICTURES}, {RATIOS}, {RATIOS}]


def test_on_a_machine_half_as_quick_twice_the_time_is_needed() -> None:
    for left in (5.0, 7.0, 9.5, 12.0, 40.0):
        assert fitting(ALL, 1.0, left) == fitting(ALL, 2.0, 2.0 * left)
    assert least_time(DAYLIGHT, 2.0) == 2.0 * least_time(DAYLIGHT, 1.0)


def test_time_left_runs_out_and_is_never_under_nought(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("time.monotonic", lambda: 130.0)
    limit = GlowLimit(100.0, 60.0, keeps=False)
    assert 28.0 < limit.left < 30.0
    assert limit.left + limit.spent == pytest.approx(60.0)
    assert GlowLimit(100.0, 10.0, keeps=False).left == 0.0


@pytest.mark.parametrize(
    ("by", "keeps", "ended"),
    [
        (None, True, False),
        (Stopped.BY_KEY, True, True),
        (Stopped.BY_KEY, False, False),
        (Stopped.BY_END, True, False),
    ],
)
def test_only_ctrl_c_ends_and_only_where_it_is_to_keep(
    monkeypatch: pytest.MonkeyPatch, by: Stopped | None, keeps: bool, ended: bool
) -> None:
    monkeypatch.setattr(glow_limit, "asked_to_stop", lambda: by)
    assert GlowLimit(0.0, 60.0, keeps=keeps).ended() is ended
