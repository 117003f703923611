"""What has to be in its place before what, and why: parts that lie over one another, and what goes past the core.

Parts are set down along the lamp's axis. One part covers another where a slab of it lies above a slab
of the other and they share area seen from above; the covered one has to be there first. What is set
down from above in an order can be set from below in the opposite one, so that one graph answers for
both: an order exists if and only if it has no cycle.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from stackview.checks.slabs import Slab, slabs_of_parts
from stackview.checks.subject import Subject
from stackview.checks.threaded import StripStretch, Threaded, threaded_past

_LEVEL = 1e-6
"""Slabs that reach into each other by less than this lie one on the other [mm]."""
_SLIVER = 0.15
"""Areas narrower than twice this are slivers between facets of equal curves [mm]."""


@dataclass(frozen=True, slots=True)
class Before:
    """One part has to be in its place before another, counted from the lamp's foot upwards."""

    first: str
    then: str
    why: str


def covers(bodies: Mapping[str, Sequence[Slab]]) -> Iterator[Before]:
    """Which parts lie over which, from the bottom up, what follows from others left out.

    Parts that take the same space are told as clashes elsewhere: the higher of them counts as lying over the other.
    """
    names = sorted(bodies, key=lambda name: (bodies[name][0].low, bodies[name][-1].high))
    below: dict[str, set[str]] = {name: set() for name in names}
    areas = {name: [slab.area.buffer(-_SLIVER) for slab in slabs] for name, slabs in bodies.items()}

    def over(upper: str, lower: str) -> bool:
        return any(
            high.low >= low.high - _LEVEL and area.intersects(low.area)
            for high, area in zip(bodies[upper], areas[upper], strict=True)
            for low in bodies[lower]
        )

    for number, upper in enumerate(names):
        for lower in reversed(names[:number]):
            apart = bodies[upper][0].low >= bodies[lower][-1].high - _LEVEL
            if lower not in below[upper] and over(upper, lower):
                below[upper] |= {lower, *below[lower]}
                yield Before(lower, upper, f"{lower} below {upper}")
            if not apart and not _one_space(bodies, areas, upper, lower) and over(lower, upper):
                yield Before(upper, lower, f"{upper} below {lower}")


def _one_space(
    bodies: Mapping[str, Sequence[Slab]], areas: Mapping[str, Sequence[object]], one: str, other: str
) -> bool:
    """Whether two parts take the same space somewhere, so that they clash."""
    return any(
        b.within(a.low, a.high) > _LEVEL and b.area.intersects(area)
        for a, area in zip(bodies[one], areas[one], strict=True)
        for b in bodies[other]
    )


def past_the_core(found: Sequence[Threaded], what: str) -> Iterator[Before]:
    """Layers that core or strip, ``what``, does not pass on their way: before it, or after."""
    for one in found:
        name = one.layer.name
        if not one.over_the_top:
            yield Before(name, what, f"what is on the core above {name} is wider than its opening")
        if not one.over_the_foot:
            yield Before(what, name, f"what is on the core below {name} is wider than its opening")


def stuck_in_place(subject: Subject, strips: Sequence[StripStretch], *, from_top: bool) -> Iterator[Before]:
    """What holds where each strip is stuck on when the core stands: its own height still has to be open.

    Layers below it that it does not pass are there before; those at its height and beyond come after.
    From the top, above and below change places.
    """
    for strip in strips:
        name = strip_name(strip.light)
        lies = Before("core", name, f"the core carries {name}")
        yield Before(name, "core", lies.why) if from_top else lies
        passed = {one.layer.name: one for one in threaded_past(subject, (strip,))}
        for layer in subject.lamp.layers:
            part = subject.stack.part(layer.name)
            shut = f"{layer.name} shuts in where {name} is stuck on"
            one = passed.get(layer.name)
            if from_top and part.underside < strip.high - _LEVEL:
                yield Before(layer.name, name, shut)
            elif not from_top and part.top > strip.low + _LEVEL:
                yield Before(name, layer.name, shut)
            elif one is not None and not (one.over_the_foot if from_top else one.over_the_top):
                why = f"{name} is wider than the opening of {layer.name}"
                yield Before(name, layer.name, why) if from_top else Before(layer.name, name, why)


def strip_name(light: str) -> str:
    """What the strip of a light is called where it is a part by itself."""
    return f'the strip of light "{light}"'


def stands_in(subject: Subject, *, from_top: bool) -> Iterator[Before]:
    """Posts need the layer that they begin in, or from the top the one that they end in."""
    bodies = {part.name for part in subject.stack.placed}
    for post in subject.lamp.posts:
        if post.name in bodies and from_top:
            yield Before(post.name, post.end, f"{post.end} holds {post.name}")
        elif post.name in bodies:
            yield Before(post.start, post.name, f"{post.start} holds {post.name}")


def what_lies_over_what(subject: Subject) -> tuple[Before, ...]:
    """``covers`` of the parts of one lamp."""
    return tuple(covers(slabs_of_parts(subject)))


def cycle_in(names: Sequence[str], befores: Sequence[Before]) -> tuple[Before, ...]:
    """The shortest way round by which parts wait for each other, as what each waits for; empty where none do."""
    after: dict[str, list[Before]] = {name: [] for name in names}
    for one in befores:
        after[one.first].append(one)
    pairs = {(one.first, one.then): one for one in befores}
    for a, b in combinations(names, 2):
        if (a, b) in pairs and (b, a) in pairs:
            return pairs[a, b], pairs[b, a]
    rounds = [found for name in names if (found := _round(name, after))]
    return min(rounds, key=len, default=())


def _round(start: str, after: Mapping[str, Sequence[Before]]) -> tuple[Before, ...]:
    """The shortest way from a part back to itself."""
    came: dict[str, Before] = {}
    waiting = [start]
    for name in waiting:
        for one in after[name]:
            if one.then == start:
                way = [one]
                while way[0].first != start:
                    way.insert(0, came[way[0].first])
                return tuple(way)
            if one.then not in came:
                came[one.then] = one
                waiting.append(one.then)
    return ()
