"""The lamp as described: frozen values, millimetres and degrees, everything resolved.

Layers stand in order from the bottom up, groups already repeated, names already unique,
every recess with the outline it is cut to.
"""

from dataclasses import dataclass, field, replace
from typing import Literal

from stackview.description.light_source import Light
from stackview.description.limits_table import Limit
from stackview.description.material import Finish, Length, Material
from stackview.description.outline import Around, Outline
from stackview.description.price import Price
from stackview.description.service import Cable, Gluing, Rooms, Supply
from stackview.description.service_tables import usual_gluing, usual_rooms
from stackview.description.sheet_at_hand import SheetAtHand
from stackview.description.units import Units, units_of
from stackview.description.workshop import Workshop
from stackview.description.workshop_tables import usual_workshop
from stackview.one_line import one_line

FaceSide = Literal["top", "underside"]
Edge = Literal["top outer", "underside outer", "top opening", "underside opening"]


_ANY = Material("", "wood", "", "opaque", 1.0, (0.0, 0.0, 0.0))
"""Stands for a material where it does not matter which."""


@dataclass(frozen=True, slots=True)
class Opening:
    """A hole right through a layer; ``main`` is the one whose edges an opening chamfer bevels."""

    outline: Outline
    around: Around | None = None
    main: bool = False

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Recess:
    """A pocket from one face to ``depth`` [mm].

    ``outline`` is the pocket's nominal edge, its clearance already grown on and its cutter
    radius set; ``fitted_to`` names the neighbour it was fitted to, if any.
    """

    face: FaceSide
    depth: float
    outline: Outline
    clearance: float
    fitted_to: str | None = None

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Groove:
    """A channel that runs along a closed edge, its near side ``distance`` [mm] from that edge.

    ``along`` "outline": inside the outer edge; "opening": outside the main opening, in the
    material; "recess": inside the recess wall, in the recess floor (depth from that floor).
    """

    face: FaceSide
    along: Literal["outline", "opening", "recess"]
    distance: float
    width: float
    depth: float


@dataclass(frozen=True, slots=True)
class Chamfer:
    """A bevel: ``width`` set back along the face [mm], sloping at ``angle`` [°] to the face."""

    edge: Edge
    width: float
    angle: float = 45.0


@dataclass(frozen=True, slots=True)
class Bore:
    """A sideways hole from the outer edge at ``bearing`` [°] towards the axis.

    ``height`` is its centre above the layer's underside; ``length`` None means as far as the
    axis [mm].
    """

    diameter: float
    height: float
    bearing: float
    length: float | None = None


@dataclass(frozen=True, slots=True)
class Layer:
    """One flat part, described in its own frame: axis at x = y = 0, underside at z = 0."""

    name: str
    material: Material
    thickness: float
    outline: Outline
    around: Around | None = None
    openings: tuple[Opening, ...] = ()
    recesses: tuple[Recess, ...] = ()
    grooves: tuple[Groove, ...] = ()
    chamfers: tuple[Chamfer, ...] = ()
    bores: tuple[Bore, ...] = ()
    turn: float = 0.0
    """Turn of the whole layer about the axis, counter-clockwise from above [°]."""
    grain: float = 90.0
    """Bearing along which the grain runs, before the layer is turned [°]; 90 is left to right."""
    finish: Finish = Finish()
    written: Length | None = None
    """Its thickness as the maker wrote it, here or for its material."""

    __repr__ = one_line

    @property
    def thick(self) -> float | Length:
        """Its thickness for whoever shows it: as written, unless a step has changed it [mm]."""
        as_written = self.written is not None and abs(self.written.mm - self.thickness) < 1e-9
        return self.written if self.written is not None and as_written else self.thickness

    def height_of(self, face: FaceSide) -> float:
        """Height of a face above its own underside [mm]."""
        return self.thickness if face == "top" else 0.0

    def heights_of_cut(self, face: FaceSide, depth: float, below: float = 0.0) -> tuple[float, float]:
        """Heights between which a cut lies that goes ``depth`` into a face, or into a floor ``below`` it [mm]."""
        if face == "top":
            return self.thickness - below - depth, self.thickness - below
        return below, below + depth

    @property
    def as_cut(self) -> "Layer":
        """Only what the cutter needs to know of it: equal for layers that are cut alike."""
        recesses = tuple(replace(one, clearance=0.0, fitted_to=one.fitted_to and "") for one in self.recesses)
        return replace(
            self,
            name="",
            material=_ANY,
            recesses=recesses,
            turn=0.0,
            grain=0.0,
            finish=Finish(),
            written=None,
        )

    @property
    def as_met(self) -> "Layer":
        """Only what its neighbours meet of it: level faces, openings and recesses, turned as it stands."""
        return replace(self.as_cut, grooves=(), chamfers=(), bores=(), turn=self.turn)


@dataclass(frozen=True, slots=True)
class Post:
    """A rod or pin upright through openings, from one layer's underside to another's top.

    ``inset`` shortens it at the lower and upper end [mm].
    """

    name: str
    material: Material
    outline: Outline
    start: str
    end: str
    around: Around | None = None
    inset: tuple[float, float] = (0.0, 0.0)

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Screws:
    """Screws that are bought: ``count`` alike [mm], through one layer into another; holes are the layers' own."""

    name: str
    count: int
    diameter: float
    length: float
    through: str
    into: str
    price: Price | None = None
    """Of one screw."""

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class CoreHole:
    """A hole through the wall of a tube: its diameter, its centre above the core's lower end [mm], its bearing [°]."""

    diameter: float
    height: float
    bearing: float


@dataclass(frozen=True, slots=True)
class Core:
    """The post or tube in the middle that carries the light strip; ``wall`` None means solid.

    It stands on the top (or recess floor) of ``stands_on``, or hangs from the underside of
    ``hangs_from``; ``sunk`` lets its end into that layer, from its face, if no recess lies deeper [mm].
    """

    material: Material
    outline: Outline
    height: float | None
    stands_on: str | None
    hangs_from: str | None
    wall: float | None = None
    sunk: float = 0.0
    holes: tuple[CoreHole, ...] = ()

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Feet:
    """Round feet under the lowest layer."""

    material: Material
    diameter: float
    height: float
    around: Around
    price: Price | None = None
    """Of one foot."""

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Cord:
    """The cord that a pendant hangs from, leaving the top layer at ``at`` [mm]."""

    diameter: float
    at: tuple[float, float]
    length: float
    wire_mm2: float | None = None
    """Copper cross-section of each of its two wires [mm²]."""
    strain_relief: bool | None = None
    """Whether something takes its pull off the wires; None where the file does not say."""
    price: Price | None = None
    in_gauge: bool = False
    """Whether the size of its wires is written as a gauge."""


@dataclass(frozen=True, slots=True)
class Surface:
    """What the lamp stands on: its height above the floor and its extent about ``at`` [mm].

    ``size`` is (width, depth) of a rectangle, or (diameter,) of a round top; ``at`` is where
    the lamp's axis stands, measured from the middle of the surface.
    """

    height: float
    size: tuple[float, ...]
    at: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Eye:
    """A named viewer: horizontal distance from the lamp's axis and eye height above the floor."""

    name: str
    distance: float
    height: float


@dataclass(frozen=True, slots=True)
class Lamp:
    """Everything that one lamp's file says, resolved."""

    name: str
    unit: str
    """The unit that its file is written in."""
    layers: tuple[Layer, ...]
    posts: tuple[Post, ...] = ()
    screws: tuple[Screws, ...] = ()
    core: Core | None = None
    feet: Feet | None = None
    cord: Cord | None = None
    lights: tuple[Light, ...] = ()
    surface: Surface | None = None
    hangs_at: float | None = None
    """Height of a pendant's underside above the floor; None for a lamp that stands [mm]."""
    eyes: tuple[Eye, ...] = ()
    chord_error: float = 0.05
    """Greatest distance between a curve and its facets [mm]."""
    cutter: float = 3.175
    """Diameter of the cutter [mm]."""
    limits: tuple[Limit, ...] = ()
    """The limits that the lamp's file sets, in place of the table's."""
    gluing: Gluing = field(default_factory=usual_gluing)
    rooms: Rooms = field(default_factory=usual_rooms)
    supply: Supply = Supply()
    cable: Cable | None = None
    """The cable of a lamp that stands; None where a cord carries the current, or none is needed."""
    sheets: tuple[SheetAtHand, ...] = ()
    """Sheets and offcuts at hand, in the order in which they are used."""
    workshop: Workshop = field(default_factory=usual_workshop)
    currency: str = ""
    """What the file's prices count, as the maker calls it; empty where it does not say."""

    __repr__ = one_line

    @property
    def units(self) -> Units:
        """How its lengths are said: its own unit first."""
        return units_of(self.unit)
