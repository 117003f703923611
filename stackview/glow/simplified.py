"""What light meets in the scene that is other than in the lamp, in words: what no picture shows has to be said."""

from stackview.glow.beam_shape import NARROWEST_BEAM, WIDEST_BEAM
from stackview.light.points import LightPoints
from stackview.stack.assembly import Stack
from stackview.stack.joints import Joint, glued_joints


def simplified(stack: Stack, points: LightPoints) -> tuple[str, ...]:
    """One sentence for each simplification that touches this lamp; empty where none does."""
    found = []
    both = [f"{joint.lower.name} and {joint.upper.name}" for joint in _acrylic_on_acrylic(stack)]
    if both:
        found.append(
            f"acrylic glued to acrylic counts as dry, with air between: light led in one is not passed on to the other "
            f"({', '.join(both)})"
        )
    beams = points.beams
    if len(beams) and float(beams.max()) > WIDEST_BEAM:
        found.append(f"beams of {float(beams.max()):g}° shine as beams of {WIDEST_BEAM:g}°")
    if len(beams) and float(beams.min()) < NARROWEST_BEAM:
        found.append(f"beams of {float(beams.min()):g}° shine as beams of {NARROWEST_BEAM:g}°")
    return tuple(found)


def _acrylic_on_acrylic(stack: Stack) -> list[Joint]:
    return [joint for joint in glued_joints(stack) if not joint.lower.opaque and not joint.upper.opaque]
