from stackview.description.lamp import Lamp
from stackview.description.workshop import Finishing, Router, Wiring, Workshop
from stackview.description.workshop_tables import usual_workshop


def test_a_lamp_that_says_nothing_is_made_in_the_usual_way() -> None:
    lamp = Lamp("plain", "mm", ())
    assert lamp.workshop == usual_workshop()
    assert isinstance(lamp.workshop, Workshop)
    assert (lamp.workshop.router, lamp.workshop.wiring) == (Router(), Wiring())
    assert isinstance(lamp.workshop.finishing, Finishing)
    assert list(lamp.workshop.finishing.wood_grits) == sorted(lamp.workshop.finishing.wood_grits)
