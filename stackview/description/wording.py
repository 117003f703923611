"""Turns what pydantic reports into faults in the maker's words, and mends a copy to read on."""

import re
import types
import typing
from collections.abc import Sequence
from copy import deepcopy
from typing import Any

from pydantic import BaseModel, ValidationError

from stackview.description.faults import Faults, Offer, did_you_mean, near, place
from stackview.description.units import shown
from stackview.description.written_lamp import WrittenLamp
from stackview.description.written_length import LimitError
from stackview.description.written_outline import SHAPE_KEYS
from stackview.errors import Fault

_Loc = tuple[int | str, ...]
_MOST_ROUNDS = 12
_MOST_FAULTS = 200
"""Faults of shape that are told; more show that it is no lamp's file."""
NAMED_LISTS = ("layer", "post", "light", "eye", "sheet")
NAMED_TABLES = {"materials": "material", "outlines": "outline", "groups": "group", "glues": "glue", "climates": "climate",
    "ports": "port",
}  # fmt: skip
_OTHER_WORDS: dict[str, tuple[str, ...]] = {
    "side": ("edge",), "bottom": ("underside",), "under": ("underside",), "upper": ("top",),
    "hole": ("opening",), "holes": ("opening",), "pocket": ("recess",), "bevel": ("chamfer",),
    "dia": ("diameter", "circle"), "diameter": ("circle",), "rect": ("rectangle",), "polygon": ("sides",),
    "rotate": ("turn",), "rotation": ("turn",), "angle": ("turn",), "shape": ("outline",),
    "thick": ("thickness", "sold"), "thickness": ("sold",), "layers": ("layer",), "lights": ("light",),
    "eyes": ("eye",), "posts": ("post",), "material": ("materials",), "outline": ("outlines", "like"),
    "group": ("groups",), "units": ("unit",), "copies": ("repeat", "count"), "file": ("curve",),
    "tube": ("core",), "legs": ("feet",), "cable": ("cord",), "kelvin": ("colour_temperature",),
    "color": ("colour",), "centre": ("at",), "position": ("at",), "offset": ("inset", "at"),
    "adhesive": ("glue",), "climates": ("climate",), "glues": ("glue",), "wires": ("wire",),
    "screws": ("screw",), "bolt": ("screw",), "pins": ("post",), "dowels": ("post",),
    "sheets": ("sheet",), "zones": ("zone",), "offcut": ("sheet",),
    "sanded": ("finish",), "sanding": ("finish", "roughness"), "table": ("surface",),
    "height": ("underside",),
}  # fmt: skip
"""Other words that people use, and ours, the likeliest first; they come before near spellings."""
_KNOWN_HERE = " known here: "

_EXAMPLES = {
    "outline": "the name of an outline in quotes, or a shape such as { circle = 120 }",
    "finish": '"clear", "sanded", or { top = "sanded", underside = "clear", edge = "sanded" }',
    "around": "{ count = 3, circle = 90 }",
    "recess": "{ depth = 1.5 }",
    "opening": "{ circle = 8 }",
    "chamfer": '{ edge = "top outer", width = 2 }',
    "step": "{ size = -4, turn = 5 }",
}


def label(kind: str, index: int, item: object) -> str:
    """How one entry of a list is called in messages: ``layer "ring"``, else by number from the first."""
    name = item.get("name") if isinstance(item, dict) else None
    if isinstance(name, str) and name:
        return f"{kind} {shown(name)}"
    group = item.get("group") if isinstance(item, dict) else None
    return f"{kind} {index + 1}" + (f" (group {shown(group)})" if isinstance(group, str) else "")


def _clean(loc: Sequence[int | str]) -> _Loc:
    return tuple(step for step in loc if not (isinstance(step, str) and (step[:1] == "‹" or step == "[key]")))


def words(loc: _Loc, raw: object) -> str:
    """The place of a field in the maker's words, e.g. ``layer "ring" · recess · depth``."""
    pieces: list[str] = []
    node: Any = raw
    depth = 0
    while depth < len(loc):
        step = loc[depth]
        following = loc[depth + 1] if depth + 1 < len(loc) else None
        if depth == 0 and step in NAMED_LISTS and isinstance(following, int) and isinstance(raw, dict):
            node = _down(_down(raw, str(step)), following)
            pieces.append(label(str(step), following, node))
            depth += 2
            continue
        if depth == 0 and step in NAMED_TABLES and isinstance(following, str):
            node = _down(_down(raw, str(step)), following)
            pieces.append(f"{NAMED_TABLES[str(step)]} {shown(following)}")
            depth += 2
            continue
        if isinstance(step, int):
            if loc[0] == "groups" and depth == 2:
                pieces.append(label("layer", step, _down(node, step)))
            elif isinstance(node, list) and len(node) > 1 and pieces:
                pieces[-1] += f" {step + 1}"
        else:
            pieces.append(step if step.isprintable() and len(step) < 60 else shown(step))
        node = _down(node, step)
        depth += 1
    return place(*pieces)


def _down(node: Any, step: int | str) -> Any:
    if isinstance(node, dict):
        # a single item written without brackets was wrapped into a list of one
        return node if step == 0 else node.get(step)
    if isinstance(node, list) and isinstance(step, int) and 0 <= step < len(node):
        return node[step]
    return None


def model_in(annotation: Any) -> type[BaseModel] | None:
    """The table that a field of this type may hold, or None where it holds none."""
    if isinstance(annotation, type) and not isinstance(annotation, types.GenericAlias):
        return annotation if issubclass(annotation, BaseModel) else None
    for part in typing.get_args(annotation):
        found = model_in(part)
        if found is not None:
            return found
    return None


def model_at(loc: Sequence[int | str]) -> type[BaseModel] | None:
    """The table that stands at a place, or None where no table can stand there."""
    model: type[BaseModel] | None = WrittenLamp
    named = False
    for step in loc:
        if named:  # the name of a material, an outline or a group, though it be the word of a key
            named = False
            continue
        if isinstance(step, int) or model is None or step == "[key]":
            continue
        if step[:1] == "‹":
            # a layer entry is one of two tables; every other tag leaves only one
            if step == "‹group›":
                from stackview.description.written_layer import WrittenGroup

                model = WrittenGroup
            continue
        fields = {(info.alias or name): info for name, info in model.model_fields.items()}
        if step in fields:
            named = typing.get_origin(fields[step].annotation) is dict
            model = model_in(fields[step].annotation)
    return model


def _keys(loc: Sequence[int | str]) -> dict[str, str]:
    model = model_at(loc)
    return {(f.alias or n): f.description or "" for n, f in model.model_fields.items()} if model else {}


def _right_key(key: str, known: Sequence[str]) -> str | None:
    ours = next((word for word in _OTHER_WORDS.get(key.lower(), ()) if word in known), None)
    return ours or near(key, known)


def unknown_key(key: str, known: Sequence[str], *, top: bool) -> str:
    """What is said of a key that a table does not know; ``top`` where the table is the whole lamp."""
    right = _right_key(key, known)
    if right is None and key in WrittenLamp.model_fields and not top:
        return f"the key {shown(key)} belongs to the whole lamp: write it above the first [table]"
    question = f"; did you mean {shown(right)}?" if right else ";"
    return f"unknown key {shown(key)}{question}{_KNOWN_HERE}{', '.join(known)}"


def _message(error: Any, listed: set[tuple[str, ...]]) -> tuple[_Loc, str]:
    """Place of an error, and what is wrong in the maker's words; keys that are known are ``listed`` once."""
    kind, loc, value = error["type"], tuple(error["loc"]), error["input"]
    last = str(next((s for s in reversed(_clean(loc)) if isinstance(s, str)), ""))
    if kind == "value_error":
        return loc, str(error["ctx"]["error"])
    if kind == "extra_forbidden":
        known = tuple(_keys(loc[:-1]))
        what = unknown_key(last, known, top=len(_clean(loc)) == 1)
        if known in listed:
            what = what.partition(_KNOWN_HERE)[0].removesuffix(";")
        listed.add(known)
        return loc[:-1], what
    if kind == "missing":
        about = _keys(loc[:-1]).get(last, "")
        return loc, f"is missing: add {last} = … ({about.rstrip('.')})" if about else "is missing"
    if kind == "literal_error":
        choices = re.findall(r"'([^']*)'", error["ctx"]["expected"])
        return loc, f"{shown(value)} is none of the words allowed here{did_you_mean(str(value), choices)}"
    if kind in ("model_type", "model_attributes_type", "dict_type", "string_type"):
        example = _EXAMPLES.get(last, "{ key = value, … }")
        return loc, f"{shown(value)} cannot be read here: write {example}"
    if kind == "list_type":
        table = f"groups.{last}" if loc[0] == "groups" else last
        return loc, f"{shown(value)} is not a list: begin each entry with [[{table}]]"
    if kind == "bool_type":
        return loc, f"{shown(value)} is neither true nor false: write true or false without quotes"
    if kind == "too_long":
        return (
            loc,
            f"has {error['ctx']['actual_length']} entries; at most {error['ctx']['max_length']}: fewer",
        )
    if kind == "too_short":
        return loc, "is an empty list: name at least one"
    return loc, f"{shown(value)}: {error['msg']}"


def check_shape(raw: dict[str, Any], unit: str, faults: Faults) -> WrittenLamp | None:
    """Check the file's tables and fields; every fault goes into ``faults``.

    Where something is wrong, a copy is mended (misspelt keys set right, unreadable fields left
    out) and read again, so that what depends on the rest can be checked too.

    Returns
    -------
    WrittenLamp or None
        the file's model, of the mended copy if need be; None where nothing could be saved
    """
    mended: dict[str, Any] | None = raw
    renamed: list[_Loc] = []
    listed: set[tuple[str, ...]] = set()
    for turn in range(_MOST_ROUNDS):
        try:
            return WrittenLamp.model_validate(mended, context={"unit": unit})
        except ValidationError as wrong:
            errors = wrong.errors(include_url=False)
        if len(errors) > _MOST_FAULTS:
            faults.add(
                "", f"holds {len(errors)} faults; these are the first {_MOST_FAULTS}: is it a lamp's file?"
            )
            errors, mended = errors[:_MOST_FAULTS], None
        meant = {place for error in errors if (place := _meant(error)) is not None}
        for error in errors:
            loc, what = _message(error, listed)
            clean = _clean(loc)
            if error["type"] == "missing" and clean in meant:
                continue  # it is there under a misspelt key, which is told
            if turn == 0 or any(_clean(error["loc"])[: len(path)] == path for path in renamed):
                where = words(clean, mended or raw)
                faults.add(where, what)
                limit = error.get("ctx", {}).get("error")
                if isinstance(limit, LimitError):
                    faults.offers.setdefault(Fault(where, what), Offer(mended or raw, clean, limit))
        if mended is None:
            return None
        mended = deepcopy(mended)
        for error in sorted(errors, key=lambda e: _order(e["loc"]), reverse=True):
            if not _mend(mended, error, renamed, faults):
                return None
    return None


def _meant(error: Any) -> _Loc | None:
    """The place of the key that an unknown one stands for; None of other errors, and where it stands for none."""
    if error["type"] != "extra_forbidden":
        return None
    clean = _clean(error["loc"])
    right = _right_key(str(clean[-1]), list(_keys(tuple(error["loc"])[:-1]))) if clean else None
    return None if right is None else (*clean[:-1], right)


def _order(loc: _Loc) -> tuple[tuple[int, int, str], ...]:
    """Sort key that puts later items of a list last, so that they are removed first."""
    return tuple((0, step, "") if isinstance(step, int) else (1, 0, step) for step in _clean(loc))


def _mend(mended: dict[str, Any], error: Any, renamed: list[_Loc], faults: Faults) -> bool:
    loc = _clean(error["loc"])
    if error["type"] == "extra_forbidden":
        parent, key = node_at(mended, loc[:-1]), str(loc[-1])
        right = _right_key(key, list(_keys(tuple(error["loc"])[:-1])))
        if isinstance(parent, dict) and key in parent:
            value = parent.pop(key)
            shapes = [shape for shape in SHAPE_KEYS if shape in parent] if right in SHAPE_KEYS else []
            if right and right not in parent and not shapes:
                parent[right] = value
                renamed.append((*loc[:-1], right))
        return True
    path = loc[:-1] if error["type"] == "missing" else loc
    return _remove(mended, path, faults)


def node_at(node: Any, path: _Loc) -> Any:
    """What stands at a place of the tables; None where nothing does."""
    for step in path:
        node = _down(node, step)
    return node


def _remove(mended: dict[str, Any], path: _Loc, faults: Faults) -> bool:
    """Leave out what stands at ``path``; False where that would be the whole file."""
    while path and isinstance(path[-1], int) and isinstance(node_at(mended, path[:-1]), dict):
        path = path[:-1]  # the single item that was wrapped into a list
    if not path:
        return False
    gone = node_at(mended, path)
    parent = node_at(mended, path[:-1])
    faults.damaged.add(words(path[:-1], mended))
    kind = {"layer": "layer", **NAMED_TABLES}.get(str(path[0]))
    if kind and len(path) == 2:
        name = gone.get("name") if isinstance(gone, dict) and kind == "layer" else path[1]
        faults.lost.setdefault(kind, set()).add(str(name))
    if kind == "group" and len(path) == 3 and isinstance(gone, dict):
        faults.lost.setdefault("layer", set()).add(str(gone.get("name")))
    if isinstance(parent, dict):
        parent.pop(path[-1], None)
    elif isinstance(parent, list) and isinstance(path[-1], int) and path[-1] < len(parent):
        del parent[path[-1]]
    faults.lost.setdefault("any", set()).add(str(path[0]))
    return True
