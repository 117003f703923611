import pytest

from stackview.description.price import Price


def test_what_much_costs_by_hand() -> None:
    # a board of 1220 mm by 200 mm at 95 a square metre
    assert Price(95.0, "m2").of(area=1220.0 * 200.0) == pytest.approx(23.18)
    # twelve inches by twelve are one square foot
    assert Price(7.0, "ft2").of(area=304.8**2) == pytest.approx(7.0)
    assert Price(2.0, "ft").of(length=914.4) == pytest.approx(6.0)
    assert Price(9.0, "kg").of(grams=250.0, area=1.0) == pytest.approx(2.25)
    assert Price(8.0, "l").of(ml=12.5) == pytest.approx(0.1)
    assert Price(0.5, "piece").of(pieces=4.0) == pytest.approx(2.0)
    assert Price(0.5, "piece").of(length=4.0) is None


def test_a_price_says_itself() -> None:
    assert str(Price(4.5, "ft2")) == "4.50 per ft²"
