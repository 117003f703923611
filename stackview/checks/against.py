"""One finding for a length that is held against one of the limits."""

from stackview.description.limits_table import Limit
from stackview.findings import Finding, Level, Place, Way


def against(
    limit: Limit,
    value: float | None,
    check: str,
    what: str,
    *,
    short: str = "",
    advice: str = "",
    where: str = "",
    by: str = "",
    held_to: float | None = None,
    level: Level = Level.CAUTION,
    parts: tuple[str, ...] = (),
    places: tuple[Place, ...] = (),
    cause: str = "",
    ways: tuple[Way, ...] = (),
) -> Finding:
    """A caution, unless ``level`` says otherwise, of a length [mm] and its limit.

    ``by`` is how the length was found, ``held_to`` what the limit comes to here, where that is not
    its own value [mm].
    """
    return Finding(
        check=check,
        level=level,
        where=where,
        what=what,
        short=short,
        value=value,
        unit="mm",
        limit=limit.value if held_to is None else held_to,
        bound=limit.bound,
        source=f"{by}; {limit.source}" if by else limit.source,
        advice=advice,
        parts=parts,
        places=places,
        cause=cause,
        ways=ways,
    )
