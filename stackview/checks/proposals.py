"""Which numbers of the lamp's file checks propose to change: ways, to be tried before anything is told."""

from stackview.checks.voids import Void
from stackview.description.lamp import Bore, Groove, Lamp, Layer
from stackview.description.service_tables import carries
from stackview.description.wire_size import gauge_area
from stackview.findings import Way
from stackview.stack.seating import Seat

_SQUARES = (0.2, 0.34, 0.5, 0.75, 1.0, 1.5, 2.5, 4.0)
"""Cross-sections that two-wire cable is sold with [mm²]; common practice."""
_GAUGES = (24, 22, 20, 18, 16, 14, 12)
"""American wire gauges that it is sold with; common practice."""
_FUSES = (0.5, 0.63, 0.8, 1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0, 10.0)
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


def recess_depth(lamp: Lamp, seat: Seat, depth: float, along: str) -> tuple[Way, ...]:
    """The recess that takes a plate cut to a depth [mm]; none where nothing would be left to cut."""
    host = next((layer for layer in lamp.layers if layer.name == seat.host), None)
    alike = [
        number
        for number, recess in enumerate(host.recesses if host is not None else ())
        if abs(recess.depth - seat.depth) < 1e-6
    ]
    fitted = [
        number for number in alike if host is not None and host.recesses[number].fitted_to == seat.layer
    ]
    number = next(iter(fitted or alike), None)
    if number is None or depth <= 0.0:
        return ()
    return (Way(seat.host, f"depth of recess {number}", seat.depth, depth, along=along),)


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


def sold_wires(*, in_gauge: bool) -> dict[str, float]:
    """Wires that two-wire cable is sold with, thin ones first: as a file has them, and their cross-sections [mm²].

    >>> list(sold_wires(in_gauge=False))[:2], list(sold_wires(in_gauge=True))[:2]
    (['0.2 mm2', '0.34 mm2'], ['AWG 24', 'AWG 22'])
    """
    if in_gauge:
        return {f"AWG {gauge}": gauge_area(gauge) for gauge in _GAUGES}
    return {f"{size:g} mm2": size for size in _SQUARES}


def thicker_wires(part: str, now: float, least: float | None, *, in_gauge: bool = False) -> tuple[Way, ...]:
    """The next size sold that is no less than ``least`` [mm²], in a gauge or in mm²; none where nothing is."""
    for written, size in sold_wires(in_gauge=in_gauge).items():
        if least is not None and size >= least - 1e-9:
            return (Way(part, "wire", f"{now:g} mm2", written, is_length=False),) if size > now + 1e-9 else ()
    return ()


def smaller_fuse(now: float, amps: float, mm2: float) -> tuple[Way, ...]:
    """The largest fuse that wires of that size [mm²] stand, and that carries what the lamp draws [A]."""
    stands = carries(mm2)[0]
    fitting = [size for size in _FUSES if amps <= size <= stands and size < now]
    return (Way("supply", "fuse", now, max(fitting), is_length=False),) if fitting else ()


# --- edges, cuts and faces moved ---


def larger(part: str, by: float, along: str = "", *, rough: bool = False) -> Way:
    """The outline of a part, ``by`` [mm] larger on every side."""
    along = along or f"size of the outline of {part}"
    return Way(part, "size of outline", 0.0, by, along=along, rough=rough)


def resized(layer: Layer, cut: Void, by: float) -> tuple[Way, ...]:
    """A cut made ``by`` [mm] larger on every side, or smaller where that is negative."""
    sort, _, number = cut.key.partition(" ")
    if sort in ("opening", "recess"):
        return (Way(layer.name, f"size of {cut.key}", 0.0, by, along=f"size of {cut.name}"),)
    if sort == "groove":
        groove = layer.grooves[int(number)]
        ways = [Way(layer.name, f"groove.{number}.width", groove.width, groove.width + by)]
        ways += [
            Way(layer.name, f"groove.{number}.distance", groove.distance, groove.distance + step)
            for step in (by, -by)
        ]
        return tuple(one for way in ways for one in _positive(way))
    bore = layer.bores[int(number)]
    return _positive(Way(layer.name, f"bore.{number}.diameter", bore.diameter, bore.diameter + 2.0 * by))


def drawn_in(layer: Layer, cut: Void, by: float) -> tuple[Way, ...]:
    """The circle on which copies of an opening stand, ``by`` [mm] nearer to the axis."""
    sort, _, number = cut.key.partition(" ")
    if sort != "opening" or layer.openings[int(number)].around is None:
        return ()
    return (Way(layer.name, f"circle of {cut.key}", 0.0, -by),)


def shallower(layer: Layer, cut: Void, by: float) -> tuple[Way, ...]:
    """A cut that goes ``by`` [mm] less deep; a bore moves by as much, or is drilled narrower."""
    sort, _, number = cut.key.partition(" ")
    if sort == "recess":
        depth = layer.recesses[int(number)].depth
        along = f"depth of {cut.name}"
        return _positive(Way(layer.name, f"depth of {cut.key}", depth, depth - by, along=along))
    if sort == "groove":
        depth = layer.grooves[int(number)].depth
        return _positive(Way(layer.name, f"groove.{number}.depth", depth, depth - by))
    if sort == "bore":
        bore = layer.bores[int(number)]
        return (
            *(
                Way(layer.name, f"bore.{number}.height", bore.height, bore.height + step)
                for step in (by, -by)
            ),
            *_positive(Way(layer.name, f"bore.{number}.diameter", bore.diameter, bore.diameter - 2.0 * by)),
        )
    return ()


def thicker(layer: Layer, by: float) -> tuple[Way, ...]:
    """A layer of thicker stock; acrylic is sold in its own thicknesses."""
    if not layer.material.is_wooden:
        return ()
    return (Way(layer.name, "thickness", layer.thickness, layer.thickness + by),)


def narrower_chamfers(layer: Layer, ends: tuple[str, ...], by: float) -> tuple[Way, ...]:
    """Each chamfer of some edges by itself, set back ``by`` [mm] less."""
    return tuple(
        way
        for number, one in enumerate(layer.chamfers)
        if one.edge in ends
        for way in _positive(
            Way(
                layer.name,
                f"width of chamfer {number}",
                one.width,
                one.width - by,
                along=f"width of the {one.edge} chamfer",
            )
        )
    )


def turned_grain(layer: Layer) -> tuple[Way, ...]:
    """The grain laid crosswise to what it is."""
    across = (layer.grain + 90.0) % 180.0
    return (Way(layer.name, "grain", layer.grain, across, is_length=False),)


def _positive(way: Way) -> tuple[Way, ...]:
    """A way that leaves something; none where it would come to nothing or less."""
    return (way,) if isinstance(way.guess, float) and way.guess > 1e-3 else ()
