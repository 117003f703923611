"""The order of work of one lamp, from the first cut to the first hours of light, worked out from its stack."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from stackview.checks.all_checks import ALL_CHECKS
from stackview.checks.assembly_order import AssemblyOrder, assembly_order
from stackview.checks.subject import run_checks
from stackview.description.cautions_table import cautions_table
from stackview.findings import Finding, Level
from stackview.shop.access import sealed_when, things_to_reach
from stackview.shop.copies import cut_parts
from stackview.shop.glue_up import GlueUp
from stackview.shop.machining import AskedFigures, machining_steps
from stackview.shop.parts_list import parts_list
from stackview.shop.step import After, Phase, WorkOrder, WorkStep
from stackview.shop.surface_steps import outer_finish, surface_steps
from stackview.shop.wiring_steps import wiring_steps

if TYPE_CHECKING:
    from stackview.study import Study

_OF_SIGHT = ("light leaks", "bare light", "light", "caution")
"""Checks of how the lamp looks, and the cautions, which each step has by itself: they are not asked here."""
_CONCERNS: dict[str, tuple[Phase, ...]] = {
    "heights": ("fit", "glue"),
    "seat": ("cut", "fit"),
    "support": ("fit", "glue"),
    "overlap": ("fit",),
    "sheets": ("cut",),
    "cutter reach": ("cut",),
    "walls": ("cut",),
    "line-up": ("fit", "glue"),
    "glue": ("glue",),
    "movement": ("glue",),
    "strip": ("wire",),
    "assembly": ("glue", "fit", "join"),
    "supply": ("test",),
    "cable": ("wire",),
    "repair": ("join", "glue"),
    "heat": ("test",),
    "standing": ("feet", "hang", "run in"),
}
"""The kinds of work at which a finding of each check matters, the first that there is."""


def work_order(study: "Study") -> WorkOrder:
    """All steps of one lamp in their order, each with what must come before it.

    Raises LampError where the lamp cannot be built.
    """
    order = assembly_order(study)
    checks = tuple(check for check in ALL_CHECKS if check.name not in _OF_SIGHT)
    found = tuple(one for one in run_checks(study, checks, progress=study.progress) if one.level > Level.FACT)
    faults = tuple(one for one in found if one.level == Level.FAULT)
    figures = AskedFigures(study.lamp.workshop.router)
    if order.blocked:
        return WorkOrder(study.lamp.name, (), faults, ())
    steps = _by_their_own_keys(tuple(_steps(study, order, figures)))
    steps = _with_findings(steps, found)
    steps = tuple(replace(one, cautions=_cautions(study, one)) for one in steps)
    return WorkOrder(study.lamp.name, steps, faults, tuple(figures.found.values()), order.from_top)


def _steps(study: "Study", order: AssemblyOrder, figures: AskedFigures) -> Iterator[WorkStep]:
    yield from machining_steps(study, cut_parts(study), parts_list(study).parts, figures)
    surfaces = tuple(surface_steps(study))
    yield from (one for one in surfaces if one.phase == "sand")
    yield _dry_fit(study, order, surfaces)
    yield from (one for one in surfaces if one.phase != "sand")
    things = things_to_reach(study)
    sealed = sealed_when(study, order, things)
    wiring, glue_up = wiring_steps(study, order, things, sealed), GlueUp(study, order)
    last = ""
    for number, move in enumerate(order.moves):
        early = [one.step for one in wiring if one.move == number]
        fastened = glue_up.fastened(move)
        # a strip is on the core before the core is fastened; what else is joined there comes after
        yield from (one for one in early if one.key.startswith("solder"))
        if fastened is not None:
            yield fastened
        yield from (one for one in early if not one.key.startswith("solder"))
        step = glue_up.step(move, tuple(one.thing for one in sealed if one.move == number))
        if fastened is not None:
            step = replace(step, after=(*step.after, After(fastened.key, "they go in together")))
        if not move.joins and number == 0:
            step = replace(
                step,
                after=(*step.after, After("dry fit", "what does not go together dry does not with glue")),
            )
        yield step
        last = step.key
    yield from (one.step for one in wiring if one.move == len(order.moves))
    yield from _closing(study, last)


def _by_their_own_keys(steps: tuple[WorkStep, ...]) -> tuple[WorkStep, ...]:
    """Steps that wait for a part to be cut wait for the step that cuts it with its equals, each once."""
    cut = {f"cut {name}": step.key for step in steps if step.phase == "cut" for name in step.parts}
    found = []
    for step in steps:
        after = {cut.get(one.key, one.key): one.why for one in reversed(step.after)}
        found.append(replace(step, after=tuple(After(key, why) for key, why in reversed(after.items()))))
    return tuple(found)


def _dry_fit(study: "Study", order: AssemblyOrder, surfaces: Sequence[WorkStep]) -> WorkStep:
    placings = [move.names for move in order.moves if not move.joins]
    names = [name for placing in placings for name in placing]
    ends = ", upside down" if order.from_top else ""
    do = [
        f"Everything in the order of the glue-up{ends}, {placings[0][0]} first and {placings[-1][0]} last, without glue.",
        "Every plate drops into its recess by itself and rattles no more than its play; nothing rocks; "
        "mark across all outer edges how parts stand to each other.",
    ]
    if study.lamp.core is not None:
        do.append("The core passes every opening with its strip held against it.")
    after = [After(one.key, "faces are as thick as they will be") for one in surfaces if one.phase == "sand"]
    return WorkStep(
        key="dry fit",
        phase="fit",
        title=f"Dry fit of the whole stack{ends}, without glue",
        parts=tuple(names),
        tools=("square", "pencil"),
        do=tuple(do),
        after=(
            *(After(f"cut {name}", "it is cut") for name in names if not name.startswith("the strip of")),
            *after,
        ),
    )


def _closing(study: "Study", last: str) -> Iterator[WorkStep]:
    """What is done to the lamp when it stands: finish, feet or hook, and the first hours of light."""
    lamp, units = study.lamp, study.lamp.units
    finish = outer_finish(study, last)
    if finish is not None:
        yield finish
        last = finish.key
    if lamp.feet is not None:
        feet, base = lamp.feet, lamp.layers[0].name
        yield WorkStep(
            key="feet",
            phase="feet",
            title=f"Put {feet.around.count} feet under {base}",
            parts=("feet", base),
            tools=("rule",),
            do=(
                f"On a circle of {units.show(feet.around.circle)}, the first at bearing {feet.around.first % 360.0:.6g}°, "
                "evenly around; stick or screw them.",
            ),
            after=(After(last, "the finish under them is dry"),),
            places=("feet",),
        )
        last = "feet"
    if lamp.hangs_at is not None:
        yield WorkStep(
            key="hang",
            phase="hang",
            title=f"Hang it, its underside {units.show(lamp.hangs_at)} above the floor",
            parts=tuple(one.name for one in lamp.layers[-1:]),
            tools=("level",),
            do=("Take its weight up slowly; look at it from all sides, and level it by its cord.",),
            after=(After(last, "it is finished"),),
        )
        last = "hang"
    if lamp.lights:
        yield WorkStep(
            key="run in",
            phase="run in",
            title="Run it watched for its first hours",
            parts=(),
            tools=("thermometer",),
            do=(
                "Feel or measure strip, plates and wood after ten minutes, one hour and three; note what you find.",
            ),
            after=(After(last, "the lamp is whole"),),
        )


def _with_findings(steps: tuple[WorkStep, ...], found: Sequence[Finding]) -> tuple[WorkStep, ...]:
    """Each finding at the first step that it concerns: by its check, and by the parts it names."""
    told: dict[str, list[Finding]] = {}
    for finding in found:
        for phase in _CONCERNS.get(finding.check, ()):
            of = [one for one in steps if one.phase == phase]
            names = set(finding.parts)
            step = _concerned(of, names, joined=phase == "glue") if names else next(iter(of), None)
            if step is not None:
                told.setdefault(step.key, []).append(finding)
                break
    return tuple(replace(one, findings=tuple(told.get(one.key, ()))) for one in steps)


def _concerned(steps: Sequence[WorkStep], names: set[str], *, joined: bool) -> WorkStep | None:
    """The first step that works on one of some parts; where parts are ``joined``, that with which two of them are there.

    What is said of a joint matters when its second part is laid on the first.
    """
    own = [step for step in steps if names & set(step.parts)]
    there: set[str] = set()
    for step in own if joined and len(names) > 1 else ():
        there |= names & set(step.parts)
        if len(there) > 1:
            return step
    return next(iter(own), None)


def _cautions(study: "Study", step: WorkStep) -> tuple[str, ...]:
    """The cautions' table for one step: by its kind of work, and by what is worked on and glued with."""
    parts = {part.name: part for part in study.stack.placed}
    words = {parts[name].material.kind for name in step.parts if name in parts} | {
        "layer",
        "light",
        "strip",
        "pendant",
    }
    words |= set(step.tools)  # the glues among them
    if not any("solder" in tool for tool in step.tools):
        words.discard("strip")
    # rags of a finish that does not oxidise do not heat themselves
    plain = step.phase == "finish" and not study.lamp.workshop.finishing.wood.oily
    rows = [one for one in cautions_table() if step.phase in one.at and words & set(one.when) and not plain]
    return tuple(one.says for one in rows)
