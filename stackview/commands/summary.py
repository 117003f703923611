"""What a command says on the terminal: what shows, how it stacks up, and what was found."""

import os
import sys
from collections.abc import Sequence
from textwrap import wrap

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from stackview.change.mend import Mended
from stackview.change.mends import Mending
from stackview.description.units import Units
from stackview.findings import Finding, Level, counted_by_level
from stackview.in_figures import bearing_words, degrees, figure, percent
from stackview.light.layout import Lit
from stackview.sight.bands import Kind
from stackview.sight.beams import WORDED
from stackview.sight.eyes import Seen
from stackview.stack.placed import Placed
from stackview.stack.seating import Seat
from stackview.study import Study

_ROOMY = 76
"""Columns from which names break between words alone."""
_GAPS = 6
"""Gaps listed on the terminal; the JSON has them all."""

STYLE = {Level.FAULT: "bold red", Level.CAUTION: "yellow", Level.NOTE: "cyan"}


def console() -> Console:
    """Standard output; where it is no terminal, as wide as COLUMNS says, or else at a steady width."""
    asked = os.environ.get("COLUMNS", "")
    width = None if sys.stdout.isatty() else int(asked) if asked.isdecimal() and int(asked) > 0 else 118
    return Console(width=width, highlight=False, emoji=False, markup=False)


def say(screen: Console, text: str, *, indent: int = 0, label: Text | None = None) -> None:
    """Print a sentence whose further lines stay under its first, after an optional coloured label."""
    lead = len(label) if label else 0
    lines = wrap("\0" * lead + text, screen.width - indent, subsequent_indent="    " if lead else "") or [""]
    first = Text(" " * indent)
    first.append(label or "")
    first.append(lines[0][lead:])
    screen.print(first, soft_wrap=True)
    for line in lines[1:]:
        screen.print(" " * indent + line, soft_wrap=True)


def size(study: Study, mm: float) -> str:
    """A length in the lamp's own unit."""
    return study.lamp.units.show(mm)


def show_sightlines(screen: Console, study: Study) -> None:
    """Counts for each eye, and the gaps with their cut-offs."""
    lines = study.sightlines
    screen.print(Text(study.lamp.name, style="bold"))
    screen.print(_headline(study))
    if not len(lines.points):
        return
    screen.print()
    screen.print(_eyes(study, roomy=screen.width >= _ROOMY))
    if lines.cut_offs:
        screen.print()
        screen.print(_gaps(study, roomy=screen.width >= _ROOMY))
        say(
            screen,
            "Elevations count up from the horizontal. The cut-off angle of lighting standards "
            "(CIE S 017, 17-30-035) counts from straight down: it is 90° + elevation.",
            indent=2,
        )


def _headline(study: Study) -> str:
    lines = study.sightlines
    count = len(lines.points)
    if not count:
        return f"{size(study, study.stack.height)} tall. No light is described, so nothing can show."
    eyes = [(int(seen.counts(*Kind).max()), seen.eye.name) for seen in lines.eyes]
    worst, name = max(eyes, key=lambda pair: pair[0], default=(0, ""))
    points = "1 light point" if count == 1 else f"{count} light points"
    if not worst:
        shown = "none of them shows to any named eye" if count > 1 else "it shows to no named eye"
    elif count == 1:
        shown = f'it shows to eye "{name}" (bare, glazed or veiled)'
    else:
        shown = f'up to {worst} of them show to eye "{name}" (bare, glazed and veiled together)'
    if not lines.share_bare:
        bare = "No bare point shows from any direction"
    else:
        bare = f"At least one bare point shows from {percent(lines.share_bare, 1)} of all directions"
    return (
        f"{size(study, study.stack.height)} tall, {points}; {shown}.\n"
        f"{bare}; "
        f"at least one of any class from {percent(lines.share_shown, 1)}."
    )


def _eyes(study: Study, *, roomy: bool) -> Table:
    table = plain_table("Light points that show, all round the lamp: most / mean / from the front")
    names = [seen.eye.name for seen in study.sightlines.eyes]
    table.add_column(overflow="fold", header="eye", min_width=_longest_word(names) if roomy else None)
    table.add_column(overflow="fold", header="looks from", justify="right")
    for heading in ("all that show", "bare", "glazed", "veiled", "worst from"):
        table.add_column(overflow="fold", header=heading, justify="right")
    table.add_column(overflow="fold", header="corner only", justify="right")
    for seen in study.sightlines.eyes:
        counts = [seen.counts(*Kind), *(seen.counts(kind) for kind in Kind)]
        table.add_row(
            seen.eye.name,
            degrees(seen.elevation),
            *(f"{count.max()} / {count.mean():.1f} / {count[seen.front]}" for count in counts),
            bearing_words(seen.bearings[seen.worst]) if counts[0].any() else "–",
            _in_part(seen),
        )
    if any(seen.counts(Kind.GLAZED).any() for seen in study.sightlines.eyes):
        table.caption = f"glazed: {WORDED}"
        table.caption_justify = "left"
    return table


def _longest_word(texts: Sequence[str]) -> int:
    """Letters of the longest word, but of no more than a column bears."""
    return min(max((len(word) for text in texts for word in text.split()), default=1), 24)


def plain_table(title: str) -> Table:
    """Few lines between cells, so that numbers and names have the width."""
    return Table(
        title=title, title_justify="left", box=box.SIMPLE_HEAD, pad_edge=False, collapse_padding=True
    )


def _in_part(seen: Seen) -> str:
    """Faces of which only a corner shows, and of which one is bare though the middle is not: most at once."""
    bare, shown = int(seen.part_bare.sum(axis=0).max()), int(seen.part_shown.sum(axis=0).max())
    if not shown and not bare:
        return "–"
    return f"{shown}, {bare} bare"


def _gaps(study: Study, *, roomy: bool) -> Table:
    gaps = study.sightlines.cut_offs
    more = f"; {len(gaps) - _GAPS} more in sight --json" if len(gaps) > _GAPS else ""
    table = plain_table(f"Gaps that show bare points, largest first{more}")
    table.add_column(overflow="fold", header="cut-off below", justify="right")
    table.add_column(overflow="fold", header="cut-off above", justify="right")
    table.add_column(overflow="fold", header="between", min_width=10 if roomy else None)
    table.add_column(overflow="fold", header="and", min_width=10 if roomy else None)
    table.add_column(overflow="fold", header="points", justify="right")
    table.add_column(overflow="fold", header="all round", justify="right")
    for gap in gaps[:_GAPS]:
        share = gap.bearings / len(study.sightlines.bands.bearings)
        table.add_row(
            degrees(gap.low),
            degrees(gap.high),
            gap.low_edge,
            gap.high_edge,
            str(gap.points),
            percent(share),
        )
    return table


def show_stack(screen: Console, study: Study) -> None:
    """Every part from the top down, as the lamp stands, with heights and mass."""
    screen.print()
    stack = study.stack
    weights = {mass.name: mass for mass in study.masses}
    seats = {seat.layer: seat for seat in stack.seats}
    title = f"Stack-up: {size(study, stack.height)} tall, {figure(stack.grams)} g without wiring"
    table = plain_table(title)
    for heading in ("part", "material"):
        table.add_column(overflow="fold", header=heading)
    for heading in ("thick", "from", "to", "turned", "mass"):
        table.add_column(overflow="fold", header=heading, justify="right")
    table.add_column(overflow="fold", header="seat")
    for part in sorted(stack.placed, key=lambda part: -part.top):
        if part.is_cord:
            continue
        seat = seats.get(part.name)
        table.add_row(
            part.name,
            part.material.name,
            _thickness(part, study.lamp.units),
            study.lamp.units.short(part.underside),
            study.lamp.units.short(part.top),
            f"{part.turn:g}°" if part.turn else "",
            f"{figure(weights[part.name].grams)} g",
            _seat(seat, study.lamp.units) if seat else "",
        )
    screen.print(table)
    for lit in study.light.lit:
        say(screen, _lit(lit, study.lamp.units), indent=2)


def _thickness(part: Placed, units: Units) -> str:
    """A layer's thickness, as the maker wrote it where it is that."""
    return units.short(part.tall) if part.is_layer else "–"


def _seat(seat: Seat, units: Units) -> str:
    if abs(seat.proud) < 5e-7:
        stands = "flush"
    else:
        stands = f"{units.short(abs(seat.proud))} {'proud' if seat.proud > 0 else 'sunk'}"
    return f"{units.short(seat.depth)} into {seat.host}, {stands}"


def _lit(lit: Lit, units: Units) -> str:
    parts = [f"{lit.light.name}: {lit.count} light point{'s' if lit.count != 1 else ''}"]
    strip = lit.light.layout.strip
    if strip is not None:
        cut = lit.cuts[0]
        each = f"{len(lit.cuts)} lengths of " if len(lit.cuts) > 1 else ""
        parts.append(
            f"{each}{units.show(cut.length)} of strip, "
            f"cut after {cut.segments} segment{'s' if cut.segments != 1 else ''} of {units.show(strip.cut_every)}"
        )
    if lit.watts is not None:
        parts.append(
            f"{figure(lit.watts, 1)} W, {figure(lit.amperes or 0.0, 2)} A at {lit.light.feed.volts:g} V"
        )
    return ", ".join(parts) + "."


def show_findings(screen: Console, findings: tuple[Finding, ...], least: Level = Level.NOTE) -> None:
    """Findings with their level, worst first; those below ``least`` are only counted."""
    screen.print()
    if not findings:
        screen.print("No findings.")
        return
    for finding in findings:
        if finding.level < least:
            continue
        label = Text(f"{finding.level.word}: ", style=STYLE[finding.level])
        say(screen, f"{finding.where}: {finding.what}.", label=label)
        if finding.advice:
            say(screen, finding.advice, indent=4)
    rest = tuple(finding for finding in findings if finding.level < least)
    if rest:
        screen.print(f"Besides, {tally(rest)} `stackview check` has them all, with limits and sources.")


def show_mends(screen: Console, mending: Mending) -> None:
    """What would mend each finding, below them all: it is looked for now, and told as it is found."""
    study = mending.study
    asked = [finding for finding in study.findings if mending.is_looked_for(finding)]
    if not asked:
        return
    screen.print()
    screen.print(Text("What would mend it", style="bold"), Text("(each was tried on the lamp rebuilt)"))
    screen.file.flush()  # findings are read while mends are looked for
    with study.progress("trying what would mend it", len(asked)) as step:
        for finding in asked:
            found = mending.of(finding)
            step(1)
            if found is not None:
                label = Text(f"{finding.level.word}: ", style=STYLE[finding.level])
                say(screen, f"{finding.where} [{finding.check}]", label=label)
                _show_mended(screen, found, study.lamp.units)


def _show_mended(screen: Console, found: Mended, units: Units) -> None:
    for mend in found.mends:
        say(screen, mend.text(units), indent=4, label=Text("Mend: ", style="bold"))
    if found.note:
        say(screen, found.note, indent=4)


def tally(findings: tuple[Finding, ...]) -> str:
    """How many there are of each level, as a sentence."""
    return f"{counted_by_level(findings)}." if findings else "No findings."
