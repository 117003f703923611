"""What begins to close a gap, and how far it would have to go, by the closed form."""

import pytest

from stackview.change.candidates import candidates
from stackview.change.closing import hardest, promising
from stackview.change.trial import Bench
from tests.change.demos import study


def test_the_drums_ring_has_to_rise_by_what_its_edge_is_short_of_the_line() -> None:
    source = study("moor-drum")
    hard = hardest(source, source.eyes[0])
    assert {"ring 1"} <= hard.parts
    needs = {
        (way.candidate.path, way.towards): way.needs
        for way in promising(Bench(source, 99), hard, candidates(source, hard.parts))
    }
    (up,) = needs["groups.open-tier.ring.thickness", 1]
    # 0.67 mm hide the middle of the face (trial of the method)
    assert up == pytest.approx(0.67, abs=0.01) == min(hard.open_by[0])
    assert ("groups.open-tier.spacers.thickness", 1) not in needs
