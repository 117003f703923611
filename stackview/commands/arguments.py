"""Arguments that several commands share."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

if TYPE_CHECKING:
    from stackview.findings import Finding

LampPath = Annotated[Path, Parameter(help="The lamp's TOML file.")]
FailOn = Annotated[
    Literal["note", "caution", "fault"] | None,
    Parameter(help="Exit with code 1 if there is a finding at this level or above."),
]
AllowOutside = Annotated[
    bool,
    Parameter(help="Let the lamp's file use curve files outside its own folder.", negative=()),
]


def exit_code(findings: "tuple[Finding, ...]", fail_on: str | None) -> int:
    """1 if there is a finding at or above the level that ``--fail-on`` names, else 0."""
    from stackview.findings import Level

    return int(fail_on is not None and any(one.level >= Level[fail_on.upper()] for one in findings))
