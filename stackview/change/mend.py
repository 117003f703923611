"""A mend: a change, as a maker would type or cut it, that was tried on the rebuilt lamp."""

from collections.abc import Callable
from dataclasses import dataclass, field
from operator import attrgetter
from typing import Any

from stackview.change.evened import Evened, LightAndPower, ratio_with_error
from stackview.change.printed import Printed, Typed
from stackview.description.field_path import steps_of
from stackview.description.units import Units
from stackview.findings import Finding
from stackview.spots.eye_spots import PlateSpots

POWER_KEYS = ("watts", "watts_per_metre", "milliamps", "lumens", "lumens_per_metre")
"""Numbers of a light that go with its power: the file's number alone changes nothing on the bench."""
_ON_THE_BENCH = {
    **dict.fromkeys(POWER_KEYS, " (dimmed, or a weaker light)"),
    "roughness": " (sanded more coarsely)",
    "transmission": " (a denser sheet)",
    "continuous": " (a strip without single LEDs)",
}
"""What a change of a number means at the bench, where the number alone does nothing there."""
_BRIEF = attrgetter("brief")
_RUN = 4
"""Copies in a row, from which their first and last are told alone."""


@dataclass(frozen=True, slots=True)
class NewNumber:
    """One number of the file, as it is and as it is to be."""

    path: str
    old: str
    """As it is said: ``8.8 mm``."""
    new: str
    typed: Typed
    """What to write at the path."""
    layers: tuple[str, ...] = ()
    """All layers that it moves."""

    @property
    def text(self) -> str:
        """What to change, from what to what: the file's own path, and all copies that move with it."""
        steps = steps_of(self.path)
        moved = tuple(name for name in self.layers if len(self.layers) > 1 or name not in steps)
        return f"{self.brief}{f' ({listed(moved)})' if moved else ''}"

    @property
    def brief(self) -> str:
        """What to change, from what to what, at the file's own path."""
        if self.typed is None:
            return f"{self.path} {self.old} left out"
        return f"{self.path} {self.old} to {self.new}{_ON_THE_BENCH.get(str(steps_of(self.path)[-1]), '')}"


def listed(names: tuple[str, ...]) -> str:
    """Every name of a list, for all of them move; copies that follow one another by their first and last.

    >>> listed(("ring 1", "ring 2")), listed(("base",))
    ('ring 1 and ring 2', 'base')
    >>> listed(("base", "plate 3", "plate 4", "plate 5", "plate 6"))
    'base and plate 3 to plate 6'
    """
    runs: list[list[str]] = []
    for name in names:
        if runs and _follows(name, runs[-1][-1]):
            runs[-1].append(name)
        else:
            runs.append([name])
    told = [each for run in runs for each in ([f"{run[0]} to {run[-1]}"] if len(run) >= _RUN else run)]
    return " and ".join(filter(None, (", ".join(told[:-1]), *told[-1:])))


def _follows(one: str, other: str) -> bool:
    """Whether a name is the next copy's of another: ring 3 of ring 2."""
    (stem, _, number), (other_stem, _, other_number) = one.rpartition(" "), other.rpartition(" ")
    if not stem or stem != other_stem or not (number.isdecimal() and other_number.isdecimal()):
        return False
    return int(number) == int(other_number) + 1


@dataclass(frozen=True, slots=True)
class Mend:
    """Numbers to change together, what that does, and what it costs."""

    numbers: tuple[NewNumber, ...]
    does: str
    """What was seen of the rebuilt lamp: ``hides it from eye "standing", all round``."""
    height: float
    """How much taller the lamp is [mm]; negative: lower."""
    grams: float
    """How much heavier."""
    new: tuple[Finding, ...] = ()
    """Cautions and faults that come with it."""
    worse: tuple[Finding, ...] = field(default=(), kw_only=True)
    """Those that the lamp has already, and much worse with it."""
    points: int = 0
    """How many light points more it has; negative: fewer."""
    evened: tuple[Evened, ...] = ()
    """For a mend of spots: what it does for every eye that sees lit acrylic before and after."""
    light: LightAndPower | None = None
    """For a mend of spots: light that leaves the lamp and what it takes."""

    @property
    def changes(self) -> dict[str, Typed]:
        """What to type, by paths."""
        return {number.path: number.typed for number in self.numbers}

    def is_for(self, eye: str) -> bool:
        """Whether it evens out spots that an eye of this name sees."""
        return any(each.eye == eye and each.is_better for each in self.evened)

    def after_for(self, eye: str) -> PlateSpots | None:
        """The spottiest plate that an eye of this name then sees; None where that is not known."""
        return next((each.after for each in self.evened if each.eye == eye), None)

    @property
    def evens_briefly(self) -> str:
        """What to change, the greatest ratio before and after (one eye's, or at worst), light out, what comes with it."""
        plates = zip(*((each.before, each.after) for each in self.evened), strict=True)
        before, after = (ratio_with_error(max(each, key=lambda plate: plate.ratio)) for each in plates)
        whose = "at worst" if len(self.evened) > 1 else f'for "{self.evened[0].eye}"'
        said = [f"{whose} {before} to {after}", *([self.light.brief] if self.light is not None else [])]
        return f"{self._briefly}: {'; '.join((*said, *self._brings(_BRIEF)))}."

    @property
    def brief(self) -> str:
        """What to change, and what comes with it, without what it costs and whom it moves."""
        return f"{'; '.join((self._briefly, *self._brings(_BRIEF)))}."

    def shortly(self, units: Units) -> str:
        """What to change, what that does, and what it costs in height."""
        costs = ", ".join((self._taller(units), *self._brings(_BRIEF)))
        return f"{self._briefly}: {self.does}; {costs}."

    @property
    def _briefly(self) -> str:
        return "; ".join(number.brief for number in self.numbers)

    def _brings(self, said: Callable[[Finding], str]) -> list[str]:
        """What comes with it, each said in its way."""
        return [
            *(f"it brings a {one.level.word}: {said(one)}" for one in self.new),
            *(f"it makes a {one.level.word} worse: {said(one)}" for one in self.worse),
        ]

    @property
    def _what(self) -> str:
        return "; and ".join(number.text for number in self.numbers)

    def text(self, units: Units) -> str:
        """The mend in one sentence."""
        costs = [self.light.brief] if self.light is not None else []
        costs.append(self._taller(units))
        if abs(self.grams) >= 0.5:
            costs.append(f"{abs(self.grams):.0f} g {'heavier' if self.grams > 0 else 'lighter'}")
        if self.points:
            many = abs(self.points)
            costs.append(
                f"{many} light point{'s' if many > 1 else ''} {'more' if self.points > 0 else 'fewer'}"
            )
            if self.light is not None and self.light.watts is not None:
                costs.append(self.light.takes)
        costs += self._brings(lambda one: f"{one.where}: {one.what}")
        return f"{self._what}: {self.does}; {', '.join(costs)}."

    def _taller(self, units: Units) -> str:
        if abs(self.height) < 0.005:
            return "lamp no taller"
        return f"lamp {units.show(abs(self.height))} {'taller' if self.height > 0 else 'lower'}"

    def record(self) -> dict[str, Any]:
        """The mend as plain values, as JSON output has it."""
        return {
            "changes": [
                {
                    "path": number.path,
                    "old": number.old,
                    "new": number.new,
                    "typed": list(number.typed) if isinstance(number.typed, tuple) else number.typed,
                    "layers": list(number.layers),
                }
                for number in self.numbers
            ],
            "does": self.does,
            "height_mm": round(self.height, 6),
            "grams": round(self.grams, 3),
            "light_points": self.points,
            "new_findings": [finding.record() for finding in self.new],
            "worse_findings": [finding.record() for finding in self.worse],
            **({} if self.light is None else self.light.record()),
            **({"spots": [each.record() for each in self.evened]} if self.evened else {}),
        }


@dataclass(frozen=True, slots=True)
class Mended:
    """What was found for one finding: mends that hold, and a sentence where there is more to say."""

    mends: tuple[Mend, ...]
    note: str = ""


def new_number(path: str, now: float, to: Printed, layers: tuple[str, ...], units: Units) -> NewNumber:
    """A changed length: ``now`` [mm], and the number to print and type."""
    return NewNumber(path, units.show(now), to.text, to.typed, layers)
