"""The words of every field that an author fills in: ONE table, by subject in the files beside this one.

An entry is named `Class.field` after the class that declares the field; a test holds the table to the
scenario's classes. A new field of the scenario therefore needs one line here, and nothing else, to be written
in the browser.
"""

from collections.abc import Mapping

from app.domain.authored.shape import Field
from app.web.teaching.authoring.words import assembly, bench, lab, road, tasks
from app.web.teaching.authoring.words.word import Words

WORDS: Mapping[str, Words] = {**lab.WORDS, **assembly.WORDS, **tasks.WORDS, **bench.WORDS, **road.WORDS}

_UNITS = {
    "_n_per_mm": "N/mm",
    "_gmm": "g·mm",
    "_kpa": "kPa",
    "_kmh": "km/h",
    "_deg": "°",
    "_years": "years",
    "_km": "km",
    "_kg": "kg",
    "_mm": "mm",
    "_nm": "N·m",
    "_in": "in",
    "_hz": "Hz",
    "_n": "N",
    "_g": "g",
    "_c": "°C",
}
"""By the end of a field's name, the longer ends first."""


def words_of(field: Field) -> Words:
    """The words of a field; its bare name where the table has none yet, which a test then says."""
    return WORDS.get(f"{field.owner}.{field.name}") or Words(field.name.replace("_", " ").capitalize())


def unit_of(field: Field) -> str:
    """The unit that the field's name ends in; the table's own word where it gives one."""
    given = words_of(field).unit
    if given is not None:
        return given
    return next((unit for end, unit in _UNITS.items() if field.name.endswith(end)), "")
