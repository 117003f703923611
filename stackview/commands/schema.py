"""``stackview schema``: the JSON Schema of a lamp's file."""

import json
import sys


def schema() -> int:
    """Print the JSON Schema."""
    from stackview.description.written_lamp import schema as lamp_schema

    sys.stdout.write(json.dumps(lamp_schema(), indent=2, ensure_ascii=False) + "\n")
    return 0
