"""Screws: two layers that they hold together, and a length that is sold and stays inside."""

from collections.abc import Sequence

from stackview.description import defaults
from stackview.description.context import Context, mm_or
from stackview.description.faults import place
from stackview.description.lamp import Layer, Screws
from stackview.description.references import known_layer
from stackview.description.wording import label

_SOLD_MM = (10.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 100.0)
_SOLD_IN = tuple(25.4 * inch for inch in (0.375, 0.5, 0.625, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0, 4.0))
"""Lengths that wood screws are sold in [mm]; from memory."""
_LEFT = 2.0
"""Wood that is left under a screw's point [mm]; our choice."""
_TIMES = 3.0
"""A screw is up to so many times as long as the layer under its head is thick: two thirds hold; common practice."""


def resolve_screws(context: Context, layers: Sequence[Layer]) -> tuple[Screws, ...]:
    """Every set of screws, its layers known, its screws no longer than what they go through."""
    made: list[Screws] = []
    seen: set[str] = set()
    for index, written in enumerate(context.written.screw):
        where = label("screw", index, {"name": written.name})
        if written.name in seen:
            context.faults.add(place(where, "name"), "two sets of screws have this name: give each its own")
        seen.add(written.name)
        through = known_layer(context, written.through, place(where, "through"), layers)
        into = known_layer(context, written.into, place(where, "into"), layers)
        if through is None or into is None:
            continue
        if through == into:
            context.faults.add(
                place(where, "into"),
                f'layer "{into}" is the one that they go through: name the one that they hold in',
            )
            continue
        between = _thicknesses(layers, through, into)
        length = _length(context, where, written.length.mm if written.length else None, between)
        if length is not None:
            count = written.count or int(defaults.SCREW_COUNT.number)
            diameter = mm_or(written.diameter, defaults.SCREW_DIAMETER.number)
            made.append(Screws(written.name, count, diameter, length, through, into, written.price))
    return tuple(made)


def _thicknesses(layers: Sequence[Layer], through: str, into: str) -> tuple[float, ...]:
    """Thickness of the layer under the head, of each between, and of the one that holds [mm]."""
    order = {layer.name: index for index, layer in enumerate(layers)}
    a, b = order[through], order[into]
    way = 1 if b > a else -1
    return tuple(layers[index].thickness for index in range(a, b + way, way))


def _length(context: Context, where: str, given: float | None, between: tuple[float, ...]) -> float | None:
    """The length written, or the longest sold one; None where it comes out or none is sold."""
    room = sum(between)
    if given is not None:
        if given >= room:
            context.faults.add(
                place(where, "length"),
                f"{context.say(given)} comes out of the layers, which are {context.say(room)} together: a shorter one",
            )
            return None
        return given
    sold = _SOLD_IN if context.units.in_inches else _SOLD_MM
    least, most = room - between[-1], min(room - _LEFT, max(_TIMES * between[0], room - between[-1] + 1.0))
    fitting = [length for length in sold if least < length <= most + 1e-9]
    if not fitting:
        context.faults.add(
            place(where, "length"),
            f"no screw that is sold is longer than {context.say(least)} and at most {context.say(most)}: give its length",
        )
        return None
    return fitting[-1]
