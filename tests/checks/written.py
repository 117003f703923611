"""Lamps for the checks of glue, movement, strip, supply, heat and standing, written as a maker would."""

from pathlib import Path

from stackview.checks.subject import Check, run_checks
from stackview.description.reading import read_text
from stackview.findings import Finding, Level
from stackview.study import Study

# A lamp with no flaw: plywood that hardly moves, a bore that meets an opening, a strip that the
# port feeds, a cap that lifts off.
SOUND = """
name = "Sound"
cutter = 3
[materials]
ply = { plywood = "birch", sold = 9, measured = 8.8 }
thick = { plywood = "birch", sold = 18, measured = 17.6 }
opal = { acrylic = "opal", sold = 4, measured = 3.8 }
tube = { metal = "aluminium" }
[[groups.tier]]
name = "ring"
material = "ply"
outline = { circle = 120 }
wall = 14
recess = { depth = 1.5 }
[[groups.tier]]
name = "plate"
material = "opal"
outline = { circle = 104 }
opening = { circle = 46 }
[[layer]]
name = "base"
material = "thick"
outline = { circle = 120 }
bore = { diameter = 5 }
opening = { circle = 8 }
[[layer]]
group = "tier"
repeat = 3
[[layer]]
name = "cap"
material = "ply"
outline = { circle = 120 }
[core]
material = "tube"
outline = { circle = 40 }
wall = 2
height = 33
stands_on = "base"
[[light]]
helix = { pitch = 12 }
width = 8
watts_per_metre = 4
port = "usb charger"
[glue]
loose = ["cap"]
[cable]
length = "1 m"
wire = "0.34 mm2"
strain_relief = true
"""


def subject(text: str = SOUND, bearings: int = 24) -> Study:
    """The study of a lamp's file, looked at from a few bearings."""
    return Study(read_text(text, "lamp.toml", Path()), bearings=bearings)


def changed(*pairs: tuple[str, str], more: str = "", text: str = SOUND) -> Study:
    """The same with some words exchanged, each of which has to be there, and something added."""
    return subject(exchanged(text, *pairs) + more)


def exchanged(text: str, *pairs: tuple[str, str]) -> str:
    """A lamp's file with some words exchanged, each of which has to be there."""
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new)
    return text


def alarms(check: Check, of: Study) -> list[Finding]:
    """Faults and cautions of one check."""
    return [finding for finding in run_checks(of, (check,)) if finding.level >= Level.CAUTION]
