import pytest

from stackview.description.units import Units
from stackview.shop.listed import BoughtThing, PartsList


def test_only_what_has_a_price_is_added_up() -> None:
    things = (
        BoughtThing("rod", "62 mm", "", 62.0, "mm", 1.5),
        BoughtThing("glue", "2 ml", "", 2.0, "ml"),
        BoughtThing("feet", "3 pieces", "", 3.0, "pieces", 0.75),
    )
    listed = PartsList("Box", 1, (), things, "EUR", Units("mm"))
    assert listed.price == pytest.approx(2.25)
    assert listed.unpriced == ("glue",)
    assert listed.grams == 0.0
    assert "\n" not in repr(listed)
