import pytest

from stackview.description.wire_size import gauge_diameter, wire_area


def test_the_standards_own_two_gauges() -> None:
    # ASTM B258: 36 is 0.005 in, 0000 is 0.46 in; 39 steps between them
    assert gauge_diameter(36) == pytest.approx(0.005 * 25.4)
    assert gauge_diameter(-3) == pytest.approx(0.46 * 25.4)


@pytest.mark.parametrize("text", ["0.5 mm2", "0.5mm²", " 0.5 MM2 ", ".5 mm2"])
def test_square_millimetres(text: str) -> None:
    assert wire_area(text) == 0.5


@pytest.mark.parametrize("text", ["AWG 20", "awg20", "20 AWG"])
def test_gauges(text: str) -> None:
    assert wire_area(text) == pytest.approx(0.5176, abs=1e-4)


@pytest.mark.parametrize("text", ["", "20", "0 mm2", "1000 mm2", "AWG 50", "AWG", "thick", "0.5"])
def test_what_is_no_wire(text: str) -> None:
    assert wire_area(text) is None
