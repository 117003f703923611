"""Layers that are cut alike: one finding for all of them instead of one each."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from stackview.description.lamp import Layer
from stackview.findings import Finding


def alike(layers: Iterable[Layer]) -> list[tuple[Layer, tuple[str, ...]]]:
    """The first of each kind of layer, with the names of all that are cut the same, bottom up.

    Names and turns do not matter; the grain does.
    """
    found: dict[Layer, tuple[Layer, list[str]]] = {}
    for layer in layers:
        recesses = tuple(replace(recess, fitted_to=None) for recess in layer.recesses)
        key = replace(layer, name="", turn=0.0, recesses=recesses)
        found.setdefault(key, (layer, []))[1].append(layer.name)
    return [(layer, tuple(names)) for layer, names in found.values()]


def together(names: Sequence[str]) -> str:
    """Names as a maker would list them.

    >>> together(["ring 1"]), together(["ring 1", "ring 2"])
    ('ring 1', 'ring 1 and ring 2')
    >>> together(["ring 1", "ring 2", "ring 3", "ring 4", "top ring"])
    'ring 1, ring 2 and 3 more, to top ring'
    """
    names = list(dict.fromkeys(names))
    if len(names) <= 3:
        return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
    return f"{names[0]}, {names[1]} and {len(names) - 2} more, to {names[-1]}"


def said_once(found: Iterable[tuple[Finding, Sequence[str]]], layers: Sequence[Layer]) -> tuple[Finding, ...]:
    """The same finding on several layers as one, its ``where`` naming them all, bottom up."""
    place = {layer.name: number for number, layer in enumerate(layers)}
    names: dict[Finding, list[str]] = {}
    for finding, where in found:
        names.setdefault(finding, []).extend(where)
    return tuple(
        replace(finding, where=together(sorted(where, key=place.__getitem__)))
        for finding, where in names.items()
    )
