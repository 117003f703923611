"""What a number of a lamp's file moves: by the entry that it stands in, and by the names this gives."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from stackview.description.field_path import entry_names
from stackview.description.lamp import Lamp, Layer, Recess
from stackview.description.outline import path_of
from stackview.description.stack_order import Copy
from stackview.description.toml_places import Loc
from stackview.description.units import shown

_OUTWARD = {"outline", "around", "size"}
"""Keys of a layer's entry, its step and its start that move its outer edge, and so what is fitted to it."""
_WORDS = {
    "core": "the core",
    "feet": "the feet",
    "cord": "the cord",
    "surface": "the surface",
    "supply": "the supply",
    "cable": "the cable",
    "router": "the order of work",
    "finishing": "the order of work",
    "wiring": "the order of work",
    "pendant": "the whole lamp",
    "chord_error": "every curve of the model",
}
_NAMED = {
    "post": "post",
    "screw": "screw",
    "light": "light",
    "eye": "eye",
    "sheet": "sheet",
    "climates": "climate",
    "glues": "glue",
    "ports": "port",
}


class Moved:
    """Which layers are written with what, and what else hangs on it.

    ``tables`` are those of the file, ``copies`` the layers of its stack, ``lamp`` what they come to.
    """

    def __init__(self, tables: Mapping[str, Any], copies: Sequence[Copy], lamp: Lamp) -> None:
        self._tables, self._copies, self._lamp = tables, copies, lamp
        self._by_entry: dict[Loc, list[str]] = {}
        self._by_material: dict[str, list[str]] = {}
        self._by_outline: dict[str, list[str]] = {}
        for copy in copies:
            for loc in {copy.entry, copy.placed}:
                self._by_entry.setdefault(loc, []).append(copy.name)
            entry = _at(tables, copy.entry)
            self._by_material.setdefault(entry["material"], []).append(copy.name)
            for name in dict.fromkeys(_outlines_named(entry, tables)):
                self._by_outline.setdefault(name, []).append(copy.name)

    def layers(self, loc: Loc) -> tuple[str, ...]:
        """The layers that are written with the number at a place, from the bottom up."""
        if loc[0] == "materials":
            return tuple(self._by_material.get(str(loc[1]), ()))
        if loc[0] == "outlines":
            return tuple(self._by_outline.get(str(loc[1]), ()))
        return tuple(self._by_entry.get(loc[: 3 if loc[0] == "groups" else 2], ()))

    def parts(self, loc: Loc) -> tuple[str, ...]:
        """All that is other where the number at a place changes, as :attr:`Number.moves` has it."""
        match loc[0]:
            case "cutter":
                return self._named(layer for layer in self._lamp.layers if _has_corners(layer))
            case "clearance":
                fitted = {copy.name for copy in self._copies if self._takes_clearance(copy)}
                return self._named(layer for layer in self._lamp.layers if layer.name in fitted)
            case "core":
                return (_WORDS["core"], *(() if loc[1] in ("wall", "hole") else self._strips()))
            case "materials" if loc[2] in ("sold", "measured"):
                return self._by_thickness(str(loc[1]), str(loc[2])) or ("the checks",)
            case "layer" | "groups" | "materials" | "outlines":
                return (*self._with_fitted(loc), *self._others(loc))
            case str() as top if top in _WORDS:
                return (_WORDS[top],)
            case top:
                return (f"{_NAMED[str(top)]} {shown(self._name(loc))}",)

    def _name(self, loc: Loc) -> str:
        """What the entry at a place is called; a single one may stand without the brackets of a list."""
        kind, node = str(loc[0]), self._tables[str(loc[0])]
        if isinstance(node, dict) and kind not in ("post", "light", "eye", "sheet"):
            return str(loc[1])
        entries = node if isinstance(node, list) else [node]
        index = loc[1] if isinstance(loc[1], int) else 0
        return entry_names(kind, entries)[index] or ""

    def _named(self, layers: Iterable[Layer]) -> tuple[str, ...]:
        return tuple(layer.name for layer in layers)

    def _by_thickness(self, material: str, key: str) -> tuple[str, ...]:
        """Layers as thick as their sheet, where that thickness is the one that holds."""
        if key == "sold" and "measured" in self._tables["materials"][material]:
            return ()
        own = {copy.name for copy in self._copies if "thickness" in _at(self._tables, copy.entry)}
        return tuple(name for name in self._by_material.get(material, ()) if name not in own)

    def _with_fitted(self, loc: Loc) -> tuple[str, ...]:
        """Layers written with the number, and those that it moves with them: by a fit, or by a turn."""
        keys = {step for step in loc[2:] if isinstance(step, str)}
        own = set(self.layers(loc)) - (self._first_copies(loc[:2]) if "step" in keys else set())
        if "turn" in keys:
            own = self._turned_along(own)
            own |= {
                host for host, recess in self._fits() if recess.fitted_to in own and not _is_round(recess)
            }
        elif self._is_outward(loc[0], keys):
            own |= {host for host, recess in self._fits() if recess.fitted_to in own}
        return self._named(layer for layer in self._lamp.layers if layer.name in own)

    def _first_copies(self, placed: Loc) -> set[str]:
        """The lowest copy of each entry that is placed there: no step has reached it yet."""
        found: dict[Loc, str] = {}
        for copy in self._copies:
            if copy.placed == placed:
                found.setdefault(copy.entry, copy.name)
        return set(found.values())

    def _is_outward(self, top: str | int, keys: set[str]) -> bool:
        """Whether a number moves the outer edge of its layers."""
        return top == "outlines" or bool(keys & _OUTWARD and not keys & {"recess", "opening"})

    def _fits(self) -> Iterator[tuple[str, Recess]]:
        """Recesses fitted to a neighbour, each with the layer that it is cut into."""
        for layer in self._lamp.layers:
            for recess in layer.recesses:
                if recess.fitted_to is not None:
                    yield layer.name, recess

    def _turned_along(self, turned: set[str]) -> set[str]:
        """These layers, and all that seat in them: a seated one takes its host's turn, the lower one's first."""
        host_of: dict[str, str] = {}
        for host, recess in self._fits():
            host_of.setdefault(recess.fitted_to or "", host)
        while True:
            more = {seated for seated, host in host_of.items() if host in turned} - turned
            if not more:
                return turned
            turned = turned | more

    def _others(self, loc: Loc) -> Iterator[str]:
        """Core, posts and feet of a material or an outline that is named once for all."""
        if loc[0] not in ("materials", "outlines"):
            lowest = self._lamp.layers[0].name
            if lowest in self.layers(loc) and self._is_outward(loc[0], {str(step) for step in loc[2:]}):
                yield from self._feet_by_the_edge()
            return
        name, key = str(loc[1]), "material" if loc[0] == "materials" else "outline"
        if self._names(self._tables.get("core"), key, name):
            yield _WORDS["core"]
            yield from self._strips()
        posts = self._tables.get("post", [])
        posts = posts if isinstance(posts, list) else [posts]
        for number, post in enumerate(posts):
            if self._names(post, key, name):
                yield f"post {shown(entry_names('post', posts)[number] or '')}"
        if self._names(self._tables.get("feet"), key, name):
            yield _WORDS["feet"]
        elif key == "outline" and self._lamp.layers[0].name in self.layers(loc):
            yield from self._feet_by_the_edge()

    def _feet_by_the_edge(self) -> Iterator[str]:
        """The feet, where their circle is left to the edge of the lowest layer."""
        feet = self._tables.get("feet")
        if isinstance(feet, dict) and "circle" not in feet:
            yield _WORDS["feet"]

    def _names(self, entry: Any, key: str, name: str) -> bool:
        if not isinstance(entry, dict):
            return False
        return entry.get(key) == name if key == "material" else name in _outlines_named(entry, self._tables)

    def _strips(self) -> tuple[str, ...]:
        return tuple(f"light {shown(light.name)}" for light in self._lamp.lights if light.on_core)

    def _takes_clearance(self, copy: Copy) -> bool:
        written = _at(self._tables, copy.entry).get("recess", [])
        recesses = written if isinstance(written, list) else [written]
        return any("outline" not in each and "clearance" not in each for each in recesses)


def _has_corners(layer: Layer) -> bool:
    """Whether the cutter leaves its radius in corners of it; round holes and curves that bend gently have none."""
    outlines = [opening.outline for opening in layer.openings] + [recess.outline for recess in layer.recesses]
    # Held against a cutter that is a little smaller, for that one fits wherever this one does.
    return any(
        path_of(outline) != path_of(replace(outline, cutter_radius=0.99 * outline.cutter_radius))
        for outline in outlines
    )


def _is_round(recess: Recess) -> bool:
    return recess.outline.radius is not None


def _at(tables: Any, loc: Loc) -> Any:
    for step in loc:
        tables = tables[step]
    return tables


def _outlines_named(value: Any, tables: Mapping[str, Any]) -> Iterator[str]:
    """Names of outlines that an entry uses, those that they are like included."""
    if isinstance(value, list):
        for each in value:
            yield from _outlines_named(each, tables)
    elif isinstance(value, dict):
        for key, each in value.items():
            if key in ("outline", "like") and isinstance(each, str):
                yield each
                yield from _outlines_named(tables.get("outlines", {}).get(each), tables)
            else:
                yield from _outlines_named(each, tables)
