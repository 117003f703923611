"""Heights: what the lamp measures from sheets as sold and as measured, and how every seat comes out."""

from dataclasses import dataclass
from itertools import pairwise

from stackview.checks.held import over
from stackview.checks.proposals import recess_depth
from stackview.checks.sheet import spread_of, worst_and_rss
from stackview.checks.subject import Check, Subject
from stackview.description.lamp import Layer
from stackview.description.units import Units
from stackview.findings import Bound, Finding, Level, Way
from stackview.stack.joints import glue_of, glued_joints
from stackview.stack.seating import Seat

_ROUNDING = 1e-6


@dataclass(frozen=True, slots=True)
class Chain:
    """The layers that carry one another from the lowest face to the highest.

    ``recesses`` are the depths that layers drop in by on the way [mm].
    """

    layers: tuple[Layer, ...]
    recesses: tuple[float, ...]

    @property
    def measured(self) -> float:
        """Height with the thicknesses that count [mm]."""
        return sum(layer.thickness for layer in self.layers) - sum(self.recesses)

    @property
    def sold(self) -> float:
        """Height with every sheet as thick as it is sold [mm]."""
        return sum(_sold(layer) for layer in self.layers) - sum(self.recesses)


def heights(subject: Subject) -> tuple[Finding, ...]:
    """One note on the total height, one finding for each kind of seat, and for each plate between two recesses.

    A plate whose recess is as deep as the plate is sold thick, or nearly as deep as it is
    thick, was meant to lie flush: it is a caution where it misses that by more than "flush".
    """
    return (*_total(subject), *_seats(subject), *_between_recesses(subject))


def chain_of(subject: Subject) -> Chain:
    """The chain of layers that reaches highest; its height is the stack's, feet left out."""
    layers, stack = subject.lamp.layers, subject.stack
    placed = stack.placed[: len(layers)]
    at: int | None = max(range(len(layers)), key=lambda index: placed[index].top)
    chain: list[Layer] = []
    recesses: list[float] = []
    while at is not None:
        chain.append(layers[at])
        below = stack.rests_on[at]
        if below is not None:
            drop = placed[below].top - placed[at].underside
            if drop > _ROUNDING:
                recesses.append(drop)
        at = below
    return Chain(tuple(reversed(chain)), tuple(reversed(recesses)))


def _total(subject: Subject) -> tuple[Finding, ...]:
    units, limits, chain = subject.lamp.units, subject.limits, chain_of(subject)
    spreads = [spread_of(layer, limits) for layer in chain.layers]
    parts = [spread.by for spread in spreads]
    parts += [limits.value("cut_depth")] * len(chain.recesses)
    worst, rss = worst_and_rss(parts)
    films = _films(subject, chain)
    as_sold = (
        f", where the sheets as sold would give {units.show(chain.sold)}"
        if abs(chain.sold - chain.measured) > _ROUNDING
        else ""
    )
    glued = (
        f"; glue in {len(films)} joint{'s' if len(films) != 1 else ''} adds up to {units.show(sum(films))}"
        if films
        else ""
    )
    return (
        Finding(
            check="heights",
            level=Level.FACT,
            where="the layers",
            what=(
                f"they stand {units.show(chain.measured)} high{as_sold}; sheets and recesses may change that by "
                f"±{units.show(worst)} at worst, ±{units.show(rss)} as the root sum of squares{glued}"
            ),
            value=chain.measured,
            unit="mm",
            source="; ".join(dict.fromkeys(spread.source for spread in spreads)),
        ),
    )


def _films(subject: Subject, chain: Chain) -> list[float]:
    """Thickness of the film of glue in each joint of the chain [mm]."""
    pairs = {(upper.name, lower.name) for lower, upper in pairwise(chain.layers)}
    films = {
        (joint.upper.name, joint.lower.name): glue_of(subject.lamp, joint).film
        for joint in glued_joints(subject.stack)
    }
    return [film for pair, film in films.items() if pair in pairs]


def _seats(subject: Subject) -> list[Finding]:
    layers = {layer.name: layer for layer in subject.lamp.layers}
    return [_seat(subject, seat, layers[seat.layer]) for seat in subject.stack.seats]


def _seat(subject: Subject, seat: Seat, layer: Layer) -> Finding:
    units, limits = subject.lamp.units, subject.limits
    flush = limits["flush"]
    worst, rss = worst_and_rss([spread_of(layer, limits).by, limits.value("cut_depth")])
    meant_flush = abs(seat.depth - _sold(layer)) < _ROUNDING or abs(seat.proud) <= flush.value
    missed = meant_flush and over(abs(seat.proud), flush.value)
    return Finding(
        check="heights",
        level=Level.CAUTION if missed else Level.FACT,
        where=f"{seat.layer} in {seat.host}",
        what=(
            f"{units.show(layer.thick)} thick in a recess {units.show(seat.depth)} deep: "
            f"{_comes_out(seat.proud, units)}, ±{units.show(worst)} at worst, ±{units.show(rss)} as the root sum "
            f"of squares" + (", though the recess is as deep as the sheet is sold thick" if missed else "")
        ),
        short=f"{_comes_out(seat.proud, units)}, though the recess is as deep as the sheet is sold thick"
        if missed
        else "",
        value=seat.proud,
        unit="mm",
        limit=flush.value if meant_flush else None,
        bound=flush.bound if meant_flush else None,
        source=f"{spread_of(layer, limits).source}; {flush.source}"
        if missed
        else spread_of(layer, limits).source,
        advice="Cut the recess as deep as the sheet is thick to bring it flush." if missed else "",
        ways=recess_depth(subject.lamp, seat, layer.thickness, "depth of the recess") if missed else (),
        parts=(seat.layer, seat.host),
        cause="not flush" if missed else f"{seat.proud:.2f} proud of {seat.depth:.2f}",
    )


@dataclass(frozen=True, slots=True)
class _Held:
    """A plate between the floors of two recesses: the room that is left over it, less than 0 where it is too thick."""

    plate: Layer
    below: Seat
    above: Seat
    room: float
    """Depths of both recesses less the plate's thickness, as the stack stands [mm]."""


def _held_plates(subject: Subject) -> list[_Held]:
    """Every plate that is seated in the layer below it and in the one above."""
    names = [layer.name for layer in subject.lamp.layers]
    found = []
    for plate in subject.lamp.layers:
        own = [seat for seat in subject.stack.seats if seat.layer == plate.name]
        for below in (seat for seat in own if names.index(seat.host) < names.index(plate.name)):
            for above in (seat for seat in own if names.index(seat.host) > names.index(plate.name)):
                low, high = subject.stack.part(below.host), subject.stack.part(above.host)
                open_by = high.underside - low.top
                room = open_by + below.depth + above.depth - plate.thickness
                found.append(_Held(plate, below, above, room if room > _ROUNDING else min(-open_by, 0.0)))
    return found


def _between_recesses(subject: Subject) -> list[Finding]:
    """Whether a plate rattles between its two recesses or holds them apart, nominally and at worst."""
    units, limits = subject.lamp.units, subject.limits
    flush = limits["flush"]
    found = []
    for held in _held_plates(subject):
        spread = spread_of(held.plate, limits)
        worst, rss = worst_and_rss([spread.by, limits.value("cut_depth"), limits.value("cut_depth")])
        low, high = held.room - worst, held.room + worst
        extremes = [f"has up to {units.show(high)} of room"] if high > _ROUNDING else []
        extremes += [f"holds them {units.show(-low)} apart"] if low < -_ROUNDING else []
        bad = abs(held.room) > flush.value + _ROUNDING
        found.append(
            Finding(
                check="heights",
                level=Level.CAUTION if bad else Level.NOTE,
                where=f"{held.plate.name} between {held.below.host} and {held.above.host}",
                parts=(held.plate.name, held.below.host, held.above.host),
                cause="a plate between two recesses",
                what=f"{units.show(held.plate.thickness)} thick in recesses {units.show(held.below.depth)} and "
                f"{units.show(held.above.depth)} deep: {_held(held.room, units)}; with ±{units.show(worst)} at worst, "
                f"±{units.show(rss)} as the root sum of squares, it {' or '.join(extremes)}",
                short=f"between two recesses {_held(held.room, units)}",
                value=held.room,
                unit="mm",
                limit=flush.value if held.room > 0.0 else -flush.value,
                bound=Bound.MOST if held.room > 0.0 else Bound.LEAST,
                source=f"{spread.source}; {flush.source}",
                advice="Make the two recesses as deep together as the plate is thick." if bad else "",
                ways=_together_as_deep(subject, held) if bad else (),
            )
        )
    return found


def _together_as_deep(subject: Subject, held: _Held) -> tuple[Way, ...]:
    """The recess above, or that below, as deep as the other leaves of the plate."""
    return tuple(
        way
        for one, other, which in ((held.above, held.below, "above"), (held.below, held.above, "below"))
        for way in recess_depth(
            subject.lamp, one, held.plate.thickness - other.depth, f"depth of the recess {which}"
        )
    )


def _held(room: float, units: Units) -> str:
    if abs(room) <= _ROUNDING:
        return "held without play"
    if room > 0.0:
        return f"it rattles by {units.show(room)}"
    return f"it is squeezed, and holds the two {units.show(-room)} apart"


def _comes_out(proud: float, units: Units) -> str:
    if abs(proud) <= _ROUNDING:
        return "flush"
    return f"{units.show(abs(proud))} {'proud' if proud > 0 else 'sunk'}"


def _sold(layer: Layer) -> float:
    """The thickness as sold, where the layer is as thick as its sheet; else its own [mm]."""
    material = layer.material
    whole = material.thickness is not None and abs(material.thickness - layer.thickness) < _ROUNDING
    return material.sold.mm if whole and material.sold else layer.thickness


CHECK = Check(
    name="heights",
    question="How tall does it come out, and how does every plate lie in its recess: flush, proud or sunk?",
    formula="Σ thickness − Σ recess depth; worst case Σ|Δ|, root sum of squares √ΣΔ²; proud = thickness − depth; "
    "room of a plate between two recesses = both depths − thickness",
    source="ISO 7823-1 cast ±(0.4 + 0.1 h) mm; ISO 7823-2 extruded ±10% under 3 mm, ±5% from 3 mm; "
    "birch plywood, trade data sheet; caliper where measured",
    limits=("flush", "caliper", "planed", "cut_depth"),
    run=heights,
)
