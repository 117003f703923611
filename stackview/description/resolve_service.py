"""Glue, climates, ports, supply and cable as written → as values."""

from collections.abc import Mapping, Sequence
from typing import TypeVar

from stackview.description import defaults
from stackview.description.context import Context, mm_or
from stackview.description.faults import did_you_mean, place
from stackview.description.lamp import Layer
from stackview.description.materials_table import Port, ports
from stackview.description.references import known_layer
from stackview.description.service import Cable, Climate, Film, Glue, Gluing, Rooms, Supply
from stackview.description.service_tables import USUAL_GLUES, USUAL_ROOMS, WORKSHOP, climates, glues
from stackview.description.units import shown
from stackview.description.wire_size import is_gauge, wire_area

_OWN = "as written by the maker"
_Row = TypeVar("_Row")


def resolve_gluing(context: Context, layers: Sequence[Layer]) -> Gluing | None:
    """The glues that the file names, the usual ones for the rest; None after a fault."""
    written = context.written.glue
    known = {
        **glues(),
        **{
            name.strip().lower(): Glue(
                name,
                name,
                row.film.mm,
                row.stretch,
                tuple(row.grips),
                row.on_acrylic,
                _OWN,
                Film(row.index, row.clear),
                row.hottest,
                row.price,
                row.open_minutes,
                row.clamp_minutes,
                row.cure_hours,
            )
            for name, row in context.written.glues.items()
        },
    }
    found = {
        use: _named(context, known, getattr(written, use, None) or usual, "glue", use)
        for use, usual in USUAL_GLUES.items()
    }
    loose: tuple[str, ...] | None = None
    if written is not None and written.loose is not None:
        names = [known_layer(context, name, place("glue", "loose"), layers) for name in written.loose]
        loose = tuple(name for name in names if name is not None)
    wood, acrylic, other = found["wood"], found["acrylic"], found["other"]
    if wood is None or acrylic is None or other is None:
        return None
    named = written is not None and any(getattr(written, use) for use in USUAL_GLUES)
    return Gluing(wood, acrylic, other, named, loose)


def resolve_rooms(context: Context) -> Rooms | None:
    """The workshop's climate and those that the lamp lives in; None after a fault."""
    known = {
        **climates(),
        **{
            name.strip().lower(): Climate(name, row.temperature, row.humidity / 100.0, _OWN)
            for name, row in context.written.climates.items()
        },
    }
    names = context.written.climate or USUAL_ROOMS
    found = [_named(context, known, name, "climate", "") for name in names]
    lives_in = tuple(climate for climate in found if climate is not None)
    return Rooms(known[WORKSHOP], lives_in) if len(lives_in) == len(found) else None


def known_ports(context: Context) -> dict[str, Port]:
    """The table's ports and the maker's own, by name."""
    own = {
        name.strip().lower(): Port(name, row.volts, row.amps, _OWN)
        for name, row in context.written.ports.items()
    }
    return {**ports(), **own}


def resolve_supply(context: Context) -> Supply:
    """Ratings of adapter and fuse, where they are written."""
    written = context.written.supply
    return Supply(written.adapter, written.fuse, written.price) if written is not None else Supply()


def resolve_cable(context: Context) -> Cable | None:
    """The cable of a lamp that stands; a pendant's cord is its cable."""
    written = context.written.cable
    if context.written.pendant is not None:
        if written is not None:
            context.faults.add("cable", "a pendant is fed through its cord: write it under [cord]")
        return None
    wire = wire_area((written and written.wire) or str(defaults.CABLE_WIRE.value))
    if wire is None:
        context.faults.add(
            "cable · wire",
            f'{shown(written and written.wire)} is no wire size: write "0.5 mm2" (0.01 to 100) or "AWG 22" (0 to 40)',
        )
        return None
    length, diameter = defaults.CABLE_LENGTH.number, defaults.CABLE_DIAMETER.number
    if written is None:
        return Cable(length, diameter, wire)
    return Cable(
        mm_or(written.length, length),
        mm_or(written.diameter, diameter),
        wire,
        written.plug.mm if written.plug else None,
        written.strain_relief,
        written=True,
        in_gauge=is_gauge(written.wire or ""),
        price=written.price,
    )


def _named(context: Context, known: Mapping[str, _Row], name: str, kind: str, field: str) -> _Row | None:
    found = known.get(name.strip().lower())
    if found is None and not context.faults.is_lost(kind, name):
        context.faults.add(
            place(kind, field), f"no {kind} {shown(name)} in the table{did_you_mean(name, known)}"
        )
    return found
