"""Figures before and after, measured in one run: ``python -m tests.speed.figures OLD_TREE [DEMO ...]``.

OLD_TREE is a folder that holds another state of this repository (``git worktree add OLD_TREE f41a839``).
Each figure is measured by turns in processes of either state, on the demos of this one, and its least is
taken. Prints a Markdown table: seconds of CPU, and the same over what stands beside it in the same run
(Embree's sampling, the bare import). Processes are measured by the clock too: run it on a machine at rest.
"""

import os
import resource
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
ROUNDS = 3
LIBRARIES = "import numpy, trimesh, shapely, manifold3d, pydantic"
DEMOS = ("moor-drum", "honeycomb", "turning-lantern", "kelp")

READY = """
import sys
from pathlib import Path
from time import process_time
import numpy as np
from stackview.description.reading import read_lamp
from stackview.light.layout import lay_out
from stackview.sight.bands import all_bands, even_bearings
from stackview.sight.beams import traced
from stackview.sight.scene import scene_of
from stackview.stack.assembly import assemble
lamp = read_lamp(Path(sys.argv[1]))
stack = assemble(lamp)
points = lay_out(stack).points

def least(work, rounds):
    times = []
    for _ in range(rounds):
        begun = process_time()
        work()
        times.append(process_time() - begun)
    return min(times)
"""

SPHERE = """
scene, around = scene_of(stack.placed), even_bearings(720)
print(least(lambda: all_bands(scene, points, around), 12))
"""

TRACED = """
scene = scene_of(stack.placed)
print(least(lambda: traced(scene, points), 3))
"""

# Named eyes, middles, bare and veiled: earlier states have no function for it, and are given no beams to ask.
VARIANTS = """
from dataclasses import fields, replace
from tests.speed.changes import variants
try:
    from stackview.sight.eyes import look_straight
except ImportError:
    from stackview.sight.eyes import Standpoint, look
    none = replace(points, **{one.name: getattr(points, one.name)[:0] for one in fields(points)})
    nothing = traced(scene_of(stack.placed), none)

    def look_straight(stack, points):
        known = stack.lamp.eyes, Standpoint(stack.floor, stack.lamp.surface), stack.height, even_bearings(720)
        beams = replace(nothing, count=len(points))
        return look(scene_of(stack.placed), points.middles(), *known, beams=beams)

asked = variants(lamp, 0.1)
for number, variant in zip(range(20), asked):
    if number == 4:
        begun = process_time()
    stack = assemble(variant)
    assert len(look_straight(stack, lay_out(stack).points)) == len(lamp.eyes)
print((process_time() - begun) / 16)
"""

# Embree's time for all points from that for a few of them: every point costs it the same rays.
EMBREE = """
import trimesh
from trimesh.ray.ray_pyembree import RayMeshIntersector
opaque = [part.solid for part in stack.placed if part.material.body == "opaque"]
whole = trimesh.util.concatenate([trimesh.Trimesh(one.vertices, one.triangles, process=False) for one in opaque])
cast = RayMeshIntersector(whole)
bearing, elevation = np.meshgrid(
    np.radians(even_bearings(720)), np.radians(np.arange(-89.95, 90.0, 0.1)), indexing="ij")
b, e = bearing.ravel(), elevation.ravel()
rays = np.stack([np.sin(b) * np.cos(e), -np.cos(b) * np.cos(e), np.sin(e)], axis=-1)
chosen = np.unique(np.linspace(0, len(points) - 1, 3).astype(int))
taken = 0.0
for index in chosen:
    start = np.tile(points.centres[index] + 1e-7 * points.directions[index], (len(rays), 1))
    taken += least(lambda: cast.intersects_any(start, rays), 1)
print(taken * len(points) / len(chosen))
"""


def environment(tree: Path) -> dict[str, str]:
    """Modules of ``tree``, with this state's tests where that has none."""
    return {**os.environ, "PYTHONPATH": os.pathsep.join([str(tree), str(ROOT)])}


def told(tree: Path, code: str, demo: str) -> float:
    """The number that code prints."""
    argv = [sys.executable, "-c", READY + code, str(ROOT / "demos" / f"{demo}.toml")]
    done = subprocess.run(
        argv, env=environment(tree), cwd=tree, check=True, stdout=subprocess.PIPE, text=True
    )
    return float(done.stdout)


def process(tree: Path, *argv: str) -> tuple[float, float]:
    """Seconds that a process takes by the clock, and of CPU."""
    before, begun = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(
        [sys.executable, *argv], env=environment(tree), cwd=tree, check=True, stdout=subprocess.DEVNULL
    )
    taken, after = time.perf_counter() - begun, resource.getrusage(resource.RUSAGE_CHILDREN)
    return taken, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def by_turns(old: Path, code: str, demo: str, rounds: int = ROUNDS) -> tuple[float, float]:
    """The least of what each state prints."""
    found = [(told(old, code, demo), told(ROOT, code, demo)) for _ in range(rounds)]
    return min(one for one, _ in found), min(other for _, other in found)


def row(what: str, before: str, after: str) -> None:
    """Print one row of the table as soon as it is known."""
    print(f"| {what} | {before} | {after} |", flush=True)


WITHOUT = {"sight": ("--no-spots",)}
"""What a command does now besides what it did before, and leaves here."""


def processes(old: Path, command: str, demo: str) -> None:
    """A command as a process, over the bare import, by the clock and of CPU."""
    file = str(ROOT / "demos" / f"{demo}.toml")
    rounds = []
    for _ in range(ROUNDS):
        imports = process(ROOT, "-c", LIBRARIES)
        rounds.append(
            (
                imports,
                process(old, "-m", "stackview", command, file, "--json"),
                process(ROOT, "-m", "stackview", command, file, "--json", *WITHOUT.get(command, ())),
            )
        )
    (bare, bare_cpu), *states = (
        tuple(min(one[which][k] for one in rounds) for k in range(2)) for which in range(3)
    )
    said = [f"{clock:.2f} s, {clock / bare:.1f} × (CPU {cpu / bare_cpu:.1f} ×)" for clock, cpu in states]
    row(f"`stackview {command}` of {demo}, over the bare import ({bare:.2f} s)", said[0], said[1])


def main(old: Path, demos: tuple[str, ...]) -> None:
    """Measure everything and print the table."""
    row("what", "before", "after")
    row("---", "---", "---")
    for demo in demos:
        embree = min(told(ROOT, EMBREE, demo) for _ in range(2))
        said = [f"{one:.3f} s, {embree / one:.0f} ×" for one in by_turns(old, SPHERE, demo)]
        row(f"whole sphere of {demo}, CPU, against Embree ({embree:.0f} s)", *said)
    for demo in demos:
        said = [
            f"{1000 * one:.0f} ms, {2 / one:.0f} a second by two processes"
            for one in by_turns(old, VARIANTS, demo)
        ]
        row(f"a variant of {demo} assembled and looked at by its eyes, CPU", *said)
    for demo in demos:
        processes(old, "sight", demo)
    for demo in demos:
        processes(old, "check", demo)
    if "turning-lantern" in demos:
        said = [f"{one:.2f} s" for one in by_turns(old, TRACED, "turning-lantern", 2)]
        row("glazed light of turning-lantern traced, CPU", *said)


if __name__ == "__main__":
    main(Path(sys.argv[1]).resolve(), tuple(sys.argv[2:]) or DEMOS)
