"""One-way imports, heavy libraries in their place, and files of a readable size."""

import ast
import itertools
import re
from functools import cache
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "stackview"
ORDER = (
    "curves",
    "description",
    "solids",
    "stack",
    "light",
    "sight",
    "checks",
    "glow",
    "spots",
    "study",
    "shop",
    "sheets",
    "change",
    "stills",
    "drawings",
    "photographs",
    "window",
    "commands",
)
PACKAGES = tuple(name for name in ORDER if name != "study")
LEAVES = {
    "arrays",
    "by_value",
    "cache_place",
    "errors",
    "findings",
    "in_figures",
    "kept",
    "at_once",
    "notebook",
    "one_line",
}
FILES = sorted(PACKAGE.rglob("*.py"))

# Each heavy library belongs to these files alone.
PINNED = {
    "ezdxf": {"description/curve_file.py", "shop/dxf_file.py"},
    "svgelements": {"description/curve_file.py"},
    "embreex": {"solids/rays.py"},
    "trimesh": {"solids/rays.py", "stack/trimesh_scene.py", "shop/model_files.py"},
    "manifold3d": {"solids/build.py", "solids/chamfer.py", "solids/overlap.py", "solids/wavefront.py"},
    "vtkmodules": {"window/stage.py", "window/frame.py"},
    "pyvista": {"stack/pyvista_blocks.py"},
    "cyclopts": set(),
    "drjit": {"glow/acrylic_faces.py", "glow/engine.py"},
    "mitsuba": {"glow/engine.py"},
    "mitsuba_oidn": {"glow/denoiser.py"},
}


@cache
def tree(file: Path) -> ast.Module:
    """The file's syntax, read once for all that is asked of it."""
    return ast.parse(file.read_text(encoding="utf-8"))


@cache
def imported(file: Path) -> set[str]:
    """Dotted names that a file imports anywhere, inside functions too."""
    found: set[str] = set()
    for node in ast.walk(tree(file)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}: relative import"
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def name_of(file: Path) -> str:
    return str(file.relative_to(PACKAGE))


@pytest.mark.parametrize("file", FILES, ids=name_of)
def test_a_package_imports_only_from_those_before_it(file: Path) -> None:
    own = file.relative_to(PACKAGE).parts[0].removesuffix(".py")
    if own not in ORDER:
        return
    for name in imported(file):
        parts = name.split(".")
        if parts[0] == "stackview" and len(parts) > 1 and parts[1] not in {*LEAVES, "__version__"}:
            assert parts[1] in ORDER, f"{name_of(file)} imports {name}"
            assert ORDER.index(parts[1]) <= ORDER.index(own), f"{name_of(file)} imports {name}"


@pytest.mark.parametrize("file", [PACKAGE / f"{leaf}.py" for leaf in sorted(LEAVES)], ids=name_of)
def test_leaves_import_nothing_of_ours(file: Path) -> None:
    assert not any(name.startswith("stackview") for name in imported(file))


@pytest.mark.parametrize("library", sorted(PINNED))
def test_heavy_libraries_stay_in_their_files(library: str) -> None:
    users = {name_of(file) for file in FILES if any(name.split(".")[0] == library for name in imported(file))}
    allowed = PINNED[library]
    if library == "cyclopts":
        allowed = allowed | {name for name in users if name.startswith("commands/")}
    assert users <= allowed


@pytest.mark.parametrize("file", FILES, ids=name_of)
def test_files_and_functions_are_of_a_readable_size(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 380, f"{name_of(file)} is long"
    for node in ast.walk(tree(file)):
        if isinstance(node, ast.FunctionDef):
            first = node.body[1] if len(node.body) > 1 and ast.get_docstring(node) else node.body[0]
            length = (node.end_lineno or 0) - first.lineno + 1
            assert length <= 60, f"{name_of(file)}: {node.name} has {length} lines"


def test_lengths_are_said_by_the_lamps_units() -> None:
    # words that know no lamp: one-line reprs, photographs of an offcut
    reads = {"description/written_length.py", "description/wording.py"}
    # values of the file that nobody wrote, as they would be typed into it
    typed_in = {"change/printed.py", "description/lamp_file.py", "description/usual.py"}
    knows_no_lamp = {"glow/finish_fit.py", "commands/finish.py", "commands/finish_report.py"}
    for file in FILES:
        name = name_of(file)
        if name in knows_no_lamp | typed_in or name in ("description/units.py", "errors.py"):
            continue
        tree = ast.parse(file.read_text(encoding="utf-8"))
        for function in [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]:
            taken = [*function.args.args, *function.args.kwonlyargs]
            for arg in taken:
                plain = isinstance(arg.annotation, ast.Name) and arg.annotation.id == "str"
                assert not (arg.arg == "unit" and plain) or name in reads, name
            if function.name == "__repr__":
                continue
            for node in ast.walk(function):
                if isinstance(node, ast.JoinedStr):
                    for before, after in itertools.pairwise(node.values):
                        if isinstance(before, ast.FormattedValue) and isinstance(after, ast.Constant):
                            said = re.match(r" (mm|cm)\b(?![²³])", str(after.value))
                            assert said is None, f"{name}: {ast.unparse(node)}"


def test_nothing_prints_or_exits_outside_commands() -> None:
    for file in FILES:
        if name_of(file).startswith("commands") or file.stem == "__main__":
            continue
        for node in ast.walk(tree(file)):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                assert node.func.id not in {"print", "exit", "quit", "eval", "exec"}, name_of(file)


def test_parts_and_materials_say_themselves_what_they_are() -> None:
    own = {"description/material.py", "stack/placed.py"}
    for file in FILES:
        for node in ast.walk(tree(file)) if name_of(file) not in own else ():
            if isinstance(node, ast.Compare):
                sides = [node.left, *node.comparators]
                asked = {side.attr for side in sides if isinstance(side, ast.Attribute)} & {"kind", "role"}
                words = {
                    each.value for side in sides for each in ast.walk(side) if isinstance(each, ast.Constant)
                }
                assert not (asked and any(isinstance(word, str) for word in words)), (
                    f"{name_of(file)}:{node.lineno}"
                )


# Public names that stand in more than one file, and why.
SAME_NAMES = {
    "CHECK": "each check's file ends in it; the table of checks takes them by file",
    "schema": "the command is called as what it prints",
}


def test_a_public_name_has_one_meaning() -> None:
    defined: dict[str, set[str]] = {}
    for file in FILES:
        for node in tree(file).body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef):
                names = [node.name]
            elif isinstance(node, ast.Assign | ast.AnnAssign):
                targets = node.targets if isinstance(node, ast.Assign) else [node.target]
                names = [
                    each.id for target in targets for each in ast.walk(target) if isinstance(each, ast.Name)
                ]
            else:
                continue
            for name in names:
                # TYPE_CHECKING is typing's own name, in files that load before typing does
                if not name.startswith("_") and name != "TYPE_CHECKING":
                    defined.setdefault(name, set()).add(name_of(file))
    twice = {name: files for name, files in defined.items() if len(files) > 1}
    assert twice.keys() == SAME_NAMES.keys(), {name: twice[name] for name in twice.keys() - SAME_NAMES.keys()}
    for name, files in twice.items():
        own = {file for file in files if not file.startswith(("checks/", "commands/"))}
        assert len(own) <= 1, f"{name} stands in {own}"


@pytest.mark.parametrize("file", FILES, ids=name_of)
def test_names_that_one_file_alone_needs_are_not_taken_by_another(file: Path) -> None:
    for name in imported(file):
        last = name.rpartition(".")[2]
        if name.startswith("stackview.") and not last.startswith("__"):
            assert not last.startswith("_"), f"{name_of(file)} takes {name}"


def test_package_init_files_are_empty() -> None:
    for package in PACKAGES:
        assert (PACKAGE / package / "__init__.py").read_text(encoding="utf-8").strip() == ""


def test_packages_are_those_of_the_guide() -> None:
    found = {entry.name for entry in PACKAGE.iterdir() if entry.is_dir() and (entry / "__init__.py").exists()}
    assert found == set(PACKAGES)


@pytest.mark.parametrize("file", [file for file in FILES if file.stem != "__init__"], ids=name_of)
def test_tests_mirror_the_packages(file: Path) -> None:
    twin = Path("tests") / file.relative_to(PACKAGE).with_name(f"test_{file.stem.strip('_')}.py")
    assert (PACKAGE.parent / twin).exists(), f"{name_of(file)} has no twin: its tests belong in {twin}"
