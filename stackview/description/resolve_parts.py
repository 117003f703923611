"""What goes with the layers: posts, core, feet, cord, surface, pendant and eyes."""

from collections.abc import Sequence

from stackview.description import defaults
from stackview.description.context import Context, mm_or
from stackview.description.faults import place
from stackview.description.lamp import Cord, Core, CoreHole, Eye, Feet, Layer, Post, Surface
from stackview.description.outline import Around, Outline
from stackview.description.references import known_layer
from stackview.description.resolve_materials import built_in
from stackview.description.resolve_outline import pair, resolve_around, resolve_outline
from stackview.description.units import shown
from stackview.description.wire_size import is_gauge, wire_area
from stackview.description.wording import label
from stackview.description.written_fields import LAST_BIT, LEAST_SIZE
from stackview.description.written_lamp import WrittenCore


def resolve_posts(context: Context, layers: Sequence[Layer]) -> tuple[Post, ...]:
    """Posts and pins, their layers known and in the right order."""
    order = {layer.name: index for index, layer in enumerate(layers)}
    made: list[Post] = []
    seen: set[str] = set()
    for index, written in enumerate(context.written.post):
        where = label("post", index, {"name": written.name})
        if written.name in seen or written.name in order:
            context.faults.add(place(where, "name"), "another part has this name: give each its own")
        seen.add(written.name)
        material = context.material(written.material, place(where, "material"))
        outline = resolve_outline(context, written.outline, place(where, "outline"))
        start = known_layer(context, written.start, place(where, "from"), layers)
        end = known_layer(context, written.end, place(where, "to"), layers)
        if start and end and order[start] > order[end]:
            context.faults.add(
                where, f'begins at layer "{start}", which lies above layer "{end}": exchange from and to'
            )
        elif start and end:
            _check_insets(context, pair(written.inset), layers[order[start] : order[end] + 1], where)
        if material and outline and start and end:
            around = resolve_around(written.around)
            made.append(Post(written.name, material, outline, start, end, around, pair(written.inset)))
    return tuple(made)


def _check_insets(context: Context, inset: tuple[float, float], through: Sequence[Layer], where: str) -> None:
    """A fault for insets that surely leave nothing; seats, which make a post shorter, are not known yet."""
    longest = sum(layer.thickness for layer in through)
    if sum(inset) >= longest:
        context.faults.add(
            place(where, "inset"),
            f"{context.say(inset[0])} and {context.say(inset[1])} leave nothing of it: its layers are "
            f"{context.say(longest)} together; inset it less",
        )


def resolve_core(context: Context, layers: Sequence[Layer]) -> Core | None:
    """The core, standing on the lowest layer unless said otherwise."""
    written = context.written.core
    if written is None:
        return None
    where, faults = "core", context.faults
    material = context.material(written.material, place(where, "material"))
    outline = resolve_outline(context, written.outline, place(where, "outline"))
    if written.stands_on and written.hangs_from:
        faults.add(where, "stands_on and hangs_from are both given: keep one of the two")
    stands = known_layer(context, written.stands_on, place(where, "stands_on"), layers)
    hangs = known_layer(context, written.hangs_from, place(where, "hangs_from"), layers)
    if written.stands_on is None and written.hangs_from is None and layers:
        stands = layers[0].name
    if outline is not None and written.wall is not None and 2 * written.wall.mm >= outline.narrowest:
        faults.add(
            place(where, "wall"),
            f"{written.wall} on both sides of a core {context.say(outline.narrowest)} leaves no tube: "
            "make it thinner, or leave it out for a solid core",
        )
    host = next((layer for layer in layers if layer.name in (stands, hangs)), None)
    sunk = mm_or(written.sunk, 0.0)
    if host is not None and sunk >= host.thickness:
        faults.add(
            place(where, "sunk"),
            f'{written.sunk} goes through layer "{host.name}", {context.say(host.thickness)} thick: less',
        )
    if material is None or outline is None or (stands is None and hangs is None):
        return None
    height = written.height.mm if written.height else None
    wall = written.wall.mm if written.wall else None
    return Core(material, outline, height, stands, hangs, wall, sunk, _core_holes(context, written, outline))


def _core_holes(context: Context, written: WrittenCore, outline: Outline) -> tuple[CoreHole, ...]:
    """Holes through the wall of a tube, each within its length and narrower than the tube."""
    where, faults = place("core", "hole"), context.faults
    if written.hole and written.wall is None:
        faults.add(
            where,
            "the core is solid, so that a hole in it leads nowhere: give its wall, or leave the hole out",
        )
    for hole in written.hole:
        if hole.diameter.mm >= outline.narrowest:
            faults.add(
                place(where, "diameter"),
                f"{hole.diameter} is as wide as the core, {context.say(outline.narrowest)}: drill less",
            )
        if written.height is not None and hole.height.mm + hole.diameter.mm / 2 > written.height.mm:
            faults.add(
                place(where, "height"),
                f"{hole.height} is past the end of the core, which is {written.height} long: drill it lower",
            )
    return tuple(CoreHole(one.diameter.mm, one.height.mm, one.bearing) for one in written.hole)


def resolve_feet(context: Context, layers: Sequence[Layer]) -> Feet | None:
    """Feet under the lowest layer, near its edge unless their circle is given."""
    written = context.written.feet
    if written is None or not layers:
        return None
    diameter = mm_or(written.diameter, defaults.FEET_DIAMETER.number)
    reach = layers[0].outline.inner_reach
    circle = mm_or(written.circle, 2 * (reach - defaults.FEET_EDGE.number) - diameter)
    most = 2 * layers[0].outline.outer_reach
    if circle <= 0 or circle + diameter > most + LAST_BIT:
        context.faults.add(
            "feet · circle",
            f"feet {context.say(diameter)} wide on a circle of {context.say(circle)} are not under the lowest layer, "
            f"{context.say(most)} across: "
            + (
                f"give a circle of at most {context.units.most(most - diameter)}"
                if most - diameter >= LEAST_SIZE
                else "give smaller feet, or leave them out"
            ),
        )
        return None
    material = (
        context.material(written.material, "feet · material")
        if written.material
        else built_in("plastic", "rubber")
    )
    if material is None:
        return None
    count = written.count or int(defaults.FEET_COUNT.number)
    height = mm_or(written.height, defaults.FEET_HEIGHT.number)
    return Feet(material, diameter, height, Around(count, circle, written.first), written.price)


def resolve_cord(context: Context, layers: Sequence[Layer]) -> Cord | None:
    """The cord that a pendant hangs from; a lamp that stands has none."""
    written = context.written.cord
    if written is None:
        return None
    if context.written.pendant is None and not context.faults.is_lost("any", "pendant"):
        context.faults.absent(
            "cord", "goes with a lamp that hangs: add [pendant] with underside = …, or leave the cord out"
        )
    wire = wire_area(written.wire or str(defaults.CORD_WIRE.value))
    if wire is None:
        context.faults.add(
            "cord · wire",
            f'{shown(written.wire)} is no wire size: write "0.5 mm2" (0.01 to 100) or "AWG 20" (0 to 40)',
        )
    at = pair(written.at)
    if layers:
        away = layers[-1].outline.outer_reach
        offset = complex(*at) - complex(*layers[-1].outline.at)
        if abs(offset) >= away:
            context.faults.add(
                "cord · at",
                f"is {context.say(abs(offset))} from the middle of the top layer, which reaches {context.say(away)}: "
                "move it inwards",
            )
    diameter = mm_or(written.diameter, defaults.CORD_DIAMETER.number)
    length = mm_or(written.length, defaults.CORD_LENGTH.number)
    in_gauge = is_gauge(written.wire or "")
    return Cord(diameter, at, length, wire, written.strain_relief, written.price, in_gauge)


def resolve_surface(context: Context) -> tuple[Surface | None, float | None]:
    """What a lamp stands on, or the height of a pendant's underside; a table where neither is given."""
    written, pendant = context.written.surface, context.written.pendant
    if pendant is not None:
        if written is not None:
            context.faults.add(
                "pendant", "a lamp stands or hangs, but surface and pendant are both given: keep one"
            )
        return None, pendant.underside.mm
    if written is None:
        return Surface(defaults.SURFACE_HEIGHT.number, defaults.SURFACE_SIZE.pair), None
    if written.size is not None and written.diameter is not None:
        context.faults.add("surface", "size and diameter are both given: keep one of the two")
    size: tuple[float, ...] = pair(written.size) if written.size else defaults.SURFACE_SIZE.pair
    size = (written.diameter.mm,) if written.diameter else size
    at = pair(written.at)
    half = (size[0] / 2, size[-1] / 2)
    if any(abs(place_) > most for place_, most in zip(at, half, strict=True)):
        context.faults.add(
            "surface · at",
            f"{context.say(at[0])}, {context.say(at[1])} is off the surface, which reaches {context.say(half[0])} and "
            f"{context.say(half[1])} from its middle: move the lamp onto it",
        )
    return Surface(mm_or(written.height, defaults.SURFACE_HEIGHT.number), size, at), None


def resolve_eyes(context: Context, surface: Surface | None) -> tuple[Eye, ...]:
    """The eyes written, or a standing, a seated and a lying one."""
    written = context.written.eye
    if not written:
        return _usual_eyes(surface)
    seen: set[str] = set()
    for index, eye in enumerate(written):
        where = label("eye", index, {"name": eye.name})
        if eye.name in seen:
            context.faults.add(place(where, "name"), "two eyes have this name: give each its own")
        seen.add(eye.name)
    return tuple(Eye(eye.name, eye.distance.mm, eye.height.mm) for eye in written)


def _usual_eyes(surface: Surface | None) -> tuple[Eye, ...]:
    lying = (
        surface.height + defaults.LYING_ABOVE.number if surface is not None else defaults.LYING_PENDANT.number
    )
    return (
        Eye("standing", *defaults.STANDING.pair),
        Eye("seated", *defaults.SEATED.pair),
        Eye("lying", defaults.LYING_DISTANCE.number, lying),
    )
