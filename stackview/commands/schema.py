"""``stackview schema``: the JSON Schema of a lamp's file."""

import sys


def schema() -> int:
    """Print the JSON Schema."""
    from stackview.commands.json_text import json_text
    from stackview.description.written_lamp import schema as lamp_schema

    sys.stdout.write(json_text(lamp_schema(), sys.stdout, indent=2) + "\n")
    return 0
