"""The close look sees what the study says, on finer curves."""

from stackview.change.closely import CONFIRMED_CHORD, finely_built, looked_closely
from stackview.sight.bands import Kind
from tests.change.demos import study


def test_a_closer_look_sees_what_the_study_says() -> None:
    source = study("moor-drum")
    stack = finely_built(source)
    assert stack.lamp.chord_error == CONFIRMED_CHORD < source.lamp.chord_error
    assert [int(looked_closely(stack, eye, 72).counts(Kind.BARE).max()) for eye in source.lamp.eyes] == [
        int(each.counts(Kind.BARE).max()) for each in source.eyes
    ]
