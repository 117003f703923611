"""Luminous flux of every light point: as given, else from its power by a named assumption."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.description import defaults
from stackview.light.layout import LightLayout, Lit


@dataclass(frozen=True, slots=True, eq=False)
class Flux:
    """Light of each light point (n,) [lm], read-only; ``assumed`` says in words what was not given."""

    lumens: NDArray[np.float64]
    assumed: tuple[str, ...]

    def __post_init__(self) -> None:
        self.lumens.setflags(write=False)

    @property
    def total(self) -> float:
        """Light of all light points together [lm]."""
        return float(self.lumens.sum())


def flux_of(light: LightLayout) -> Flux:
    """Flux of every light point.

    Where the file gives no lumens, power times an assumed efficacy stands in for them, power being
    watts, or amperes times volts; without power, an assumed flux. Hot-spot ratios and shares do
    not depend on it; luminances and lumens are in proportion to it.
    """
    lumens, words = np.array(light.points.lumens), []
    for source, lit in enumerate(light.lit):
        own = light.points.source == source
        if np.isfinite(lumens[own]).all():
            continue
        each, why = _assumed(lit)
        lumens[own] = each
        words.append(f'light "{lit.light.name}": {each:.3g} lm each is assumed, {why}; give lumens')
    return Flux(lumens, tuple(words))


def power_of(lit: Lit) -> float | None:
    """Power of a whole light [W]: as given, else P = U·I; None where neither is known."""
    if lit.watts is None and lit.amperes is not None:
        return lit.amperes * lit.light.feed.volts
    return lit.watts


def _assumed(lit: Lit) -> tuple[float, str]:
    watts = power_of(lit)
    if watts is None or lit.count == 0:
        return defaults.LUMENS.number, defaults.LUMENS.why.partition(":")[0]
    each = watts / lit.count
    return defaults.EFFICACY.number * each, f"{defaults.EFFICACY.number:g} lm/W of {each:.3g} W"
