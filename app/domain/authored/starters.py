"""What a new draft and each new entry of a list begin with: plain values that draw at once."""

import copy
import re
import unicodedata
from collections.abc import Iterable
from datetime import date
from typing import Any

from app.domain.authored.entries import Document, list_at
from app.domain.authored.shape import Field, Table, field_named, fields_of, kind_of

_ANGLE = {"low": 0.0, "high": 355.0, "step": 5.0}
_TURNS = {"peak_to_peak": 0.5, "high_deg": _ANGLE}

_HEAVY_SPOT = {
    "name": "Tread",
    "mass_g": {"low": 15.0, "high": 35.0, "step": 1.0},
    "radius_mm": 310.0,
    "angle_deg": _ANGLE,
    "z_mm": {"low": -60.0, "high": 60.0, "step": 10.0},
}
_ASSEMBLY = {
    "id": "A",
    "wheel": {
        "material": "alloy",
        "diameter_in": 16.0,
        "width_in": 6.5,
        "inboard": {"z_mm": -80.0, "radius_mm": 206.0},
        "outboard": {"z_mm": 80.0, "radius_mm": 206.0},
    },
    "tire": {"designation": "205/55R16 91V"},
    "heavy_spots": [_HEAVY_SPOT],
}
_STARTERS: dict[str, Any] = {
    "AssemblySheet": _ASSEMBLY,
    "HeavySpotSheet": _HEAVY_SPOT,
    "HarmonicSheet": {"order": 1, **_TURNS},
    "BeadSeatsSheet": {"inboard": [{"order": 1, **_TURNS}], "outboard": [{"order": 1, **_TURNS}]},
    "TinSheet": {
        "prefix": "K7 XM",
        "week": {"low": 2.0, "high": 51.0, "step": 1.0},
        "year": {"low": 2018.0, "high": 2025.0, "step": 1.0},
    },
    "PartSheet": {"title": "What is heavy", "shows": [{"kind": "heavy spots"}], "tasks": []},
    "Measurement": {"kind": "heavy spots"},
    "OldWeightSheet": {"plane": "inboard", "mass_g": 20.0, "angle_deg": _ANGLE},
    "LumpSheet": {"mass_g": 8.0, "angle_deg": _ANGLE},
    "ConeSheet": {"min_mm": 58.0, "max_mm": 75.0},
    "NumberTask": {"points": 1.0, "tolerance": {}},
    "ChoiceTask": {"points": 1.0, "options": [{}, {}]},
    "OrderTask": {"points": 2.0, "steps": [{}, {}, {}]},
    "BenchTask": {"points": 2.0, "judges": "residual", "limit": 8.0},
}
_NAME_FROM = ("title", "text", "name")
"""Where the name of an entry comes from when its author gives none."""


def blank_document(title: str, today: date) -> Document:
    """A draft with an ordinary car and one assembly that can be drawn; its words are missing."""
    return {
        "format": 1,
        "id": "draft",
        "title": title,
        "level": "practice",
        "minutes": 30,
        "cautions": [],
        "vehicle": {
            "description": "Four-door sedan, front-wheel drive",
            "concern": "The steering wheel shakes at highway speed.",
            "drive_side": "left",
            "wheel_torque_nm": 110.0,
            "service_date": today.isoformat(),
            "placard": {"size": "205/55R16 91V", "front_kpa": 220.0, "rear_kpa": 220.0},
        },
        "assemblies": [copy.deepcopy(_ASSEMBLY)],
        "parts": [copy.deepcopy(_STARTERS["PartSheet"])],
        "teacher": {},
    }


def new_entry(field: Field, kind: str | None, document: Document) -> Document:
    """What a new entry of a list, or a table that is added, begins with; its id is one that is still free."""
    table = field.table_of({"kind": kind}) or field.table
    entry: Document = copy.deepcopy(_STARTERS.get(table.__name__, {}))
    if field.kinds:
        entry = {"kind": kind_of(table), **entry}
    if table.__name__ == "AssemblySheet":
        entry["id"] = _free_letter(each.get("id") for each in list_at(document, "assemblies"))
    elif field.kinds and "id" in table.model_fields:
        entry["id"] = _free_name("task", _task_ids(document))
    return entry


def with_fresh_ids(entry: Document, field: Field, document: Document) -> Document:
    """A copied entry with an id that is still free: of an assembly its letter, of tasks their names."""
    if "tasks" in entry:
        below = field_named(field.table, "tasks")
        tasks: list[Document] = []
        for each in entry["tasks"]:
            so_far = {"parts": [*list_at(document, "parts"), {"tasks": tasks}]}
            tasks.append({**each, "id": new_entry(below, each.get("kind"), so_far)["id"]})
        return {**entry, "tasks": tasks}
    fresh = new_entry(field, entry.get("kind"), document)
    return {**entry, "id": fresh["id"]} if "id" in fresh else entry


def with_names(value: Any, table: Table | None) -> Any:
    """The same data with a name made for each entry of a list that has none."""
    if table is None or not isinstance(value, dict):
        return value
    named = dict(value)
    for field in fields_of(table):
        below = named.get(field.name)
        if field.tables and isinstance(below, dict):
            named[field.name] = with_names(below, field.table_of(below))
        elif field.tables and isinstance(below, list):
            named[field.name] = _named_entries(
                [with_names(each, field.table_of(each)) for each in below], field
            )
    return named


def _named_entries(entries: list[Any], field: Field) -> list[Any]:
    taken = {str(each["id"]) for each in entries if isinstance(each, dict) and each.get("id")}
    done = []
    for entry in entries:
        table = field.table_of(entry)
        if table and "id" in table.model_fields and isinstance(entry, dict) and not entry.get("id"):
            words = next((entry[name] for name in _NAME_FROM if isinstance(entry.get(name), str)), "")
            if words:
                name = _free_name(as_name(words) or "entry", taken)
                taken.add(name)
                entry = {"id": name, **{k: v for k, v in entry.items() if k != "id"}}
        done.append(entry)
    return done


def as_name(words: str, longest: int = 40) -> str:
    """A name as files have it, from words: `Where it goes` is `where-it-goes`. May be empty."""
    plain = unicodedata.normalize("NFKD", words[:200]).encode("ascii", "ignore").decode().lower()
    return "-".join(re.findall(r"[a-z0-9]+", plain))[:longest].strip("-")


def _free_name(name: str, taken: Iterable[str]) -> str:
    known = set(taken)
    if name not in known and name != "task":
        return name
    number = next(n for n in range(1, len(known) + 3) if f"{name}-{n}" not in known)
    return f"{name}-{number}"


def _free_letter(taken: Iterable[Any]) -> str:
    known = set(taken)
    return next(letter for letter in "ABCDEFGHJKLMNPQRSTUVWXYZ" if letter not in known)


def _task_ids(document: Document) -> list[str]:
    parts = list_at(document, "parts")
    tasks = [task for part in parts if isinstance(part, dict) for task in list_at(part, "tasks")]
    return [str(task.get("id", "")) for task in tasks if isinstance(task, dict)]
