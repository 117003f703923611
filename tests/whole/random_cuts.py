"""Outlines, layers and what is cut into them, by chance: rings with plates let into them, a base and a cap."""

from typing import Any

from tests.whole.chance import Chance, Table

_DRAWINGS = {"leaf.svg": 120.0, "plate.svg": 150.0, "plate.dxf": 110.0}
"""The drawings beside the lamps, and how wide they are at their narrowest [mm]."""


class Cuts:
    """The stack of one lamp; ``inner`` is how wide all its rings are open at least [mm]."""

    def __init__(self, chance: Chance) -> None:
        self.chance = chance
        self.shape = chance.one("circle", "circle", "rectangle", "sides", "sides", "curve")
        self.drawing = chance.one(*_DRAWINGS)
        self.origin = chance.one(None, None, "middle", "file")
        self.across = _DRAWINGS[self.drawing] if self.shape == "curve" else chance.some(60, 220)
        self.wall = chance.some(0.1 * self.across, 0.22 * self.across)
        self.inner = self.across - 2 * self.wall - 16
        self.corners = chance.one(3, 4, 5, 6, 8, 12)
        self.names: list[str] = []
        self._outlines: Table = {}

    def named(self) -> Table:
        """Outlines under names, which layers then use."""
        chance = self.chance
        if chance.yes(0.3):
            self._outlines["ring"] = self.outline(self.across)
            if chance.yes(0.5):
                self._outlines["smaller"] = {"like": "ring", "inset": chance.length(0.5, 3)}
            if chance.yes(0.2):
                self._outlines["turned"] = {"like": "ring", "turn": chance.angle()}
        return self._outlines

    def outline(self, across: float) -> Table:
        """A shape so wide at its narrowest [mm]."""
        chance = self.chance
        shape = self.shape if chance.yes(0.9) else chance.one("circle", "rectangle", "sides")
        if shape == "circle":
            return {"circle": chance.written(across)}
        if shape == "curve":
            return self._drawn(across)
        more = chance.optional(0.3, corner_radius=lambda: chance.length(1, max(1.01, across / 12)))
        if chance.yes(0.03):
            more["turn"] = chance.one(0, 15, 90)
        if shape == "rectangle":
            return {
                "rectangle": [chance.written(across * chance.one(1, 1, 1.3)), chance.written(across)],
                **more,
            }
        if chance.yes(0.3):
            return {"sides": self.corners, "across_corners": chance.written(across * 1.15), **more}
        return {"sides": self.corners, "across_flats": chance.written(across), **more}

    def _drawn(self, across: float) -> Table:
        """The lamp's drawing, as much smaller on every side as it takes to be so wide."""
        chance = self.chance
        inset = (_DRAWINGS[self.drawing] - across) / 2
        drawn: Table = {"curve": self.drawing, "unit": "mm"}
        if inset > 0.01:
            drawn["inset"] = chance.written(inset)
        if self.drawing == "plate.svg":
            drawn["pick"] = "large"
        return drawn | ({"origin": self.origin} if self.origin else {})

    def stack(self) -> list[Table]:
        """The layers from the bottom up: a base, tiers, mostly a cap; or one plate alone."""
        chance, layers = self.chance, []
        tiers = chance.one(0, 1, 1, 1, 2, 2)
        layers.append(self._layer("base", "wood", self.across, closed=True))
        across = self.across
        for tier in range(tiers):
            layers.append(self._ring(f"ring {tier + 1}", across))
            layers.append(self._plate(f"plate {tier + 1}", across))
            across -= chance.one(0, 0, 2, 4)
        if chance.yes(0.25):
            layers.append(self._spacers())
        if chance.yes(0.8):
            layers.append(self._layer("cap", chance.one("wood", "wood", "board"), across, closed=True))
        return layers

    def _layer(self, name: str, material: str, across: float, *, closed: bool = False) -> Table:
        chance = self.chance
        self.names.append(name)
        layer: Table = {"name": name, "material": material}
        use_named = "ring" in self._outlines and across == self.across and material == "wood"
        layer["outline"] = chance.one(*self._outlines) if use_named else self.outline(across)
        if closed and chance.yes(0.2):
            layer["bore"] = {"diameter": chance.length(3, 5)} | chance.optional(
                0.3, bearing=chance.angle, length=lambda: chance.length(5, across / 2), height=lambda: chance.length(4, 5)
            )  # fmt: skip
        if closed and chance.yes(0.25):
            layer["opening"] = self._hole(4, min(12, across / 6))
        layer |= chance.optional(
            0.05,
            turn=chance.angle,
            grain=chance.angle,
            thickness=lambda: chance.length(10, 30) if material != "plate" else chance.length(3, 10),
        )
        if chance.yes(0.15):
            layer["chamfer"] = self._chamfer(opened=False)
        if closed and chance.yes(0.08):
            layer |= self.repeated(chance.one(1, 2, 3))
        return layer

    def _ring(self, name: str, across: float) -> Table:
        chance = self.chance
        ring = self._layer(name, "wood", across)
        ring["wall"] = chance.written(self.wall)
        if chance.yes(0.75):
            ring["recess"] = {"depth": chance.length(0.8, 2.5)} | chance.optional(
                0.08, clearance=lambda: chance.length(0, 0.6), face=lambda: "top"
            )
            if chance.yes(0.25):
                ring["groove"] = self._groove(chance.one("recess", "outline", "opening"))
        if chance.yes(0.2):
            ring["chamfer"] = self._chamfer(opened=True)
        if chance.yes(0.08):
            pins = {
                "depth": chance.length(2, 6), "outline": {"circle": chance.length(3.5, 4.5)},
                "face": chance.one("top", "underside"),
                "around": self._around(across - self.wall, 6),
            }  # fmt: skip
            ring["recess"] = [*([ring["recess"]] if "recess" in ring else []), pins]
        return ring

    def _plate(self, name: str, across: float) -> Table:
        chance = self.chance
        ledge = chance.some(2, max(2.1, self.wall - 4))
        plate = self._layer(name, "plate", across - 2 * self.wall + 2 * ledge)
        plate["opening"] = {"circle": chance.written(max(8.0, 0.5 * self.inner))}
        if chance.yes(0.1):
            plate["opening"] = [
                plate["opening"],
                self._hole(3, 5) | {"around": self._around(0.8 * self.inner, 5)},
            ]
        if chance.yes(0.15):
            plate["finish"] = chance.one(
                "sanded", "clear", {"top": "sanded"}, {"edge": "sanded", "underside": "clear"}
            )
        return plate

    def _spacers(self) -> Table:
        chance = self.chance
        self.names.append("spacers")
        return {
            "name": "spacers", "material": chance.one("rod", "wood"), "thickness": chance.length(4, 20),
            "outline": {"circle": chance.length(6, 9)}, "around": self._around(self.across - self.wall, 9),
        }  # fmt: skip

    def _around(self, circle: float, wide: float) -> Table:
        most = max(1, int(2.5 * circle / wide))
        return {
            "count": self.chance.one(1, 2, 3, min(4, most), min(6, most)),
            "circle": self.chance.written(circle),
        } | (self.chance.optional(0.2, first=self.chance.angle))

    def _hole(self, low: float, high: float) -> Table:
        chance = self.chance
        hole: Table = {"circle": chance.length(low, high)}
        if chance.yes(0.3):
            hole = {"rectangle": [chance.length(low, high), chance.length(low, high)]}
        if chance.yes(0.3):
            hole["at"] = [chance.length(-self.across / 6, self.across / 6), chance.length(-5, 5)]
        if chance.yes(0.1):
            hole["turn"] = chance.angle()
        return hole

    def _groove(self, along: str) -> Table:
        chance = self.chance
        return {"along": along} | chance.optional(
            0.3, distance=lambda: chance.length(0.4, 2), width=lambda: chance.length(0.5, 2),
            depth=lambda: chance.length(0.3, 1), face=lambda: chance.one("top", "underside"),
        )  # fmt: skip

    def _chamfer(self, *, opened: bool) -> Table:
        chance = self.chance
        edges: tuple[Any, ...] = ("top outer", "underside outer", ["top outer", "underside outer"])
        if opened:
            edges += ("top opening", "underside opening", ["top opening", "top outer"])
        return {"edge": chance.one(*edges), "width": chance.length(0.3, 2)} | chance.optional(
            0.3, angle=lambda: chance.some(20, 60)
        )

    def repeated(self, times: int) -> Table:
        """Keys of a layer or a group that is placed several times."""
        chance = self.chance
        step = chance.optional(
            0.4, size=lambda: chance.length(-3, 3), turn=chance.angle, grain=chance.angle,
            thickness=lambda: chance.length(-1, 1),
        )  # fmt: skip
        return {"repeat": times} | ({"step": step} if step else {}) | chance.optional(0.1, first={"turn": 10})
