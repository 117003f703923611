"""What a lamp is glued, wired and lived with: values that only the checks need."""

from dataclasses import dataclass
from typing import Literal

from stackview.description.material import MaterialKind
from stackview.description.price import Price
from stackview.one_line import one_line

OnAcrylic = Literal["clean", "crazes", "fogs"]


@dataclass(frozen=True, slots=True)
class Film:
    """What fills a joint, for light: refractive index, and whether it passes unscattered."""

    index: float = 1.0
    clear: bool = True


AIR = Film()
"""A dry joint: a film of air stays between parts that touch."""


@dataclass(frozen=True, slots=True)
class Glue:
    """One glue: its film when clamped [mm], what it grips, and what it does to acrylic.

    ``stretch`` is how far the film may shear over its own thickness; 0 for a glue that sets hard.
    ``set_film`` is what it is for light, set.
    """

    name: str
    full: str
    film: float
    stretch: float
    grips: tuple[MaterialKind, ...]
    on_acrylic: OnAcrylic
    source: str
    set_film: Film = AIR
    hottest: float | None = None
    """Up to where it holds in use [°C]; None where nobody says."""
    price: Price | None = None
    open_minutes: float | None = None
    """From the bead to the closed joint at most [min]; None where nobody says, here and below."""
    clamp_minutes: float | None = None
    """Under clamps or weights at least [min]."""
    cure_hours: float | None = None
    """Until it takes its load [h]."""

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Gluing:
    """The glues of a lamp: wood to wood, anything to acrylic, and all else.

    ``written`` is false where the file says nothing, so that the usual ones are taken.
    ``loose`` names the layers that stay unglued; None where the file does not say.
    """

    wood: Glue
    acrylic: Glue
    other: Glue
    written: bool = False
    loose: tuple[str, ...] | None = None

    def holds(self, *names: str) -> bool:
        """Whether layers or core of these names are glued where they touch: all are, but for those named loose."""
        return self.loose is None or not any(name in self.loose for name in names)

    def film_of(self, name: str) -> Film:
        """What fills the joints of this layer or core with acrylic: the glue of acrylic, air where it stays loose."""
        return self.acrylic.set_film if self.holds(name) else AIR

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Climate:
    """A room's air: temperature [°C] and relative humidity, 0 to 1."""

    name: str
    celsius: float
    humidity: float
    source: str


@dataclass(frozen=True, slots=True)
class Rooms:
    """The climate that a lamp is built in, and those that it lives in."""

    workshop: Climate
    lives_in: tuple[Climate, ...]

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Cable:
    """The cable of a lamp that stands: length and diameter [mm], copper of each wire [mm²].

    ``plug`` is the widest measure of a plug that has to go through the bore, None where bare
    ends do; ``strain_relief`` None where the file does not say. ``written`` is false where
    there is nothing but defaults; ``in_gauge`` true where the wires' size is written as a gauge.
    """

    length: float
    diameter: float
    wire_mm2: float
    plug: float | None = None
    strain_relief: bool | None = None
    written: bool = False
    in_gauge: bool = False
    price: Price | None = None

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Supply:
    """Ratings on the way to the lamp [A]: of an adapter in place of the port, and of a fuse."""

    adapter: float | None = None
    fuse: float | None = None
    price: Price | None = None

    __repr__ = one_line
