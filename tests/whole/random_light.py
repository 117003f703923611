"""Core, posts, screws and light sources by chance."""

from typing import Any

from tests.whole.chance import Chance, Table
from tests.whole.random_cuts import Cuts


class Light:
    """What carries the light of one lamp, and the light."""

    def __init__(self, chance: Chance, cuts: Cuts) -> None:
        self.chance = chance
        self.cuts = cuts
        self.core: Table | None = None
        self.is_round = True

    def core_and_posts(self) -> Table:
        """The core, mostly, and now and then posts and screws."""
        chance, cuts, made = self.chance, self.cuts, {}
        if chance.yes(0.7):
            made["core"] = self.core = self._core()
        if chance.yes(0.12):
            low, high = cuts.names[0], cuts.names[-1]
            made["post"] = [
                {
                    "name": "pins", "material": "rod", "from": low, "to": chance.one(low, high),
                    "outline": {"circle": chance.length(2.5, 3.4)},
                    "around": {"count": chance.one(1, 3), "circle": chance.written(cuts.across - cuts.wall)},
                }
                | chance.optional(0.3, inset=lambda: [chance.length(0, 3), chance.length(0, 3)])
            ]  # fmt: skip
        if chance.yes(0.12) and len(cuts.names) > 1:
            made["screw"] = [
                {"name": "screws", "through": cuts.names[0], "into": cuts.names[1]}
                | chance.optional(
                    0.4, count=lambda: chance.one(1, 2, 4), diameter=lambda: chance.length(2, 5), price="0.10 per piece",
                    length=lambda: chance.length(8, 14),
                )
            ]  # fmt: skip
        return made

    def _core(self) -> Table:
        chance, cuts = self.chance, self.cuts
        across = chance.some(6, max(6.1, 0.5 * cuts.inner - 8))
        core: Table = {
            "material": chance.one("rod", "rod", "wood", "clear rod"),
            "outline": {"circle": chance.written(across)},
        }
        self.is_round = chance.yes(0.75)
        if not self.is_round:
            core["outline"] = {"sides": chance.one(3, 4, 6), "across_flats": chance.written(across)}
        if chance.yes(0.35):
            core["wall"] = chance.written(chance.some(0.8, max(0.81, across / 6)))
            if chance.yes(0.4):
                core["hole"] = {
                    "diameter": chance.length(2, 4),
                    "height": chance.length(4, 12),
                } | chance.optional(0.4, bearing=chance.angle)
        if chance.yes(0.6):
            core["height"] = chance.length(30, 90)
        if chance.yes(0.2):
            core[chance.one("stands_on", "hangs_from")] = chance.one(cuts.names[0], cuts.names[-1])
        return core | chance.optional(0.08, sunk=lambda: chance.length(0, 5))

    def lights(self) -> Table:
        """One light source, or two; a lamp may have none."""
        if self.chance.yes(0.05):
            return {}
        return {"light": [self._light(number) for number in range(self.chance.one(1, 1, 1, 2))]}

    def _light(self, number: int) -> Table:
        chance = self.chance
        strip = self.core is not None and chance.yes(0.8)
        kind = (
            chance.one("helix" if self.is_round else "runs", "runs")
            if strip
            else chance.one("ring", "panel", "diode")
        )
        light: Table = {kind: getattr(self, f"_{kind}")()}
        if number or chance.yes(0.2):
            light["name"] = f"light {number + 1}"
        light |= self._strip() if strip else {}
        light |= chance.optional(
            0.12, beam=lambda: chance.some(5, 180), face=lambda: [chance.length(0.5, 5), chance.length(0.5, 5)],
            colour_temperature=lambda: chance.some(1800, 6500), volts=lambda: chance.one(3.3, 5, 12, 24),
            port=lambda: chance.one("usb 2.0", "usb-c 3 a", "bench"), price=lambda: "12 per m" if strip else "3 per piece",
        )  # fmt: skip
        if chance.yes(0.3):
            light["lumens"] = chance.some(1, 40)
        elif chance.yes(0.3) and strip:
            light["lumens_per_metre"] = chance.some(50, 1500)
        power: tuple[Any, ...] = ("watts", "milliamps") + (("watts_per_metre",) if strip else ())
        if chance.yes(0.5):
            key = chance.one(*power)
            light[key] = chance.some(0.05, 0.5) if key == "watts" else chance.some(2, 25)
        return light

    def _strip(self) -> Table:
        chance = self.chance
        strip: Table = {"width": chance.length(4, 10), "thickness": chance.length(1, 3)}
        way = chance.one("leds_per_metre", "leds_per_metre", "spacing", "continuous", "")
        if way == "leds_per_metre":
            strip[way] = chance.one(30, 60, 60, 96, 120)
        elif way == "spacing":
            strip[way] = chance.length(8, 34)
        elif way == "continuous":
            strip |= {way: chance.one(True, True, False)}
        return strip | chance.optional(
            0.08, cut_every=lambda: chance.length(16, 50), bend_radius=lambda: chance.length(5, 40),
            hottest=lambda: chance.some(50, 90), ohms_per_metre=lambda: chance.some(0.1, 2),
            fed_at_both_ends=lambda: chance.one(True, False),
        )  # fmt: skip

    def _helix(self) -> Table:
        chance = self.chance
        return {"pitch": chance.length(14, 45)} | (
            chance.one(
                {},
                chance.optional(1, turns=lambda: chance.some(0.5, 3)),
                chance.optional(1, length=lambda: chance.length(60, 300)),
            )
            | chance.optional(
                0.2,
                start=lambda: chance.length(0, 9),
                first=chance.angle,
                hand=lambda: chance.one("left", "right"),
            )
        )

    def _runs(self) -> Table:
        chance = self.chance
        return {"count": chance.one(1, 2, 3)} | chance.optional(
            0.15, length=lambda: chance.length(20, 90), start=lambda: chance.length(0, 9), first=chance.angle
        )

    def _ring(self) -> Table:
        chance = self.chance
        return {"diameter": chance.length(10, max(11, self.cuts.inner)), "count": chance.by.randint(1, 16)} | (
            self._on() | chance.optional(
                0.3, height=lambda: chance.length(1, 9), facing=lambda: chance.one("in", "out", "up", "down"),
                first=chance.angle,
            )
        )  # fmt: skip

    def _panel(self) -> Table:
        chance = self.chance
        return {"columns": chance.by.randint(1, 4), "rows": chance.by.randint(1, 4)} | self._on() | chance.optional(
            0.25, spacing=lambda: chance.length(4, 12), facing=lambda: chance.one("up", "down"),
            at=lambda: [chance.length(-5, 5), chance.length(-5, 5)],
        )  # fmt: skip

    def _diode(self) -> Table:
        chance = self.chance
        return self._on() | chance.optional(
            0.25, facing=lambda: chance.one("up", "down"), at=lambda: [chance.length(-5, 5), chance.length(-5, 5)],
            height=lambda: chance.length(1, 9), tilt=lambda: chance.some(0, 90), bearing=chance.angle,
        )  # fmt: skip

    def _on(self) -> Table:
        return self.chance.optional(0.3, on=lambda: self.chance.one(*self.cuts.names))
