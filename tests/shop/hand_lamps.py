"""Small lamps whose only order of work is known by hand, as a maker would write them."""

from functools import cache

from stackview.shop.step import WorkOrder
from stackview.shop.work_order import work_order
from stackview.study import Study
from tests.checks.written import SOUND, exchanged, subject

GLUED = ('loose = ["cap"]', "loose = []")


def made(*pairs: tuple[str, str], more: str = "") -> Study:
    """The sound lamp of the checks' tests with some words exchanged, and something added."""
    return subject(exchanged(SOUND, *pairs) + more)


@cache
def glued_order() -> WorkOrder:
    """The order of work of the sound lamp, all of it glued."""
    return work_order(made(GLUED))


def pendant() -> Study:
    """All glued; the core hangs from the lid, and the cord comes in there."""
    base = "bore = { diameter = 5 }\nopening = { circle = 8 }\n"
    cable = SOUND[SOUND.index("[cable]") :]
    return made(
        GLUED,
        (cable, "[pendant]\nunderside = 1500\n[cord]\ndiameter = 6\nat = [0, 0]\n"),
        (base, ""),
        ('stands_on = "base"', 'hangs_from = "cap"'),
        (
            'name = "cap"\nmaterial = "ply"\noutline = { circle = 120 }\n',
            'name = "cap"\nmaterial = "ply"\noutline = { circle = 120 }\nopening = { circle = 7 }\n',
        ),
    )


def upside_down() -> Study:
    """All glued; the plates lie in recesses of undersides, so that it is put together from the top."""
    tier = SOUND[SOUND.index("[[groups.tier]]") : SOUND.index('[[layer]]\nname = "base"')]
    ring, plate = tier.split("[[groups.tier]]")[1:]
    ring = ring.replace("recess = { depth = 1.5 }", 'recess = { depth = 1.5, face = "underside" }')
    return made(GLUED, (tier, f"[[groups.tier]]{plate}[[groups.tier]]{ring}"))
