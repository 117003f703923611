"""The first screen of a preview: the questions that a maker asks, each with its answer, in half a page."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from math import ceil
from textwrap import wrap

from rich.console import Console
from rich.text import Text

from stackview.change.mend import Mend
from stackview.change.mends import Mending
from stackview.commands.first_answers import FirstAnswers
from stackview.commands.spots_line import eye_brief, glows
from stackview.commands.summary import STYLE
from stackview.findings import Finding, Level
from stackview.in_figures import figure
from stackview.sight.bands import Kind
from stackview.sight.eyes import Seen
from stackview.spots.eye_spots import EyeSpots
from stackview.study import Study

LINES = 30
"""Lines of 80 columns that the screen takes at most."""
_EYES, _MENDS, _FAULTS = 4, 3, 3
_NOUGHT = "–"
_MEND = Text("Mend: ", style="bold")
_DARK = 0.01
"""Share of its light that leaves a lamp, under which it is called dark (our word)."""
_EVENED = 120
"""Letters that it takes to say what evens out spots: where they have no room nothing is tried."""
_BESIDE = re.compile(r" \(\d[\d.]* mm[²³]?\)")
"""The other system beside the lamp's own unit: half a page has no room for it."""


@dataclass(slots=True)
class _Sheet:
    """The screen and the lines that it has taken so far."""

    screen: Console
    lines: int = 0

    def blank(self) -> None:
        self.screen.print()
        self.lines += 1

    def heading(self, question: str, answer: str = "") -> None:
        self.blank()
        self.said(answer, label=Text(f"{question}  " if answer else question, style="bold"))

    def said(self, text: str, *, indent: int = 0, hang: int = 0, label: Text | None = None) -> None:
        """A sentence; its further lines stand ``hang`` letters further in than its first."""
        lead = label or Text("")
        lines = self._wrapped(text, indent, hang, lead)
        for number, line in enumerate(lines or [""]):
            first = Text(" " * indent) + lead + line[len(lead) :]
            self.screen.print(first if number == 0 else " " * indent + line, soft_wrap=True)
        self.lines += max(len(lines), 1)

    def takes(self, text: str, *, indent: int, hang: int, label: Text) -> int:
        """Lines that a sentence would take."""
        return len(self._wrapped(text, indent, hang, label))

    def _wrapped(self, text: str, indent: int, hang: int, lead: Text) -> list[str]:
        lines = wrap(
            # A number stays with what it may be off.
            "\0" * len(lead) + _BESIDE.sub("", text).replace(" ± ", "\0±\0"),
            self.screen.width - indent,
            subsequent_indent=" " * hang,
            break_on_hyphens=False,
            break_long_words=False,
        )
        return [line[: len(lead)] + line[len(lead) :].replace("\0", " ") for line in lines]


def show_first_screen(
    screen: Console, study: Study, mending: Mending, *, looked: Callable[[], None] = lambda: None
) -> None:
    """Print the answers as they are found: what shows, what helps, what must be mended, how the plates glow.

    Whatever core is free works on what comes next. ``looked`` is called once the eyes have looked: works behind
    these can begin that need what was seen.
    """
    sheet, answers = _Sheet(screen), FirstAnswers(study, mending)
    sheet.said(_facts(study), label=Text(f"{study.lamp.name}: ", style="bold"))
    answers.looked(partial(_what_shows, sheet, study), glows=glows(study))
    looked()
    answers.checked()
    answers.helped(_faults(study)[:_FAULTS], partial(_what_helps, sheet, study, mending))
    spotty = _what_remains(sheet, study, mending, answers)
    sheet.blank()
    notes = sum(finding.level == Level.NOTE for finding in study.findings)
    told = f"{notes} note{'s' if notes != 1 else ''}{'' if spotty else ', limits, sources'}"
    edges = "edges, what evens spots" if spotty else "edges"
    sheet.said(f"More: `stackview check` ({told}), `stackview sight` ({edges})")


def _what_remains(sheet: _Sheet, study: Study, mending: Mending, answers: FirstAnswers) -> bool:
    """What must be mended, how the plates glow, and what evens them; whether there are spots to even."""

    def shown() -> None:
        _to_mend(sheet, study, mending)
        _to_look_at(sheet, study)
        _how_plates_glow(sheet, study)

    spotty = mending.spotty() if glows(study) else ()
    waits = bool(spotty) and any(map(mending.has_light_to_hide, _faults(study)[:_FAULTS]))
    if not waits:
        shown()
    if spotty and (waits or _may_tell_a_mend(sheet)):
        mend = answers.evened(spotty[0], shown if waits else None)
        told = "" if mend is None or not _may_tell_a_mend(sheet) else mend.evens_briefly
        if told and sheet.takes(told, indent=2, hang=2, label=_MEND) <= _room(sheet):
            sheet.said(told, indent=2, hang=2, label=_MEND)
    return bool(spotty)


def _room(sheet: _Sheet) -> int:
    return LINES - sheet.lines - 2


def _may_tell_a_mend(sheet: _Sheet) -> bool:
    return ceil(_EVENED / sheet.screen.width) <= _room(sheet)


def _facts(study: Study) -> str:
    count = len(study.sightlines.points)
    light = f"{count} {_named(study, count)}" if count else "no light is described, so nothing can show"
    return f"{study.lamp.units.show(study.stack.height)} tall, {figure(study.stack.grams)} g without wiring, {light}"


def _named(study: Study, count: int) -> str:
    """LEDs; light points where a continuous strip is counted as such."""
    thing = (
        "light point"
        if any(
            strip is not None and strip.continuous
            for strip in (lit.light.layout.strip for lit in study.light.lit)
        )
        else "LED"
    )
    return thing if count == 1 else f"{thing}s"


# --- can you see them? ---


def _the_others(shown: Sequence[Seen]) -> str:
    """What is said of the eyes that the table has no room for: they see no more bare, but perhaps through acrylic."""
    most = [_most(seen, Kind.GLAZED, Kind.VEILED) for seen in shown]
    count, through = len(shown) - _EYES, max(most[_EYES:])
    see = f"{count} more of your eyes see{'s' if count == 1 else ''} no more"
    return (
        f"{see} than these."
        if through <= max(most[:_EYES])
        else f"{see} bare, but up to {through} through acrylic."
    )


def _what_shows(sheet: _Sheet, study: Study) -> None:
    if not len(study.sightlines.points):
        return
    eyes, count = study.sightlines.eyes, len(study.sightlines.points)
    thing = _named(study, count)
    thing = thing if thing == "LEDs" else f"THE {thing.upper()}"
    inside = sum(study.sightlines.buried.values())
    sheet.heading(f"CAN YOU SEE {thing}?", _not_known(count) if inside == count else _yes_or_no(eyes))
    if 0 < inside < count:
        sheet.said(f"Not known of {inside} that sit{'s' if inside == 1 else ''} inside a part.", indent=2)
    if not any(seen.counts(*Kind).any() for seen in eyes):
        _corners(sheet, study, eyes)
        if not inside:
            _what_leaves(sheet, study)
        return
    shown = sorted(
        eyes, key=lambda seen: tuple(-int(n) for n in (_most(seen, Kind.BARE), _most(seen, *Kind)))
    )
    rows = [
        (
            seen.eye.name,
            _said_of(_most(seen, Kind.BARE), count),
            _said_of(int(seen.counts(Kind.BARE)[seen.front]), count),
            _said_of(_most(seen, Kind.GLAZED, Kind.VEILED), count),
        )
        for seen in shown[:_EYES]
    ]
    _table(sheet, ("", "bare at worst", "from the front", "through acrylic"), rows)
    if len(shown) > _EYES:
        sheet.said(_the_others(shown), indent=2)
    _corners(sheet, study, eyes)
    if any(_most(seen, Kind.GLAZED, Kind.VEILED) for seen in eyes):
        sheet.said("Clear acrylic shows the LED itself, sanded or opal acrylic a spot of it.", indent=2)


def _what_leaves(sheet: _Sheet, study: Study) -> None:
    """Nothing where enough leaves; else that the lamp stays dark: a chink may be missed, a gap is not."""
    leaving = study.light_leaving
    if (1.0 + 2.0 * leaving.error) * leaving.lumens < _DARK * leaving.given or not leaving.lumens:
        sheet.said("It stays dark: under 1% of the light of its light points leaves the lamp.", indent=2)


def _yes_or_no(eyes: Sequence[Seen]) -> str:
    bare = [seen.eye.name for seen in eyes if seen.counts(Kind.BARE).any()]
    if bare:
        return f"Yes, bare, from {_which(bare, len(eyes))}."
    through = [seen.eye.name for seen in eyes if seen.counts(*Kind).any()]
    if through:
        return f"Not bare; through acrylic, from {_which(through, len(eyes))}."
    return (
        f"No, neither bare nor through acrylic, from {'any of your eyes' if len(eyes) > 1 else 'your eye'}."
    )


def _not_known(count: int) -> str:
    return f"Not known: {'it sits inside a part' if count == 1 else f'all {count} sit inside parts'}."


def _which(names: Sequence[str], every: int) -> str:
    if len(names) == every > 1:
        return "both eyes" if every == 2 else f"all {every} eyes"
    if len(names) <= 2:
        return " and ".join(f'"{name}"' for name in names)
    return f"{len(names)} of {every} eyes"


def _most(seen: Seen, *kinds: Kind) -> int:
    return int(seen.counts(*kinds).max())


def _said_of(number: int, every: int) -> str:
    if not number:
        return _NOUGHT
    return "yes" if every == 1 else str(number)


def _table(sheet: _Sheet, heading: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """Names on the left, numbers on the right; long names on lines of their own rather than cut."""
    numbers = [max(map(len, column)) for column in list(zip(heading, *rows, strict=True))[1:]]
    across = sum(numbers) + 3 * len(numbers)
    longest = max(len(row[0]) for row in rows)
    apart = longest + 2 + across > sheet.screen.width
    lead = 2 if apart else longest + 2
    for row in (heading, *rows):
        cells = "".join(f"   {cell:>{wide}}" for cell, wide in zip(row[1:], numbers, strict=True))
        if apart and row[0]:
            sheet.screen.print(f"  {row[0]}", soft_wrap=True)
            sheet.lines += 1
        name = "" if apart else f"  {row[0]}"
        sheet.screen.print(f"{name:{lead}}{cells}".rstrip(), soft_wrap=True)
        sheet.lines += 1


def _corners(sheet: _Sheet, study: Study, eyes: Sequence[Seen]) -> None:
    """Faces of which only a corner is bare: more than the middles tell."""
    parts = [(int(seen.part_bare.sum(axis=0).max()), seen.eye.name) for seen in eyes]
    parts = sorted(((most, name) for most, name in parts if most), reverse=True)
    if not parts:
        return
    most, name = parts[0]
    others = f', {parts[1][0]} to "{parts[1][1]}"' if len(parts) > 1 else ""
    alone = [seen.eye.name for seen in eyes if seen.part_bare.any() and not _most(seen, Kind.BARE)]
    if len(study.sightlines.points) == 1 and alone:
        text = f"Only its corner shows bare, from {_which(alone, len(eyes))}."
    elif len(study.sightlines.points) == 1:
        text = f'From elsewhere round the lamp only its corner shows, to "{name}".'
    else:
        many = f"up to {most}" if most > 1 else "one"
        text = f'Besides, a corner of {many} more shows bare to "{name}"{others}.'
    sheet.said(text, indent=2)


# --- what helps, what must be mended ---


def _is_bare(finding: Finding) -> bool:
    return finding.is_bare_light and finding.level >= Level.CAUTION


def _what_helps(sheet: _Sheet, study: Study, mending: Mending) -> None:
    bare = [f for f in study.findings if _is_bare(f)]
    if not bare or study.file is None or not len(study.sightlines.points):
        return
    sheet.heading("WHAT HELPS MOST")
    told: dict[tuple[tuple[str, object], ...], Mend] = {}
    with study.progress("trying what hides the light", len(bare)) as step:
        for finding in sorted(bare, key=lambda one: -(one.value or 0.0)):
            found = mending.of(finding)
            step(1)
            for mend in found.mends if found is not None else ():
                told.setdefault(tuple(mend.changes.items()), mend)
    for mend in tuple(told.values())[:_MENDS]:
        sheet.said(mend.shortly(study.lamp.units), indent=2, hang=2)
    if not told:
        sheet.said("Nothing of what was tried hides them; `stackview check` says what was.", indent=2)


def _faults(study: Study) -> list[Finding]:
    return [finding for finding in study.findings if finding.level == Level.FAULT]


def _to_mend(sheet: _Sheet, study: Study, mending: Mending) -> None:
    faults = _faults(study)
    if not faults:
        sheet.heading("MUST BE MENDED", "Nothing.")
        return
    sheet.heading(f"MUST BE MENDED ({len(faults)})")
    with study.progress("trying what would mend it", len(faults[:_FAULTS])) as step:
        for finding in faults[:_FAULTS]:
            _short(sheet, finding)
            found = mending.of(finding)
            step(1)
            if found is not None and found.mends:
                sheet.said(found.mends[0].brief, indent=4, hang=2, label=_MEND)
    _rest(sheet, len(faults) - _FAULTS)


def _to_look_at(sheet: _Sheet, study: Study) -> None:
    """Cautions but those of bare light, which the first answer has; as many as the screen has room for."""
    found = [f for f in study.findings if f.level == Level.CAUTION and not _is_bare(f)]
    if not found:
        return
    question, room = f"LOOK AT BEFORE YOU CUT ({len(found)})", LINES - _after_cautions(study)
    if sheet.lines + 5 > room:
        sheet.heading(question, "`stackview check` has them.")
        return
    sheet.heading(question)
    for number, finding in enumerate(found):
        if number and sheet.lines + 3 > room:
            _rest(sheet, len(found) - number)
            return
        _short(sheet, finding)


def _after_cautions(study: Study) -> int:
    """Lines kept for what comes after the cautions: how the plates glow, and where to read on."""
    return 2 + (2 + 2 * min(len(study.lamp.eyes), _EYES) if glows(study) else 0)


def _short(sheet: _Sheet, finding: Finding) -> None:
    mark = Text("! " if finding.level == Level.FAULT else "- ", style=STYLE[finding.level])
    sheet.said(f"{finding.brief}.", indent=2, hang=2, label=mark)


def _rest(sheet: _Sheet, count: int) -> None:
    if count > 0:
        sheet.said(f"and {count} more: `stackview check` has them.", indent=2)


# --- how do the plates glow? ---


def _how_plates_glow(sheet: _Sheet, study: Study) -> None:
    if not glows(study):
        return
    sheet.heading("DO THE PLATES GLOW EVENLY?")
    eyes = sorted(study.spots, key=_spottiest)
    for own in eyes[:_EYES]:
        sheet.said(eye_brief(own), indent=2, hang=2)
    if len(eyes) > _EYES:
        sheet.said(f"{len(eyes) - _EYES} more of your eyes: `stackview sight` has them.", indent=2)


def _spottiest(own: EyeSpots) -> float:
    worst = own.worst
    return -worst.ratio if worst is not None else 0.0
