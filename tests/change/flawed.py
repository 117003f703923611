"""Small lamps with one flaw each, and what, typed into their files, mends it: worked out by hand."""

from tests.checks.written import SOUND

HEAD = """
name = "Flawed"
cutter = 3
[materials]
ply = { plywood = "birch", sold = 9, measured = 9 }
ash = { wood = "ash", sold = 9, measured = 9 }
opal = { acrylic = "opal", sold = 4, measured = 4 }
brass = { metal = "brass" }
tube = { metal = "aluminium" }
"""


def layer(name: str, rows: str = "", material: str = "ply", outline: str = "{ circle = 120 }") -> str:
    return f'[[layer]]\nname = "{name}"\nmaterial = "{material}"\noutline = {outline}\n{rows}\n'


PLATE = layer("plate", "", "opal", "{ circle = 104 }")
Flawed = tuple[str, str, list[dict[str, object]]]
"""The file, the check that finds the flaw, and the changes of each mend."""
FLAWED: dict[str, Flawed] = {
    # holes of 4 on a circle of 114 leave 120/2 − 57 − 2 = 1 of wall, and 3 are asked for
    "holes near the edge": (
        HEAD + layer("base", "opening = [{ circle = 10 }, { circle = 4, around = { count = 3, circle = 114 } }]"),
        "walls",
        [{"layer.base.opening.1.around.circle": 110.0}, {"layer.base.outline.circle": 124.0}],
    ),
    # 9 − 7.8 = 1.2 of floor for 2
    "thin floor": (
        HEAD + layer("ring", "wall = 14\nrecess = { depth = 7.8 }") + PLATE,
        "walls",
        [{"layer.ring.recess.depth": 7.0}, {"layer.ring.thickness": 9.8}],
    ),
    # 9 − 2 × 4.4 = 0.2 of rim for 0.3: one number bevels both edges
    "knife edge": (
        HEAD + layer("ring", 'wall = 20\nchamfer = { edge = ["top outer", "underside outer"], width = 4.4 }'),
        "walls",
        [{"layer.ring.chamfer.width": 4.3}, {"layer.ring.thickness": 9.1}],
    ),
    # the plate reaches 1 past the opening, and 3 are asked for
    "narrow ledge": (
        HEAD + layer("ring", "wall = 14\nrecess = { depth = 1.5 }") + layer("plate", "", "opal", "{ circle = 94 }"),
        "walls",
        [{"layer.ring.wall": 16.0}, {"layer.plate.outline.circle": 98.0}],
    ),
    "short grain": (
        HEAD + layer("frame", "wall = 4", "ash", "{ rectangle = [120, 90] }"),
        "walls",
        [{"layer.frame.wall": 6.0}],
    ),
    # a lip of 5 under a bevel of 4.5 leaves 0.5 for 1
    "bevel beside a recess": (
        HEAD
        + layer("base", 'recess = { depth = 2, outline = { circle = 110 } }\nchamfer = { edge = "top outer", width = 4.5 }'),
        "walls",
        [{"layer.base.chamfer.width": 4.0}, {"layer.base.recess.outline.circle": 109.0}],
    ),
    # 0.1 too large per side, and 0.05 of play: 3.8 + 0.3
    "rod in small holes": (
        HEAD
        + layer("low", "opening = { circle = 3.8 }")
        + layer("high", "opening = { circle = 3.8 }")
        + '[[post]]\nname = "rod"\nmaterial = "brass"\noutline = { circle = 4 }\nfrom = "low"\nto = "high"\n',
        "line-up",
        [{"layer.low.opening.circle": 4.1, "layer.high.opening.circle": 4.1}],
    ),
    # cut for 4, and the sheet measures 3.8
    "plate meant flush": (
        HEAD.replace("sold = 4, measured = 4", "sold = 4, measured = 3.8")
        + layer("ring", "wall = 14\nrecess = { depth = 4 }")
        + PLATE,
        "heights",
        [{"layer.ring.recess.depth": 3.8}],
    ),
    # 1.8 and 1.9 for a plate of 4: 0.3 of room is missing
    "plate squeezed between two recesses": (
        HEAD
        + layer("ring", "wall = 14\nrecess = { depth = 1.8 }")
        + PLATE
        + layer("upper", 'wall = 14\nrecess = { depth = 1.9, face = "underside" }'),
        "heights",
        [{"layer.upper.recess.depth": 2.2}, {"layer.ring.recess.depth": 2.1}],
    ),
    # strip 2 thick on 40 across needs 44.1 with its play
    "strip in tight openings": (
        SOUND.replace("opening = { circle = 46 }", "opening = { circle = 42 }"),
        "strip",
        [{"groups.tier.plate.opening.circle": 44.1}],
    ),
    # strips 8 wide lie 2 out on a radius of 30 and meet where tan(180°/n) < 4/32: from n = 26 on; or
    # R + 2 > 4/tan(180°/26) = 32.94
    "too many runs": (
        SOUND.replace("helix = { pitch = 12 }", "runs = { count = 26 }")
        .replace("circle = 40 }", "circle = 60 }")
        .replace("circle = 46 }", "circle = 70 }"),
        "strip",
        [{"core.outline.circle": 61.9}],
    ),
}  # fmt: skip
