"""One cause, one finding: layers that are cut alike, and findings that one thing brings about."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

from stackview.description.lamp import Layer
from stackview.findings import Finding, Way

_SAID = 2
"""Places after the point to which values are said."""


def alike(layers: Iterable[Layer]) -> list[tuple[Layer, tuple[str, ...]]]:
    """The first of each kind of layer, with the names of all that are cut the same, bottom up.

    Names and turns do not matter; the grain does.
    """
    found: dict[Layer, tuple[Layer, list[str]]] = {}
    for layer in layers:
        recesses = tuple(replace(recess, fitted_to=None) for recess in layer.recesses)
        key = replace(layer, name="", turn=0.0, recesses=recesses)
        found.setdefault(key, (layer, []))[1].append(layer.name)
    return [(layer, tuple(names)) for layer, names in found.values()]


def together(names: Sequence[str]) -> str:
    """Names as a maker would list them.

    >>> together(["ring 1"]), together(["ring 1", "ring 2"])
    ('ring 1', 'ring 1 and ring 2')
    >>> together(["ring 1", "ring 2", "ring 3", "ring 4", "top ring"])
    'ring 1, ring 2 and 3 more, to top ring'
    """
    names = list(dict.fromkeys(names))
    if len(names) <= 3:
        return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
    return f"{names[0]}, {names[1]} and {len(names) - 2} more, to {names[-1]}"


def briefly(names: Sequence[str]) -> str:
    """The first of the names, and how many more there are.

    >>> briefly(["ring 1"]), briefly(["ring 1", "ring 2"]), briefly(["ring 1", "ring 2", "cap"])
    ('ring 1', 'ring 1 and ring 2', 'ring 1 and 2 more')
    """
    names = list(dict.fromkeys(names))
    return " and ".join(names) if len(names) < 3 else f"{names[0]} and {len(names) - 1} more"


def said_once(found: Iterable[tuple[Finding, Sequence[str]]], layers: Sequence[Layer]) -> tuple[Finding, ...]:
    """Findings with the layers that each is about, told together where one cause brings them about."""
    return told_together(
        (replace(finding, parts=tuple(names), ways=_of_all(finding.ways, names)) for finding, names in found),
        layers,
    )


def _of_all(ways: tuple[Way, ...], names: Sequence[str]) -> tuple[Way, ...]:
    """Ways of the first of some layers that are cut the same, as ways of each."""
    return tuple(
        replace(way, part=name) for way in ways for name in (names if way.part in names[:1] else (way.part,))
    )


def told_together(found: Iterable[Finding], layers: Sequence[Layer]) -> tuple[Finding, ...]:
    """One finding for each cause, in the order in which each was first met: the worst, with all its places.

    Findings of one check and level are one where they name the same cause, or say the same
    sentence of different parts. Their parts and places are put together, bottom up, and where the
    sentences differ it is said how many there are and where the one that is told is.
    """
    order = {layer.name: number for number, layer in enumerate(layers)}
    groups: dict[object, list[Finding]] = {}
    for finding in found:
        groups.setdefault(_cause(finding), []).append(finding)
    return tuple(_one(group, order) for group in groups.values())


def _cause(finding: Finding) -> object:
    if finding.cause:
        return finding.check, finding.level, finding.cause
    return replace(finding, where="" if finding.parts else finding.where, parts=(), places=())


def _one(group: list[Finding], order: Mapping[str, int]) -> Finding:
    first = {id(one): min((order.get(name, len(order)) for name in one.parts), default=0) for one in group}
    group = sorted(group, key=lambda one: first[id(one)])
    worst = max(group, key=lambda one: round(beyond(one), _SAID))
    names = dict.fromkeys(name for finding in group for name in finding.parts)
    parts = tuple(sorted(names, key=lambda name: order.get(name, len(order))))
    where = [finding.where for finding in group]
    if parts and all(one.where in ("", together(one.parts)) for one in group):
        where = list(parts)
    what = worst.what
    several = list(dict.fromkeys(where))
    if len({finding.what for finding in group}) > 1 and len(several) > 1:
        same = len({round(beyond(one), _SAID) for one in group}) == 1
        place = worst.where or together(worst.parts)
        what += (
            f" ({place}; alike in {'both' if len(several) == 2 else f'all {len(several)}'})"
            if same
            else f" (the worst of {len(several)}, {place})"
        )
    places = tuple(dict.fromkeys(place for finding in group for place in finding.places))
    ways = (*worst.ways, *(way for finding in group for way in finding.ways))
    advice = worst.advice
    if len({finding.advice for finding in group}) > 1 and advice:
        advice += " Likewise the others."
    return replace(
        worst,
        where=_apart(several, together),
        where_brief=_apart(several, briefly) if len(several) > 2 else "",
        what=what,
        advice=advice,
        parts=parts,
        places=places,
        ways=tuple(dict.fromkeys(ways)),
    )


def _apart(places: Sequence[str], listed: Callable[[Sequence[str]], str]) -> str:
    """Places as a maker would list them; those that name several things themselves are kept apart by semicolons.

    >>> _apart(["ring 1 and ring 2", "ring 2 and cap"], together), _apart(["ring 1", "ring 2"], together)
    ('ring 1 and ring 2; ring 2 and cap', 'ring 1 and ring 2')
    """
    if not any(" and " in place for place in places):
        return listed(places)
    if len(places) <= (3 if listed is together else 2):
        return "; ".join(places)
    told = places[: 2 if listed is together else 1]
    return f"{'; '.join(told)}; and {len(places) - len(told)} more"


def beyond(finding: Finding) -> float:
    """How far a finding's value is past its limit, either way; its value alone where it has no limit."""
    if finding.value is None:
        return 0.0
    return abs(finding.value - (finding.limit or 0.0))
