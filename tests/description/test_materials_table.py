import pytest

from stackview.description.materials_table import linear_colour, ports, row, sorts, wood_density
from stackview.description.written_lamp import KIND_KEYS

# Wood Handbook, FPL-GTR-190: specific gravity at 12 % moisture
GRAVITY = {
    "ash": 0.60, "beech": 0.64, "birch": 0.62, "paper birch": 0.55, "cherry": 0.50, "maple": 0.63,
    "red maple": 0.54,
    "red oak": 0.63, "white oak": 0.68, "walnut": 0.55, "basswood": 0.37, "poplar": 0.42,
}  # fmt: skip


def test_wood_density_against_the_handbooks_own_figures() -> None:
    assert wood_density(0.40) == pytest.approx(448)
    assert wood_density(0.63) == pytest.approx(705.6)


@pytest.mark.parametrize(("sort", "gravity"), GRAVITY.items())
def test_every_species(sort: str, gravity: float) -> None:
    assert row("wood", sort).density == pytest.approx(1000 * gravity * 1.12)


def test_every_row_has_a_source_and_a_colour() -> None:
    for kind in KIND_KEYS:
        assert sorts(kind)
        for sort in sorts(kind):
            found = row(kind, sort)
            assert found.source
            assert 200 < found.density < 9000
            assert all(0 <= part <= 1 for part in found.colour)


def test_srgb_half_is_the_standards_figure() -> None:
    # IEC 61966-2-1: 0.5 → 0.21404114; 128/255 lies a little above
    assert linear_colour("#808080")[0] == pytest.approx(((128 / 255 + 0.055) / 1.055) ** 2.4)
    assert linear_colour("#7f7f7f")[0] < 0.21404114 < linear_colour("#808080")[0]


def test_ports_give_what_the_standard_says() -> None:
    # USB-IF specifications 2.0 and 3.x, Battery Charging 1.2; IEC 62680-1-3 (Type-C); second-hand
    amps = {name: port.amps for name, port in ports().items()}
    assert amps == {
        "usb 2.0": 0.5,
        "usb 3": 0.9,
        "usb 3.0": 0.9,
        "usb charger": 1.5,
        "usb-c 1.5 a": 1.5,
        "usb-c 3 a": 3.0,
    }
    assert all(port.volts == 5 and port.source for port in ports().values())
