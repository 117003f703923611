"""Layers as drafted → layers as values, before recesses are fitted to their neighbours."""

import math
from dataclasses import replace

from stackview.description import defaults
from stackview.description.context import Context, mm_or
from stackview.description.faults import place
from stackview.description.lamp import Bore, Chamfer, Groove, Layer, Opening, Recess
from stackview.description.material import Material
from stackview.description.outline import Around, Outline
from stackview.description.resolve_materials import resolve_finish
from stackview.description.resolve_outline import resolve_around, resolve_outline
from stackview.description.stack_order import Draft
from stackview.description.written_fields import GREATEST_SIZE, LEAST_SIZE
from stackview.description.written_layer import WrittenOpening, WrittenRecess


def cut_layer(context: Context, draft: Draft) -> Layer | None:
    """One layer with everything cut into it but its fitted recesses; None after a fault.

    Its turn is its own and its steps': a layer that seats in a recess takes its host's later.
    """
    written = draft.written
    material = context.material(written.material, place(draft.entry, "material"))
    outline = resolve_outline(context, written.outline, place(draft.entry, "outline"))
    around = resolve_around(written.around)
    openings = [_opening(context, draft, index, each) for index, each in enumerate(written.opening)]
    recesses = [
        made
        for index, each in enumerate(written.recess)
        if each.outline is not None
        for made in _cut_recess(context, draft, index, each)
    ]
    if material is None or outline is None:
        return None
    thickness = _thickness(context, draft, material)
    finish = resolve_finish(written.finish, material.kind, place(draft.entry, "finish"), context.faults)
    if thickness is None:
        return None
    outline, around = _stepped(draft, outline, around)
    wall = [_wall(context, outline, written.wall.mm)] if written.wall else []
    return Layer(
        name=draft.name,
        material=material,
        thickness=thickness,
        outline=outline,
        around=around,
        openings=_with_main(wall, [opening for opening in openings if opening]),
        recesses=tuple(recesses),
        grooves=_grooves(draft),
        chamfers=_chamfers(draft),
        bores=_bores(draft, thickness),
        turn=written.turn + draft.change.turn,
        grain=(defaults.GRAIN.number if written.grain is None else written.grain) + draft.change.grain,
        finish=finish or material.finish,
        written=draft.written.thickness or material.measured or material.sold,
    )


def _thickness(context: Context, draft: Draft, material: Material) -> float | None:
    base = draft.written.thickness.mm if draft.written.thickness else material.thickness
    if base is None:
        context.faults.absent(
            place(draft.entry, "thickness"),
            f'has no thickness, nor has its material "{material.name}": add thickness = … here, '
            "or sold = … to the material",
        )
        return None
    # acrylic is cut from sheet of one thickness, so a step cannot thin it
    thickness = base if material.is_acrylic else base + draft.change.thickness
    if LEAST_SIZE <= thickness <= GREATEST_SIZE:
        return thickness
    least, most = context.units.least(LEAST_SIZE), context.units.most(GREATEST_SIZE)
    context.faults.add(
        place(draft.where, "step", "thickness"),
        f"leaves {context.say(thickness)}, not {least} to {most}: a smaller step, or fewer copies",
        once=(draft.entry, "thin"),
    )
    return None


def _stepped(draft: Draft, outline: Outline, around: Around | None) -> tuple[Outline, Around | None]:
    """Outline and copies after the size step: separate pieces keep their size and move in or out."""
    if around is not None:
        return outline, replace(around, circle=around.circle + draft.change.size)
    return (outline.grown(draft.change.size / 2) if draft.change.size else outline), None


def _wall(context: Context, outline: Outline, wall: float) -> Opening:
    return Opening(cut_to(context, outline.grown(-wall)), main=True)


def cut_to(context: Context, outline: Outline) -> Outline:
    """The outline as the cutter leaves it inside a part; a round hole has no corners."""
    return outline if outline.radius is not None else replace(outline, cutter_radius=context.cutter_radius)


def _with_main(wall: list[Opening], openings: list[Opening]) -> tuple[Opening, ...]:
    """Without a wall, the first single opening is the one whose edges are bevelled."""
    if wall:
        return (*wall, *openings)
    single = next((index for index, opening in enumerate(openings) if opening.around is None), None)
    return tuple(replace(opening, main=index == single) for index, opening in enumerate(openings))


def numbered(field: str, index: int, many: int) -> str:
    """``recess`` where there is one, ``recess 2`` where there are several."""
    return f"{field} {index + 1}" if many > 1 else field


def _opening(context: Context, draft: Draft, index: int, written: WrittenOpening) -> Opening | None:
    where = place(draft.entry, numbered("opening", index, len(draft.written.opening)))
    outline = resolve_outline(context, written, where)
    return Opening(cut_to(context, outline), resolve_around(written.around)) if outline else None


def _cut_recess(context: Context, draft: Draft, index: int, written: WrittenRecess) -> list[Recess]:
    """A recess cut as given; several around the axis become as many recesses."""
    assert written.outline is not None
    where = place(draft.entry, numbered("recess", index, len(draft.written.recess)), "outline")
    outline = resolve_outline(context, written.outline, where)
    if outline is None:
        return []
    clearance = mm_or(written.clearance, 0.0)
    edge = cut_to(context, outline.grown(clearance) if clearance else outline)
    around = resolve_around(written.around)
    places = [edge] if around is None else copies(edge, around)
    return [Recess(written.face, written.depth.mm, each, clearance) for each in places]


def copies(outline: Outline, around: Around) -> list[Outline]:
    """Each copy of an outline: moved to the front of the circle, then turned by its bearing."""
    front = replace(outline, at=(outline.at[0], outline.at[1] - around.circle / 2))
    return [
        turned_about_axis(front, around.first + 360.0 * index / around.count) for index in range(around.count)
    ]


def turned_about_axis(outline: Outline, by: float) -> Outline:
    """The outline turned by ``by`` [°] about the lamp's axis, its place with it."""
    if by == 0.0:
        return outline
    cos, sin = math.cos(math.radians(by)), math.sin(math.radians(by))
    x, y = outline.at
    return replace(outline, turn=outline.turn + by, at=(x * cos - y * sin, x * sin + y * cos))


def _grooves(draft: Draft) -> tuple[Groove, ...]:
    return tuple(
        Groove(
            face=groove.face,
            along=groove.along,
            distance=mm_or(groove.distance, defaults.GROOVE_DISTANCE.number),
            width=mm_or(groove.width, defaults.GROOVE_WIDTH.number),
            depth=mm_or(groove.depth, defaults.GROOVE_DEPTH.number),
        )
        for groove in draft.written.groove
    )


def _chamfers(draft: Draft) -> tuple[Chamfer, ...]:
    return tuple(
        Chamfer(edge, each.width.mm, defaults.CHAMFER_ANGLE.number if each.angle is None else each.angle)
        for each in draft.written.chamfer
        for edge in dict.fromkeys(each.edge)
    )


def _bores(draft: Draft, thickness: float) -> tuple[Bore, ...]:
    return tuple(
        Bore(
            diameter=bore.diameter.mm,
            height=mm_or(bore.height, thickness / 2),
            bearing=defaults.BORE_BEARING.number if bore.bearing is None else bore.bearing,
            length=bore.length.mm if bore.length else None,
        )
        for bore in draft.written.bore
    )
