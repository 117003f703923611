"""Lamps by chance, from the grammar of the lamp's file: each by its number, the same one every time.

Most hang together, for what is refused at once tries nothing; some keys have values at or beyond an
edge (nought, the smallest, what eats a face, what just does not fit).
"""

import json
from random import Random
from typing import Any

Table = dict[str, Any]


def random_lamp(number: int) -> str:
    """The text of a lamp's file."""
    return as_toml(_Chance(number).lamp())


def as_toml(lamp: Table) -> str:
    """A file's text: plain keys first, then every table as an inline one, so that no order is lost."""
    return "".join(f"{key} = {_value(value)}\n" for key, value in lamp.items())


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(k)} = {_value(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    return json.dumps(value)


class _Chance:
    """What chance draws for one lamp. Lengths in millimetres, some written with a unit."""

    def __init__(self, number: int) -> None:
        self.by = Random(number)
        self.across = self.by.uniform(40, 300)
        self.shape = self.by.choice(("circle", "circle", "rectangle", "sides", "sides"))
        self.corners = self.by.randint(3, 12)
        self.names: list[str] = []

    def yes(self, chance: float) -> bool:
        return self.by.random() < chance

    def some(self, low: float, high: float, *, edges: tuple[float, ...] = ()) -> float:
        """A number from a range, rounded as people write; now and then one at an edge."""
        if edges and self.yes(0.02):
            return self.by.choice(edges)
        return round(self.by.uniform(low, high), self.by.choice((0, 1, 2))) or low

    def length(self, low: float, high: float) -> Any:
        mm = self.some(low, high, edges=(0, 0.05, low, high, 2 * high))
        if self.yes(0.05):
            return f"{self.by.randint(1, 9)}/{self.by.choice((4, 8, 16))} in"
        return f"{mm} mm" if self.yes(0.05) else mm

    def size(self, across: float) -> Table:
        shape = self.shape if self.yes(0.8) else self.by.choice(("circle", "rectangle", "sides"))
        if shape == "circle":
            return {"circle": round(across, 1)}
        more: Table = (
            {"corner_radius": self.some(0.02, across / 15, edges=(across,))} if self.yes(0.4) else {}
        )
        if shape == "rectangle":
            return {"rectangle": [round(across, 1), round(across * self.by.choice((1, 0.8)), 1)], **more}
        key = self.by.choice(("across_flats", "across_corners"))
        return {"sides": self.corners, key: round(across, 1), **more}

    def small(self, across: float) -> Table:
        """A cut: somewhere, or several on a circle."""
        cut = self.size(max(0.5, across))
        if self.yes(0.3):
            cut["around"] = {"count": self.by.randint(1, 6), "circle": self.length(5, self.across / 2)}
        elif self.yes(0.3):
            cut["at"] = [self.some(-self.across / 5, self.across / 5), self.some(-9, 9)]
        if self.yes(0.2):
            cut["turn"] = self.some(-180, 180, edges=(0, 90, 360))
        return cut

    def lamp(self) -> Table:
        lamp: Table = {"name": self.by.choice(("Lamp", "Lämpchen", "a, b; c", "Nr. 7"))}
        if self.yes(0.3):
            lamp["unit"] = self.by.choice(("mm", "cm")) if self.yes(0.1) else "mm"
        if self.yes(0.3):
            lamp["cutter"] = self.length(0.2, 8)
        if self.yes(0.3):
            lamp["clearance"] = self.length(0, 1)
        lamp["materials"] = self.materials()
        lamp["layer"] = self.stack()
        if self.yes(0.2):
            lamp["post"] = [self.post(k) for k in range(self.by.randint(1, 2))]
        core = self.yes(0.6)
        if core:
            lamp["core"] = self.core()
        lamp["light"] = [self.light(core) for _ in range(self.by.choice((1, 1, 1, 2)))]
        for key, make, chance in (
            ("feet", self.feet, 0.3), ("eye", self.eyes, 0.3), ("surface", self.surface, 0.2),
            ("cable", self.cable, 0.2), ("supply", self.supply, 0.2), ("glue", self.glue, 0.2),
        ):  # fmt: skip
            if self.yes(chance):
                lamp[key] = make()
        if self.yes(0.2):
            lamp["pendant"] = {"underside": self.length(300, 1800)}
            lamp["cord"] = {"diameter": self.length(3, 9)} if self.yes(0.8) else {}
        return lamp

    def materials(self) -> Table:
        wood = {"wood": self.by.choice(("ash", "white oak", "walnut")), "sold": self.length(3, 30)}
        plate: Table = {"acrylic": self.by.choice(("clear", "opal", "clear")), "sold": self.length(2, 10)}
        if plate["acrylic"] == "clear":
            plate["finish"] = self.by.choice(("clear", "sanded", {"top": "sanded"}, {"edge": "sanded"}))
        if self.yes(0.2):
            plate["measured"] = self.length(2, 10)
        rod = self.by.choice(
            ({"metal": "aluminium"}, {"metal": "brass"}, {"wood": "beech"}, {"acrylic": "clear"})
        )
        return {"wood": wood, "plate": plate, "rod": rod}

    def stack(self) -> list[Table]:
        across, layers = self.across, []
        for place in range(self.by.randint(1, 7)):
            layers.append(self.layer(place, across))
            across = max(8.0, across + self.by.choice((0, 0, -4, -12, 5, -across / 3)))
        return layers

    def layer(self, place: int, across: float) -> Table:
        plate = place % 2 == 1 if self.yes(0.8) else self.yes(0.5)
        self.names.append(f"{'plate' if plate else 'ring'} {place + 1}")
        layer: Table = {"name": self.names[-1], "material": "plate" if plate else "wood"}
        layer["outline"] = self.size(across if not plate else across - self.by.choice((8, 12, 0, -3)))
        if self.yes(0.1):
            layer["repeat"] = self.by.randint(2, 4)
            layer["step"] = {"size": self.some(-10, 5, edges=(0,)), "turn": self.some(-30, 30, edges=(0,))}
        if self.yes(0.6 if not plate else 0.1):
            layer["wall"] = self.length(2, across / 3)
        if self.yes(0.25 if not plate else 0.5):
            layer["opening"] = [
                self.small(self.by.uniform(2, across / 5)) for _ in range(self.by.choice((1, 1, 2)))
            ]
        if self.yes(0.35 if not plate else 0.08):
            layer["recess"] = [self.recess(across) for _ in range(self.by.choice((1, 1, 1, 2)))]
        if self.yes(0.2):
            along = [key for key in ("recess", "outline", "opening") if key in layer]
            layer["groove"] = self.groove(self.by.choice(along))
        if self.yes(0.2):
            layer["chamfer"] = self.chamfer()
        if self.yes(0.12):
            layer["bore"] = {"diameter": self.length(1, 4), "bearing": self.some(0, 360, edges=(0, 180))}
        if self.yes(0.02):
            layer["around"] = {"count": self.by.randint(1, 6), "circle": self.length(10, across)}
        if self.yes(0.2):
            layer["turn"] = self.some(-90, 90, edges=(0, 45, 180))
        return layer

    def recess(self, across: float) -> Table:
        recess: Table = {"depth": self.length(0.5, 2.5)}
        if self.yes(0.15):
            recess["face"] = self.by.choice(("top", "underside"))
        if self.yes(0.2):
            recess["outline"] = self.size(self.by.uniform(3, across))
        elif self.yes(0.2):
            recess["clearance"] = self.length(0, 1)
        return recess

    def groove(self, along: str) -> Table:
        groove: Table = {"along": along}
        for key, low, high in (("distance", 0.2, 4), ("width", 0.3, 3), ("depth", 0.2, 1.5)):
            if self.yes(0.4):
                groove[key] = self.length(low, high)
        if self.yes(0.1):
            groove["face"] = "underside"
        return groove

    def chamfer(self) -> Table:
        edge = self.by.choice(
            ("top outer", "underside outer", "top opening", "underside opening", ["top outer", "top opening"])
        )
        chamfer: Table = {"edge": edge, "width": self.length(0.3, 4)}
        if self.yes(0.3):
            chamfer["angle"] = self.some(10, 80, edges=(1, 45, 89))
        return chamfer

    def post(self, number: int) -> Table:
        post: Table = {"name": f"post {number}", "material": "rod", "outline": {"circle": self.some(2, 8)}}
        if self.yes(0.5):
            post["around"] = {"count": self.by.randint(1, 5), "circle": self.length(10, self.across)}
        low, high = sorted((self.by.randrange(len(self.names)), self.by.randrange(len(self.names))))
        return post | {"from": self.names[low], "to": self.names[high]}

    def core(self) -> Table:
        core: Table = {"material": "rod", "outline": {"circle": self.some(4, self.across / 3)}}
        if self.yes(0.2):
            core["outline"] = self.size(self.across / 4)
        if self.yes(0.4):
            core["wall"] = self.length(0.5, 4)
        if self.yes(0.3):
            core["height"] = self.length(10, 120)
        if self.yes(0.2):
            core[self.by.choice(("stands_on", "hangs_from"))] = self.by.choice(self.names)
        return core

    def light(self, core: bool) -> Table:
        kind = self.by.choice(("helix", "runs") if core and self.yes(0.8) else ("ring", "panel", "diode"))
        layout: Table = {
            "helix": lambda: {"pitch": self.length(8, 40)} | ({"turns": self.some(0.3, 5)} if self.yes(0.4) else {}),
            "runs": lambda: {"count": self.by.randint(1, 5)},
            "ring": lambda: {"diameter": self.length(10, self.across), "count": self.by.randint(1, 24)}
            | ({"facing": self.by.choice(("in", "up", "down", "out"))} if self.yes(0.5) else {}),
            "panel": lambda: {"columns": self.by.randint(1, 5), "rows": self.by.randint(1, 5)},
            "diode": lambda: {"tilt": self.some(0, 80, edges=(0, 90))} if self.yes(0.3) else {},
        }[kind]()  # fmt: skip
        if kind in ("ring", "panel", "diode") and self.yes(0.3):
            layout["on"] = self.by.choice(self.names)
        light: Table = {kind: layout}
        strip = kind in ("helix", "runs")
        for key, value in (
            ("leds_per_metre" if strip else "beam", self.some(30, 120, edges=(1, 170))),
            ("watts_per_metre" if strip else "watts", self.some(0.1, 12, edges=(0, 0.001))),
            ("milliamps", self.some(1, 400, edges=(0, 0, 1e-6))),
            ("volts", self.by.choice((5, 12, 24, 3.3))),
            ("lumens", self.some(1, 40, edges=(0, 1e-6))),
            ("colour_temperature", self.some(1800, 7000, edges=(1000,))),
            ("face", [self.length(0.5, 5), self.length(0.5, 5)]),
            ("beam", self.some(5, 180, edges=(1, 180))),
        ):  # fmt: skip
            if self.yes(0.2):
                light[key] = value
        if "milliamps" in light:
            light.pop("watts", None), light.pop("watts_per_metre", None)
        return light

    def feet(self) -> Table:
        return {"count": self.by.randint(1, 6)} | (
            {"circle": self.length(5, self.across)} if self.yes(0.5) else {}
        )

    def eyes(self) -> list[Table]:
        return [
            {"name": f"eye {k}", "distance": self.length(50, 4000), "height": self.length(100, 2200)}
            for k in range(self.by.randint(1, 3))
        ]

    def surface(self) -> Table:
        return {"diameter": self.length(100, 1500), "height": self.length(0, 1000)}

    def cable(self) -> Table:
        return {"length": self.length(100, 5000), "diameter": self.length(1, 8)} | (
            {"plug": self.length(2, 15)} if self.yes(0.3) else {}
        )

    def supply(self) -> Table:
        return {"adapter": self.some(0.1, 5, edges=(0, 1e-6))} | (
            {"fuse": self.some(0.1, 5, edges=(0,))} if self.yes(0.5) else {}
        )

    def glue(self) -> Table:
        return {"loose": [self.by.choice(self.names)]} if self.yes(0.7) else {"acrylic": "epoxy"}
