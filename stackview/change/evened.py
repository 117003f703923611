"""What a change does to the spots that eyes see, and to the light that leaves the lamp."""

from dataclasses import dataclass
from math import hypot, log, log1p
from typing import Any

from stackview.in_figures import figure
from stackview.spots.eye_spots import PlateSpots


def ratio_with_error(plate: PlateSpots) -> str:
    """The ratio, and what it may be off, in as many figures as it is worth."""
    digits = 1 if plate.ratio < 10.0 else 0
    return f"{plate.ratio:.{digits}f} ± {plate.ratio * plate.ratio_error:.{digits}f}"


@dataclass(frozen=True, slots=True)
class Evened:
    """How spotty the spottiest plate in an eye's sight is, before and after a change."""

    eye: str
    before: PlateSpots
    after: PlateSpots

    @property
    def is_better(self) -> bool:
        """Whether the ratio is less by more than both errors together."""
        return self._gain > self._error

    @property
    def is_worse(self) -> bool:
        """Whether it is more by more than both errors together."""
        return -self._gain > self._error

    @property
    def _gain(self) -> float:
        return log(self.before.ratio / self.after.ratio)

    @property
    def _error(self) -> float:
        return hypot(log1p(self.before.ratio_error), log1p(self.after.ratio_error))

    @property
    def text(self) -> str:
        """Both ratios with their errors, on which plates, and the word that holds then."""
        other = f"{self.after.layer}, " if self.after.layer != self.before.layer else ""
        return (
            f"from {ratio_with_error(self.before)} ({self.before.layer}) to {ratio_with_error(self.after)} "
            f'({other}{self.after.told}) for "{self.eye}"'
        )

    def record(self) -> dict[str, Any]:
        """As JSON has it."""
        return {"eye": self.eye, "before": self.before.record(), "after": self.after.record()}


@dataclass(frozen=True, slots=True)
class LightAndPower:
    """Light that leaves the lamp [lm], and what the light takes where that is known [W], before and after a change."""

    lumens: tuple[float, float]
    watts: tuple[float, float] | None

    @property
    def brief(self) -> str:
        """Light out, before and after."""
        before, after = self.lumens
        digits = 0 if min(self.lumens) >= 10.0 else 1 if min(self.lumens) >= 1.0 else 2
        little = ", less than half" if after < 0.5 * before else ""
        return f"light out {figure(before, digits)} to {figure(after, digits)} lm{little}"

    @property
    def takes(self) -> str:
        """What its lights take, where that is known."""
        if self.watts is None:
            return "its power is not known"
        before, after = (f"{figure(watts, 1)} W" for watts in self.watts)
        return f"{after} as before" if before == after else f"{after} for {before}"

    def record(self) -> dict[str, Any]:
        """As JSON has it."""
        return {"lumens_out": list(self.lumens), "watts": None if self.watts is None else list(self.watts)}
