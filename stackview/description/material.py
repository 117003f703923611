"""Materials as values: what a part is cut from, and how its faces are finished."""

from dataclasses import dataclass
from typing import Literal, assert_never, get_args

from stackview.description import defaults
from stackview.description.price import Price
from stackview.one_line import one_line

MaterialKind = Literal["wood", "plywood", "board", "acrylic", "metal", "plastic"]
Body = Literal["opaque", "clear", "opal"]
SheetSurface = Literal["clear", "sanded"]
FINISHES: tuple[SheetSurface, ...] = get_args(SheetSurface)
"""Finishes of a sheet of clear acrylic, as the file calls them."""
Coat = Literal["paint", "mirror"]
Sort = Literal["opaque", "opal", "sanded", "clear"]
"""What a part does to light that comes to it."""


@dataclass(frozen=True, slots=True)
class Length:
    """A length kept both ways: in millimetres and as the maker wrote it."""

    mm: float
    written: str

    def __str__(self) -> str:
        return self.written


@dataclass(frozen=True, slots=True)
class Finish:
    """Finish of an acrylic part, face by face. Opal is not a finish: it is the body."""

    top: SheetSurface = "clear"
    underside: SheetSurface = "clear"
    edge: SheetSurface = "clear"

    __repr__ = one_line

    @property
    def faces(self) -> tuple[SheetSurface, SheetSurface, SheetSurface]:
        """Top, underside and edge, in that order."""
        return self.top, self.underside, self.edge

    @property
    def sanded(self) -> tuple[bool, bool, bool]:
        """Whether top, underside and edge are sanded."""
        return is_sanded(self.top), is_sanded(self.underside), is_sanded(self.edge)

    @property
    def words(self) -> str:
        """What is done to which faces, those left clear aside: nothing where all are.

        >>> Finish("sanded", "sanded", "sanded").words, Finish(top="sanded", edge="sanded").words, Finish().words
        ('sanded', 'sanded top and edge', '')
        """
        done = [face for face, own in zip(self.faces, self.sanded, strict=True) if own]
        sides = [side for side, own in zip(("top", "underside", "edge"), self.sanded, strict=True) if own]
        finish = " and ".join(dict.fromkeys(done))
        return finish if len(done) in (0, len(self.faces)) else f"{finish} {' and '.join(sides)}"


def is_sanded(surface: SheetSurface) -> bool:
    """Whether a face of clear acrylic spreads the light that passes it."""
    match surface:
        case "sanded":
            return True
        case "clear":
            return False
        case _:
            assert_never(surface)


@dataclass(frozen=True, slots=True)
class Movement:
    """How a material moves: shares of its size per % of moisture content, per kelvin, per humidity.

    ``per_humidity`` is the swelling from 0 to 100 % relative humidity, for what the moisture
    formulas of wood do not hold for.
    """

    tangential: float = 0.0
    radial: float = 0.0
    along: float = 0.0
    per_kelvin: float = 0.0
    per_humidity: float = 0.0
    quarter: bool = False
    """Sawn so that the width runs radially (quarter-sawn)."""
    source: str = ""

    __repr__ = one_line

    @property
    def across(self) -> float:
        """Change of a board's width per % of moisture content."""
        return self.radial if self.quarter else self.tangential


@dataclass(frozen=True, slots=True)
class Optics:
    """What a material does to light, where its finish alone does not say.

    Every value is an assumption until the maker has given or measured it; ``given`` names the
    keys that the file sets.
    """

    roughness: float = defaults.ROUGHNESS.number
    """Of sanded acrylic: GGX width α of its micro-facets (Walter et al. 2007), 0 smooth to 1."""
    transmission: float = defaults.TRANSMISSION.number
    """Of opal acrylic: share of the light that a sheet lets through, 0 to 1."""
    haze: float = defaults.HAZE.number
    """Of opal acrylic: share of what passes that is spread wide; the rest goes straight on."""
    reflectance: float | None = None
    """Luminous reflectance of an opaque face, 0 to 1; None takes that of its colour."""
    coat: Coat | None = None
    """Paint (matt) or a mirror over the bare material."""
    given: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Material:
    """One sheet or rod, as named in the lamp's file or in the package's table."""

    name: str
    kind: MaterialKind
    sort: str
    """Species, acrylic body or metal, as the table names it ("walnut", "opal", "brass")."""
    body: Body
    density: float
    """[kg/m³]"""
    colour: tuple[float, float, float]
    """Mean reflectance colour, linear sRGB, 0 to 1."""
    sold: Length | None = None
    measured: Length | None = None
    finish: Finish = Finish()
    source: str = ""
    movement: Movement = Movement()
    optics: Optics = Optics()
    extruded: bool = False
    """Acrylic sheet that is extruded, not cast."""
    price: Price | None = None

    __repr__ = one_line

    @property
    def is_acrylic(self) -> bool:
        """Whether it is acrylic, clear or opal: light passes it, and it has finishes."""
        return self.kind == "acrylic"

    @property
    def is_metal(self) -> bool:
        """Whether it is metal."""
        return self.kind == "metal"

    @property
    def is_plywood(self) -> bool:
        """Whether it is plywood."""
        return self.kind == "plywood"

    @property
    def is_board(self) -> bool:
        """Whether it is a board of fibres, the same in all directions of its plane."""
        return self.kind == "board"

    @property
    def is_solid_wood(self) -> bool:
        """Whether it is solid wood, which moves across its grain and splits along it."""
        return self.kind == "wood"

    @property
    def is_figured(self) -> bool:
        """Whether its faces show the grain of wood: solid wood and plywood."""
        return self.is_solid_wood or self.is_plywood

    @property
    def is_wooden(self) -> bool:
        """Whether it is of wood, solid, in plies or in fibres: it takes up moisture and holds wood glue."""
        return self.is_figured or self.is_board

    @property
    def thickness(self) -> float | None:
        """The true thickness: measured where it was measured, else as sold [mm]."""
        length = self.measured or self.sold
        return length.mm if length else None
