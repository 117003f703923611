"""The stack in order: groups repeated, steps counted, every layer with a name of its own."""

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from stackview.description.context import Context
from stackview.description.faults import Faults, did_you_mean, place
from stackview.description.toml_places import Loc
from stackview.description.units import shown
from stackview.description.wording import label
from stackview.description.written_lamp import WrittenLamp
from stackview.description.written_layer import LayerBody, WrittenGroup, WrittenStep

_MOST_LAYERS = 2000
"""Layers in one lamp, all copies counted."""
_MOST_CUTS = 20_000
"""Openings and recesses in one lamp, all copies counted."""


@dataclass(frozen=True, slots=True)
class Change:
    """What the steps add up to for one copy: size across, turn, thickness [mm, °] and grain [°]."""

    size: float = 0.0
    turn: float = 0.0
    thickness: float = 0.0
    grain: float = 0.0


@dataclass(frozen=True, slots=True)
class Draft:
    """One layer of the stack, not yet resolved: as written, its own name, and its change."""

    written: LayerBody
    name: str
    change: Change
    where: str
    """The copy's place in messages."""
    entry: str
    """Place of the entry in the file that it is a copy of; says each fault once for all copies."""


@dataclass(frozen=True, slots=True)
class Copy:
    """One layer of the stack, and where in the file it is written and placed."""

    name: str
    entry: Loc
    """The entry that it is a copy of: ``("layer", 0)`` or ``("groups", "tier", 1)``."""
    placed: Loc
    """The entry of the stack that places it, with its ``repeat`` and ``step``."""
    repeated: bool
    """Whether its name counts on from its entry's."""


def copies_of(written: WrittenLamp) -> tuple[Copy, ...]:
    """All layers from the bottom up, each with its entry; none where the stack cannot be told."""
    drafts = draft_stack(Context(written, Path(), allow_outside=False, faults=Faults()))
    places: list[tuple[Loc, Loc]] = []
    for index, entry in enumerate(written.layer):
        placed: Loc = ("layer", index)
        entries = (
            [("groups", entry.group, number) for number in range(len(written.groups.get(entry.group, ())))]
            if isinstance(entry, WrittenGroup)
            else [placed]
        )
        places += [(each, placed) for _ in range(entry.repeat if drafts else 0) for each in entries]
    return tuple(
        Copy(draft.name, *place, repeated=draft.name != draft.written.name)
        for draft, place in zip(drafts, places, strict=bool(drafts))
    )


def draft_stack(context: Context) -> tuple[Draft, ...]:
    """All layers from the bottom up; faults for unknown groups, too many layers and equal names."""
    drafts: list[tuple[LayerBody, Change, str, bool]] = []
    cuts = 0
    for index, entry in enumerate(context.written.layer):
        if isinstance(entry, WrittenGroup):
            where = label("layer", index, {"group": entry.group})
            bodies = _group(context, entry, where)
        else:
            where = label("layer", index, {"name": entry.name})
            bodies = [(entry, where)]
        if len(drafts) + len(bodies) * entry.repeat > _MOST_LAYERS:
            total = len(drafts) + len(bodies) * entry.repeat
            # told of the entry, not of its key: by itself the key may be more
            context.faults.add(
                where,
                f"brings the lamp to {total} layers; a lamp has at most {_MOST_LAYERS}: fewer copies",
            )
            context.faults.lost.setdefault("any", set()).add("layer")
            return ()
        cuts += entry.repeat * sum(_cuts(body) for body, _ in bodies)
        if cuts > _MOST_CUTS:
            context.faults.add(
                where,
                f"brings the lamp to {cuts} openings and recesses; a lamp has at most {_MOST_CUTS}: fewer",
            )
            return ()
        for copy in range(entry.repeat):
            change = _change(entry.first, entry.step, copy)
            repeated = isinstance(entry, WrittenGroup) or entry.repeat > 1
            drafts += [(body, change, entry_place, repeated) for body, entry_place in bodies]
    return _named(context, drafts)


def _group(context: Context, entry: WrittenGroup, where: str) -> list[tuple[LayerBody, str]]:
    groups = context.written.groups
    if entry.group not in groups:
        if not context.faults.is_lost("group", entry.group):
            advice = did_you_mean(entry.group, groups)
            context.faults.add(
                place(where, "group"), f"no group {shown(entry.group)} under [[groups]]{advice}"
            )
        return []
    bodies = groups[entry.group]
    if not bodies:
        context.faults.absent(f"group {shown(entry.group)}", "has no layers: add [[groups.…]] entries to it")
    return [(body, place(f"group {shown(entry.group)}", f"layer {shown(body.name)}")) for body in bodies]


def _cuts(body: LayerBody) -> int:
    """Openings and recesses in one layer, those around the axis counted one by one."""
    arounds = [opening.around for opening in body.opening] + [recess.around for recess in body.recess]
    return sum(around.count if around else 1 for around in arounds)


def _change(first: WrittenStep | None, step: WrittenStep | None, copy: int) -> Change:
    """``first`` and ``copy`` times ``step``, added up."""
    parts = [(first, 1), (step, copy)]
    given = [(part, times) for part, times in parts if part is not None]
    return Change(
        size=sum(part.size.mm * times for part, times in given if part.size),
        turn=sum(part.turn * times for part, times in given),
        thickness=sum(part.thickness.mm * times for part, times in given if part.thickness),
        grain=sum(part.grain * times for part, times in given),
    )


def _named(context: Context, drafts: list[tuple[LayerBody, Change, str, bool]]) -> tuple[Draft, ...]:
    """Repeated names count on from the bottom up: ring 1, ring 2, …; others stay as they are."""
    copies = Counter(body.name for body, _, _, repeated in drafts if repeated)
    reached: Counter[str] = Counter()
    taken: dict[str, str] = {}
    made: list[Draft] = []
    for body, change, entry, repeated in drafts:
        name = body.name
        if repeated and copies[name] > 1:
            reached[name] += 1
            name = f"{name} {reached[body.name]}"
        where = f"layer {shown(name)}"
        if name in taken:
            context.faults.add(
                place(where, "name"),
                f"two layers are called {shown(name)}: give each its own name",
                once=("name", name),
            )
        taken[name] = entry
        made.append(Draft(body, name, change, where if name != body.name else entry, entry))
    return tuple(made)
