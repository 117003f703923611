"""Temperatures of a lamp that gives off heat: its skin, the air inside, and what makes the heat.

Steady state: each balance grows with its temperature, so there is one answer, found inside a
bracket. With gaps taken as shut the inside is a bound from above; air that they let through
takes its share of the heat (:mod:`stackview.checks.airing`).
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from stackview.checks.airing import heat_aired
from stackview.checks.convection import level_film, radiation_film, upright_film

EMISSIVITY = 0.9
"""Wood, acrylic and the face of a strip; Incropera & DeWitt, 6th ed., Table A.11: wood 0.82 to 0.92."""
_HOTTEST = 1000.0
_STEPS = 80
_NEAR = 1e-9
_SHARE = 1.0 / 4096.0
"""How finely the air's share of the heat is found: a part of the whole."""


@dataclass(frozen=True, slots=True)
class Shell:
    """The lamp's outside and inside as a heat balance sees them; lengths [m], areas [m²].

    ``side`` is upright and ``height`` tall; ``top`` gives upwards and ``bottom`` downwards (0
    where the lamp stands), each over its area/perimeter ``span``. ``inner`` is the whole inside
    that air touches and heat leaves by; ``through`` is what its walls, roof and floor let
    through together, Σ kA/t [W/K].
    """

    side: float
    height: float
    top: float
    bottom: float
    span: float
    inner: float
    through: float


@dataclass(frozen=True, slots=True)
class Source:
    """What makes the heat: watts, the areas that air and that sight of the walls cool, its height."""

    watts: float
    in_air: float
    in_sight: float
    height: float


@dataclass(frozen=True, slots=True)
class Warm:
    """Temperatures [°C]: skin, inner face of the wall, air inside, and the heat source's face."""

    skin: float
    wall: float
    air: float
    source: float


def solved(
    balance: Callable[[float], float], low: float, high: float = _HOTTEST, near: float = _NEAR
) -> float:
    """Where a growing balance is nothing, between ``low`` and ``high``, to within ``near``: a temperature [°C], or heat.

    Inside a bracket, by false position with the Illinois rule (Dowell & Jarratt 1971): the end that
    stays put counts for half.

    >>> round(solved(lambda t: (t - 20.0) ** 3 - 27.0, 20.0), 6)
    23.0
    """
    below, above = low, high
    under, over = balance(below), balance(above)
    if under >= 0.0 or over <= 0.0:
        return below if under >= 0.0 else above
    side = 0
    for _ in range(_STEPS):
        middle = (below * over - above * under) / (over - under)
        found = balance(middle)
        if found < 0.0:
            below, under, over, side = middle, found, over / (2.0 if side < 0 else 1.0), -1
        else:
            above, over, under, side = middle, found, under / (2.0 if side > 0 else 1.0), 1
        if found == 0.0 or above - below < near:
            return middle
    return middle


def skin_temperature(shell: Shell, watts: float, room: float) -> float:
    """Temperature of the outside [°C] at which it gives off all the heat to a room [°C].

    Still air: Churchill & Chu on the side, level plates above and below; grey radiation to walls
    at the room's temperature.
    """
    return solved(lambda skin: given_off(shell, skin, room) - watts, room)


def given_off(shell: Shell, skin: float, room: float) -> float:
    """Heat [W] that the outside gives off at a temperature, convection and radiation together."""
    if skin <= room:
        return 0.0
    radiation = radiation_film(EMISSIVITY, skin, room)
    total = shell.side * (upright_film(shell.height, skin, room) + radiation)
    total += shell.top * (level_film(shell.span, skin, room, gives_upwards=True) + radiation)
    if shell.bottom:
        total += shell.bottom * (level_film(shell.span, skin, room, gives_upwards=False) + radiation)
    return total * (skin - room)


@lru_cache(maxsize=1024)
def warm(shell: Shell, watts: float, room: float, source: Source, flow: float = 0.0) -> Warm:
    """Temperatures of skin, wall, air and source.

    The heat goes through the walls (q = ΔT·Σ kA/t), but for what air carries off by open gaps,
    ``flow`` [m³/s at ΔT = T] of it. The source gives its own heat to the air and by grey radiation
    to the walls; the air passes its share on to the walls. Variants of a lamp mostly ask again what was asked of it.
    """
    if flow <= 0.0:
        return _with_walls(shell, watts, room, source, 0.0)

    def balance(aired: float) -> float:
        return aired - heat_aired(flow, _with_walls(shell, watts, room, source, aired).air, room)

    return _with_walls(shell, watts, room, source, solved(balance, 0.0, watts, _SHARE * watts))


def _with_walls(shell: Shell, watts: float, room: float, source: Source, aired: float) -> Warm:
    """The same where the air carries off ``aired`` [W], and the walls the rest."""
    skin = skin_temperature(shell, watts - aired, room)
    wall = skin + (watts - aired) / shell.through

    def air_at_source(temperature: float) -> float:
        return solved(
            lambda t: (
                film_heat(shell.inner, shell.height, t, wall)
                + aired
                - film_heat(source.in_air, source.height, temperature, t)
            ),
            room,
            temperature,
        )

    def balance(temperature: float) -> float:
        radiated = source.in_sight * radiation_film(EMISSIVITY, temperature, wall) * (temperature - wall)
        air = air_at_source(temperature)
        return radiated + film_heat(source.in_air, source.height, temperature, air) - source.watts

    hot = solved(balance, wall)
    return Warm(skin, wall, air_at_source(hot), hot)


def film_heat(area: float, height: float, one: float, other: float) -> float:
    """Heat [W] from an upright face at ``one`` to air at ``other`` [°C]; negative the other way."""
    if one == other:
        return 0.0
    return area * upright_film(height, one, other) * (one - other)


def spread_width(conductivity: float, thickness: float, film: float) -> float:
    """How far heat spreads sideways in a sheet that gives it off at one face [m]: √(k·t/h).

    The length of a very long fin's temperature fall (Incropera & DeWitt, 6th ed., Eq. 3.79).

    >>> round(1000.0 * spread_width(0.15, 0.015, 10.0), 1)
    15.0
    """
    return float((conductivity * thickness / film) ** 0.5)
