"""Lamps that grow in one way each: layers, light points, points of a drawn curve; written as a maker would."""

import math
from pathlib import Path

_HEAD = """\
name = "{name}"
unit = "mm"
materials.wood = {{ plywood = "birch", sold = 9, measured = 8.8 }}
materials.plate = {{ acrylic = "clear", sold = 4, measured = 3.8, finish = "sanded" }}
"""


def many_layers(count: int) -> str:
    """A column of ``count`` layers, rings and plates by turns, on a base and under a cap; its light stays the same."""
    return (
        _HEAD.format(name=f"{count} layers")
        + f"""\
groups.tier = [
    {{ name = "ring", material = "wood", outline = {{ circle = 120 }}, wall = 16, recess = {{ depth = 1.5 }} }},
    {{ name = "plate", material = "plate", outline = {{ circle = 106 }}, opening = {{ circle = 40 }} }},
]
layer = [
    {{ name = "base", material = "wood", outline = {{ circle = 120 }} }},
    {{ group = "tier", repeat = {(count - 2) // 2} }},
    {{ name = "cap", material = "wood", outline = {{ circle = 120 }} }},
]
core = {{ material = "wood", outline = {{ circle = 30 }}, stands_on = "base", height = 44 }}
light = [{{ helix = {{ pitch = 18 }}, leds_per_metre = 60 }}]
eye = [{{ name = "seated", distance = 800, height = 1200 }}]
"""
    )


def tight_layers(count: int) -> str:
    """Rings and plates by turns, too tight in their recesses and thin in their walls, so that mends are tried."""
    tiers, recess = (count - 2) // 2, "recess = { depth = 1.5, clearance = 0.02 }"
    return (
        _HEAD.format(name=f"{count} tight layers").replace('plywood = "birch"', 'wood = "walnut"')
        + f"""\
groups.tier = [
    {{ name = "ring", material = "wood", outline = {{ circle = 120 }}, wall = 9, {recess} }},
    {{ name = "plate", material = "plate", outline = {{ circle = 106 }}, opening = {{ circle = 40 }} }},
]
layer = [
    {{ name = "base", material = "wood", outline = {{ circle = 120 }}, bore = {{ diameter = 4 }} }},
    {{ group = "tier", repeat = {tiers} }},
    {{ name = "cap", material = "wood", outline = {{ circle = 120 }} }},
]
core = {{ material = "wood", outline = {{ circle = 30 }}, stands_on = "base", height = {11 * tiers} }}
light = [{{ helix = {{ pitch = 18, turns = 3 }}, leds_per_metre = 60 }}]
eye = [{{ name = "seated", distance = 800, height = 1200 }}]
"""
    )


def rings_apart(count: int) -> str:
    """Rings by turns with spacers, open all round, and light on a core that grows with them, beside every slit."""
    spacers = "outline = { circle = 8 }, around = { count = 3, circle = 108 }"
    return (
        _HEAD.format(name=f"{count} layers, half of them rings apart")
        + f"""\
groups.tier = [
    {{ name = "spacers", material = "wood", {spacers} }},
    {{ name = "ring", material = "wood", outline = {{ circle = 120 }}, wall = 14 }},
]
layer = [
    {{ name = "base", material = "wood", outline = {{ circle = 120 }} }},
    {{ group = "tier", repeat = {count // 2} }},
]
core = {{ material = "wood", outline = {{ circle = 30 }}, stands_on = "base", height = {8.8 * count:.1f} }}
light = [{{ runs = {{ count = 2 }}, leds_per_metre = 60 }}]
eye = [{{ name = "seated", distance = 800, height = 1200 }}]
"""
    )


def many_points(count: int) -> str:
    """A tower of 40 tiers, whose core carries ``count`` light points on eight upright strips, or on twice as many."""
    strips = 8 if count <= 3_000 else 16
    return (
        _HEAD.format(name=f"{count} light points")
        + f"""\
groups.tier = [
    {{ name = "ring", material = "wood", outline = {{ circle = 150 }}, wall = 16, recess = {{ depth = 1.5 }} }},
    {{ name = "plate", material = "plate", outline = {{ circle = 136 }}, opening = {{ circle = 80 }} }},
]
layer = [
    {{ name = "base", material = "wood", outline = {{ circle = 150 }} }},
    {{ group = "tier", repeat = 40 }},
    {{ name = "cap", material = "wood", outline = {{ circle = 150 }} }},
]
core = {{ material = "wood", outline = {{ circle = 60 }}, stands_on = "base", height = 430 }}
eye = [{{ name = "seated", distance = 800, height = 1200 }}]
[[light]]
runs = {{ count = {strips}, length = 400 }}
leds_per_metre = {count / (0.4 * strips):.4f}
face = [0.6, 0.6]
"""
    )


def many_corners(folder: Path, count: int) -> str:
    """A lamp of four tiers whose rings are cut to a drawn curve of ``count`` points, written beside it as SVG."""
    angles = [2.0 * math.pi * k / count for k in range(count)]
    radii = [70.0 + 5.0 * math.sin(5.0 * angle) + 1.5 * math.sin(13.0 * angle) for angle in angles]
    points = " ".join(
        f"{radius * math.cos(angle):.4f},{radius * math.sin(angle):.4f}"
        for radius, angle in zip(radii, angles, strict=True)
    )
    drawing = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-80 -80 160 160"><polygon points="{points}"/></svg>\n'
    (folder / f"curve-{count}.svg").write_text(drawing, encoding="utf-8")
    return (
        _HEAD.format(name=f"{count} points of a curve")
        + f"""\
outlines.leaf = {{ curve = "curve-{count}.svg", unit = "mm" }}
outlines.plate = {{ like = "leaf", inset = 6 }}
groups.tier = [
    {{ name = "ring", material = "wood", outline = "leaf", wall = 14, recess = {{ depth = 1.5 }} }},
    {{ name = "plate", material = "plate", outline = "plate", opening = {{ circle = 40 }} }},
]
layer = [
    {{ name = "base", material = "wood", outline = "leaf" }},
    {{ group = "tier", repeat = 4 }},
    {{ name = "cap", material = "wood", outline = "leaf" }},
]
core = {{ material = "wood", outline = {{ circle = 30 }}, stands_on = "base", height = 44 }}
light = [{{ helix = {{ pitch = 18 }}, leds_per_metre = 60 }}]
eye = [{{ name = "seated", distance = 800, height = 1200 }}]
"""
    )
