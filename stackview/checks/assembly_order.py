"""The order of assembly: in which order the parts can be set in their places, or what keeps them from it.

One function for whoever asks: ``stackview check`` tells where no order exists, ``stackview steps`` prints it.
Parts that are glued together are one block; where a layer stays loose, blocks are glued up one by one
and then set on each other. A core that is fastened to a part that comes after it goes in with that part.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

from stackview.checks.befores import (
    Before,
    cycle_in,
    past_the_core,
    stands_in,
    strip_name,
    stuck_in_place,
    what_lies_over_what,
)
from stackview.checks.subject import Subject
from stackview.checks.threaded import strips_on, threaded_past
from stackview.one_line import one_line
from stackview.stack.joints import glued_joints


@dataclass(frozen=True, slots=True)
class GluedBlock:
    """Parts that are glued to one another, in the order in which they are put together.

    Each entry of ``placings`` is what goes in at once: one part, or a core together with the part
    that it is fastened to. ``from_top`` blocks are put together upside down, the uppermost part first.
    """

    placings: tuple[tuple[str, ...], ...]
    from_top: bool = False

    __repr__ = one_line

    @property
    def names(self) -> tuple[str, ...]:
        """All its parts in their order."""
        return tuple(name for placing in self.placings for name in placing)


@dataclass(frozen=True, slots=True)
class Move:
    """One thing set down: a placing of a block, or, where ``joins``, a whole block set on those before it."""

    names: tuple[str, ...]
    block: int
    from_top: bool
    joins: bool = False


@dataclass(frozen=True, slots=True)
class AssemblyOrder:
    """One order in which a lamp goes together; no blocks where there is none, and then what blocks it.

    ``befores`` are what holds for it, from the lamp's foot upwards. ``in_place`` names strips that are
    stuck on when the core stands, for with them on it no order exists.
    """

    blocks: tuple[GluedBlock, ...]
    befores: tuple[Before, ...]
    in_place: tuple[str, ...] = ()
    blocked: tuple[Before, ...] = ()

    __repr__ = one_line

    @property
    def moves(self) -> tuple[Move, ...]:
        """Everything that is set down, in its order."""
        found = []
        for number, block in enumerate(self.blocks):
            found += [Move(placing, number, block.from_top) for placing in block.placings]
            if number:
                found.append(Move(block.names, number, from_top=False, joins=True))
        return tuple(found)

    @property
    def from_top(self) -> bool:
        """Whether the block with the most parts is put together upside down."""
        most = max(self.blocks, key=lambda block: len(block.names), default=None)
        return most is not None and most.from_top


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to try: whether the core goes in with the part it is fastened to, and its strips with it."""

    with_host: bool
    with_strips: bool


_WAYS = (_Way(True, True), _Way(False, True), _Way(False, False))


def assembly_order(subject: Subject) -> AssemblyOrder:
    """The order of assembly of one lamp, from the bottom up where nothing speaks for the top.

    First the core is tried with its strips and the part that it hangs from or stands on, then by itself, then
    with every strip stuck on in its place.
    """
    over = what_lies_over_what(subject)
    first_blocked: tuple[Before, ...] = ()
    for way in _WAYS:
        if not way.with_strips and not _strips(subject):
            continue
        for parts in _blocks(subject):
            found, blocked = _tried(subject, over, parts, way)
            if found is not None:
                return found
            first_blocked = first_blocked or blocked
    return AssemblyOrder((), over, blocked=first_blocked)


def _strips(subject: Subject) -> tuple[str, ...]:
    core = subject.lamp.core
    return () if core is None else tuple(strip_name(one.light) for one in strips_on(subject, core))


def _tried(
    subject: Subject, over: tuple[Before, ...], parts: Sequence[tuple[str, ...]], way: _Way
) -> tuple[AssemblyOrder | None, tuple[Before, ...]]:
    """An order where these blocks have one, or what blocks it."""
    core, strips = subject.lamp.core, () if way.with_strips else _strips(subject)
    blocks, every = [], []
    for names in parts:
        from_top = _seats_face_down(subject, names)
        here = (*names, *(strips if "core" in names else ()))
        known = [*over, *stands_in(subject, from_top=from_top)]
        if core is not None and way.with_strips:
            known += past_the_core(threaded_past(subject, tuple(strips_on(subject, core))), "core")
        elif core is not None:
            known += stuck_in_place(subject, tuple(strips_on(subject, core)), from_top=from_top)
        own = [one for one in known if one.first in here and one.then in here]
        host = _fastened_late(subject, here, from_top=from_top) if way.with_host else None
        together = {"core": host} if host is not None else {}
        rank = _ranks(subject, here, from_top=from_top)
        order = _in_order(rank, own, together, from_top=from_top)
        if order is None:
            return None, cycle_in(here, own)
        blocks.append(GluedBlock(order, from_top))
        every += [one for one in known if one not in every]
    block_of = {name: str(number) for number, block in enumerate(blocks) for name in block.names}
    rank = {str(number): (0.0, number) for number in range(len(blocks))}
    joined = _in_order(rank, every, block_of, from_top=False)
    if joined is None:
        return None, ()
    return AssemblyOrder(tuple(blocks[int(one[0])] for one in joined), tuple(every), strips), ()


def _fastened_late(subject: Subject, names: Sequence[str], *, from_top: bool) -> str | None:
    """The part that the core is fastened to, where it comes after the core."""
    core = subject.lamp.core
    if core is None or "core" not in names:
        return None
    host = core.stands_on if from_top else core.hangs_from
    first = core.hangs_from if from_top else core.stands_on
    return host if host in names and first is None else None


def _in_order(
    rank: Mapping[str, tuple[float, int]],
    befores: Sequence[Before],
    together: Mapping[str, str],
    *,
    from_top: bool,
) -> tuple[tuple[str, ...], ...] | None:
    """Names in an order that holds every before, those of least rank first where several are free; None for none.

    ``together`` names what goes in with another part; from the top, all is the other way round.
    """
    unit = {name: together.get(name, name) for name in rank}
    members: dict[str, list[str]] = {}
    for name in rank:
        members.setdefault(unit[name], []).append(name)
    waits: dict[str, set[str]] = {name: set() for name in members}
    for one in befores:
        pair = [together.get(name, name) for name in (one.first, one.then)]
        first, then = reversed(pair) if from_top else pair
        if first != then and first in waits and then in waits:
            waits[then].add(first)
    ready: list[tuple[float, int, str]] = []
    order: list[tuple[str, ...]] = []
    for name, on in waits.items():
        if not on:
            heappush(ready, (*rank[name], name))
    while ready:
        name = heappop(ready)[2]
        # a core is fastened to its part before both go in
        order.append(tuple(sorted(members[name], key=lambda each: each != name)))
        for other, on in waits.items():
            if name in on:
                on.discard(name)
                if not on:
                    heappush(ready, (*rank[other], other))
    return tuple(order) if len(order) == len(waits) else None


def _ranks(subject: Subject, names: Sequence[str], *, from_top: bool) -> dict[str, tuple[float, int]]:
    """What goes first of several that are free: the lowest, core and posts before what goes round them."""
    parts = {part.name: part for part in subject.stack.placed}
    found = {}
    for number, name in enumerate(names):
        part = parts.get(name)
        if part is None:  # a strip goes on as soon as it can
            found[name] = (float("-inf"), number)
        else:
            height = -part.top if from_top else part.underside
            found[name] = (round(height, 6), -1 if part.is_upright else -number if from_top else number)
    return found


def _seats_face_down(subject: Subject, names: Sequence[str]) -> bool:
    """Whether more parts of a block lie in recesses of undersides than of tops: upside down they lie in them alone."""
    order = {layer.name: number for number, layer in enumerate(subject.lamp.layers)}
    seats = [one for one in subject.stack.seats if one.layer in names and one.host in names]
    down = sum(order[one.layer] < order[one.host] for one in seats)
    return 2 * down > len(seats)


def _blocks(subject: Subject) -> Iterator[tuple[tuple[str, ...], ...]]:
    """Parts that are glued to one another, from the bottom up; then all parts as one block."""
    whole = tuple(part.name for part in subject.stack.placed if part.is_layer or part.is_upright)
    if subject.lamp.gluing.loose:
        yield tuple(_glued_together(subject, whole))
    yield (whole,)


def _glued_together(subject: Subject, names: Sequence[str]) -> Iterator[tuple[str, ...]]:
    core = subject.lamp.core
    linked = [(joint.lower.name, joint.upper.name) for joint in glued_joints(subject.stack)]
    linked += [(post.name, post.start) for post in subject.lamp.posts]
    if core is not None:
        host = core.stands_on or core.hangs_from
        # held at the part that it is fastened to, and glued to no other
        linked = [pair for pair in linked if "core" not in pair]
        linked += [("core", host)] if host is not None else []
    group = {name: name for name in names}
    for one, other in linked:
        if one in group and other in group and group[one] != group[other]:
            old, new = group[one], group[other]
            group = {name: new if own == old else own for name, own in group.items()}
    for key in dict.fromkeys(group.values()):
        yield tuple(name for name in names if group[name] == key)
