"""Lamps for the checks: a few layers, assembled, lit and looked at, with limits of one's own."""

from dataclasses import replace

from stackview.checks.limits import Limits, limits_for
from stackview.description.lamp import Core, Lamp, Layer, Post
from stackview.description.light_source import Light
from stackview.description.limits_table import own_limit
from stackview.description.material import Length, Material
from stackview.description.units import MILLIMETRES
from stackview.findings import Finding, Level
from stackview.study import Study
from tests.lamps import WOOD, acrylic


def subject_of(
    *layers: Layer,
    core: Core | None = None,
    posts: tuple[Post, ...] = (),
    lights: tuple[Light, ...] = (),
    cutter: float = 3.0,
    bearings: int = 72,
    limits: dict[str, float] | None = None,
) -> Study:
    """The study of a lamp of these layers, from the bottom up."""
    own = tuple(own_limit(name, value, MILLIMETRES) for name, value in (limits or {}).items())
    lamp = Lamp("test", "mm", layers, posts=posts, core=core, lights=lights, cutter=cutter, limits=own)
    return Study(lamp, bearings=bearings)


def default_limits() -> Limits:
    return limits_for(Lamp("test", "mm", ()))


def sheet(kind: Material, sold: float, measured: float | None = None) -> Material:
    """A material with a thickness as sold, and as measured where that was done."""
    caliper = Length(measured, f"{measured} mm") if measured is not None else None
    return replace(kind, sold=Length(sold, f"{sold} mm"), measured=caliper)


def alarms(found: tuple[Finding, ...]) -> list[Finding]:
    """Faults and cautions."""
    return [finding for finding in found if finding.level >= Level.CAUTION]


ASH, CLEAR, OPAL = WOOD, acrylic("clear"), acrylic("opal")
