"""Arguments that several commands share."""

import re
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter, Token

from stackview.one_line import clipped

if TYPE_CHECKING:
    from stackview.description.units import Units
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
OwnDistance = Annotated[
    str | None,
    Parameter(
        name="--from",
        help='Distance from the lamp\'s axis at which its own map is wanted, as lengths in the file: "900", "3 ft".',
    ),
]

_WHOLE = re.compile(r"([+-]?[0-9]{1,18})(?:\.0*)?")


def whole_number(_kind: type, tokens: Sequence[Token]) -> int:
    """The whole number that an option was given, for ``Parameter(converter=...)``: left to itself 2.5 would become 2."""
    written = tokens[0].value
    found = _WHOLE.fullmatch(written)
    if found is None:
        raise ValueError(f"{clipped(written, 40)} is not a whole number.")
    return int(found[1])


def length_of(option: str, written: str | None, units: "Units", low: float, high: float) -> float | None:
    """Read what a length option was given, bare numbers in the lamp's unit [mm]; None where it was left out.

    Raises StackviewError, naming the option, for what is no length from ``low`` to ``high`` [mm].
    """
    from stackview.description.written_length import LengthError, read_length
    from stackview.errors import StackviewError

    if written is None:
        return None
    try:
        return read_length(written, units.unit, low=low, high=high).mm
    except LengthError as error:
        raise StackviewError(f"{option}: {error}") from None


def distance_of(written: str | None, units: "Units") -> float | None:
    """The distance [mm] that ``--from`` was given. Raises StackviewError for what is no distance of an eye."""
    from stackview.description.written_fields import GREATEST_DISTANCE, NEAREST_EYE

    return length_of("--from", written, units, NEAREST_EYE, GREATEST_DISTANCE)


def exit_code(findings: "tuple[Finding, ...]", fail_on: str | None) -> int:
    """1 if there is a finding at or above the level that ``--fail-on`` names, else 0."""
    from stackview.findings import Level

    return int(fail_on is not None and any(one.level >= Level[fail_on.upper()] for one in findings))
