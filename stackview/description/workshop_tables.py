"""The package's table of finishes of wood, each row with its source, and the usual workshop."""

import tomllib
from functools import cache
from importlib.resources import files

from stackview.description import defaults
from stackview.description.workshop import Finishing, Router, Wiring, WoodFinish, Workshop


@cache
def wood_finishes() -> dict[str, WoodFinish]:
    """Finishes that the table knows, by name."""
    text = (files("stackview.description") / "tables" / "finishes.toml").read_text("utf-8")
    return {
        name: WoodFinish(name, row["coats"], row["hours"], row["oily"], row["source"])
        for name, row in tomllib.loads(text).items()
    }


def usual_workshop() -> Workshop:
    """What is taken where the lamp's file says nothing of how it is made."""
    return Workshop(Router(), Finishing(wood_finishes()[str(defaults.WOOD_FINISH.value)]), Wiring())
