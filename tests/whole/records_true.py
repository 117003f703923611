"""What commands print as JSON, against its documented form: keys, their types, and numbers that are numbers."""

import json
from typing import Any

import jsonschema

_NUMBER, _TEXT, _COUNT = {"type": "number"}, {"type": "string"}, {"type": "integer", "minimum": 0}


def _some(kind: dict[str, Any]) -> dict[str, Any]:
    return {"anyOf": [kind, {"type": "null"}]}


def _each(**keys: Any) -> dict[str, Any]:
    return {"type": "array", "items": _table(**keys)}


def _table(**keys: Any) -> dict[str, Any]:
    return {"type": "object", "required": list(keys), "properties": keys}


_TEXTS = {"type": "array", "items": _TEXT}
_FINDINGS = _each(
    check=_TEXT,
    level={"enum": ["fact", "note", "caution", "fault"]},
    where=_TEXT,
    what={"type": "string", "minLength": 5},
    value=_some(_NUMBER),
    unit=_TEXT,
    limit=_some(_NUMBER),
    source=_TEXT,
    advice=_TEXT,
    bound=_some(_TEXT),
    parts=_TEXTS,
    places=_each(part=_TEXT, x_mm=_some(_NUMBER), y_mm=_some(_NUMBER), z_mm=_some(_NUMBER)),
)
_SHARE = {"type": "number", "minimum": 0.0, "maximum": 1.0}
_FORMS = {
    "check": _FINDINGS,
    "sight": _table(
        lamp=_TEXT,
        unit={"enum": ["mm", "cm", "m", "in", "ft"]},
        light_points=_COUNT,
        height_mm={"type": "number", "exclusiveMinimum": 0},
        bearings=_COUNT,
        share_of_sphere_bare=_SHARE,
        share_of_sphere_shown=_SHARE,
        eyes=_each(
            name=_TEXT,
            distance_mm=_NUMBER,
            height_mm=_NUMBER,
            elevation_deg={"type": "number", "minimum": -90, "maximum": 90},
            bare_worst=_COUNT,
            shown_worst=_COUNT,
            worst_bearing_deg={"type": "number", "minimum": 0, "exclusiveMaximum": 360},
            shows_past=_each(edge=_TEXT, light_points=_COUNT),
        ),
        cut_offs=_each(
            low_deg=_NUMBER, high_deg=_NUMBER, bounded_by=_TEXTS, bearings=_COUNT, light_points=_COUNT
        ),
        bands=_each(
            bearing_deg=_NUMBER, low_deg=_NUMBER, high_deg=_NUMBER, bare={"type": "integer", "minimum": 1}
        ),
        findings=_FINDINGS,
    ),
    "parts": _table(
        lamp=_TEXT,
        lamps={"const": 1},
        parts=_each(
            count={"type": "integer", "minimum": 1},
            part=_TEXT,
            names=_TEXTS,
            material=_TEXT,
            along_mm={"type": "number", "exclusiveMinimum": 0},
            across_mm={"type": "number", "exclusiveMinimum": 0},
            tall_mm={"type": "number", "exclusiveMinimum": 0},
            grams_each={"type": "number", "minimum": 0},
            price_each=_some({"type": "number", "minimum": 0}),
        ),
        bought=_each(what=_TEXT, amount=_TEXT, number={"type": "number", "minimum": 0}, of=_TEXT, how=_TEXT),
        grams={"type": "number", "exclusiveMinimum": 0},
        price=_some({"type": "number", "minimum": 0}),
        unpriced=_TEXTS,
    ),
    "steps": _table(
        lamp=_TEXT,
        hours_waiting={"type": "number", "minimum": 0},
        faults=_FINDINGS,
        steps=_each(
            number={"type": "integer", "minimum": 1},
            title=_TEXT,
            parts=_TEXTS,
            after=_each(step={"type": "integer", "minimum": 1}, why=_TEXT),
            waits_minutes={"type": "number", "minimum": 0},
            glue_ml={"type": "number", "minimum": 0},
            findings=_FINDINGS,
            cautions=_TEXTS,
        ),
        cutting=_each(
            material=_TEXT, cutter_mm=_NUMBER, rev_per_minute=_NUMBER, pass_mm=_NUMBER, source=_TEXT
        ),
    ),
    "sheets": _table(
        lamp=_TEXT,
        gap_mm={"type": "number", "exclusiveMinimum": 0},
        interrupted={"const": False},
        stocks=_each(
            material=_TEXT,
            thickness_mm={"type": "number", "exclusiveMinimum": 0},
            parts=_each(number=_COUNT, part=_TEXT, names=_TEXTS, in_one_lamp=_COUNT),
            sheets={"type": "array", "minItems": 1},
            share=_SHARE,
        ),
        without_sheet={"type": "array"},
    ),
}
_CHECKS = {name: jsonschema.Draft202012Validator(form) for name, form in _FORMS.items()}


def check_record(name: str, record: Any) -> None:
    """A record has its form, and its text holds no number that JSON does not know."""
    plain = json.loads(json.dumps(record, allow_nan=False))
    wrong = next(_CHECKS[name].iter_errors(plain), None)
    assert wrong is None, f"{name}: {wrong.json_path}: {wrong.message[:200]}" if wrong else ""
