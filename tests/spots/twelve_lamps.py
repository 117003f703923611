"""Twelve lamps of our own, of every kind that spots tell apart, as texts of lamp files."""

_HEAD = """
unit = "mm"
cutter = 3
clearance = 0.2
materials.ash = { wood = "ash", sold = 15, measured = 14.8 }
materials.rod = { metal = "brass" }
materials.tube = { metal = "aluminium" }
materials.opal = { acrylic = "opal", sold = 4, measured = 3.8 }
materials.clear = { acrylic = "clear", sold = 4, measured = 3.8 }
materials.sanded = { acrylic = "clear", sold = 4, measured = 3.8, finish = "sanded" }
materials.half = { acrylic = "clear", sold = 5, measured = 4.9, finish = { edge = "sanded" } }
"""
_BASE = """
[[layer]]
name = "base"
material = "ash"
outline = {outline}
"""
_RING = """
[[layer]]
name = "ring {number}"
material = "ash"
outline = {outline}
wall = 12
"""
_PLATE = """
[[layer]]
name = "plate {number}"
material = "{material}"
outline = {outline}
{opening}
"""
_CAP = """
[[layer]]
name = "cap"
material = "ash"
outline = {outline}
"""
_CORE = """
[core]
material = "tube"
outline = {{ circle = {across} }}
wall = 2
height = {height}
{carried}
"""
_HELIX = """
[[light]]
helix = {{ pitch = {pitch}, start = 4 }}
leds_per_metre = 60
cut_every = 50
width = 8
thickness = 2
lumens_per_metre = 900
"""
_ROUND_IT = """
[[light]]
helix = {{ pitch = {pitch}, start = 4 }}
continuous = true
cut_every = 25
width = 8
thickness = 2
lumens_per_metre = 700
"""
_DIODE = """
[[light]]
name = "diode"
diode = { on = "base", facing = "up", height = 3 }
watts = 1
lumens = 90
"""
_EYE = """
[surface]
height = 700

[[eye]]
name = "eye"
distance = {distance}
height = {height}
"""


def _lamp(name: str, *parts: str) -> str:
    return f'name = "{name}"\n' + _HEAD + "".join(parts)


def _tiers(plates: list[str], outline: str, inner: str = "", plate: str | None = None) -> str:
    """A base, then a ring and a plate for each of the plates, and a cap."""
    text = _BASE.format(outline=outline)
    opening = f"opening = {inner}" if inner else ""
    for number, material in enumerate(plates, 1):
        text += _RING.format(number=number, outline=outline)
        text += _PLATE.format(number=number, material=material, outline=plate or outline, opening=opening)
    return text + _RING.format(number=len(plates) + 1, outline=outline) + _CAP.format(outline=outline)


_LOW, _OVER = _EYE.format(distance=1500, height=830), _EYE.format(distance=1500, height=1900)


def _core(across: float, height: float, light: str, carried: str = 'stands_on = "base"') -> str:
    return _CORE.format(across=across, height=height, carried=carried) + light


_LID = """
[[layer]]
name = "plate"
material = "{material}"
outline = {{ circle = 110 }}
"""
_POT = _BASE.format(outline="{ circle = 120 }") + _RING.format(number=1, outline="{ circle = 120 }")
_ROUND, _SQUARE = "{ circle = 120 }", "{ rectangle = [110, 110], corner_radius = 10 }"
_HUNG = """
[cord]
diameter = 6
length = "1 m"
at = [10, 0]

[pendant]
underside = 1400

[[eye]]
name = "eye"
distance = 1500
height = 1200
"""

LAMPS = {
    "sanded rounds": _lamp(
        "Sanded rounds",
        _tiers(["sanded", "sanded"], _ROUND, "{ circle = 44 }"),
        _core(30, 62, _HELIX.format(pitch=16)),
        _LOW,
    ),
    "sanded squares": _lamp(
        "Sanded squares",
        _tiers(["sanded", "sanded", "sanded"], _SQUARE, "{ circle = 50 }"),
        _core(32, 80, _HELIX.format(pitch=20)),
        _LOW,
    ),
    "opal rounds": _lamp(
        "Opal rounds",
        _tiers(["opal", "opal"], _ROUND, "{ circle = 44 }"),
        _core(30, 62, _HELIX.format(pitch=16)),
        _LOW,
    ),
    "clear rounds": _lamp(
        "Clear rounds",
        _tiers(["clear", "clear"], _ROUND, "{ circle = 44 }"),
        _core(30, 62, _HELIX.format(pitch=16)),
        _LOW,
    ),
    "edges alone sanded": _lamp(
        "Edges alone sanded",
        _tiers(["half", "half"], _ROUND, "{ circle = 44 }"),
        _core(30, 62, _HELIX.format(pitch=16)),
        _LOW,
    ),
    "mixed": _lamp(
        "Mixed",
        _tiers(["opal", "clear", "sanded"], _ROUND, "{ circle = 44 }"),
        _core(30, 80, _HELIX.format(pitch=16)),
        _LOW,
    ),
    "opal over a diode": _lamp("Opal over a diode", _POT, _LID.format(material="opal"), _DIODE, _OVER),
    "sanded over a diode": _lamp("Sanded over a diode", _POT, _LID.format(material="sanded"), _DIODE, _OVER),
    "continuous": _lamp(
        "Continuous",
        _tiers(["sanded", "opal"], _ROUND, "{ circle = 44 }"),
        _core(30, 62, _ROUND_IT.format(pitch=16)),
        _LOW,
    ),
    "tall": _lamp(
        "Tall",
        _tiers(["sanded", "opal", "sanded", "opal", "sanded"], _SQUARE, "{ circle = 50 }"),
        _core(30, 120, _HELIX.format(pitch=30)),
        _EYE.format(distance=2200, height=900),
    ),
    "pendant": _lamp(
        "Pendant",
        _PLATE.format(number=0, material="opal", outline=_ROUND, opening=""),
        _tiers(["sanded"], _ROUND, "{ circle = 44 }").replace(_BASE.format(outline=_ROUND), ""),
        _core(30, 40, _HELIX.format(pitch=12), 'hangs_from = "cap"'),
        _HUNG,
    ),
    "tiny": _lamp(
        "Tiny",
        _tiers(["sanded", "sanded"], "{ circle = 50 }", "{ circle = 22 }").replace("wall = 12", "wall = 6"),
        _core(12, 60, _HELIX.format(pitch=18)).replace("wall = 2", "wall = 1"),
        _EYE.format(distance=900, height=760),
    ),
}
