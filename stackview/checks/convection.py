"""Heat that a still surface gives to the air and to the room around it."""

from typing import NamedTuple

_BOLTZMANN = 5.670374419e-8
"""Stefan–Boltzmann constant [W/m²K⁴] (CODATA 2018)."""
GRAVITY = 9.81
ZERO = 273.15


class Air(NamedTuple):
    """Dry air at one atmosphere: kinematic viscosity [m²/s], conductivity [W/mK], Prandtl number."""

    viscosity: float
    conductivity: float
    prandtl: float


def air_at(celsius: float) -> Air:
    """Air's properties at a temperature [°C].

    Sutherland's law for viscosity (1.716e-5 Pa·s at 273.15 K, S = 110.4 K) and conductivity
    (0.02414 W/mK, S = 194 K), White, Viscous Fluid Flow, Table 1-2 and 1-3; ideal gas of
    287.05 J/kgK at 101325 Pa; 1006 J/kgK. Incropera & DeWitt, 6th ed., Table A.4, has 1.589e-5,
    0.0263 and 0.707 at 300 K; this agrees to 2 %.

    >>> air = air_at(26.85)
    >>> round(air.viscosity * 1e5, 2), round(air.conductivity, 4), round(air.prandtl, 2)
    (1.57, 0.0263, 0.71)
    """
    kelvin = celsius + ZERO
    dynamic = 1.716e-5 * (kelvin / ZERO) ** 1.5 * (ZERO + 110.4) / (kelvin + 110.4)
    conductivity = 0.02414 * (kelvin / ZERO) ** 1.5 * (ZERO + 194.0) / (kelvin + 194.0)
    density = 101325.0 / (287.05 * kelvin)
    return Air(dynamic / density, conductivity, dynamic * 1006.0 / conductivity)


def grashof(length: float, warm: float, cool: float, viscosity: float) -> float:
    """Grashof number gβΔTL³/ν² of a height ``length`` [m] between two temperatures [°C].

    β = 1/T of an ideal gas at the mean temperature.

    >>> round(grashof(0.15, 45.0, 25.0, 1.655e-5) / 1e6, 3)
    7.845
    """
    mean = (warm + cool) / 2.0 + ZERO
    return GRAVITY / mean * abs(warm - cool) * length**3 / viscosity**2


def upright_nusselt(prandtl: float, grashof_number: float) -> float:
    """Nusselt number of an upright plate in still air, for all Rayleigh numbers.

    Churchill & Chu 1975, Int. J. Heat Mass Transfer 18:1323; Incropera & DeWitt, 6th ed.,
    Eq. 9.26, with its Example 9.2:

    >>> round(upright_nusselt(0.69, 2.63e9), 4)
    147.1619
    """
    rayleigh = prandtl * grashof_number
    return float(
        (0.825 + 0.387 * rayleigh ** (1 / 6) / (1.0 + (0.492 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2
    )


def level_nusselt(prandtl: float, grashof_number: float, *, gives_upwards: bool) -> float:
    """Nusselt number of a level plate that is warmer than the air, over its area/perimeter.

    Incropera & DeWitt, 6th ed., Eqs. 9.30 to 9.32: warm face up 0.54 Ra^¼ up to 10⁷ and
    0.15 Ra^⅓ above; warm face down 0.27 Ra^¼.

    >>> round(level_nusselt(0.7, 1e6, gives_upwards=True), 2)
    15.62
    """
    rayleigh = prandtl * grashof_number
    if not gives_upwards:
        return float(0.27 * rayleigh**0.25)
    return float(0.54 * rayleigh**0.25 if rayleigh < 1e7 else 0.15 * rayleigh ** (1 / 3))


def upright_film(height: float, warm: float, cool: float) -> float:
    """Heat transfer coefficient of an upright face of ``height`` [m] in still air [W/m²K].

    A lamp's side 150 mm high at 45 °C in a room at 25 °C:

    >>> round(upright_film(0.15, 45.0, 25.0), 1)
    4.7
    """
    air = air_at((warm + cool) / 2.0)
    nusselt = upright_nusselt(air.prandtl, grashof(height, warm, cool, air.viscosity))
    return nusselt * air.conductivity / height


def level_film(size: float, warm: float, cool: float, *, gives_upwards: bool) -> float:
    """Heat transfer coefficient of a level face, its area over its perimeter ``size`` [m] [W/m²K]."""
    air = air_at((warm + cool) / 2.0)
    number = grashof(size, warm, cool, air.viscosity)
    return level_nusselt(air.prandtl, number, gives_upwards=gives_upwards) * air.conductivity / size


def radiation_film(emissivity: float, warm: float, cool: float) -> float:
    """Radiation to surroundings as a coefficient, εσ(T₁ + T₂)(T₁² + T₂²) [W/m²K].

    Incropera & DeWitt, 6th ed., Eq. 1.9.

    >>> round(radiation_film(0.9, 45.0, 25.0), 4)
    5.9794
    """
    one, two = warm + ZERO, cool + ZERO
    return emissivity * _BOLTZMANN * (one + two) * (one**2 + two**2)
