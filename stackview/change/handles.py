"""Where a way leads in the lamp's file: the numbers to type, in which steps, and the layers that move with them.

A check knows the lamp, not how its file says it. That an opening has to be smaller all round is,
in the file, a wider ``wall``, a smaller ``circle``, or both sides of a ``rectangle``.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import cos, pi
from typing import Any

from stackview.change.mend import POWER_KEYS
from stackview.change.printed import Figures, Printed, Steps, Typed, steps_for
from stackview.description.field_path import spelt
from stackview.description.lamp_file import LampFile
from stackview.description.numbers_written import Number
from stackview.description.units import Units
from stackview.errors import LampError
from stackview.findings import Way, WayValue
from stackview.study import Study

_IN_WORDS = re.compile(
    r"(size|corner|circle|place|depth|clearance|width) of (outline|opening|recess|chamfer)(?: (\d+))?"
)


@dataclass(frozen=True, slots=True)
class Handle:
    """One number of the file that a way takes hold of."""

    path: str
    now: float
    by: float
    """What the number changes by where the way goes as far as its guess."""
    layers: tuple[str, ...]
    """All layers that it moves."""
    steps: Steps | Figures
    old: str | None = None
    """What holds now in words, where that is no length."""
    given: Printed | None = None
    """What is typed, where it is one of a table and goes by no steps."""
    rough: bool = False
    """Whether less than the guess may do."""

    @property
    def said(self) -> str:
        """What holds now, in words."""
        return self.old if self.old is not None else self.steps.said(self.now)

    def first(self) -> int:
        """The count of printed steps at the guess, rounded away from the old number."""
        return self.steps.beyond(self.now + self.by, self.towards)

    def at(self, share: float) -> Printed:
        """What is to be typed for a share of the guess, rounded away from the old number."""
        if self.given is not None:
            return self.given
        return self.steps.at(self.steps.beyond(self.now + share * self.by, self.towards))

    @property
    def towards(self) -> int:
        """Whether it grows (+1) or shrinks (-1)."""
        return 1 if self.by > 0.0 else -1


def handles_of(study: Study, ways: Iterable[Way]) -> tuple[Handle, ...]:
    """The numbers that some ways of one key take hold of together; none where one of them leads nowhere."""
    assert study.file is not None
    found: dict[str, Handle] = {}
    numbers = {number.path: number for number in study.file.numbers()}
    for way in ways:
        some = list(_handles(study, way, numbers))
        if not some:
            return ()
        for handle in some:
            known = found.get(handle.path)
            if known is None or abs(handle.by) > abs(known.by):
                found[handle.path] = handle
    return tuple(found.values())


def _handles(study: Study, way: Way, numbers: Mapping[str, Number]) -> Iterator[Handle]:
    file = study.file
    assert file is not None
    if way.key == "power":
        yield from _power(study, way, numbers)
        return
    named = _IN_WORDS.fullmatch(way.key)
    paths = [(_path(study, way.part, way.key), 1.0)]
    if named is not None:
        what, of, number = named.groups()
        paths = list(_in_words(study, file, way.part, what, of, int(number or 0)))
    for path, per in paths:
        handle = _handle(study, way, path, per, numbers)
        if handle is not None:
            yield handle


def _handle(study: Study, way: Way, path: str, per: float, numbers: Mapping[str, Number]) -> Handle | None:
    """The number at a path, which changes ``per`` times as far as the way goes."""
    file = study.file
    assert file is not None
    try:
        written = file.value(path) if file.is_written(path) else 0.0
    except LampError:
        return None
    as_written = _plain(written) if isinstance(written, str | int | bool) else ""
    units, moved = study.lamp.units, _moved(study, way.part)
    if isinstance(way.now, tuple) and isinstance(way.guess, tuple):
        both = Printed(0.0, *_both(way.now, way.guess, written, units, away=way.key == "inset"))
        return Handle(path, 0.0, 0.0, moved, Figures(1.0), _pair(way.now, units), both)
    if not isinstance(way.now, int | float) or not isinstance(way.guess, int | float) or not way.is_stepped:
        word = Printed(0.0, way.guess, _plain(way.guess))
        return Handle(path, 0.0, 0.0, moved, Figures(1.0), as_written or _plain(way.now), word)
    number = numbers.get(path)
    now = way.now if number is None else number.value
    layers = moved if number is None else number.layers
    if isinstance(written, bool) or not isinstance(written, int | float | str):
        written = 0.0
    steps: Steps | Figures = (
        steps_for(written, units, fit=path.endswith("clearance"), run=path in ("cable.length", "cord.length"))
        if way.is_length
        else Figures.of(now, whole=number is not None and number.is_whole)
    )
    by = per * (way.guess - way.now)
    return (
        Handle(path, now, by, layers, steps, None if way.is_length else _plain(now), None, way.rough)
        if by
        else None
    )


def _both(
    old: tuple[float, float], new: tuple[float, float], written: object, units: Units, *, away: bool
) -> tuple[Typed, str]:
    """Two lengths as they are typed, and the words for them: each rounded ``away`` from the old one, or to the nearest."""
    first = written[0] if isinstance(written, list) and written else 0.0
    steps = steps_for(first, units)
    x, y = (
        steps.number(steps.beyond(to, 1 if to > was else -1) if away else round(to / float(steps.step)))
        for was, to in zip(old, new, strict=True)
    )
    return (x[1], y[1]), _pair((x[0], y[0]), units)


def _pair(lengths: tuple[float, float], units: Units) -> str:
    return " and ".join(units.show(length) for length in lengths)


def _plain(value: WayValue) -> str:
    """A value as the file has it."""
    if isinstance(value, bool):
        return str(value).lower()
    return f"{value:g}" if isinstance(value, int | float) else str(value)


def _path(study: Study, part: str, key: str) -> str:
    """The path of a key below a part: a layer, a post, a light, or a table of the file."""
    top = _top(study, part)
    return f"{top}.{key}" if top else key


def _top(study: Study, part: str) -> str:
    file = study.file
    assert file is not None
    if part in {layer.name for layer in study.lamp.layers}:
        return file.entry_of(part)
    if part in {post.name for post in study.lamp.posts}:
        return spelt(["post", part])
    return spelt(["light", part.removeprefix("light.")]) if part.startswith("light.") else part


def _moved(study: Study, part: str) -> tuple[str, ...]:
    """All layers that are written where one of them is."""
    names, file = [layer.name for layer in study.lamp.layers], study.file
    if file is None or part not in names:
        return ()
    entry = file.entry_of(part)
    return tuple(name for name in names if file.entry_of(name) == entry)


# --- keys in words ---


def _in_words(
    study: Study, file: LampFile, part: str, what: str, of: str, number: int
) -> Iterator[tuple[str, float]]:
    """Paths of the numbers that make a cut or an edge larger, deeper or wider, and how far each goes with it."""
    top = _top(study, part)
    if of == "outline":
        path = f"{top}.outline"
        yield from _sizes(file, path) if what == "size" else _corners(file, path)
        return
    if of == "opening":
        walls = _is_written(file, f"{top}.wall")
        if walls and number == 0:
            yield f"{top}.wall", -1.0
        else:
            openings = dict(enumerate(path for path, _ in _many(file, f"{top}.opening")))
            path = openings.get(number - walls, "")
            other = f"{path}.{'at' if what == 'place' else 'around.circle'}"
            yield from _sizes(file, path) if what == "size" else ((other, 2.0),)
        return
    if of == "chamfer":
        edges = [path for path, each in _many(file, f"{top}.chamfer") for _ in _edges(each)]
        if number < len(edges):
            yield f"{edges[number]}.width", 1.0
        return
    layer = next((one for one in study.lamp.layers if one.name == part), None)
    recess = _recess(file, top, number)
    if layer is None or recess is None or number >= len(layer.recesses):
        return
    plate = layer.recesses[number].fitted_to
    if what != "size":
        yield f"{recess}.{what}", 1.0
    elif plate is not None:
        yield from _sizes(file, f"{_top(study, plate)}.outline")
    else:
        yield from _sizes(file, f"{recess}.outline")


def _recess(file: LampFile, top: str, number: int) -> str | None:
    """The path of a recess, counted as the lamp has them: those with an outline, copies each, then the fitted ones."""
    written = list(_many(file, f"{top}.recess"))
    own = [
        path
        for path, each in written
        if "outline" in each
        for _ in range(int(each.get("around", {}).get("count", 1)))
    ]
    every = own + [path for path, each in written if "outline" not in each]
    return every[number] if number < len(every) else None


def _shape(file: LampFile, path: str) -> tuple[str, Mapping[str, Any]]:
    """The table in which an outline's shape is written, or its inset; those that it names are followed."""
    try:
        written = file.value(path)
    except LampError:
        return path, {}
    name = written if isinstance(written, str) else None
    if isinstance(written, Mapping) and "inset" not in written:
        name = written.get("like")
    if isinstance(name, str):
        return _shape(file, spelt(["outlines", name]))
    return path, written if isinstance(written, Mapping) else {}


def _corners(file: LampFile, path: str) -> Iterator[tuple[str, float]]:
    path, written = _shape(file, path)
    if "inset" not in written:
        yield f"{path}.corner_radius", 1.0


def _sizes(file: LampFile, path: str) -> Iterator[tuple[str, float]]:
    """What makes an outline larger by one on every side: its sizes, those of the outline it names, or its inset."""
    path, written = _shape(file, path)
    if "inset" in written:
        yield f"{path}.inset", -1.0
    elif "circle" in written or "across_flats" in written:
        yield f"{path}.{'circle' if 'circle' in written else 'across_flats'}", 2.0
    elif "across_corners" in written:
        yield f"{path}.across_corners", 2.0 / cos(pi / int(written["sides"]))
    elif "rectangle" in written:
        yield from ((f"{path}.rectangle.{side}", 2.0) for side in (0, 1))


def _power(study: Study, way: Way, numbers: Mapping[str, Number]) -> Iterator[Handle]:
    """All that goes with a light's power, by one share: watts, current and light."""
    if not isinstance(way.guess, float) or not isinstance(way.now, float):
        return
    top = _top(study, way.part)
    for number in numbers.values():
        if number.path.startswith(f"{top}.") and number.path.removeprefix(f"{top}.") in POWER_KEYS:
            by = number.value * (way.guess - way.now)
            yield Handle(number.path, number.value, by, (), Figures.of(number.value), _plain(number.value))


def _many(file: LampFile, path: str) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """The tables at a path that takes one or several, each with its own path."""
    if not _is_written(file, path):
        return
    written = file.value(path)
    tables = written if isinstance(written, list) else [written]
    for index, each in enumerate(tables):
        if isinstance(each, Mapping):
            yield (f"{path}.{index}" if isinstance(written, list) else path), each


def _edges(chamfer: Mapping[str, Any]) -> list[Any]:
    edges = chamfer.get("edge")
    return list(dict.fromkeys(edges)) if isinstance(edges, list) else [edges]


def _is_written(file: LampFile, path: str) -> bool:
    try:
        return file.is_written(path)
    except LampError:
        return False
