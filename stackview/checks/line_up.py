"""Line-up: what passes through the layers, with what play, and what keeps each joint from sliding.

A joint is where one layer rests on another. A recess, or a post, pin or core that passes both
layers, keeps it from sliding while the glue sets, by no more than the sum of the plays.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from stackview.checks.alike import together
from stackview.checks.held import over, under
from stackview.checks.proposals import larger
from stackview.checks.subject import Check, Subject
from stackview.curves.arcs import Path, bounds, turned
from stackview.curves.fit import inside, overlapping
from stackview.description.lamp import Lamp, Layer
from stackview.description.outline import Around, Outline, around, path_of
from stackview.description.shapes import Circle
from stackview.description.units import Units
from stackview.findings import Bound, Finding, Level, Way

_ROUNDING = 1e-6
_HAIR = 1e-4


@dataclass(frozen=True, slots=True, eq=False)
class Upright:
    """The core, or one post or pin: its curve and the heights between which it stands [mm]."""

    name: str
    path: Path
    low: float
    high: float
    round_: bool


@dataclass(frozen=True, slots=True, eq=False)
class _Hole:
    """A hole of a layer that something can stand in; ``key`` names it as a way does, empty where its size is another's."""

    path: Path
    blind: bool
    key: str


@dataclass(frozen=True, slots=True)
class Passing:
    """One upright in the opening or recess of one layer, with its play per side [mm]."""

    upright: str
    layer: str
    play: float
    round_: bool
    dowel: bool
    """Whether it may be snug: a pin in wood, or an end in a blind hole in wood."""
    hole: str
    """The hole, as a way names it."""


@dataclass(frozen=True, slots=True)
class Holding:
    """Two layers on one another, and what keeps them from sliding: by how much they still can [mm].

    ``held_by`` is empty and ``slide`` None where nothing does.
    """

    upper: str
    lower: str
    held_by: str
    slide: float | None
    turns: bool
    """Whether it can still turn about the one round thing that holds it."""


@dataclass(frozen=True, slots=True)
class Interference:
    """One upright that is larger than the hole it stands in, and by how much per side [mm]."""

    upright: str
    layer: str
    by: float
    hole: str
    """The hole, as a way names it."""


def line_up(subject: Subject) -> tuple[Finding, ...]:
    """Faults of uprights larger than their holes, cautions of tight ones; notes on plays, and on loose joints."""
    passed = passings(subject)
    return (*_too_large(subject), *_plays(subject, passed), *_slides(subject, holdings(subject, passed)))


def uprights(subject: Subject) -> list[Upright]:
    """Core, posts, pins and cord, each copy by itself."""
    standing = {part.name: part for part in subject.stack.placed if part.passes_openings}
    return [
        Upright(name, path, standing[name].underside, standing[name].top, outline.radius is not None)
        for name, outline, copies in _described(subject.lamp)
        if name in standing
        for path in around(path_of(outline), copies)
    ]


def _described(lamp: Lamp) -> Iterator[tuple[str, Outline, Around | None]]:
    if lamp.core is not None:
        yield "core", lamp.core.outline, None
    for post in lamp.posts:
        yield post.name, post.outline, post.around
    if lamp.cord is not None:
        yield "cord", Outline(Circle(lamp.cord.diameter), at=lamp.cord.at), None


def passings(subject: Subject) -> list[Passing]:
    """Every upright in every layer that it passes or ends in, with its play in the hole there.

    Where it is in no hole it takes the layer's own space, which the clash check reports.
    """
    posts = {post.name for post in subject.lamp.posts}
    found = []
    for upright, layer, there, holes in _meetings(subject):
        room = [
            (-fit.by, hole)
            for hole in holes
            if _within(bounds(there), bounds(hole.path)) and (fit := inside(there, hole.path)).by <= _ROUNDING
        ]
        if room:
            play, hole = max(room, key=lambda pair: (pair[0], pair[1].blind))
            dowel = not layer.material.is_acrylic and (hole.blind or upright.name in posts)
            found.append(Passing(upright.name, layer.name, play, upright.round_, dowel, hole.key))
    return found


def interferences(subject: Subject) -> list[Interference]:
    """Every upright in a hole that is too small for it, however little, on the exact curves.

    An upright that no hole is near takes the layer's own space, which the clash check reports.
    """
    found = []
    for upright, layer, there, holes in _meetings(subject):
        reach = [(inside(there, one.path).by, one.key) for one in holes if overlapping(there, one.path)]
        by, key = min(reach, default=(0.0, ""))
        if by > _ROUNDING:
            found.append(Interference(upright.name, layer.name, by, key))
    return found


def _meetings(subject: Subject) -> Iterator[tuple[Upright, Layer, Path, list[_Hole]]]:
    """Every upright with every layer at its height: its curve in the layer's frame, and the holes there."""
    for upright in uprights(subject):
        for layer, part in zip(subject.lamp.layers, subject.stack.placed, strict=False):
            if min(upright.high, part.top) - max(upright.low, part.underside) > _ROUNDING:
                holes = _holes(layer, upright.low - part.underside, upright.high - part.underside)
                yield upright, layer, turned(upright.path, -layer.turn), list(holes)


def _within(inner: tuple[float, ...], outer: tuple[float, ...]) -> bool:
    """Whether one box lies inside another, each low x, low y, high x, high y."""
    low = inner[0] >= outer[0] - _ROUNDING and inner[1] >= outer[1] - _ROUNDING
    return low and inner[2] <= outer[2] + _ROUNDING and inner[3] <= outer[3] + _ROUNDING


def _holes(layer: Layer, low: float, high: float) -> Iterator[_Hole]:
    """Holes of a layer that something between two heights in its frame can stand in."""
    for number, opening in enumerate(layer.openings):
        for hole in around(path_of(opening.outline, "opening"), opening.around):
            for copy in around(hole, layer.around):
                yield _Hole(copy, False, f"opening {number}")
    for number, recess in enumerate(layer.recesses):
        foot, head = layer.heights_of_cut(recess.face, recess.depth)
        if low >= foot - _ROUNDING if recess.face == "top" else high <= head + _ROUNDING:
            key = "" if recess.fitted_to is not None else f"recess {number}"
            yield _Hole(path_of(recess.outline, "recess"), True, key)


def holdings(subject: Subject, passed: list[Passing]) -> list[Holding]:
    """Every layer on the one that carries it, with what keeps it from sliding there."""
    layers, limit = subject.lamp.layers, subject.limits.value("slide")
    found = []
    for layer, below in zip(layers, subject.stack.rests_on, strict=False):
        if below is None:
            continue
        lower = layers[below]
        holds = [
            Holding(layer.name, lower.name, f"the recess in {seat.host}", seat.clearance, False)
            for seat in subject.stack.seats
            if {seat.layer, seat.host} == {layer.name, lower.name}
        ]
        holds += _by_uprights(layer, lower, passed)
        tight = [joint for joint in holds if joint.slide is not None and not over(joint.slide, limit)]
        nothing = Holding(layer.name, lower.name, "", None, False)
        found.append(min(tight, key=lambda joint: (joint.turns, joint.slide), default=nothing))
    return found


def _by_uprights(layer: Layer, lower: Layer, passed: list[Passing]) -> list[Holding]:
    """How each kind of upright that passes both layers holds them; one round one lets them turn."""
    found = []
    for name in dict.fromkeys(one.upright for one in passed):
        here = [one for one in passed if one.upright == name and one.layer == layer.name]
        there = [one for one in passed if one.upright == name and one.layer == lower.name]
        if not here or not there:
            continue
        play = min(one.play for one in here) + min(one.play for one in there)
        turns = min(len(here), len(there)) < 2 and here[0].round_ and not _is_round(layer)
        found.append(Holding(layer.name, lower.name, name, play, turns))
    return found


def _is_round(layer: Layer) -> bool:
    return layer.around is None and layer.outline.radius is not None and layer.outline.at == (0.0, 0.0)


def _too_large(subject: Subject) -> list[Finding]:
    """One fault for each upright and amount, unless the clash of the two solids tells it already."""
    units, least = subject.lamp.units, subject.limits["line_up_least"]
    clashing = {one.where for one in subject.stack.findings if one.check == "overlap"}
    kinds: dict[tuple[str, float], list[Interference]] = {}
    for one in interferences(subject):
        if not clashing & {f"{one.layer} and {one.upright}", f"{one.upright} and {one.layer}"}:
            kinds.setdefault((one.upright, round(one.by, 6)), []).append(one)
    return [
        Finding(
            check="line-up",
            level=Level.FAULT,
            where=name,
            parts=(name, *dict.fromkeys(one.layer for one in some)),
            what=f"it is {_amount(by, units)} per side too large for its hole in "
            f"{together([one.layer for one in some])}: it does not go in",
            value=by,
            unit="mm",
            limit=0.0,
            bound=Bound.MOST,
            source="plane geometry on the exact curves",
            advice="Make those holes wider.",
            ways=wider_holes(name, [(one.layer, one.hole, one.by + least.value) for one in some]),
        )
        for (name, _), some in kinds.items()
        for by in (max(one.by for one in some),)
    ]


def wider_holes(upright: str, holes: list[tuple[str, str, float]]) -> tuple[Way, ...]:
    """All of some holes wider, each by so much per side [mm]; or the core that stands in them thinner."""
    wider: dict[tuple[str, str], float] = {}
    for layer, hole, by in holes:
        wider[layer, hole] = max(by, wider.get((layer, hole), 0.0))
    if not all(hole for _, hole in wider):
        return ()
    ways = [
        Way(layer, f"size of {hole}", 0.0, by, along="size of the holes")
        for (layer, hole), by in wider.items()
    ]
    most = max(wider.values(), default=0.0)
    return (*ways, larger("core", -most)) if upright == "core" and wider else tuple(ways)


def little_play(play: float, units: Units) -> str:
    """Too little play, in words: nothing is said to be none."""
    return f"only {units.show(play)} of play" if over(play, 0.0) else "no play"


def _amount(by: float, units: Units) -> str:
    return units.small(by) if by >= _HAIR else f"under {units.small(_HAIR)}"


def _plays(subject: Subject, passed: list[Passing]) -> list[Finding]:
    """One finding for each kind of upright; a dowel that is snug in wood is meant so."""
    units, limit = subject.lamp.units, subject.limits["line_up_least"]
    found = []
    for name in dict.fromkeys(one.upright for one in passed):
        own = [one for one in passed if one.upright == name]
        tight = [one for one in own if under(one.play, limit.value) and not one.dowel]
        least = min(tight or own, key=lambda one: one.play)
        layers = together([one.layer for one in tight or own])
        found.append(
            Finding(
                check="line-up",
                level=Level.CAUTION if tight else Level.FACT,
                where=name,
                what=(
                    f"{little_play(least.play, units)} per side in {layers}: one hole a little off, and it "
                    "does not go in"
                    if tight
                    else f"{units.show(least.play)} of play per side or more in {layers}"
                ),
                value=least.play,
                unit="mm",
                limit=limit.value,
                bound=limit.bound,
                source=limit.source,
                advice="Make those holes wider." if tight else "",
                ways=wider_holes(name, [(one.layer, one.hole, limit.value - one.play) for one in tight]),
                parts=(name, *dict.fromkeys(one.layer for one in tight or own)),
            )
        )
    return found


def _slides(subject: Subject, found: list[Holding]) -> list[Finding]:
    """One note on all joints that can slide, and one on those that can turn.

    A ring stack without pins is usual and glues well with a jig or a square, so this is no
    caution: it says where such help is needed.
    """
    limit = subject.limits["slide"]
    # a layer that does not seat would be held where it is meant to lie
    astray = {misfit.layer.name for misfit in subject.stack.misfits}
    loose = [joint for joint in found if joint.slide is None and joint.upper not in astray]
    turning = [joint for joint in found if joint.slide is not None and joint.turns]
    pins = "Line them up with a jig or a square while the glue sets, or give each a recess or two pins."
    edges = "Line them up by their edges, or add a second pin."
    return [
        Finding(
            check="line-up",
            level=Level.NOTE,
            where="joints",
            what=f"{len(some)} of {len(found)} {what}: "
            + together([f"{joint.upper} on {joint.lower}" for joint in some]),
            value=float(len(some)),
            unit="joints",
            limit=0.0,
            bound=Bound.MOST,
            source=f"held where recess, post or core leave {subject.lamp.units.show(limit.value)} or less; {limit.source}",
            advice=advice,
            parts=tuple(dict.fromkeys(name for joint in some for name in (joint.lower, joint.upper))),
        )
        for some, what, advice in (
            (loose, "have nothing that stops sliding during glue-up", pins),
            (turning, "can still turn about one round post or core", edges),
        )
        if some
    ]


CHECK = Check(
    name="line-up",
    question="Do core, posts and pins pass their holes, and what keeps each joint from sliding during glue-up?",
    formula="play = least distance of the upright's curve from the hole's, too large where that is under 0; "
    "a joint slides by the sum of its two plays",
    source="plane geometry; limits are common practice",
    limits=("line_up_least", "slide"),
    run=line_up,
)
