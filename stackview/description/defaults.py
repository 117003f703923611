"""Every default in one place: what is taken where the lamp's file says nothing, and why.

Lengths in millimetres, angles in degrees.
"""

from dataclasses import dataclass

from stackview.in_figures import with_unit

_PRACTICE = "common practice"


@dataclass(frozen=True, slots=True)
class Default:
    """One default: the key it stands in for, its value, its unit, and the reason for it."""

    key: str
    value: float | str | tuple[float, float]
    unit: str
    why: str

    @property
    def number(self) -> float:
        """The value where it is one number."""
        assert isinstance(self.value, int | float)
        return float(self.value)

    @property
    def words(self) -> str:
        """The value with its unit, as it is read: "3.175 mm", "1200 by 700 mm"."""
        value = self.value
        if isinstance(value, tuple):
            return f"{value[0]:g} by {with_unit(f'{value[1]:g}', self.unit)}"
        number = value if isinstance(value, str) else f"{value:g}"
        return with_unit(number, self.unit)

    @property
    def pair(self) -> tuple[float, float]:
        """The value where it is two numbers."""
        assert isinstance(self.value, tuple)
        return self.value


CUTTER = Default(
    "cutter", 3.175, "mm", f"diameter of a 1/8 in cutter, the usual one on a small router; {_PRACTICE}"
)
CLEARANCE = Default("clearance", 0.2, "mm", f"per side, a plate drops in without force; {_PRACTICE}")
CHORD_ERROR = Default(
    "chord_error", 0.05, "mm", "greatest distance between a curve and its facets; finer than a cut"
)
GRAIN = Default("layer · grain", 90.0, "°", "the grain runs from left to right")
CHAMFER_ANGLE = Default("layer · chamfer · angle", 45.0, "°", f"the usual chamfer cutter; {_PRACTICE}")
BORE_BEARING = Default("layer · bore · bearing", 180.0, "°", f"the cable leaves at the back; {_PRACTICE}")
GROOVE_DISTANCE = Default("layer · groove · distance", 1.0, "mm", f"wood left beside the groove; {_PRACTICE}")
GROOVE_WIDTH = Default("layer · groove · width", 1.5, "mm", f"a V or 1/16 in cutter; {_PRACTICE}")
GROOVE_DEPTH = Default(
    "layer · groove · depth", 0.8, "mm", f"holds the glue squeezed out of one joint; {_PRACTICE}"
)
ROUGHNESS = Default(
    "material · roughness",
    0.3,
    "",
    "sanded acrylic by hand, not measured: an assumption; stackview finish fits it",
)
TRANSMISSION = Default(
    "material · transmission", 0.5, "", f"opal sheet passes 30 to 70%: an assumption; {_PRACTICE}"
)
HAZE = Default(
    "material · haze", 1.0, "", f"opal sheet spreads all that it passes: an assumption; {_PRACTICE}"
)
PAINTED = Default("material · reflects (paint)", 0.8, "", "matt white paint: an assumption, from memory")
MIRRORED = Default("material · reflects (mirror)", 0.88, "", "mirror foil: an assumption, from memory")

FEET_COUNT = Default("feet · count", 3, "", "three feet never rock")
FEET_DIAMETER = Default("feet · diameter", 12.0, "mm", f"stick-on bumper; {_PRACTICE}")
FEET_HEIGHT = Default("feet · height", 3.0, "mm", f"stick-on bumper; {_PRACTICE}")
FEET_EDGE = Default("feet · circle", 5.0, "mm", f"from a foot's edge to the base's edge; {_PRACTICE}")
SCREW_COUNT = Default("screw · count", 4, "", f"one near each corner; {_PRACTICE}")
SCREW_DIAMETER = Default("screw · diameter", 4.0, "mm", f"the usual wood screw; {_PRACTICE}")
CORD_DIAMETER = Default("cord · diameter", 6.0, "mm", f"textile-covered lamp cord; {_PRACTICE}")
CORD_LENGTH = Default("cord · length", 1500.0, "mm", f"as lamp cord is sold; {_PRACTICE}")
CORD_WIRE = Default("cord · wire", "0.75 mm2", "", f"each of the two wires; {_PRACTICE}")

LEDS_PER_METRE = Default("light · leds_per_metre", 60.0, "per m", f"the usual strip; {_PRACTICE}")
CONTINUOUS_SPACING = Default(
    "light · spacing (continuous)", 5.0, "mm", "a continuous strip counts as points this far apart"
)
STRIP_WIDTH = Default("light · width", 10.0, "mm", f"the usual strip; {_PRACTICE}")
STRIP_THICKNESS = Default("light · thickness", 2.0, "mm", f"strip with its LEDs and tape; {_PRACTICE}")
BEAM = Default("light · beam", 120.0, "°", "full angle at half intensity of a Lambertian emitter: I ∝ cos")
LED_FACE = Default("light · face", (2.8, 3.5), "mm", f"the 2835 package; {_PRACTICE}")
DIODE_FACE = Default("light · face (diode)", (3.5, 3.5), "mm", f"a 1 W diode; {_PRACTICE}")
KELVIN = Default("light · colour_temperature", 2700.0, "K", f"warm white for the home; {_PRACTICE}")
EFFICACY = Default(
    "light · lumens", 80.0, "lm per W", f"warm white 5 V strip, resistors counted: an assumption; {_PRACTICE}"
)
LUMENS = Default("light · lumens (no power given)", 5.0, "lm", f"one small LED: an assumption; {_PRACTICE}")
VOLTS = Default("light · volts", 5.0, "V", f"fed from a USB port; {_PRACTICE}")
STRIP_START = Default(
    "light · start", 5.0, "mm", f"the strip's lower edge above the core's foot; {_PRACTICE}"
)
PANEL_SPACING = Default("light · panel · spacing", 10.0, "mm", f"a small LED board; {_PRACTICE}")
STRIP_TRACKS = Default(
    "light · ohms_per_metre",
    0.5,
    "Ω per m",
    f"both copper tracks of a 5 V strip, there and back; {_PRACTICE}",
)
CABLE_LENGTH = Default("cable · length", 1500.0, "mm", f"as USB cables are sold; {_PRACTICE}")
CABLE_DIAMETER = Default("cable · diameter", 4.0, "mm", f"a USB cable; {_PRACTICE}")
CABLE_WIRE = Default("cable · wire", "AWG 22", "", f"each of the two wires; {_PRACTICE}")

SHEET_MARGIN = Default(
    "sheet · margin",
    8.0,
    "mm",
    f"room for clamps, and for edges that are neither straight nor clean; {_PRACTICE}",
)
SHEET_GRAIN = Default("sheet · grain", 90.0, "°", "boards lie with their length from left to right")
SHEET_COUNT = Default("sheet · count", 1, "", "one is at hand")
SHEET_SKIN = Default(
    "between parts on a sheet", 1.0, "mm", f"left beside the cutter's way, for the last cut; {_PRACTICE}"
)
FLUTES = Default("router · flutes", 2, "", f"straight or spiral cutter; {_PRACTICE}")
LEAST_RPM = Default("router · least_rpm", 8000.0, "rev/min", f"a hand router's slowest; {_PRACTICE}")
MOST_RPM = Default("router · most_rpm", 24000.0, "rev/min", f"a hand router's fastest; {_PRACTICE}")
WOOD_FINISH = Default("finishing · wood", "hard wax oil", "", f"a finish by hand; {_PRACTICE}")
WIRE_TAIL = Default(
    "wiring · tail",
    150.0,
    "mm",
    f"wire left at each joint, so that it can be made beside the lamp; {_PRACTICE}",
)
WIRE_JOIN = Default("wiring · join", "solder", "", f"holds without room for a plug; {_PRACTICE}")

SURFACE_HEIGHT = Default("surface · height", 740.0, "mm", f"a table; {_PRACTICE}")
SURFACE_SIZE = Default("surface · size", (1200.0, 700.0), "mm", f"a table; {_PRACTICE}")
STANDING = Default("eye standing", (1500.0, 1600.0), "mm", f"distance and height of the eye; {_PRACTICE}")
SEATED = Default("eye seated", (900.0, 1200.0), "mm", f"distance and height of the eye; {_PRACTICE}")
LYING_DISTANCE = Default("eye lying · distance", 900.0, "mm", f"a bedside lamp; {_PRACTICE}")
LYING_ABOVE = Default(
    "eye lying · height", 150.0, "mm", f"above the surface, which is level with the mattress; {_PRACTICE}"
)
LYING_PENDANT = Default("eye lying · height (pendant)", 700.0, "mm", f"propped up in bed; {_PRACTICE}")
