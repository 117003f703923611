"""Which numbers of a lamp's file could hide bare light, and in which direction."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from stackview.change.printed import Printed, Steps, Typed, steps_for
from stackview.description.field_path import spelt, steps_of
from stackview.description.lamp import Layer
from stackview.description.lamp_file import LampFile
from stackview.study import Study

_SAME = 1e-9
_ACROSS = ("circle", "across_flats", "across_corners")


@dataclass(frozen=True, slots=True)
class Candidate:
    """One number of the file, the directions in which it may go, and what moves with it."""

    path: str
    now: float
    """[mm]"""
    towards: tuple[int, ...]
    """+1 for more, -1 for less."""
    layers: tuple[str, ...]
    """The layers that it moves: all copies of an entry."""
    steps: Steps

    def by(self, steps: int, towards: int) -> "Step":
        """So many printed numbers on from the number as it stands."""
        first = self.steps.beyond(self.now, towards)
        same = abs(self.steps.at(first).mm - self.now) < _SAME
        return Step(self, towards, first + towards * (steps if same else steps - 1))

    def past(self, amount: float, towards: int) -> "Step":
        """The printed number at so much from the number as it stands [mm], or the next one past that."""
        return Step(self, towards, self.steps.beyond(self.now + towards * amount, towards))

    @property
    def is_height(self) -> bool:
        """Whether it is how thick a layer is, so that what lies above goes up with it."""
        return steps_of(self.path)[-1] == "thickness"

    @property
    def at_the_light(self) -> bool:
        """Whether it moves light points, and nothing else."""
        return self.path.startswith("light.")


@dataclass(frozen=True, slots=True)
class Step:
    """One candidate with a printed number: so many of its steps."""

    candidate: Candidate
    towards: int
    count: int

    @property
    def printed(self) -> Printed:
        """The number to print and to type."""
        return self.candidate.steps.at(self.count)

    @property
    def amount(self) -> float:
        """How far it is from the number as it stands [mm]."""
        return abs(self.printed.mm - self.candidate.now)

    def further(self, steps: int) -> "Step":
        """So many printed numbers further on."""
        return replace(self, count=self.count + self.towards * steps)


def typed(steps: Iterable[Step]) -> dict[str, Typed]:
    """What to type, by paths."""
    return {step.candidate.path: step.printed.typed for step in steps}


def candidates(study: Study, parts: Iterable[str]) -> tuple[Candidate, ...]:
    """Numbers that move an edge of these parts, or of a layer between them, or the light itself.

    Parts grow, openings shrink, heights go both ways. Whether a height lifts the light and the edges
    alike is seen when it is tried.
    """
    assert study.file is not None
    layers, file = _between(study, set(parts)), study.file
    found: dict[str, Candidate] = {}
    for candidate in (*_written(study, file, layers), *_sheets(study, file, layers), *_lights(study, file)):
        found.setdefault(candidate.path, candidate)
    return tuple(found.values())


def _between(study: Study, parts: set[str]) -> set[str]:
    """Names of the layers from the lowest of these parts to the highest."""
    chosen = [part for part in study.stack.placed if part.name in parts and part.is_layer]
    if not chosen:
        return set()
    low, high = min(part.underside for part in chosen), max(part.top for part in chosen)
    return {
        part.name for part in study.stack.placed if part.is_layer and part.underside < high and part.top > low
    }


def _written(study: Study, file: LampFile, layers: set[str]) -> Iterator[Candidate]:
    """Lengths that the file writes."""
    for number in file.numbers():
        if not number.is_length:
            continue
        towards = _directions(steps_of(number.path))
        moved = set(number.layers)
        if not towards or (moved and not moved & layers):
            continue
        steps = steps_for(number.written, study.lamp.units)
        yield Candidate(number.path, number.value, towards, number.layers, steps)


def _directions(path: list[str | int]) -> tuple[int, ...]:
    """Which way a number may go so that it hides more; none for what hides nothing."""
    keys = [step for step in path if isinstance(step, str)]
    top, last = keys[0], keys[-1]
    if top == "light":
        return (1, -1) if last in ("height", "start") else ()
    if top == "core":
        return (1, -1) if last == "height" else ()
    if top == "outlines":
        return (1, -1) if last in _ACROSS else ()
    if top not in ("layer", "groups") or "around" in keys or "recess" in keys:
        return ()
    if last == "thickness" and "step" not in keys and "first" not in keys:
        return (1, -1)
    if last == "wall" or (last in _ACROSS and "opening" not in keys):
        return (1,)
    return (-1,) if last in _ACROSS or keys[-2:] == ["chamfer", "width"] else ()


def _sheets(study: Study, file: LampFile, layers: set[str]) -> Iterator[Candidate]:
    """The thickness of layers that so far take their sheet's: wood can be had otherwise, acrylic cannot."""
    by_entry: dict[str, list[Layer]] = {}
    for layer in study.lamp.layers:
        by_entry.setdefault(file.entry_of(layer.name), []).append(layer)
    for entry, copies in by_entry.items():
        path, material = f"{entry}.thickness", copies[0].material
        length = material.measured or material.sold
        if (
            length is None
            or not material.is_wooden
            or not layers & {layer.name for layer in copies}
            or file.is_written(path)
        ):
            continue
        steps = steps_for(length.written, study.lamp.units)
        yield Candidate(path, length.mm, (1, -1), tuple(layer.name for layer in copies), steps)


def _lights(study: Study, file: LampFile) -> Iterator[Candidate]:
    """Heights of lights that the file leaves to their defaults."""
    for light in study.lamp.lights:
        layout = light.layout
        now = getattr(layout, layout.lift_key, None)
        path = spelt(["light", light.name, layout.key, layout.lift_key])
        if now is not None and not file.is_written(path):
            yield Candidate(path, now, (1, -1), (), steps_for(0.0, study.lamp.units))
