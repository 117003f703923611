import ast
import os
import time
from dataclasses import fields, replace
from pathlib import Path
from zipfile import ZipFile

import numpy as np
import pytest

from stackview.sight.camera import frame
from stackview.stills import kept_light
from stackview.stills.bake import light_of
from stackview.stills.kept_light import CODE, baked, key_of
from stackview.stills.setting import Setting
from stackview.stills.studio import shoot
from tests.stills import lamps

SIZE = (96, 72)


@pytest.fixture(autouse=True)
def forgetful():
    kept_light._ready.clear()
    yield
    kept_light._ready.clear()


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("STACKVIEW_CACHE", str(tmp_path / "light"))
    return tmp_path / "light"


@pytest.fixture(scope="module")
def light():
    """What the setting's light is, worked out once: that it comes out the same is held by ``test_bake``."""
    scene = setting()
    return light_of(scene.placed, scene.points, scene.ribbons, ground=scene.ground)


@pytest.fixture
def bakes(monkeypatch, light):
    """Counts how often light is worked out, without the work."""
    done = []

    def counted(*_args, **_more):
        done.append(1)
        return light

    monkeypatch.setattr(kept_light, "light_of", counted)
    return done


def setting(ground=True):
    lamp = lamps.gallows()
    return Setting(tuple(lamp.placed), lamp.points, tuple(lamp.ribbons), ground)


def taken(scene):
    return shoot(baked(scene), frame(scene.body, size=SIZE)).tobytes()


def test_a_second_picture_does_not_bake_again_and_has_the_same_bytes(folder, bakes):
    first = taken(setting())
    assert taken(setting()) == first
    kept_light._ready.clear()
    assert taken(setting()) == first
    assert len(bakes) == 1
    assert len(list(folder.iterdir())) == 1


def test_the_key_knows_everything_that_light_depends_on():
    scene = setting()
    part = scene.placed[0]
    moved = np.array(part.solid.vertices)
    moved[0, 0] += 1e-9
    others = [
        replace(scene, ground=False),
        replace(scene, placed=scene.placed[1:]),
        replace(scene, placed=(replace(part, solid=replace(part.solid, vertices=moved)), *scene.placed[1:])),
        replace(
            scene,
            placed=(
                replace(part, material=replace(part.material, colour=(0.1, 0.2, 0.3))),
                *scene.placed[1:],
            ),
        ),
        replace(
            scene,
            placed=(replace(part, finish=replace(part.finish, top="sanded")), *scene.placed[1:]),
        ),
        replace(scene, points=replace(scene.points, kelvin=scene.points.kelvin + 1)),
        replace(scene, points=replace(scene.points, beams=scene.points.beams - 1)),
    ]
    keys = {key_of(scene), *(key_of(other) for other in others)}
    assert len(keys) == 1 + len(others)
    assert key_of(setting()) == key_of(scene)


LOWER = ("stackview.light.beam", "stackview.light.colour", "stackview.solids.rays", "stackview.solids.smooth")


def test_the_key_knows_the_code_that_bakes():
    # Every file of the package that baking reaches by imports is hashed, and what it takes of the solids.
    package = Path(kept_light.__file__).parent
    seen, todo = set(), ["bake"]
    while todo:
        name = todo.pop()
        if name in seen:
            continue
        seen.add(name)
        for node in ast.walk(ast.parse((package / f"{name}.py").read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module is not None:
                own = node.module.removeprefix("stackview.stills.")
                if own != node.module:
                    todo.append(own)
                elif node.module in LOWER:
                    todo.append("../" + "/".join(node.module.split(".")[1:]))
    assert seen == set(CODE)


def broken(kind, file):
    whole = file.read_bytes()
    if kind == "empty":
        file.write_bytes(b"")
    elif kind == "random bytes":
        file.write_bytes(np.random.default_rng(5).bytes(len(whole)))
    elif kind == "random bytes in an archive":
        with ZipFile(file, "w") as archive:
            archive.writestr("key.npy", np.random.default_rng(5).bytes(1000))
    elif kind == "cut off":
        file.write_bytes(whole[: len(whole) // 2])
    elif kind == "another program's":
        file.write_bytes(b"not an archive at all")
    elif kind == "a pipe":
        file.unlink()
        os.mkfifo(file)
    elif kind == "one byte":
        at = len(whole) // 2
        file.write_bytes(whole[:at] + bytes([whole[at] ^ 255]) + whole[at + 1 :])
    else:
        with np.load(file) as stored:
            arrays = dict(stored)
        if kind == "index out of range":
            arrays["walls.triangles"] = arrays["walls.triangles"] + 10_000_000
        elif kind == "wrong shape":
            arrays["walls.sky"] = arrays["walls.sky"][:-1]
        elif kind == "not finite":
            arrays["walls.sky"] = arrays["walls.sky"] * np.float32(np.nan)
        elif kind == "other key":
            arrays["key"] = np.array("0" * 64)
        elif kind == "something missing":
            del arrays["ground.lamp"]
        elif kind == "objects":
            arrays["walls.sky"] = np.array([{"a": 1}], dtype=object)
        np.savez(file, allow_pickle=True, **arrays)


@pytest.mark.parametrize(
    "kind",
    [
        "empty", "random bytes", "random bytes in an archive", "cut off", "another program's",
        "one byte", "index out of range", "wrong shape",
        "not finite", "other key", "something missing", "objects", "a pipe",
    ],
)  # fmt: skip
def test_a_broken_or_foreign_entry_is_rebuilt(folder, bakes, kind):
    first = taken(setting())
    (file,) = folder.iterdir()
    broken(kind, file)
    kept_light._ready.clear()
    assert taken(setting()) == first
    assert len(bakes) == 2
    kept_light._ready.clear()
    assert taken(setting()) == first
    assert len(bakes) == 2


def test_a_folder_in_an_entrys_place_is_left_alone(folder, bakes):
    taken(setting())
    (file,) = folder.iterdir()
    first = taken(setting())
    file.unlink()
    file.mkdir()
    for _ in range(2):
        kept_light._ready.clear()
        assert taken(setting()) == first
    assert len(bakes) == 3
    assert list(folder.iterdir()) == [file]


def test_a_read_only_entry_is_read(folder, bakes):
    first = taken(setting())
    (file,) = folder.iterdir()
    file.chmod(0o444)
    kept_light._ready.clear()
    assert taken(setting()) == first
    assert len(bakes) == 1


def test_an_entry_from_a_time_to_come_is_as_good_as_any(folder, bakes):
    first = taken(setting())
    (file,) = folder.iterdir()
    os.utime(file, (4e9, 4e9))
    kept_light._ready.clear()
    assert taken(setting()) == first
    assert len(bakes) == 1


def test_another_versions_entry_is_neither_read_nor_lost(folder, bakes, monkeypatch):
    first = taken(setting())
    before = list(folder.iterdir())
    kept_light._ready.clear()
    monkeypatch.setattr(kept_light, "code_version", lambda: "another")
    assert taken(setting()) == first
    assert len(bakes) == 2
    assert len(list(folder.iterdir())) == 2
    assert before[0] in folder.iterdir()


@pytest.mark.usefixtures("bakes")
def test_a_clock_set_back_does_not_make_old_entries_the_newest(folder, monkeypatch):
    folder.mkdir()
    late = folder / f"light-{0:064x}.npz"
    late.write_bytes(b"x" * 1000)
    os.utime(late, (4e9, 4e9))
    monkeypatch.setattr(kept_light, "_MOST_BYTES", 1)
    baked(setting())
    assert [file.name for file in folder.iterdir()] == [f"light-{key_of(setting())}.npz"]


@pytest.mark.usefixtures("bakes")
def test_what_a_killed_process_left_half_written_goes(folder):
    folder.mkdir()
    for name, moment in ((".light-old.part", 1), (".light-late.part", 4e9), (".light-now.part", time.time())):
        (folder / name).write_bytes(b"PK half")
        os.utime(folder / name, (moment, moment))
    baked(setting())
    names = {file.name for file in folder.iterdir()}
    assert names == {".light-now.part", f"light-{key_of(setting())}.npz"}


def test_a_folder_that_cannot_be_used_is_no_error(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("mine")
    monkeypatch.setenv("STACKVIEW_CACHE", str(tmp_path / "file"))
    assert len(taken(setting())) == SIZE[0] * SIZE[1] * 3
    assert (tmp_path / "file").read_text() == "mine"


def test_the_oldest_entries_go_and_other_files_stay(folder, monkeypatch):
    folder.mkdir()
    (folder / "mine.txt").write_text("keep")
    for number in range(4):
        old = folder / f"light-{number:064x}.npz"
        old.write_bytes(b"x" * 1000)
        os.utime(old, (number, number))
    monkeypatch.setattr(kept_light, "_MOST_BYTES", 1)
    baked(setting())
    names = sorted(file.name for file in folder.iterdir())
    assert names == sorted([f"light-{key_of(setting())}.npz", "mine.txt"])


def test_using_an_entry_makes_it_new_again(folder):
    baked(setting())
    (file,) = folder.iterdir()
    os.utime(file, (1, 1))
    kept_light._ready.clear()
    baked(setting())
    assert file.stat().st_mtime > time.time() - 3600


@pytest.mark.usefixtures("folder", "bakes")
def test_only_a_few_lamps_stay_in_memory():
    for height in range(4):
        scene = setting()
        raised = replace(scene, points=replace(scene.points, kelvin=scene.points.kelvin + height))
        baked(raised)
    assert len(kept_light._ready) == kept_light.IN_MEMORY


def test_what_is_kept_is_what_was_baked(folder):
    scene = setting()
    fresh = light_of(scene.placed, scene.points, scene.ribbons, ground=True)
    kept_light._keep(folder, key_of(scene), fresh)
    again = kept_light._load(folder, key_of(scene), scene)
    assert again is not None
    for mesh, other in ((fresh.walls, again.walls), (fresh.acrylic, again.acrylic)):
        for field in fields(mesh):
            one, two = getattr(mesh, field.name), getattr(other, field.name)
            assert one.dtype == two.dtype
            assert np.array_equal(one, two)
    assert np.array_equal(fresh.wall_light.lamp, again.wall_light.lamp)
