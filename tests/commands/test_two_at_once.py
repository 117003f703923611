"""Two whole commands at once, on one lamp, into one folder, with one cache: each as if it were alone."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
LAMP = """\
name = "Small"
unit = "mm"
materials.wood = { plywood = "birch", sold = 9, measured = 8.8 }
layer = [
    { name = "base", material = "wood", outline = { circle = 80 } },
    { name = "ring", material = "wood", outline = { circle = 80 }, wall = 12 },
]
light = [{ diode = { on = "base", facing = "up", height = 3 } }]
eye = [{ name = "seated", distance = 800, height = 1200 }]
"""
ROUNDS = 4
SIZE = ("--width", "120", "--height", "90")
COMMANDS = {
    "preview": ("preview", "small.toml", "--out", "out", *SIZE),
    "export": ("export", "small.toml", "--out", "out"),
    "drawings": ("drawings", "small.toml", "--out", "out"),
}
# One process loads everything and works the lamp out once; those that write at once are split off from it, so that
# they begin in the same moment. Each has its baked light from the cache, which is empty when a round begins.
HARNESS = """
import contextlib, hashlib, io, json, os, shutil, sys
from pathlib import Path
from stackview.__main__ import main
from stackview.stills import kept_light

pair, rounds = json.loads(sys.argv[1]), int(sys.argv[2])
cache = Path(os.environ["STACKVIEW_CACHE"])

def begun(number, argv):
    child = os.fork()
    if child:
        return child
    with open(f"said-{number}", "w") as said:
        os.dup2(said.fileno(), 1)
        os.dup2(said.fileno(), 2)
    kept_light._ready.clear()
    code = main(argv)
    sys.stdout.flush()
    os._exit(code)

def round_of(at_once):
    for folder in ("out", cache):
        shutil.rmtree(folder, ignore_errors=True)
    if at_once:
        codes = [os.waitpid(one, 0)[1] for one in [begun(*each) for each in enumerate(pair)]]
    else:
        codes = [os.waitpid(begun(*each), 0)[1] for each in enumerate(pair)]
    files = {}
    for file in sorted(Path("out").iterdir()):
        content = file.read_bytes()
        if file.suffix in (".dxf", ".pdf"):  # these name the moment at which they were made
            files[file.name] = content.rstrip().endswith(b"EOF")
        else:
            files[file.name] = hashlib.sha256(content).hexdigest()
    said = [Path(f"said-{number}").read_text() for number in range(2)]
    kept = [file.suffix for file in cache.iterdir()] if cache.exists() else []
    return {"codes": codes, "said": said, "files": files, "kept": kept}

for argv in pair:
    with contextlib.redirect_stdout(io.StringIO()):
        main(argv)
alone = round_of(False)
print(json.dumps([alone, *(round_of(True) for _ in range(rounds))]))
"""


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="splits processes off")
@pytest.mark.parametrize("pair", [("preview", "preview"), ("export", "preview"), ("drawings", "drawings")])
def test_two_commands_at_once_answer_as_one_after_the_other(
    pair: tuple[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "small.toml").write_text(LAMP, encoding="utf-8")
    monkeypatch.setenv("STACKVIEW_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    commands = json.dumps([COMMANDS[name] for name in pair])
    done = subprocess.run(
        [sys.executable, "-c", HARNESS, commands, str(ROUNDS)],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    alone, *rounds = json.loads(done.stdout)
    assert alone["codes"] == [0, 0], alone
    assert all(alone["files"].values())
    assert len(rounds) == ROUNDS
    for number, found in enumerate(rounds):
        assert found == alone, number
