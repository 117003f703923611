"""Which numbers of the lamp's file checks propose to change: ways, to be tried before anything is told."""

from stackview.description.lamp import Bore, Groove, Lamp, Layer
from stackview.description.service_tables import carries
from stackview.findings import Way
from stackview.stack.seating import Seat

SOLD_WIRES = (0.2, 0.34, 0.5, 0.75, 1.0, 1.5, 2.5, 4.0)
"""Cross-sections that two-wire cable is sold with [mm²]; common practice."""
FUSES = (0.5, 0.63, 0.8, 1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0, 10.0)
"""Rated currents of miniature fuses [A]; IEC 60127-2, the R10 series, from memory."""


def wider_recess(lamp: Lamp, seat: Seat, clearance: float) -> tuple[Way, ...]:
    """Clearance per side [mm] of the recess that takes a plate: of that recess, or of the whole lamp at once."""
    host = next((layer for layer in lamp.layers if layer.name == seat.host), None)
    if host is None:
        return ()
    for recess in host.recesses:
        if recess.fitted_to == seat.layer:
            now = recess.clearance
            return Way("", "clearance", now, clearance), Way(
                seat.host, f"clearance of recess {host.recesses.index(recess)}", now, clearance
            )
    return ()


def wider_bore(layer: Layer, bore: Bore, diameter: float) -> tuple[Way, ...]:
    """A bore drilled wider [mm]."""
    return (Way(layer.name, f"bore.{layer.bores.index(bore)}.diameter", bore.diameter, diameter),)


def deeper_groove(lamp: Lamp, groove: Groove, depth: float) -> tuple[Way, ...]:
    """A groove cut deeper [mm], in the first layer that has it."""
    return tuple(
        Way(layer.name, f"groove.{layer.grooves.index(groove)}.depth", groove.depth, depth)
        for layer in lamp.layers
        if groove in layer.grooves
    )[:1]


def thicker_wires(part: str, now: float, least: float | None) -> tuple[Way, ...]:
    """The next cross-section sold [mm²] that is no less than ``least``; none where nothing is."""
    size = None if least is None else next((size for size in SOLD_WIRES if size >= least - 1e-9), None)
    if size is None or size <= now:
        return ()
    return (Way(part, "wire", f"{now:g} mm2", f"{size:g} mm2", is_length=False),)


def smaller_fuse(now: float, amps: float, mm2: float) -> tuple[Way, ...]:
    """The largest fuse that wires of that size [mm²] stand, and that carries what the lamp draws [A]."""
    stands = carries(mm2)[0]
    fitting = [size for size in FUSES if amps <= size <= stands and size < now]
    return (Way("supply", "fuse", now, max(fitting), is_length=False),) if fitting else ()
