"""Lamps by chance, from the grammar of the lamp's file: each by its number, the same one every time.

Most hang together, for what is refused at once tries nothing: rings with plates let into them, a
core, light on it. Then one lamp in three is spoiled (:mod:`tests.whole.spoiled`).
"""

import json
import math
from pathlib import Path
from typing import Any

from tests.whole.chance import Chance, Table
from tests.whole.random_cuts import Cuts
from tests.whole.random_light import Light
from tests.whole.random_rest import Rest
from tests.whole.spoiled import spoil

FOLDER = Path(__file__).parent / "drawn"
"""Where the curve files lie that the lamps name."""


def random_lamp(number: int) -> str:
    """The text of a lamp's file; curve files that it names lie in :data:`FOLDER`."""
    chance = Chance(number)
    lamp = _lamp(chance)
    for _ in range(chance.one(0, 0, 0, 0, 1, 1, 3)):
        spoil(lamp, chance)
    return as_toml(lamp)


def as_toml(lamp: Table) -> str:
    """A file's text: plain keys first, then every table as an inline one, so that no order is lost."""
    return "".join(f"{_key(key)} = {_value(value)}\n" for key, value in lamp.items())


def _key(key: str) -> str:
    return key if key.replace("_", "").isalnum() and key.isascii() else json.dumps(key, ensure_ascii=False)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float) and not math.isfinite(value):
        return "nan" if math.isnan(value) else "inf" if value > 0 else "-inf"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(key)} = {_value(each)}" for key, each in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007F")


def _lamp(chance: Chance) -> Table:
    cuts = Cuts(chance)
    lamp: Table = {"name": chance.one("Lamp", "Lämpchen", "a, b; c", "Nr. 7")}
    if chance.unit != "mm" or chance.yes(0.3):
        lamp["unit"] = chance.unit
    lamp |= chance.optional(
        0.15,
        currency="EUR",
        cutter=lambda: chance.length(1, 4),
        clearance=lambda: chance.length(0, 0.8),
        chord_error=lambda: chance.length(0.02, 0.2),
    )
    rest = Rest(chance)
    lamp["materials"] = rest.materials()
    named = cuts.named()
    if named:
        lamp["outlines"] = named
    layers = cuts.stack()
    if chance.yes(0.12) and len(layers) > 3:
        # two layers in the middle become a group that is placed twice
        group, layers[1:3] = layers[1:3], [{"group": "tier"} | cuts.repeated(chance.one(1, 2))]
        lamp["groups"] = {"tier": group}
        cuts.names = [cuts.names[0], cuts.names[-1]]
    lamp["layer"] = layers
    light = Light(chance, cuts)
    lamp |= light.core_and_posts()
    lamp |= light.lights()
    lamp |= rest.around(cuts)
    return lamp
