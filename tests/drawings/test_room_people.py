"""People have their eyes at the heights asked for, and stand on the floor."""

import numpy as np
import pytest

from stackview.drawings.chart_style import blank, pixels
from stackview.drawings.room_people import Person, draw_person, people_for


def test_each_posture_comes_once_with_its_highest_eye() -> None:
    people = people_for((700.0, 1600.0, 1200.0, 1150.0, 1630.0))
    assert people == (Person("standing", 1630.0), Person("seated", 1200.0), Person("lying", 700.0))


@pytest.mark.parametrize("eye", [450.0, 700.0, 1100.0, 1250.0, 1500.0, 1800.0])
def test_a_person_fills_the_room_it_asks_for_and_no_more(eye: float) -> None:
    (person,) = people_for((eye,))
    sheet, scale = blank((900, 700)), 0.3
    at = draw_person(sheet, person, 200.0, 50.0, scale)
    assert at[1] == pytest.approx(50.0 + eye * scale)
    rows, columns = np.nonzero((pixels(sheet) != 255).any(axis=2))
    assert columns.min() >= 199
    assert columns.max() <= 201 + person.wide * scale
    # Feet on the floor, the top of the head a little over the eyes.
    assert 700 - rows.max() >= 49
    assert 700 - rows.min() == pytest.approx(50.0 + (eye + 105.0) * scale, abs=3.0)
