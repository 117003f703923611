"""The keys of sheets are those of the schema, and each says what it means."""

from stackview.description.keys import every_table, keys_about
from stackview.description.written_sheet import WrittenSheet, WrittenZone


def test_every_key_is_told_with_its_default() -> None:
    tables = {table.path: table for table in every_table()}
    assert [key.name for key in tables["sheet"].keys] == list(WrittenSheet.model_fields)
    assert [key.name for key in tables["sheet.zone"].keys] == list(WrittenZone.model_fields)
    (margin,) = keys_about("sheet.margin")
    assert (margin.default, margin.takes) == ("8 mm", "a length")
    assert margin.why
    assert all(key.meaning for path in ("sheet", "sheet.zone") for key in tables[path].keys)
