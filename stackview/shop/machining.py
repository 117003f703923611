"""Machining as steps: every different part with its faces, cutters, flips and what locates them."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stackview.description.cutting_table import cutting_ranges
from stackview.description.lamp import CoreHole, FaceSide, Layer
from stackview.description.units import Units
from stackview.description.workshop import Router
from stackview.shop.cut_part import CutPart
from stackview.shop.cutting_figures import CuttingFigures, cutting_figures, passes
from stackview.shop.listed import ListedPart
from stackview.shop.parts_list import grain_words
from stackview.shop.step import WorkStep
from stackview.shop.stock import RodStock, stock_of
from stackview.shop.work import Work, work_on

if TYPE_CHECKING:
    from stackview.study import Study

_OTHER: dict[FaceSide, FaceSide] = {"top": "underside", "underside": "top"}


@dataclass
class AskedFigures:
    """The cutting figures that the steps have asked for, each material and cutter once."""

    router: Router
    found: dict[tuple[str, float], CuttingFigures] = field(default_factory=dict)

    def of(self, layer: Layer, diameter: float) -> CuttingFigures:
        """How a layer's material is cut with a cutter of that diameter [mm]."""
        key = (layer.material.kind, round(diameter, 6))
        if key not in self.found:
            self.found[key] = cutting_figures(cutting_ranges()[layer.material.kind], diameter, self.router)
        return self.found[key]


def machining_steps(
    study: "Study", parts: tuple[CutPart, ...], listed: tuple[ListedPart, ...], figures: AskedFigures
) -> Iterator[WorkStep]:
    """A step for every different part, then one for each length of rod, tube or bar."""
    units = study.lamp.units
    for part in parts:
        yield _cut(study, part, figures)
    for line in listed:
        if line.work is None:
            yield _to_length(study, line, units)


def _cut(study: "Study", part: CutPart, figures: AskedFigures) -> WorkStep:
    layer, units = part.layer, study.lamp.units
    work = work_on(layer, units, study.lamp.cutter)
    if isinstance(stock_of(layer), RodStock):
        do, tools = _from_rod(layer, work, units), ["saw", "drill"]
    else:
        do, tools = _from_sheet(study, layer, work, figures)
    if part.turned_over:
        over = ", ".join(part.turned_over)
        do.append(
            f"{over} {'lies' if len(part.turned_over) == 1 else 'lie'} the other way up in the lamp: mark the top of each."
        )
    many = f"{part.count} × " if part.count > 1 else ""
    return WorkStep(
        key=f"cut {part.name}",
        phase="cut",
        title=f"Cut {many}{part.title} from {layer.material.name}: {_gist(layer, work)}",
        brief=f"{many}{part.title}" + (" (both faces)" if work.flips else ""),
        parts=part.names,
        tools=tuple(tools),
        do=tuple(do),
    )


def _gist(layer: Layer, work: Work) -> str:
    """What is cut, in a few words."""
    if isinstance(stock_of(layer), RodStock):
        return "sawn to length" + (", drilled" if layer.openings else "")
    found = []
    for side in ("top", "underside"):
        into = getattr(work, side)
        if into:
            found.append(f"{_kinds(into)} in the {side}")
    found += ["opening"] * bool(layer.openings) + ["outline"]
    found += ["chamfers"] * bool(work.chamfers) + ["bore"] * bool(work.bores)
    return ", ".join(found) + (", turned over once" if work.flips else "")


def _kinds(words: tuple[str, ...]) -> str:
    kinds = [kind for kind in ("recess", "groove") if any(kind in word.split(",")[0] for word in words)]
    return " and ".join(kinds)


def _from_rod(layer: Layer, work: Work, units: Units) -> list[str]:
    do = [f"Saw to {units.show(layer.thick)}, ends square, and deburr."]
    do += [f"Drill before sawing: {one.removesuffix(', drilled')}." for one in work.through]
    return do


def _from_sheet(
    study: "Study", layer: Layer, work: Work, figures: AskedFigures
) -> tuple[list[str], list[str]]:
    units, lamp = study.lamp.units, study.lamp
    own = figures.of(layer, lamp.cutter)
    wide = lamp.workshop.router.outline or lamp.cutter
    tools = [f"cutter {units.show(lamp.cutter)}"]
    first: FaceSide = "underside" if work.face_up == "underside" else "top"
    into = {"top": work.top, "underside": work.underside}
    both = bool(work.top and work.underside)
    grain = grain_words(layer)
    along = f", its grain {grain} as it is drawn," if grain else ""
    board = "sheet" if layer.material.is_acrylic else "board"
    do = [f"Lay the {board} with the part's {first} up{along or ','} and hold it all over."]
    do += _into(study, layer, first, into[first], figures, tools)
    if both:
        do.append(
            "Drill two holes for dowels through the waste into the board below, on the line about which the sheet "
            f"is turned; turn it over onto the dowels, which locate it, {_OTHER[first]} up."
        )
        do += _into(study, layer, _OTHER[first], into[_OTHER[first]], figures, tools)
    for one in work.through:
        drilled = "drilled" in one
        how = f", in {_many(passes(layer.thickness, own.pass_depth), 'pass')} of the cutter of {units.show(lamp.cutter)}"
        how = "" if drilled else how
        do.append(f"{'Drill' if drilled else 'Cut'} through: {one.removesuffix(', drilled')}{how}.")
        tools += ["drill"] * drilled
    deep = figures.of(layer, wide)
    do.append(
        f"Cut the outline last, with the cutter of {units.show(wide)}, in "
        f"{_many(passes(layer.thickness, deep.pass_depth), 'pass')}; tabs or tape hold the part."
    )
    tools += [f"cutter {units.show(wide)}"] * (abs(wide - lamp.cutter) > 1e-9)
    if work.chamfers:
        tools += [
            f"bevel cutter {one:.6g}° with a bearing"
            for one in dict.fromkeys(c.angle for c in layer.chamfers)
        ]
        sides = {one.edge.split()[0] for one in layer.chamfers}
        over = (
            "; turn the part over for the other face: the bearing on its edge locates it"
            if len(sides) > 1
            else ""
        )
        do.append(f"Chamfer, the bearing running on the part's edge: {'; '.join(work.chamfers)}{over}.")
    for bore in layer.bores:
        tools.append(f"drill {units.show(bore.diameter)}")
    do += [f"Clamp it on edge between two blocks and drill: bore {one}." for one in work.bores]
    return do, list(dict.fromkeys(tools))


def _into(
    study: "Study",
    layer: Layer,
    side: FaceSide,
    words: tuple[str, ...],
    figures: AskedFigures,
    tools: list[str],
) -> list[str]:
    """Recesses and grooves of one face, each with its passes."""
    units, lamp, do = study.lamp.units, study.lamp, []
    own = figures.of(layer, lamp.cutter)
    depths = [one.depth for one in layer.recesses if one.face == side]
    grooves = [one for one in layer.grooves if one.face == side]
    for one in words:
        if one.startswith("groove") or " × groove" in one:
            continue
        if "drilled" in one:
            tools.append("drill")
            do.append(f"Into the {side}, drill: {one.removesuffix(', drilled')}.")
        else:
            count = passes(max(depths, default=0.0), own.pass_depth)
            do.append(
                f"Into the {side}, with the cutter of {units.show(lamp.cutter)}: {one}, in {_many(count, 'pass')}."
            )
    for groove in grooves:
        wide = lamp.workshop.router.groove or min(groove.width, lamp.cutter)
        count = passes(groove.depth, figures.of(layer, wide).pass_depth)
        word = next(one for one in words if "groove" in one)
        tools.append(f"cutter {units.show(wide)}")
        do.append(
            f"Into the {side}, with the cutter of {units.show(wide)}: {word}, in {_many(count, 'pass')}."
        )
    return do


def _to_length(study: "Study", line: ListedPart, units: Units) -> WorkStep:
    core = study.lamp.core
    holes = core.holes if core is not None and line.names == ("core",) else ()
    many = f"{line.count} × " if line.count > 1 else ""
    do = [f"{line.shape}, {units.show(line.tall)} long: saw, dress both ends square, and deburr."]
    do += [_hole(hole, units) for hole in holes]
    if core is not None and line.names == ("core",) and any(light.on_core for light in study.lamp.lights):
        do.append("Clean it of dust and grease where the strip is to stick.")
    return WorkStep(
        key=f"cut {line.names[0]}",
        phase="cut",
        title=f"Saw {many}{line.title} from {line.material}, {units.show(line.tall)} long"
        + (f", drill {_many(len(holes), 'hole')}" if holes else ""),
        brief=f"{many}{line.title}",
        parts=line.names,
        tools=("saw", "file", *(("drill",) if holes else ())),
        do=tuple(do),
    )


def _hole(hole: CoreHole, units: Units) -> str:
    return (
        f"Drill {units.show(hole.diameter)} through the wall, its middle {units.show(hole.height)} above the lower end, "
        f"on the side of bearing {hole.bearing % 360.0:.6g}°; deburr it inside and out."
    )


def _many(count: int, word: str) -> str:
    ending = "" if count == 1 else "es" if word.endswith("s") else "s"
    return f"{count} {word}{ending}"
