"""What holds for a key that the lamp's file does not write: one table of fixed defaults, key by key.

Only what surely holds is said: where a default hangs on other keys of its table, those are looked at.
"""

from collections.abc import Callable, Mapping
from typing import Any

from pydantic import BaseModel

from stackview.description import defaults
from stackview.description.defaults import Default
from stackview.description.written_lamp import (
    WrittenCord,
    WrittenFeet,
    WrittenLamp,
    WrittenMaterial,
    WrittenScrew,
    WrittenSurface,
)
from stackview.description.written_layer import LayerBody, WrittenBore, WrittenChamfer, WrittenGroove
from stackview.description.written_light import (
    STRIP_LAYOUTS,
    WrittenHelix,
    WrittenLight,
    WrittenPanel,
    WrittenRuns,
)
from stackview.description.written_service import WrittenCable
from stackview.description.written_sheet import WrittenSheet
from stackview.description.written_workshop import WrittenFinishing, WrittenRouter, WrittenWiring

Table = Mapping[str, Any]


def _always(_: Table) -> bool:
    return True


def _strip(light: Table) -> bool:
    return any(kind in light for kind in STRIP_LAYOUTS)


def _spaced(light: Table) -> bool:
    return _strip(light) and not light.get("continuous") and "spacing" not in light


def _unfed(light: Table) -> bool:
    return "port" not in light


def _small(light: Table) -> bool:
    return "diode" not in light and not light.get("continuous")


def _unrounded(surface: Table) -> bool:
    return "diameter" not in surface


def _opal(material: Table) -> bool:
    return material.get("acrylic") == "opal"


def _clear(material: Table) -> bool:
    return material.get("acrylic") == "clear"


_USUAL: dict[tuple[type[BaseModel], str], tuple[Default, Callable[[Table], bool]]] = {
    (WrittenLamp, "cutter"): (defaults.CUTTER, _always),
    (WrittenLamp, "clearance"): (defaults.CLEARANCE, _always),
    (WrittenLamp, "chord_error"): (defaults.CHORD_ERROR, _always),
    (WrittenMaterial, "roughness"): (defaults.ROUGHNESS, _clear),
    (WrittenMaterial, "transmission"): (defaults.TRANSMISSION, _opal),
    (WrittenMaterial, "haze"): (defaults.HAZE, _opal),
    (LayerBody, "grain"): (defaults.GRAIN, _always),
    (WrittenChamfer, "angle"): (defaults.CHAMFER_ANGLE, _always),
    (WrittenBore, "bearing"): (defaults.BORE_BEARING, _always),
    (WrittenGroove, "distance"): (defaults.GROOVE_DISTANCE, _always),
    (WrittenGroove, "width"): (defaults.GROOVE_WIDTH, _always),
    (WrittenGroove, "depth"): (defaults.GROOVE_DEPTH, _always),
    (WrittenFeet, "count"): (defaults.FEET_COUNT, _always),
    (WrittenFeet, "diameter"): (defaults.FEET_DIAMETER, _always),
    (WrittenFeet, "height"): (defaults.FEET_HEIGHT, _always),
    (WrittenScrew, "count"): (defaults.SCREW_COUNT, _always),
    (WrittenScrew, "diameter"): (defaults.SCREW_DIAMETER, _always),
    (WrittenSheet, "margin"): (defaults.SHEET_MARGIN, _always),
    (WrittenSheet, "grain"): (defaults.SHEET_GRAIN, _always),
    (WrittenSheet, "count"): (defaults.SHEET_COUNT, _always),
    (WrittenSurface, "height"): (defaults.SURFACE_HEIGHT, _always),
    (WrittenSurface, "size"): (defaults.SURFACE_SIZE, _unrounded),
    (WrittenCord, "diameter"): (defaults.CORD_DIAMETER, _always),
    (WrittenCord, "length"): (defaults.CORD_LENGTH, _always),
    (WrittenCord, "wire"): (defaults.CORD_WIRE, _always),
    (WrittenCable, "length"): (defaults.CABLE_LENGTH, _always),
    (WrittenCable, "diameter"): (defaults.CABLE_DIAMETER, _always),
    (WrittenCable, "wire"): (defaults.CABLE_WIRE, _always),
    (WrittenRouter, "flutes"): (defaults.FLUTES, _always),
    (WrittenRouter, "least_rpm"): (defaults.LEAST_RPM, _always),
    (WrittenRouter, "most_rpm"): (defaults.MOST_RPM, _always),
    (WrittenFinishing, "wood"): (defaults.WOOD_FINISH, _always),
    (WrittenWiring, "tail"): (defaults.WIRE_TAIL, _always),
    (WrittenWiring, "join"): (defaults.WIRE_JOIN, _always),
    (WrittenHelix, "start"): (defaults.STRIP_START, _always),
    (WrittenRuns, "start"): (defaults.STRIP_START, _always),
    (WrittenPanel, "spacing"): (defaults.PANEL_SPACING, _always),
    (WrittenLight, "leds_per_metre"): (defaults.LEDS_PER_METRE, _spaced),
    (WrittenLight, "width"): (defaults.STRIP_WIDTH, _strip),
    (WrittenLight, "thickness"): (defaults.STRIP_THICKNESS, _strip),
    (WrittenLight, "ohms_per_metre"): (defaults.STRIP_TRACKS, _strip),
    (WrittenLight, "beam"): (defaults.BEAM, _always),
    (WrittenLight, "face"): (defaults.LED_FACE, _small),
    (WrittenLight, "colour_temperature"): (defaults.KELVIN, _always),
    (WrittenLight, "volts"): (defaults.VOLTS, _unfed),
}
_NEVER_SHARED = frozenset({"continuous", "fed_at_both_ends"})
"""Keys that only one sort of table may carry, false in all others."""


def usual(model: type[BaseModel], key: str, table: Table) -> object | None:
    """What holds for a key that ``table`` does not write, as it would be written; None for nothing fixed.

    >>> usual(WrittenLamp, "cutter", {}), usual(WrittenHelix, "hand", {"pitch": 10})
    ('3.175 mm', 'right')
    """
    for kind in model.__mro__:
        if (kind, key) in _USUAL:
            default, holds = _USUAL[kind, key]
            return _written(default) if holds(table) else None
    if key in _NEVER_SHARED and not _strip(table):
        return None
    own = next(info for name, info in model.model_fields.items() if (info.alias or name) == key).get_default()
    return own if isinstance(own, bool | int | float | str) and own != "" else None


def fixed_default(table: str, key: str) -> Default | None:
    """The default of a key, by the name that its table has in the JSON Schema; None where there is none of its own.

    >>> fixed_default("WrittenLayer", "grain").value
    90.0
    """
    for (model, name), (default, _) in _USUAL.items():
        kinds = {model.__name__, *(inheriting.__name__ for inheriting in model.__subclasses__())}
        if name == key and table in kinds:
            return default
    return None


def _written(default: Default) -> object:
    """A default as a maker would write it: lengths with their unit."""
    value = default.value
    if isinstance(value, tuple):
        return [f"{each:g} mm" for each in value]
    return f"{value:g} mm" if default.unit == "mm" and not isinstance(value, str) else value
