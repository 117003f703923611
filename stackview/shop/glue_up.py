"""The glue-up as steps: what is set on what, with how much glue, and how long it is left under clamps."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stackview.checks.alike import together
from stackview.checks.assembly_order import AssemblyOrder, Move
from stackview.checks.glue import laid_in
from stackview.checks.glue_bead import bead_diameter
from stackview.checks.repair import held_by
from stackview.description.light_source import Runs
from stackview.description.service import Glue
from stackview.shop.access import things_said
from stackview.shop.step import After, WorkStep
from stackview.stack.joints import Joint, glue_of, glued_joints

if TYPE_CHECKING:
    from stackview.study import Study


@dataclass(frozen=True, slots=True)
class GluedJoint:
    """One joint as it is glued: its glue, how much of it [ml], and the bead's thickness and length [mm]."""

    joint: Joint
    glue: Glue
    ml: float
    bead: float
    long: float


def beads(study: "Study") -> tuple[GluedJoint, ...]:
    """Every glued joint with its glue, as ``stackview check`` lays it."""
    found = []
    excess = study.limits.value("bead_excess")
    for joint in glued_joints(study.stack):
        laid, used = laid_in(study, joint), glue_of(study.lamp, joint)
        volume = laid.area * used.film * (1.0 + excess)
        found.append(
            GluedJoint(joint, used, volume / 1000.0, bead_diameter(volume, laid.length), laid.length)
        )
    return tuple(found)


def place_key(name: str) -> str:
    """The key of the step that brings a part to its place."""
    return f"place {name}"


class GlueUp:
    """Steps of the glue-up of one lamp, move by move."""

    def __init__(self, study: "Study", order: AssemblyOrder) -> None:
        self.study, self.order = study, order
        self.beads = beads(study)
        self.key_of = {
            name: place_key(move.names[0]) for move in order.moves if not move.joins for name in move.names
        }
        self.there: dict[int, list[str]] = {}

    def fastened(self, move: Move) -> WorkStep | None:
        """The core fastened at the bench to the part with which it goes in; None for any other move."""
        if move.joins or "core" not in move.names or len(move.names) < 2:
            return None
        host = move.names[0]
        own = [one for one in self.beads if {one.joint.lower.name, one.joint.upper.name} == {host, "core"}]
        return WorkStep(
            key="fasten core",
            phase="glue",
            title=f"Fasten the core to {host}{_with(own)}",
            parts=(host, "core"),
            tools=_tools(own),
            do=(
                f"Lay {host} on the bench and stand the core square on it.",
                *self._core_turned(),
                *self._glue(own),
            ),
            after=tuple(After(f"cut {name}", "it is cut") for name in ("core",)),
            minutes=_wait(own),
            glue_ml=sum(one.ml for one in own),
        )

    def step(self, move: Move, seals: tuple[str, ...]) -> WorkStep:
        """The step of one move, after which ``seals`` cannot be reached any more."""
        shut = (f"From here on out of reach: {things_said(seals)}.",) if seals else ()
        if move.joins:
            return self._joined(move, seals, shut)
        there = self.there.setdefault(move.block, [])
        met = [one for one in self.beads if _meets(one.joint, move.names, there)]
        first = not there
        name, where = move.names[0], self._on(move, there)
        pinned = any(part.name == name and part.is_post for part in self.study.stack.placed)
        there += move.names
        return WorkStep(
            key=self.key_of[name],
            phase="glue" if met or first or pinned else "fit",
            title=self._title(move, where, met, first=first),
            brief=f"{name} on {where}" if where else name,
            parts=move.names,
            tools=(self.study.lamp.gluing.other.name,) if pinned else _tools(met),
            do=(*self._seated(move, there), *self._glue(met), *self._screwed(move.names, there), *shut),
            after=tuple(self._after(move, there)),
            places=move.names,
            seals=seals,
            minutes=_wait(met),
            glue_ml=sum(one.ml for one in met),
        )

    def _title(self, move: Move, where: str, met: Sequence[GluedJoint], *, first: bool) -> str:
        name = move.names[0]
        part = next((one for one in self.study.stack.placed if one.name == name), None)
        if part is None:
            return f"Stick {name} to the core"
        with_core = " with the core" if len(move.names) > 1 else ""
        if first:
            which = ", upside down" if move.from_top else ""
            return f"Begin with {name}{with_core}{which}, on a flat board"
        if part.is_post:
            return f"Set {name} into {where}"
        return f"{'Glue' if met else 'Set'} {name}{with_core} on {where}{_with(met)}"

    def _on(self, move: Move, there: Sequence[str]) -> str:
        """What the part is set on: what its glue meets, or else what it lies over."""
        names = [
            other.name
            for one in self.beads
            if _meets(one.joint, move.names, there)
            for other in (one.joint.lower, one.joint.upper)
            if other.name not in move.names
        ]
        names = (
            names
            or [one.key.removeprefix("place ") for one in self._after(move, there)][-1:]
            or list(there[-1:])
        )
        return together(names) if names else ""

    def _after(self, move: Move, there: Sequence[str]) -> list[After]:
        """What has to be there before, and why."""
        found: dict[str, str] = {}
        for one in self.order.befores:
            first, then = (one.then, one.first) if move.from_top else (one.first, one.then)
            if then in move.names and first in there and first not in move.names:
                found.setdefault(self.key_of[first], one.why)
        return [After(key, why) for key, why in found.items()]

    def _seated(self, move: Move, there: Sequence[str]) -> list[str]:
        units, stack, do = self.study.lamp.units, self.study.stack, []
        for seat in stack.seats:
            if (seat.layer in move.names or seat.host in move.names) and {seat.layer, seat.host} <= set(
                there
            ):
                play = units.show(seat.clearance)
                deep = units.show(seat.depth)
                do += [
                    f"{seat.layer} lies {deep} deep in the recess of {seat.host}, with {play} of play per side."
                ]
        for part in stack.placed:
            if part.name in move.names and part.is_layer and part.turn % 360.0 > 1e-9:
                do.append(
                    f"{part.name} stands turned by {part.turn % 360.0:.6g}° counter-clockwise, seen from above: set it "
                    "to its index marks."
                )
            if part.name in move.names and part.is_post:
                glue = self.study.lamp.gluing.other.name
                do.append(f"A drop of {glue} in each hole where they are to stay; how much is not counted.")
            if move.names == ("core",) == (part.name,):
                do += self._core_turned()
        return do

    def _core_turned(self) -> list[str]:
        """How a core with strips is turned about its axis."""
        layouts = [light.on_core for light in self.study.lamp.lights if light.on_core is not None]
        return [
            f"Turn the core so that {'a strip looks to' if isinstance(one, Runs) else 'the strip begins at'} bearing "
            f"{one.first % 360.0:.6g}° (0° is the front, 90° the right)."
            for one in layouts
        ]

    def _screwed(self, names: Sequence[str], there: Sequence[str]) -> list[str]:
        """Screws between what is set down now and what is there."""
        units = self.study.lamp.units
        return [
            f"Drive {one.count} × {one.name}, {units.span(one.diameter, one.length)}, through {one.through} into {one.into}."
            for one in self.study.lamp.screws
            if {one.through, one.into} & set(names) and {one.through, one.into} <= {*names, *there}
        ]

    def _glue(self, met: Sequence[GluedJoint]) -> list[str]:
        units = self.study.lamp.units
        do = [
            f"{one.joint.name}: a bead of {one.glue.name} {units.show(units.settled(one.bead))} thick and "
            f"{units.show(units.settled(one.long))} long, {one.ml:.2f} ml."
            for one in met
        ]
        return do + [_times(used) for used in dict.fromkeys(one.glue for one in met)]

    def _joined(self, move: Move, seals: tuple[str, ...], shut: tuple[str, ...]) -> WorkStep:
        """A block set on what stands there, without glue."""
        below = self.there[0]
        loose = [name for name in self.study.lamp.gluing.loose or () if name in (*move.names, *below)]
        names, inner = move.names, self.there.setdefault(0, below)
        key, screwed = f"join {names[0]}", self._screwed(names, below)
        why = (
            f"{together(loose)} stays unglued, so that the lamp can be opened"
            if loose
            else f"{_block_words(names)} and what it stands on share no joint that glue would hold"
        )
        step = WorkStep(
            key=key,
            phase="join",
            title=f"Set {_block_words(names)} on {_resting_on(self.order, names, below)}, without glue",
            parts=names,
            tools=("screwdriver",),
            do=(
                why + ("." if screwed else f": hold it by {held_by(self.study.lamp)}."),
                *screwed,
                *shut,
            ),
            after=tuple(
                After(key, "the block is put together")
                for key in dict.fromkeys(self.key_of[name] for name in (*names, *inner))
            ),
            seals=seals,
        )
        inner += names
        return step


def _block_words(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"the block of {together(names)}"


def _resting_on(order: AssemblyOrder, names: Sequence[str], below: Sequence[str]) -> str:
    on = [one.first for one in order.befores if one.then in names and one.first in below]
    under = [one.then for one in order.befores if one.first in names and one.then in below]
    return together(list(dict.fromkeys([*on, *under])) or list(below[-1:]))


def _meets(joint: Joint, names: Sequence[str], there: Sequence[str]) -> bool:
    """Whether a joint lies between what is set down now and what is there."""
    pair = (joint.lower.name, joint.upper.name)
    return any(one in names and other in there for one, other in (pair, pair[::-1]))


def _with(met: Sequence[GluedJoint]) -> str:
    by_glue: dict[str, float] = {}
    for one in met:
        by_glue[one.glue.name] = by_glue.get(one.glue.name, 0.0) + one.ml
    return "".join(f", {ml:.2f} ml of {name}" for name, ml in by_glue.items())


def _times(used: Glue) -> str:
    """How long there is to close the joint, and how long it is held."""
    if used.open_minutes is None and used.clamp_minutes is None:
        return f"{used.full}: by the times on its pack; the lamp's file gives none."
    told = []
    if used.open_minutes is not None:
        told.append(f"closed within {_minutes(used.open_minutes)}")
    if used.clamp_minutes is not None:
        told.append(f"left under clamps or weights for {_minutes(used.clamp_minutes)} at least")
    if used.cure_hours is not None:
        told.append(f"takes its load after {used.cure_hours:g} h")
    return f"{used.full}: {', '.join(told)}; the pack's own times come first."


def _minutes(minutes: float) -> str:
    """A time as one says it.

    >>> _minutes(0.2), _minutes(45), _minutes(240)
    ('12 s', '45 min', '4 h')
    """
    if minutes < 1.0:
        return f"{60.0 * minutes:.0f} s"
    return f"{minutes / 60.0:.3g} h" if minutes >= 120.0 else f"{minutes:g} min"


def _wait(met: Sequence[GluedJoint]) -> float:
    return max((one.glue.clamp_minutes or 0.0 for one in met), default=0.0)


def _tools(met: Sequence[GluedJoint]) -> tuple[str, ...]:
    return (*dict.fromkeys(one.glue.name for one in met), "clamps or weights", "rag") if met else ()
