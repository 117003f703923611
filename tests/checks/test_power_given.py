import pytest

from stackview.checks.supply import CHECK
from stackview.findings import Finding
from tests.checks.written import alarms, changed


def odd(*pairs: tuple[str, str], more: str = "") -> list[Finding]:
    return [one for one in alarms(CHECK, changed(*pairs, more=more)) if "do not go together" in one.what]


@pytest.mark.parametrize(
    ("milliamps", "said"),
    [
        # 4 W of a metre with 60 are 0.0667 W: 13.3 mA at 5 V; data sheets round by up to a quarter
        (13.3, False),
        (16.6, False),
        (17, True),
        (10.7, False),
        (10.6, True),
    ],
)
def test_power_is_voltage_times_current(milliamps: float, said: bool) -> None:
    found = odd(("watts_per_metre = 4", f"watts_per_metre = 4\nmilliamps = {milliamps}"))
    assert bool(found) is said


def test_it_says_both_and_what_each_is_taken_for() -> None:
    (found,) = odd(("watts_per_metre = 4", "watts_per_metre = 4\nmilliamps = 20"))
    assert found.where == 'light "helix"'
    assert "20.0 mA at 5 V are 0.100 W, and 0.067 W are given for one light point" in found.what


def test_a_power_diode_drops_its_own_voltage() -> None:
    assert odd(more='[[light]]\ndiode = { on = "base", height = 3 }\nwatts = 1\nmilliamps = 350\n') == []
