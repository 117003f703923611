"""The starter lamp that a maker begins with."""

_STARTER = """\
# A lamp written from the bottom up. Change a number, then look again.
name = "My first lamp"
unit = "mm"                     # of every bare number; "5-1/2 in" may be written anywhere

# What you have: the size it is sold as, and what your caliper says.
materials.wood = { plywood = "birch", sold = 9, measured = 8.8 }
materials.plate = { acrylic = "clear", sold = 4, measured = 3.8, finish = "sanded" }

# One tier: a ring with a wall 16 wide, and the plate that lies in its recess.
groups.tier = [
    { name = "ring", material = "wood", outline = { circle = 120 }, wall = 16, recess = { depth = 1.5 } },
    { name = "plate", material = "plate", outline = { circle = 106 }, opening = { circle = 40 } },
]
layer = [                       # the stack: a base, four tiers each 4 mm smaller, a cap
    { name = "base", material = "wood", outline = { circle = 120 } },
    { group = "tier", repeat = 4, step = { size = -4 } },
    { name = "cap", material = "wood", outline = { circle = 104 } },
]
core = { material = "wood", outline = { circle = 30 }, stands_on = "base", height = 44 }
light = [{ helix = { pitch = 18 }, leds_per_metre = 60 }]
"""


def starter_text() -> str:
    """The commented starter lamp; it reads without a fault."""
    return _STARTER
