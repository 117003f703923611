"""Materials, and all that is about a lamp: feet, cord, cable, glue, sheets, workshop, room and eyes, by chance."""

from stackview.description.limits_table import known_limits
from tests.whole.chance import Chance, Table
from tests.whole.random_cuts import Cuts


class Rest:
    """What a lamp's file says beside its stack and its light."""

    def __init__(self, chance: Chance) -> None:
        self.chance = chance

    def materials(self) -> Table:
        chance = self.chance
        some = chance.optional
        wood = {"wood": chance.one("ash", "white oak", "walnut", "cherry"), "sold": chance.length(8, 25)} | some(
            0.08, measured=lambda: chance.length(8, 25), sawn=lambda: chance.one("flat", "quarter"),
            radial=lambda: chance.some(0.001, 0.003), tangential=lambda: chance.some(0.002, 0.005),
            density=lambda: chance.some(300, 900), price=lambda: chance.one("38 per m2", "4.50 per ft2", "9 per kg"),
        )  # fmt: skip
        plate: Table = {
            "acrylic": chance.one("clear", "opal", "clear"),
            "sold": chance.length(2.5, 8),
        } | some(
            0.1,
            measured=lambda: chance.length(2.5, 8),
            sheet=lambda: chance.one("cast", "extruded"),
            price="60 per m2",
        )
        if plate["acrylic"] == "opal":
            plate |= some(0.2, transmission=lambda: chance.some(0.05, 0.9), haze=lambda: chance.some(0, 1))
        elif chance.yes(0.6):
            plate["finish"] = chance.one(
                "sanded", "sanded", "clear", {"top": "sanded"}, {"edge": "sanded", "underside": "sanded"}
            )
            plate |= some(0.2, roughness=lambda: chance.some(0.05, 0.6))
        board = {
            **chance.one({"plywood": "birch"}, {"board": "MDF"}, {"plastic": "PVC", "density": 1400, "colour": "#806040"}),
            "sold": chance.length(6, 18), **some(0.1, coat=lambda: chance.one("paint", "mirror")),
        }  # fmt: skip
        if board.get("coat") == "paint":
            board["colour"] = "#336699"
        board |= some(0.08, reflects=lambda: chance.some(0.05, 0.9))
        rod = chance.one({"metal": "aluminium"}, {"metal": "brass"}, {"wood": "beech"})
        return {"wood": wood, "plate": plate, "board": board, "rod": rod, "clear rod": {"acrylic": "clear"}}

    def around(self, cuts: Cuts) -> Table:
        """Tables beside stack and light; a lamp stands or hangs."""
        chance, made = self.chance, {}
        if chance.yes(0.15):
            made["pendant"] = {"underside": chance.length(500, 1800)}
            made["cord"] = self._cord()
        else:
            if chance.yes(0.25):
                made["feet"] = self._feet(cuts)
            if chance.yes(0.2):
                made["surface"] = self._surface()
            if chance.yes(0.2):
                made["cable"] = self._cable()
        climates = chance.yes(0.1)
        for key, share, make in (
            ("eye", 0.4, self._eyes), ("supply", 0.15, self._supply), ("router", 0.15, self._router),
            ("finishing", 0.15, self._finishing), ("limits", 0.15, self._limits),
        ):  # fmt: skip
            if chance.yes(share):
                made[key] = make()
        if chance.yes(0.15):
            made["glue"] = self._glue(cuts)
        if chance.yes(0.15):
            made["wiring"] = chance.optional(
                0.5, tail=lambda: chance.length(50, 300), join=lambda: chance.one("solder", "connector"),
                joined_in=cuts.names[0],
            )  # fmt: skip
        if chance.yes(0.12):
            made["sheet"] = [self._sheet(cuts, number) for number in range(chance.one(1, 2))]
        if climates:
            made |= {"climate": ["attic", "dry winter room"], "climates": self._climates()}
        made["glues"] = {"own glue": self._own_glue()}
        made["ports"] = {"bench": {"amps": chance.some(0.5, 5)} | chance.optional(0.3, volts=lambda: 12)}
        return made

    def _feet(self, cuts: Cuts) -> Table:
        chance = self.chance
        return {"count": chance.by.randint(3, 6)} | chance.optional(
            0.25, circle=lambda: chance.length(cuts.across / 2, 0.8 * cuts.across), diameter=lambda: chance.length(6, 15),
            height=lambda: chance.length(2, 9), material=lambda: "wood", first=chance.angle, price="0.50 per piece",
        )  # fmt: skip

    def _cord(self) -> Table:
        chance = self.chance
        return chance.optional(
            0.3, diameter=lambda: chance.length(4, 8), length=lambda: chance.length(300, 2500), wire="AWG 20",
            strain_relief=lambda: chance.one(True, False), price="3 per m", at=lambda: [chance.length(-3, 3), 0],
        )  # fmt: skip

    def _surface(self) -> Table:
        chance = self.chance
        return chance.one(
            {"diameter": chance.length(400, 1500)}, {"size": [chance.length(400, 2000), chance.length(300, 900)]}, {}
        ) | chance.optional(
            0.4, height=lambda: chance.length(200, 1000), at=lambda: [chance.length(-90, 90), chance.length(-90, 90)]
        )  # fmt: skip

    def _cable(self) -> Table:
        chance = self.chance
        return chance.optional(
            0.4, length=lambda: chance.length(500, 5000), diameter=lambda: chance.length(3, 4.5),
            plug=lambda: chance.length(4, 9),
            wire=lambda: chance.one("0.5 mm2", "AWG 22", "0.75 mm2"), strain_relief=lambda: chance.one(True, False),
            price="1.20 per m",
        )  # fmt: skip

    def _eyes(self) -> list[Table]:
        chance = self.chance
        return [
            {"name": f"eye {k}", "distance": chance.length(400, 4000), "height": chance.length(800, 1900)}
            for k in range(chance.by.randint(1, 2))
        ]

    def _supply(self) -> Table:
        chance = self.chance
        return chance.optional(
            0.5, adapter=lambda: chance.some(0.5, 5), fuse=lambda: chance.some(0.5, 5), price="9 per piece"
        )

    def _router(self) -> Table:
        chance = self.chance
        return chance.optional(
            0.5, flutes=lambda: chance.one(1, 2, 3), least_rpm=lambda: chance.some(5000, 10000),
            groove=lambda: chance.length(0.4, 2),
            most_rpm=lambda: chance.some(15000, 30000), outline=lambda: chance.length(2, 6),
        )  # fmt: skip

    def _finishing(self) -> Table:
        chance = self.chance
        return chance.optional(
            0.4, wood=lambda: chance.one("hard wax oil", "shellac", "none"), coats=lambda: chance.one(1, 2, 3),
            hours=lambda: chance.some(1, 24), wood_grits=[120, 180], acrylic_grits=[240, 400],
        )  # fmt: skip

    def _limits(self) -> Table:
        chance = self.chance
        limit = chance.one(*known_limits().values())
        value = chance.one(limit.low, limit.high, limit.value)
        return {limit.name: f"{value} mm" if limit.unit == "mm" else value}

    def _glue(self, cuts: Cuts) -> Table:
        chance = self.chance
        return chance.optional(
            0.4, wood=lambda: chance.one("wood glue", "epoxy", "own glue"), acrylic=lambda: chance.one("epoxy", "own glue"),
            other="epoxy", loose=lambda: [chance.one(*cuts.names)],
        )  # fmt: skip

    def _own_glue(self) -> Table:
        chance = self.chance
        kinds = ["wood", "plywood", "board", "acrylic", "metal", "plastic"]
        return {"film": chance.length(0.05, 0.5), "grips": kinds} | chance.optional(
            0.2, on_acrylic=lambda: chance.one("clean", "crazes", "fogs"), stretch=lambda: chance.some(0, 1),
            index=lambda: chance.some(1.3, 1.6), hottest=lambda: chance.some(40, 120), clear=lambda: chance.one(True, False),
            price="0.05 per ml", open_minutes=lambda: chance.some(2, 30), clamp_minutes=lambda: chance.some(5, 90),
            cure_hours=lambda: chance.some(1, 48),
        )  # fmt: skip

    def _sheet(self, cuts: Cuts, number: int) -> Table:
        chance = self.chance
        wide = 2.2 * cuts.across + 40
        sheet: Table = {"material": chance.one("wood", "plate") if number else "wood"}
        if chance.yes(0.85):
            sheet["size"] = [chance.length(wide, 2 * wide), chance.length(wide, 2 * wide)]
        else:
            sheet["outline"] = {
                "rectangle": [chance.written(wide), chance.written(wide)],
                "corner_radius": chance.written(10),
            }
        if chance.yes(0.4):
            sheet["zone"] = [
                {
                    "outline": {"circle": chance.length(5, 20)},
                    "at": [chance.length(20, 60), chance.length(20, 60)],
                }
                | chance.optional(0.5, name="knot")
            ]
        return sheet | chance.optional(
            0.25, name=f"offcut {number}", grain=lambda: chance.one(0, 90), margin=lambda: chance.length(0, 10),
            count=lambda: chance.one(1, 2, 5), price="20 per piece",
        ) | chance.optional(0.04, thickness=lambda: chance.length(8, 25))  # fmt: skip

    def _climates(self) -> Table:
        chance = self.chance
        return {
            "attic": {"temperature": chance.some(-5, 45), "humidity": chance.some(15, 90)}
        } | chance.optional(0.3, workshop={"temperature": 19, "humidity": 45})
