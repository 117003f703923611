"""Whether core, tape and strip pass the openings of the layers between the strip's ends, and with what play."""

from collections.abc import Iterator, Sequence
from math import atan2, degrees
from typing import assert_never

from stackview.checks.against import against
from stackview.checks.alike import together
from stackview.checks.held import under
from stackview.checks.line_up import little_play
from stackview.checks.proposals import larger
from stackview.checks.subject import Subject
from stackview.curves.arcs import Path, moved, turned
from stackview.curves.fit import inside
from stackview.description.lamp import Core, Lamp, Layer
from stackview.description.light_source import Helix, Runs, StripLayout
from stackview.description.outline import Outline, around, path_of
from stackview.description.shapes import Rectangle
from stackview.findings import Bound, Finding, Level, Way
from stackview.light.on_core import side_of
from stackview.light.ribbon import Ribbon

_TOUCH = 1e-6


def strip_passes(
    subject: Subject, ribbons: Sequence[Ribbon], layout: StripLayout, core: Core
) -> Iterator[Finding]:
    """Openings between the strip's ends that core, tape and strip together do not pass."""
    low = min(float(ribbon.low[:, 2].min()) for ribbon in ribbons)
    high = max(float(ribbon.high[:, 2].max()) for ribbon in ribbons)
    sections = strip_sections(layout, core)
    tight: dict[float, list[str]] = {}
    snug: dict[float, list[str]] = {}
    for layer in subject.lamp.layers:
        part = subject.stack.part(layer.name)
        if part.top <= low or part.underside >= high or layer.name in (core.stands_on, core.hangs_from):
            continue
        by = out_of_opening(layer, sections)
        if by is not None and by <= _TOUCH and under(-by, subject.limits.value("line_up_least")):
            snug.setdefault(round(-by, 6) + 0.0, []).append(layer.name)
        # Where the core itself does not pass, the parts clash, and that is told elsewhere.
        if (
            by is not None
            and by > _TOUCH
            and (out_of_opening(layer, (path_of(core.outline),)) or 0.0) <= _TOUCH
        ):
            tight.setdefault(round(by, 6), []).append(layer.name)
    yield from (_no_play(subject, sections, play, names) for play, names in snug.items())
    units = subject.lamp.units
    for by, names in tight.items():
        yield Finding(
            check="strip",
            level=Level.FAULT,
            where=together(names),
            what=f"core, tape and strip reach {units.show(by)} into the wall of the opening",
            value=by,
            unit="mm",
            limit=0.0,
            bound=Bound.MOST,
            source="exact distance of the strip's section from the opening's edge",
            advice="Make the opening wider, or the core thinner.",
            ways=openings_for(subject, sections, names, by + subject.limits.value("line_up_least")),
            parts=tuple(names),
            cause="strip in openings",
        )


def _no_play(subject: Subject, sections: tuple[Path, ...], play: float, names: list[str]) -> Finding:
    units, limit = subject.lamp.units, subject.limits["line_up_least"]
    return against(
        limit,
        play,
        "strip",
        f"core, tape and strip have {little_play(play, units)} in the opening: the strip is scraped off as the "
        "layer goes on",
        where=together(names),
        short=f"{little_play(play, units)} for core and strip: it is scraped off",
        by="exact distance of the strip's section from the opening's edge",
        advice="Make the opening wider, or the core thinner.",
        parts=tuple(names),
        cause="strip in openings",
        ways=openings_for(subject, sections, names, limit.value - play),
    )


def openings_for(
    subject: Subject, sections: tuple[Path, ...], names: list[str], by: float
) -> tuple[Way, ...]:
    """The openings of some layers wider, or the core thinner, by so much per side [mm]."""
    layers = [layer for layer in subject.lamp.layers if layer.name in names]
    passed = [(layer.name, _passed(layer, sections)) for layer in layers]
    ways = [
        Way(name, f"size of opening {opening[1]}", 0.0, by, along="size of the openings")
        for name, opening in passed
        if opening is not None
    ]
    return (*ways, larger("core", -by))


def strip_sections(layout: StripLayout, core: Core) -> tuple[Path, ...]:
    """Level sections of what the strip adds to the core, as it stands: a circle, or one box a run."""
    thick, width = layout.strip.thickness, layout.strip.width
    match layout:
        case Helix():
            return (path_of(core.outline.grown(thick)),)
        case Runs():
            box = moved(path_of(Outline(Rectangle(width, thick))), 0.0, -thick / 2.0)
            sides = [side for bearing in layout.bearings() if (side := side_of(core, bearing)) is not None]
            return tuple(
                moved(turned(box, degrees(atan2(side.out[0], -side.out[1]))), *side.at) for side in sides
            )
        case _:
            assert_never(layout)


def all_strips(lamp: Lamp) -> tuple[Path, ...]:
    """Level sections of all that the lamp's strips add to its core; none where it has neither."""
    if lamp.core is None:
        return ()
    layouts = [light.on_core for light in lamp.lights if light.on_core is not None]
    return tuple(path for layout in layouts for path in strip_sections(layout, lamp.core))


def out_of_opening(layer: Layer, sections: tuple[Path, ...]) -> float | None:
    """How far the strip reaches out of the opening that it passes [mm]; None where there is none."""
    passed = _passed(layer, sections)
    return None if passed is None else passed[0]


def _passed(layer: Layer, sections: tuple[Path, ...]) -> tuple[float, int] | None:
    """How far it reaches out of the opening that takes it best, and the number of that."""
    holes = [
        (turned(hole, layer.turn), number)
        for number, opening in enumerate(layer.openings)
        for hole in around(path_of(opening.outline), opening.around)
    ]
    return min(
        ((max(inside(section, hole).by for section in sections), number) for hole, number in holes),
        default=None,
    )
