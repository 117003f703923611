"""What the preview says of spots on the lit plates: a line or two, from the quick estimate."""

from collections.abc import Iterable
from math import isfinite

from rich.console import Console

from stackview.commands.summary import say
from stackview.description.units import Units
from stackview.glow.estimate import UNKNOWN, UNLIT, Estimate, estimates
from stackview.study import Study

_NAMES = 4
_WORDS = ("single LEDs", "spots", "soft", "even")


def show_spots(screen: Console, study: Study) -> None:
    """Print what the quick estimate says of the lamp's plates."""
    lines = spots_lines(estimates(study.stack, study.light), study.lamp.units)
    if lines:
        screen.print()
    for line in lines:
        say(screen, line)


def spots_lines(found: Iterable[Estimate], units: Units) -> list[str]:
    """Sentences on a lamp's plates, worst first, plates that read alike together; none without plates."""
    every = tuple(found)
    lines = [_seen(word, own, units) for word in _WORDS for own in [_of(every, word)] if own]
    unknown = tuple(one for one in every if one.word in (UNKNOWN, UNLIT))
    if unknown:
        for why in dict.fromkeys(one.why for one in unknown):
            own = tuple(one for one in unknown if one.why == why)
            lines.append(f"Spots not known without `stackview glow` on {_named(own)}: {why}.")
    return lines


def _of(every: tuple[Estimate, ...], word: str) -> tuple[Estimate, ...]:
    return tuple(one for one in every if one.word == word)


def _seen(word: str, own: tuple[Estimate, ...], units: Units) -> str:
    if all(one.finish == "clear" for one in own):
        return f"Clear acrylic shows single LEDs as they are: {_named(own)}."
    worst = max((one for one in own if one.ratio is not None), key=lambda one: one.ratio or 0.0)
    ratio = f"brightest place {worst.ratio:.2g} times the mean around it"
    if word == "even":
        return f"Light looks even on {_named(own)} (quick estimate: {ratio})."
    if all(one.strip for one in own):
        away = "" if worst.distance is None else f", {units.show(worst.distance)} away"
        return (
            f"A bright place is likely where the strip passes close to {_named(own)} "
            f"(quick estimate: {ratio}{away})."
        )
    if all(one.pitch is None for one in own):
        return f"One bright spot is likely on {_named(own)} (quick estimate: {ratio}{_place(worst, units)})."
    start = {
        "soft": "Soft spots likely",
        "spots": "Spots likely",
        "single LEDs": "Single LEDs likely to show",
    }[word]
    return f"{start} on {_named(own)} (quick estimate: {ratio}{_place(worst, units)}){_merging(own)}."


def _place(worst: Estimate, units: Units) -> str:
    if worst.distance is None:
        return ""
    if worst.pitch is None:
        return f", one light point {units.show(worst.distance)} away"
    return f", light points {units.show(worst.pitch)} apart and {units.show(worst.distance)} away"


def _merging(own: tuple[Estimate, ...]) -> str:
    distances = [one.merges_at for one in own if one.merges_at is not None]
    if not distances:
        return ""
    if not isfinite(max(distances)):
        return "; a keen eye tells them apart all over a room"
    return f"; to a keen eye they merge from {max(max(distances) / 1000.0, 0.1):.1f} m"


def _named(own: tuple[Estimate, ...]) -> str:
    names = [one.layer for one in own]
    if len(names) <= _NAMES:
        return ", ".join(names)
    return f"{', '.join(names[: _NAMES - 1])} and {len(names) - _NAMES + 1} more"
