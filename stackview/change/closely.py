"""A close look: on curves within 0.01 mm, whole faces, from 2,880 bearings."""

from dataclasses import replace

from stackview.description.lamp import Eye
from stackview.light.layout import lay_out
from stackview.sight.eyes import Seen, look_straight
from stackview.stack.assembly import Stack, assemble
from stackview.study import Study

_CONFIRMED_AT = 2880
"""Number of bearings at which a change is confirmed."""
CONFIRMED_CHORD = 0.01
"""Of the curves on which it is confirmed [mm]."""


def finely_built(study: Study) -> Stack:
    """The lamp on curves within 0.01 mm."""
    return assemble(replace(study.lamp, chord_error=min(CONFIRMED_CHORD, study.lamp.chord_error)))


def looked_closely(stack: Stack, eye: Eye, bearings: int = _CONFIRMED_AT) -> Seen:
    """What an eye sees of whole faces, from bearings all round."""
    (seen,) = look_straight(stack, lay_out(stack).points, bearings=bearings, eyes=(eye,), whole_faces=True)
    return seen
