"""What one drawing of a rod, tube or bar is of: its length, its cross-section, and the strips on its side."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stackview.curves.arcs import Path
from stackview.curves.offset import offset
from stackview.description.lamp import Core, Feet, Post
from stackview.description.outline import Outline, path_of
from stackview.shop.core_side import CoreSide, LaidStrip, core_side, own_outline, strips_on_core
from stackview.shop.rods import Rod, feet_of, posts_and_core

if TYPE_CHECKING:
    from stackview.study import Study


@dataclass(frozen=True, slots=True, eq=False)
class RodSheet:
    """One rod, tube or bar, ready to be drawn; a core's cross-section is turned as it stands."""

    rod: Rod
    outline: Outline
    outer: Path
    inner: Path | None
    """The inside of a tube."""
    of: tuple[Post, ...] | Core | Feet
    """What the description says of it."""
    ends: tuple[tuple[str, float, float], ...]
    """Name, and heights of lower and upper end in the lamp [mm]; several where several are cut alike."""
    side: CoreSide | None = None
    strips: tuple[LaidStrip, ...] = ()


def rod_sheets(study: "Study") -> tuple[RodSheet, ...]:
    """Every rod, tube and bar of a lamp, ready to be drawn: posts, core, feet.

    Raises LampError where the lamp cannot be built or its lights cannot be laid out.
    """
    lamp, found = study.stack.lamp, []
    posts = {post.name: post for post in lamp.posts}
    for rod in posts_and_core(study):
        places = [study.stack.part(name) for name in rod.names]
        ends = tuple((place.name, place.underside, place.top) for place in places)
        if rod.part.is_core and lamp.core is not None:
            strips = strips_on_core(study)
            side = core_side(lamp.core) if strips else None
            outer = own_outline(lamp.core)
            found.append(
                RodSheet(rod, lamp.core.outline, outer, _inner(rod, outer), lamp.core, ends, side, strips)
            )
        else:
            outer = path_of(rod.stock.outline)
            described = tuple(posts[name] for name in rod.names)
            found.append(RodSheet(rod, rod.stock.outline, outer, None, described, ends))
    feet = feet_of(study)
    if feet is not None and lamp.feet is not None:
        place = feet.part
        outer = path_of(feet.stock.outline)
        ends = (("feet", place.underside, place.top),)
        found.append(RodSheet(feet, feet.stock.outline, outer, None, lamp.feet, ends))
    return tuple(found)


def _inner(rod: Rod, outer: Path) -> Path | None:
    return None if rod.stock.wall is None else offset(outer, -rod.stock.wall, field="wall")
