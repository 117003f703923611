"""``stackview parts``: what is made and what is bought, every different part once with its count."""

import sys
from typing import Annotated

from cyclopts import Parameter

from stackview.commands.arguments import AllowOutside, LampPath
from stackview.errors import StackviewError


def parts(
    lamp: LampPath,
    /,
    *,
    lamps: Annotated[float, Parameter(help="How many lamps of this kind are made.")] = 1,
    csv: Annotated[bool, Parameter(help="Print one table of comma-separated values.", negative=())] = False,
    json: Annotated[bool, Parameter(help="Print one JSON object to standard output.", negative=())] = False,
    allow_outside: AllowOutside = False,
) -> int:
    """List every different part once, with size, work and finish, and everything that is bought."""
    from stackview.commands.parts_output import show_parts, write_parts_csv, write_parts_json
    from stackview.shop.parts_list import MOST_LAMPS, parts_list
    from stackview.study import Study

    if csv and json:
        raise StackviewError("parts: --csv and --json are both given; choose one")
    if not float(lamps).is_integer():
        # as a whole number the option would drop what follows the point
        raise StackviewError(f"{lamps:g} lamps: give a whole number from 1 to {MOST_LAMPS}")
    study = Study.read(lamp, allow_outside=allow_outside)
    listed = parts_list(study, int(lamps))
    if csv:
        write_parts_csv(listed, sys.stdout)
    elif json:
        write_parts_json(listed, sys.stdout)
    else:
        show_parts(listed, study.lamp.units)
    return 0
