import jsonschema
import pytest

from stackview.description.price import Price
from stackview.description.written_price import price_schema, read_price


@pytest.mark.parametrize(
    ("written", "amount", "per"),
    [("38 per m2", 38.0, "m2"), (" 4.5/ft² ", 4.5, "ft2"), (".99 per m", 0.99, "m"), ("3 per kg", 3.0, "kg")],
)
def test_prices_read(written: str, amount: float, per: str) -> None:
    assert read_price(written, ("m2", "ft2", "m", "kg")) == Price(amount, per)  # type: ignore[arg-type]
    jsonschema.validate(written, price_schema(("m2", "ft2", "m", "kg")))


@pytest.mark.parametrize(
    ("written", "says"),
    [
        (38, 'is no price: write an amount and what it is for, e.g. "12.50 per m2"'),
        ("38", "is no price"),
        ("-3 per m2", "is no price"),
        ("nan per m2", "is no price"),
        ("3 per ml", "is a price per ml, which does not go here: give it per m2 or kg"),
        ("3 per bushel", "is a price for nothing known here: give it per m2 or kg"),
        ("2000000 per kg", "is beyond 1e+06"),
        ("9" * 400 + " per kg", "is beyond 1e+06"),
    ],
)
def test_what_is_no_price_is_told(written: object, says: str) -> None:
    with pytest.raises(ValueError, match="price|beyond") as told:
        read_price(written, ("m2", "kg"))
    assert says in str(told.value)
