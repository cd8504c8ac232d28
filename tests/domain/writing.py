"""Scenarios for tests: the shipped ones, and small ones written in a few lines."""

import copy
import json
from functools import cache
from pathlib import Path
from typing import Any

from app.domain.measures import UnitSystem
from app.domain.model import Model
from app.domain.scenario import Scenario, parse
from app.domain.variants import Variant, draw

FOLDER = Path(__file__).parents[2] / "scenarios"
SHIPPED = ("two-plane-balance", "runout-and-match-mounting", "four-assemblies")
"""The three oldest labs without a bench, which many tests use as examples."""


def shipped_text(scenario_id: str) -> str:
    return (FOLDER / scenario_id / "scenario.toml").read_text(encoding="utf-8")


@cache
def shipped(scenario_id: str) -> Scenario:
    return parse(shipped_text(scenario_id))


def library() -> tuple[str, ...]:
    """The ids of every shipped scenario, at the bench or not."""
    return tuple(sorted(path.parent.name for path in FOLDER.glob("*/scenario.toml")))


def answered_labs() -> tuple[str, ...]:
    """Those whose answers are typed and not worked at the bench."""
    return tuple(scenario_id for scenario_id in library() if shipped(scenario_id).bench is None)


def variant(scenario: Scenario, *, seed: int = 0, units: UnitSystem = UnitSystem.METRIC) -> Variant:
    return draw(scenario, seed, units)


_PLANES = {"inboard": {"z_mm": -80, "radius_mm": 200}, "outboard": {"z_mm": 80, "radius_mm": 200}}
_SMALL: dict[str, Any] = {
    "format": 1,
    "id": "small",
    "title": "Small",
    "summary": "A scenario for tests.",
    "level": "practice",
    "minutes": 10,
    "skills": ["testing"],
    "cautions": [],
    "vehicle": {
        "description": "A car",
        "concern": "It shakes.",
        "drive_side": "left",
        "wheel_torque_nm": 110,
        "service_date": "2026-10-05",
        "placard": {"size": "205/55R16 91V", "front_kpa": 220, "rear_kpa": 220},
    },
    "teacher": {"aim": "x", "prior_knowledge": "x", "common_mistakes": "x", "discuss": "x"},
}


def assembly(letter: str = "A", **changes: Any) -> dict[str, Any]:
    """One assembly without heavy spots, runout or force; `wheel` and `tire` add to what stands there."""
    wheel = {"material": "alloy", "diameter_in": 16, "width_in": 6.5, **_PLANES, **changes.pop("wheel", {})}
    tire = {"designation": "205/55R16 91V", **changes.pop("tire", {})}
    return {"id": letter, "wheel": wheel, "tire": tire, **changes}


def tire(designation: str, letter: str = "A", **changes: Any) -> dict[str, Any]:
    """An assembly with this tire; `changes` add to what stands in the tire's table."""
    return assembly(letter, tire={"designation": designation, **changes})


def heavy_spot(
    mass_g: Any, angle_deg: Any, z_mm: Any, *, radius_mm: Any = 200, name: str = ""
) -> dict[str, Any]:
    name = name or f"{mass_g} at {angle_deg} and {z_mm}"
    return {"name": name, "mass_g": mass_g, "radius_mm": radius_mm, "angle_deg": angle_deg, "z_mm": z_mm}


def first(peak_to_peak: Any, high_deg: Any, *, order: int = 1) -> dict[str, Any]:
    return {"order": order, "peak_to_peak": peak_to_peak, "high_deg": high_deg}


def number(task_id: str, key: str, absolute: float = 0.5, **changes: Any) -> dict[str, Any]:
    tolerance = {"absolute": absolute}
    return {"kind": "number", "key": key, "tolerance": tolerance, **_asked(task_id), **changes}


def choice(task_id: str, options: str, **changes: Any) -> dict[str, Any]:
    each = [{"id": option, "text": f"It is {option}"} for option in options.split()]
    return {"kind": "choice", "options": each, **_asked(task_id), **changes}


def spots(task_id: str, *keys: str, absolute: float = 10, **changes: Any) -> dict[str, Any]:
    tolerance = {"absolute": absolute}
    return {"kind": "spots", "keys": keys, "tolerance": tolerance, **_asked(task_id), **changes}


def several_of(task_id: str, options: str, right: str, **changes: Any) -> dict[str, Any]:
    """Own options to tick; `right` are those that belong to it."""
    sheet = choice(task_id, options)
    return {**sheet, "kind": "several", "right": right.split(), **changes}


def several(task_id: str, key: str, **changes: Any) -> dict[str, Any]:
    return {"kind": "several", "key": key, **_asked(task_id), **changes}


def order(task_id: str, steps: dict[str, str], **changes: Any) -> dict[str, Any]:
    """steps: by the id of each, in the author's order, the ids of those that come before it."""
    each = [{"id": step, "text": f"Do {step}", "after": after.split()} for step, after in steps.items()]
    return {"kind": "order", "steps": each, **_asked(task_id), **changes}


def placement(task_id: str, key: str, **changes: Any) -> dict[str, Any]:
    return {"kind": "placement", "key": key, **_asked(task_id), **changes}


def text(task_id: str, **changes: Any) -> dict[str, Any]:
    return {"kind": "text", "rubric": "Says so.", **_asked(task_id), **changes}


def _asked(task_id: str) -> dict[str, Any]:
    return {"id": task_id, "title": task_id, "prompt": "How much?", "points": 2}


def small(
    tasks: list[dict[str, Any]],
    *assemblies: dict[str, Any],
    vehicle: dict[str, Any] | None = None,
    **changes: Any,
) -> Scenario:
    """A scenario of one part. Without assemblies it has one empty assembly A."""
    sheet = copy.deepcopy(_SMALL) | {
        "assemblies": list(assemblies) or [assembly()],
        "parts": [{"title": "Part", "text": "Look.", "tasks": tasks}],
        **changes,
    }
    sheet["vehicle"] |= vehicle or {}
    return Scenario.model_validate_json(json.dumps(sheet))


def model_of(*assemblies: dict[str, Any], vehicle: dict[str, Any] | None = None) -> Model:
    """The model of a scenario with these assemblies and without any task."""
    return variant(small([], *assemblies, vehicle=vehicle)).model
