"""The package's table of cautions: what brings each up, what it says, and its source."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class Caution:
    """One hazard: the materials, glues or steps that bring it, and what to do about it."""

    name: str
    when: tuple[str, ...]
    at: tuple[str, ...]
    """The kinds of work that it belongs to: "cut", "sand", "finish", "wire", "test", "glue", "hang", "run in"."""
    says: str
    source: str


@cache
def cautions_table() -> tuple[Caution, ...]:
    """Every caution, in the order of the table."""
    text = (files("stackview.description") / "tables" / "cautions.toml").read_text("utf-8")
    return tuple(
        Caution(name, tuple(row["when"]), tuple(row["at"]), row["says"], row["source"])
        for name, row in tomllib.loads(text).items()
    )
