"""Small lamps whose answers were worked out by hand first: what seats, how high it stands, what shows, what clashes.

Each case gives the height [mm] where it is known, sentences that have to come, each as the
beginning of its level and some of its words, and sentences that must not. Many stand exactly at
a limit, with a twin just past it.
"""

from pathlib import Path

import pytest

from stackview.checks.all_checks import names_of
from stackview.description.reading import read_text
from stackview.study import Study

HEAD = """name = "x"
cutter = CUT
[materials]
ply = { plywood = "birch", sold = 9, measured = 9 }
opal = { acrylic = "opal", sold = 4, measured = 4 }
clear = { acrylic = "clear", sold = 4, measured = 4 }
brass = { metal = "brass" }
alu = { metal = "aluminium" }
"""


def layer(name: str, material: str = "ply", **fields: object) -> str:
    rows = {"outline": "{ circle = 120 }", **fields}
    text = "".join(f"{key} = {value}\n" for key, value in rows.items())
    return f'[[layer]]\nname = "{name}"\nmaterial = "{material}"\n{text}'


def ring(name: str, **fields: object) -> str:
    return layer(name, wall=14, **fields)


def plate(name: str = "plate", outline: str = "{ circle = 104 }", material: str = "opal") -> str:
    return layer(name, material, outline=outline)


def core(rows: str, outline: str = "{ circle = 40 }") -> str:
    return f'[core]\nmaterial = "alu"\noutline = {outline}\nwall = 2\n{rows}'


def points(count: int, port: str = "usb 2.0") -> str:
    """Light points of 20 mA in a ring."""
    return f'[[light]]\nring = {{ diameter = 60, count = {count} }}\nmilliamps = 20\nport = "{port}"\n'


Case = tuple[str, float | None, list[str], list[str]]
CASES: dict[str, Case] = {}


def case(
    name: str,
    text: str,
    height: float | None = None,
    has: tuple[str, ...] | list[str] = (),
    never: tuple[str, ...] | list[str] = (),
    cut: float = 3,
) -> None:
    CASES[name] = (HEAD.replace("CUT", str(cut)) + text, height, list(has), list(never))


BASE = layer("base")
R15 = "{depth=1.5,clearance=0.2}"
case(
    "seat", ring("a", recess=R15) + plate() + ring("b"), 20.5, ["fact|0.2 mm of play"], ["caution|", "fault|"]
)
case(
    "sunk",
    ring("a", recess="{depth=5,clearance=0.2}") + plate() + ring("b"),
    18,
    ["fact|1 mm sunk"],
    ["fault|"],
)
case(
    "underside",
    ring("a") + plate() + ring("b", recess='{depth=1.5,clearance=0.2,face="underside"}'),
    20.5,
    ["fact|0.2 mm of play"],
    ["fault|", "caution|"],
)
case(
    "both",
    ring("a", recess=R15) + plate() + ring("b", recess='{depth=1.5,clearance=0.2,face="underside"}'),
    19,
    [],
    ["fault|"],
)
SQUARE = "{rectangle=[80,80]}"
case(
    "square sharp",
    layer("a", opening="{rectangle=[60,60]}", recess=R15, outline="{rectangle=[120,120]}")
    + plate(outline=SQUARE),
    13,
    ["fault|reaches 0.34 mm into the wall"],
    [],
)
case(
    "square round",
    layer("a", opening="{rectangle=[60,60]}", recess=R15, outline="{rectangle=[120,120]}")
    + plate(outline="{rectangle=[80,80],corner_radius=1.5}"),
    11.5,
    ["fact|0.2 mm of play"],
    ["fault|", "caution|"],
)
case(
    "hex at limit",
    layer(
        "a",
        opening="{sides=6,across_flats=60}",
        recess="{depth=1.5,clearance=0.201}",
        outline="{sides=6,across_flats=120}",
    )
    + plate(outline="{sides=6,across_flats=80}"),
    11.5,
    ["caution|0 mm of play"],
    ["fault|"],
)


def spacers(c: float, t: float = 10, d: float = 8) -> str:
    return layer("sp", "brass", outline=f"{{circle={d}}}", thickness=t, around=f"{{count=3,circle={c}}}")


case("spacers", ring("a") + spacers(106) + ring("b"), 28, [], ["fault|", "caution|"])
case("spacers fall", BASE + ring("a") + spacers(80) + ring("b"), 27, ["caution|goes through"], [])
case(
    "core in air",
    layer("base", opening="{circle=50}") + ring("a") + core("height=20\n"),
    None,
    ["fault|nothing carries it"],
    [],
)
case(
    "core through plate",
    BASE + ring("a", recess=R15) + plate() + ring("b") + core("height=18\n"),
    None,
    ["fault|take the same space"],
    [],
)
case(
    "core too tall",
    BASE + ring("a") + layer("cap") + core("height=12\n"),
    None,
    ["fault|take the same space"],
    [],
)
case("core just right", BASE + ring("a") + layer("cap") + core("height=9\n"), 27, [], ["fault|", "caution|"])
case(
    "core in recess",
    layer("base", recess="{depth=5,outline={circle=40.4},clearance=0}") + ring("a") + core("height=14\n"),
    18,
    [],
    ["fault|"],
)
case(
    "core sunk without room",
    BASE + ring("a") + core("height=14\nsunk=5\n"),
    18,
    ["fault|take the same space"],
    ["fault|nothing carries it"],
)
case("feet", BASE + "[feet]\ncount=3\nheight=3\n", 12, [], ["fault|"])


def chamfered(w: float) -> str:
    return (
        layer(
            "a",
            recess="{depth=1.5,clearance=0.2}",
            opening="{circle=80}",
            chamfer=f'{{edge="top outer",width={w}}}',
        )
        + plate()
    )


case("chamfer 6", chamfered(6), 11.5, [], ["caution|", "fault|"])
case("chamfer 6.8 at limit", chamfered(6.8), 11.5, [], ["caution|", "fault|"])
case("chamfer 7", chamfered(7), 11.5, ["caution|leaves 0.8 mm of face"], [])


def pendant(hole: float, at: str = "[0,0]") -> str:
    return (
        ring("a")
        + layer("lid", opening=f"{{circle={hole},at={at}}}")
        + f"[cord]\ndiameter=6\nat={at}\n[pendant]\nunderside=1500\n"
    )


case("cord", pendant(7), 18, ["fact|hangs 0.0° askew", "fact|0.5 mm of play"], ["caution|", "fault|"])
case("cord snug", pendant(6), 18, ["caution|no play per side"], ["fault|"])


def runs_on(af: float) -> str:
    return (
        BASE
        + ring("a")
        + ring("b")
        + f'[core]\nmaterial="alu"\noutline={{sides=6,across_flats={af}}}\nheight=27\n'
        + '[[light]]\nruns={count=6}\nwidth=8\nwatts_per_metre=1\nport="usb charger"\n'
    )


case("flat 5.77", runs_on(10), None, ["caution|72% of its width"], [])
case("flat 6 at limit", runs_on(10.3923048), None, [], ["caution|only"])
case("port at limit", BASE + ring("a") + points(25), None, ["fact|draw 0.50 A"], ["fault|draws"])
case("port over", BASE + ring("a") + points(26), None, ["fault|draws 0.52 A"], [])
case(
    "adapter",
    BASE + ring("a") + points(50, "usb charger") + "[supply]\nadapter=1\n",
    None,
    [],
    ["fault|adapter"],
)
case(
    "fuse 1 A",
    BASE + ring("a") + points(50, "usb charger") + "[supply]\nfuse=1\n",
    None,
    [],
    ["fault|", "caution|fuse"],
)
case(
    "volts",
    BASE + ring("a") + points(25) + '[cable]\nlength="5 m"\nwire="0.34 mm2"\n',
    None,
    ["fact|0.25 V are lost"],
    ["caution|lost"],
)
case(
    "loose",
    ring("a", recess="{depth=1.5,clearance=2}") + plate(),
    11.5,
    ["note|2 mm of play per side at the tightest place: it lies loose"],
    ["caution|"],
)


def floor(d: float) -> str:
    return layer("a", recess=f"{{depth={d},clearance=0.2,outline={{circle=60}}}}")


case("floor 2.0", floor(7), 9, [], ["caution|"])
case("floor 1.9", floor(7.1), 9, ["caution|only 1.9 mm of floor"], [])


def ledge(o: float) -> str:
    return layer("a", opening=f"{{circle={o}}}", recess=R15) + plate()


case("ledge 3.0", ledge(98), 11.5, [], ["caution|"])
case("ledge 2.9", ledge(98.2), 11.5, ["caution|only 2.9 mm wide"], [])
case(
    "wall .8",
    layer("a", opening="{circle=80}", recess=R15) + plate(outline="{circle=118}"),
    11.5,
    ["caution|only 0.8 mm of wall"],
    [],
)
case(
    "wall 3.0",
    layer("a", opening="{circle=80}", recess="{depth=4,clearance=0.2}") + plate(outline="{circle=113.6}"),
    9,
    [],
    ["caution|"],
)
case("deep at limit", layer("a", opening="{circle=80}"), 9, [], ["caution|reaches"], 1.5)
case("deep", layer("a", opening="{circle=80}"), 9, ["caution|cut out through 9 mm"], [], 1.4)


def bored(d: float, o: str = "opening={circle=12}\n") -> str:
    return layer("base") + o + f"bore={{diameter={d}}}\n" + ring("a") + points(10)


case("bore 4", bored(4), 18, [], ["fault|", "note|the cable is 4"])
case("bore 3.9", bored(3.9), 18, ["note|the cable is 4 mm wide"], ["fault|"])
case("bore blind", bored(5, ""), 18, ["|bore"], [])


def eye(h: float, m: str | None = None) -> str:
    return (
        BASE
        + ring("a")
        + (plate("lid", "{circle=120}", m) if m else "")
        + '[[light]]\ndiode={on="base",facing="up"}\nwatts=0.5\nmilliamps=100\nport="usb 2.0"\n'
        + f'[surface]\nheight=500\nsize=[2000,2000]\n[[eye]]\nname="E"\ndistance=1000\nheight={h}\n'
    )


case("bare at 20°", eye(873), None, ["caution|straight through air"], [])
case("hidden at 5°", eye(596), None, [], ["caution|straight"])
case("clear lid", eye(873, "clear"), 22, ["note|through clear acrylic"], ["caution|straight"])
case("opal lid", eye(873, "opal"), 22, ["note|spots behind"], ["caution|straight", "note|through clear"])


def with_hole(hole: float) -> str:
    return (
        BASE + layer("a", wall=20, opening=f"{{circle={hole},at=[50,0]}}")
        if hole
        else BASE + layer("a", wall=20)
    )


PIN = '[[post]]\nname="pin"\nmaterial="brass"\noutline={circle=4,at=[50,0]}\nfrom="a"\nto="a"\n'
case("pin play .2", with_hole(4.4) + PIN, 18, ["fact|0.2 mm of play"], ["fault|"])
case("pin no hole", with_hole(0) + PIN, 18, ["fault|take the same space"], [])
case("pin snug", with_hole(4) + PIN, 18, [], ["fault|", "caution|"])


def wound(o: float) -> str:
    return (
        BASE
        + layer("a", opening=f"{{circle={o}}}")
        + layer("b", opening=f"{{circle={o}}}")
        + core("height=27\n")
        + '[[light]]\nhelix={pitch=12}\nwidth=8\nthickness=2\nwatts_per_metre=2\nport="usb charger"\n'
    )


case("strip touches", wound(44), 36, [], ["fault|reach"])
case("strip in wall", wound(43.8), 36, ["fault|reach 0.1 mm into the wall"], [])
case("strip in wall 43", wound(43), 36, ["fault|reach 0.5 mm into the wall"], [])
OAK = '[materials.oak]\nwood = "red oak"\nsold = 12\n'


def oak_ring(inside: float) -> str:
    return OAK + layer("a", "oak", outline="{circle=100}", opening=f"{{circle={inside}}}")


case("wall across the grain 6.00", oak_ring(88), 12, [], ["caution|"])
case("wall across the grain 5.98", oak_ring(88.04), 12, ["caution|only 5.98 mm wide"], [])
case("slot as wide as the cutter", layer("a", opening="{rectangle=[3.0,20]}"), 9, [], ["caution|", "fault|"])


def lean(across: float) -> str:
    """A block as high as makes it fall over at 15° where it is 48.2 mm across: atan(24.1/90)."""
    return layer("a", "brass", outline=f"{{rectangle=[{across},200]}}", thickness=180)


case("tips at 15.0°", lean(48.23), 180, ["fact|falls over at 15.0°"], ["note|falls", "caution|", "fault|"])
case(
    "tips at 14.9°",
    lean(47.8),
    180,
    ["note|for a lamp within a child's reach the guidance is 15°"],
    ["caution|"],
)
case("tips at 6.0°", lean(18.92), 180, ["note|falls over at 6.0°"], ["fault|"])
case("tips at 5.9°", lean(18.6), 180, ["fault|falls over at 5.9°"], [])


@pytest.mark.parametrize("name", CASES)
def test_the_answers_are_those_worked_out_by_hand(name: str) -> None:
    text, height, has, never = CASES[name]
    study = Study(read_text(text, "x.toml", Path()), bearings=72)
    if height is not None:
        assert study.stack.height == pytest.approx(height)
    said = [f"{one.level.word}|{one.where}: {one.what}." for one in study.checked if one.check != "caution"]
    assert {one.check for one in study.checked} <= set(names_of())
    for wanted in has:
        assert any(_says(line, wanted) for line in said), said
    for unwanted in never:
        assert not [line for line in said if _says(line, unwanted)]


def _says(line: str, wanted: str) -> bool:
    level, words = wanted.split("|")
    return line.startswith(level) and words in line
