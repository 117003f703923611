"""Arguments that several commands share."""

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

LampFile = Annotated[Path, Parameter(help="The lamp's TOML file.")]
FailOn = Annotated[
    Literal["note", "caution", "fault"] | None,
    Parameter(help="Exit with code 1 if there is a finding at this level or above."),
]
AllowOutside = Annotated[
    bool,
    Parameter(help="Let the lamp's file use curve files outside its own folder.", negative=()),
]
