"""Support: whether every part, and every piece of it, stands on something, and stays there."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import isinf

from stackview.checks.against import against
from stackview.checks.alike import together
from stackview.checks.boards import boards
from stackview.checks.ledges import narrow_ledges
from stackview.checks.line_up import passings
from stackview.checks.subject import Check, Subject
from stackview.description.units import Units
from stackview.findings import Bound, Finding, Level
from stackview.solids.level_faces import FINE
from stackview.stack.supports import Support

_EXACT = 2.0 * FINE
"""Widths and distances are good to this [mm]: at the limit is within the limit."""
_STATICS = "statics: at rest the centre of mass lies over the hull of what carries it"
_AREAS = "areas of level faces that meet, exact curves within 0.002 mm"


def supported(subject: Subject) -> tuple[Finding, ...]:
    """Faults of parts in the air and of parts that tip off; cautions of slivers, of pins that sink."""
    told = {misfit.layer.name for misfit in subject.stack.misfits}
    told |= {
        layer.name
        for layer, below in zip(subject.lamp.layers[1:], subject.stack.rests_on[1:], strict=True)
        if below is None
    }
    told |= _inside_their_host(subject)
    pieces = [one for one in subject.stack.supports.pieces if one.part.name not in told]
    stands = [one for one in pieces if not one.part.is_post]
    found = [
        *_in_the_air(subject, [one for one in stands if not one.carried]),
        *_tip(subject, [one for one in stands if one.carried]),
        *_piles(subject, told, {one.part.name for one in stands if one.margin < -_EXACT}),
        *_narrow(subject, [one for one in stands if one.carried]),
        *_feet(subject),
        *_fallen_through(subject),
        *_sinking(subject, [one for one in pieces if one.part.is_post and not one.carried]),
        *boards(subject),
    ]
    names = {part.name for part in subject.stack.placed}
    return tuple(replace(one, parts=(one.where,)) if one.where in names else one for one in found)


def _inside_their_host(subject: Subject) -> set[str]:
    """The core where it is sunk into a layer that has no room for it: that is told as a clash."""
    core = subject.lamp.core
    hosts = {core.stands_on, core.hangs_from} if core is not None else set()
    clashing = [set(one.parts) for one in subject.stack.findings if one.check == "overlap"]
    return {"core"} if any("core" in parts and parts & hosts for parts in clashing) else set()


def _in_the_air(subject: Subject, floating: list[Support]) -> Iterator[Finding]:
    """Parts drawn where nothing carries them; a core let snugly into a hole is held by that, and a caution."""
    units = subject.lamp.units
    for name, some in _by_part(floating).items():
        core = some[0].part.is_core
        host = subject.lamp.core.stands_on if core and subject.lamp.core else None
        snug = host is not None and _snug(subject, name)
        falls = _falls(some, units)
        what = (
            f"only the sides of its hole in {host} hold it: nothing lies under its end"
            if snug
            else f"nothing carries it: it stands over an opening of {host} that leaves nothing under it, and {falls}"
            if host
            else f"{_count(subject, some)}nothing to stand on where it is drawn, and {falls}"
        )
        yield Finding(
            check="support",
            level=Level.CAUTION if snug else Level.FAULT,
            where=name,
            parts=(name,),
            cause=f"in the air: {_sort(name)}",
            what=what,
            value=0.0,
            unit="mm²",
            source=_AREAS,
            advice=_advice_in_the_air(name, host, snug=snug),
        )


def _falls(some: list[Support], units: Units) -> str:
    """How far pieces drop, and onto what."""
    drops, onto = [one.drop for one in some if one.drop is not None], some[0].onto
    if len(drops) < len(some):
        return f"only a bevel or a groove of {onto} would catch it, lower down"
    if isinf(max(drops)):
        return "would fall out of the lamp"
    return f"would drop {units.show(max(drops))}" + (f" onto {onto}" if onto else "")


def _advice_in_the_air(name: str, host: str | None, *, snug: bool) -> str:
    if snug:
        return f"Glue it in, or make a recess in {host} in place of the opening."
    if host:
        return (
            f"Close the opening of {host} under the core, make it smaller than the core, or the core wider."
        )
    return f"Move {name} over what is to carry it, or make that wider or its opening smaller."


def _snug(subject: Subject, name: str) -> bool:
    """Whether a hole holds an upright by its sides: less play than what is to drop in freely needs."""
    least = subject.limits.value("line_up_least")
    return any(one.upright == name and one.play < least - _EXACT for one in passings(subject))


def _count(subject: Subject, some: list[Support]) -> str:
    """How many of a part's pieces, with the verb that follows."""
    every = len(subject.stack.supports.of(some[0].part.name))
    return "it has " if every == 1 else f"{len(some)} of its {every} pieces have "


def _tip(subject: Subject, carried: list[Support]) -> Iterator[Finding]:
    units = subject.lamp.units
    for name, some in _by_part(one for one in carried if one.margin < -_EXACT).items():
        worst = min(some, key=lambda one: one.margin)
        every = len(subject.stack.supports.of(name))
        which, whose = (
            ("it tips off", "its") if every == 1 else (f"{len(some)} of its {every} pieces tip off", "their")
        )
        on = together(worst.on)
        yield Finding(
            check="support",
            level=Level.FAULT,
            where=name,
            parts=(name,),
            cause=f"tips off: {_sort(name)}",
            what=f"{which} {on}: {whose} centre of mass lies {units.show(-worst.margin)} outside what carries "
            f"{'it' if every == 1 else 'them'}",
            value=worst.margin,
            unit="mm",
            limit=0.0,
            bound=Bound.LEAST,
            source=_STATICS,
            advice=f"Move {name} over {on}, or let more of {on} reach under it.",
        )


def _piles(subject: Subject, told: set[str], tipping: set[str]) -> Iterator[Finding]:
    """Where a part stays by itself, but not with what stands on it: the worst place of the stack."""
    if subject.lamp.hangs_at is not None:
        return
    limit, units = subject.limits["carried_inside"], subject.lamp.units
    loads = [
        one
        for one in subject.stack.supports.loads
        if one.carries and one.part not in told and not tipping & {one.part, *one.carries}
    ]
    worst = min(loads, key=lambda one: one.margin, default=None)
    if worst is None or worst.margin >= limit.value - _EXACT:
        return
    over = worst.margin < -_EXACT
    on = together(sorted({name for one in subject.stack.supports.of(worst.part) for name in one.on}))
    load = f"with what stands on it ({together(worst.carries)}) its centre of mass lies"
    yield Finding(
        check="support",
        level=Level.FAULT if over else Level.CAUTION,
        where=worst.part,
        parts=(worst.part,),
        what=f"{load} {units.show(-worst.margin)} outside what carries it: the pile tips off {on}"
        if over
        else f"{load} only {units.show(max(worst.margin, 0.0))} inside the edge of what carries it, {on}",
        value=worst.margin,
        unit="mm",
        limit=0.0 if over else limit.value,
        bound=Bound.LEAST,
        source=_STATICS if over else f"{_STATICS}; {limit.source}",
        advice=f"Bring the parts above {worst.part} back over {on}.",
    )


def _narrow(subject: Subject, carried: list[Support]) -> Iterator[Finding]:
    """Parts that stand on slivers, or nearly tip; narrow ledges round an opening are told as such."""
    width, inside = subject.limits["carried_width"], subject.limits["carried_inside"]
    units = subject.lamp.units
    ledges = {(layer.name, host.name) for layer, host, _ in narrow_ledges(subject)}
    found: dict[tuple[float, str, str], list[Support]] = {}
    for name, some in _by_part(one for one in carried if one.margin >= -_EXACT).items():
        slim = [] if any((name, on) in ledges for on in some[0].on) else _slim(some, width.value)
        near = [one for one in some if one.margin < inside.value - _EXACT]
        if slim:
            by, one = min(slim, key=lambda pair: pair[0])
            what = f"only {units.show(by)} wide at its widest is what carries "
            what += _its(subject, [one for _, one in slim])
            found.setdefault((round(by, 3), what, "width"), []).append(one)
        elif near:
            one = min(near, key=lambda one: one.margin)
            by = max(one.margin, 0.0)
            what = f"its centre of mass lies only {units.show(by)} inside the edge of what carries "
            found.setdefault((round(by, 3), what + _its(subject, near), "inside"), []).append(one)
    for (by, what, kind), some in found.items():
        limit = width if kind == "width" else inside
        on = together([name for one in some for name in one.on])
        yield against(
            limit,
            by,
            "support",
            f"{what} on {on}",
            where=together([one.part.name for one in some]),
            parts=tuple(dict.fromkeys(one.part.name for one in some)),
            cause=f"{kind} of what carries {_sort(some[0].part.name)}",
            by=_AREAS,
            advice=f"Let more of it lie on {on}: make one of them wider, the opening smaller, or move it.",
        )


def _slim(some: list[Support], limit: float) -> list[tuple[float, Support]]:
    widths = [(one.width(limit - _EXACT), one) for one in some] if limit > _EXACT else []
    return [(by, one) for by, one in widths if by < limit - _EXACT]


def _its(subject: Subject, some: list[Support]) -> str:
    every = len(subject.stack.supports.of(some[0].part.name))
    return "it" if every == 1 else f"{len(some)} of its {every} pieces"


def _feet(subject: Subject) -> Iterator[Finding]:
    """Feet beside the lowest layer, in its recess or under its opening, and those that only touch its edge."""
    feet, limit = subject.stack.supports.feet, subject.limits["carried_width"]
    if not feet:
        return
    base = subject.lamp.layers[0].name
    off = [foot for foot in feet if not foot.carried]
    slim = _slim([foot for foot in feet if foot.carried], limit.value)
    over = [foot for foot in feet if foot.carried and foot.margin < -_EXACT]
    several = f" of {len(feet)}"
    if off:
        yield Finding(
            check="support",
            level=Level.FAULT,
            where="feet",
            parts=("feet",),
            what=f"{len(off)}{several} carry nothing: they stand beside {base}, or under its opening or recess",
            value=float(len(off)),
            unit="feet",
            limit=0.0,
            bound=Bound.MOST,
            source=_AREAS,
            advice=f"Set them on a circle that lies under a face of {base}, or choose another bearing for the first.",
        )
    odd = {foot.piece for foot in over} | {foot.piece for _, foot in slim}
    if odd:
        least = min(feet[piece].width(limit.value) for piece in odd)
        yield against(
            limit,
            least,
            "support",
            f"{len(odd)}{several} stand more beside {base} than under it, or touch it by "
            f"{subject.lamp.units.show(least)} alone",
            where="feet",
            parts=("feet",),
            by=_AREAS,
            advice=f"Set them on a circle where their whole width lies under {base}.",
        )


def _fallen_through(subject: Subject) -> Iterator[Finding]:
    """Layers that went through the one they were put on: spacers that hold nothing apart, plates on the floor."""
    units, stack = subject.lamp.units, subject.stack
    for name, host in stack.supports.passed:
        low, high = stack.part(name).underside, stack.part(host).top
        (layer,) = [one for one in subject.lamp.layers if one.name == name]
        on = together([on for one in stack.supports.of(name) for on in one.on])
        yield Finding(
            check="support",
            level=Level.NOTE if layer.around is None else Level.CAUTION,
            where=name,
            parts=(name,),
            cause=f"gone through: {_sort(name)}",
            what=f"it goes through the opening of {host}, stands on {on}, {units.show(high - low)} lower, and "
            "holds nothing up",
            value=high - low,
            unit="mm",
            source="plane geometry",
            advice=f"If it is to stand on {host}, move it over that, or make the opening of {host} smaller.",
        )


def _sinking(subject: Subject, loose: list[Support]) -> Iterator[Finding]:
    """Pins and posts that are held by nothing but the sides of their holes, where those are loose."""
    limit, units = subject.limits["pin_drop"], subject.lamp.units
    far = [one for one in loose if one.drop is not None and one.drop > limit.value + 1e-6]
    for name, some in _by_part(far).items():
        if _snug(subject, name):
            continue
        drop = max(one.drop or 0.0 for one in some)
        falls = "falls out of the lamp" if isinf(drop) else f"sinks {units.show(drop)}"
        falls += f" onto {some[0].onto}" if some[0].onto and not isinf(drop) else ""
        yield against(
            limit,
            None if isinf(drop) else drop,
            "support",
            f"{falls}: nothing carries its lower end",
            where=name,
            parts=(name,),
            by=_AREAS,
            advice="Inset its lower end less, make the hole under it shallower, or glue it in.",
        )


def _sort(name: str) -> str:
    """The name that copies of a layer share: ring of ring 1 and ring 2."""
    return name.rstrip("0123456789").strip()


def _by_part(some: Iterable[Support]) -> dict[str, list[Support]]:
    found: dict[str, list[Support]] = {}
    for one in some:
        found.setdefault(one.part.name, []).append(one)
    return found


CHECK = Check(
    name="support",
    question="Does every part, piece and foot stand on something, and does it stay there, alone and with its load?",
    formula="area = level faces that meet; width = largest circle in it; distance of the centre of mass from the "
    "hull of that area, alone and with all that stands on it alone",
    source="statics of rigid bodies; plane geometry; limits are common practice",
    limits=("carried_width", "carried_inside", "pin_drop"),
    run=supported,
)
