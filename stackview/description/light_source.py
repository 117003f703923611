"""Light sources as described: what emits, and how the light points are laid out."""

from dataclasses import dataclass
from typing import ClassVar, Literal

from stackview.description.price import Price
from stackview.one_line import one_line


@dataclass(frozen=True, slots=True)
class Emitter:
    """One light point's optical data. ``lumens`` None means not given (never guessed)."""

    beam: float
    """Full angle at half the axial intensity [°]; 120 is a Lambertian emitter (CIE 127 wording)."""
    face: tuple[float, float]
    """Width along the strip and height across it of the light-giving face [mm]."""
    kelvin: float
    lumens: float | None
    watts: float | None
    amps: float | None = None
    """Current that one light point draws, where given [A]; else watts over volts."""

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Feed:
    """What the light is fed with: nominal voltage, and the port's name in the package's table."""

    volts: float
    port: str | None
    amps: float | None = None
    """Current that the port gives [A]."""
    source: str = ""
    """Where the port's current is from."""
    both_ends: bool = False
    """Whether a strip is fed at both of its ends."""

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Strip:
    """A flexible strip: spacing of its light points, cut marks, width and thickness [mm].

    A continuous (COB) strip is treated as a light point every 5 mm.
    """

    spacing: float
    cut_every: float
    width: float
    thickness: float
    continuous: bool = False
    bend_radius: float | None = None
    """Tightest bend by its data sheet [mm], where given."""
    hottest: float | None = None
    """Highest temperature by its data sheet [°C], where given."""
    ohms_per_metre: float = 0.5
    """Resistance of its two copper tracks together, there and back [Ω/m]."""

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class OnCore:
    """What is true of every layout of a strip on the core."""

    strip: Strip
    key: ClassVar[str]
    """What the file calls it, and the key there of how high it stands."""
    lift_key: ClassVar[str] = "start"

    @property
    def carrier(self) -> str:
        """Name of the part that carries the light points."""
        return "core"

    @property
    def on_top(self) -> bool:
        """Whether it sits on a layer's top: a strip sits on none."""
        return False

    @property
    def set_current(self) -> bool:
        """Whether it takes a set current, and not the feed's voltage."""
        return False


class OnLayer:
    """What is true of every layout of single light points on a layer."""

    __slots__ = ()
    on: str
    key: ClassVar[str]
    """What the file calls it, and the key there of how high it stands."""
    lift_key: ClassVar[str] = "height"

    @property
    def strip(self) -> None:
        """No strip carries them."""

    @property
    def carrier(self) -> str:
        """Name of the part that carries the light points."""
        return self.on

    @property
    def set_current(self) -> bool:
        """Whether it takes a set current, and not the feed's voltage."""
        return False

    @property
    def on_top(self) -> bool:
        """Whether it sits on its layer's top, and not on the underside."""
        return True


@dataclass(frozen=True, slots=True)
class Helix(OnCore):
    """A strip wound on the round core at ``pitch`` [mm], its lower edge ``start`` above the core's foot.

    ``hand`` "right" climbs counter-clockwise seen from above. It ends after ``turns`` or
    ``length``, or where its upper edge reaches the core's top, and is cut at the last cut
    mark before that.
    """

    pitch: float
    start: float
    first: float
    """Bearing at which it begins [°]."""
    hand: Literal["right", "left"]
    turns: float | None
    length: float | None

    key = "helix"
    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Runs(OnCore):
    """Straight upright strips on the core, ``count`` of them evenly around, the first at ``first`` [°]."""

    count: int
    first: float
    start: float
    length: float | None
    """Length asked for [mm]; None runs to the core's top. Cut at the last cut mark before that."""

    key = "runs"
    __repr__ = one_line

    def bearings(self) -> tuple[float, ...]:
        """Bearing of each strip [°], from the core's own centre."""
        return tuple(self.first + 360.0 * k / self.count for k in range(self.count))


@dataclass(frozen=True, slots=True)
class Ring(OnLayer):
    """Light points on a circle, facing outwards, inwards, up or down, at a height above a layer's top."""

    diameter: float
    count: int
    on: str
    height: float
    facing: Literal["out", "in", "up", "down"]
    first: float

    key = "ring"
    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Panel(OnLayer):
    """A flat face of light points, ``columns`` × ``rows`` at ``spacing`` [mm], on a layer's face."""

    columns: int
    rows: int
    spacing: float
    on: str
    facing: Literal["up", "down"]
    at: tuple[float, float]

    key = "panel"
    __repr__ = one_line

    @property
    def on_top(self) -> bool:
        """Facing up, it sits on the top."""
        return self.facing == "up"


@dataclass(frozen=True, slots=True)
class Diode(OnLayer):
    """One power diode on a layer's top (facing up) or underside (facing down), or tilted.

    ``tilt`` leans it from the vertical towards ``bearing`` [°]; ``height`` is its face above
    (or below) the face it sits on [mm].
    """

    on: str
    facing: Literal["up", "down"]
    at: tuple[float, float]
    height: float
    tilt: float
    bearing: float

    key = "diode"
    __repr__ = one_line

    @property
    def on_top(self) -> bool:
        """Facing up, it sits on the top."""
        return self.facing == "up"

    @property
    def set_current(self) -> bool:
        """A power diode takes a set current."""
        return True


StripLayout = Helix | Runs
Layout = StripLayout | Ring | Panel | Diode


@dataclass(frozen=True, slots=True)
class Light:
    """One layout of light points with its emitter and its feed."""

    name: str
    layout: Layout
    emitter: Emitter
    feed: Feed
    price: Price | None = None
    """Of its strip by length, or of one piece."""

    __repr__ = one_line

    @property
    def on_core(self) -> StripLayout | None:
        """Its layout where that is of a strip on the core."""
        return self.layout if isinstance(self.layout, OnCore) else None
