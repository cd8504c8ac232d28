"""Balance vectors: the weights that cancel given unbalances, in two planes and in one."""

from dataclasses import replace
from typing import Any

from app.domain.measures import UnitSystem, show_clock
from app.domain.scenario import Caution
from app.drawings.section_view import Lump, Plane, section_view
from app.drawings.spots import Vector
from app.drawings.vector_plot import vector_plot
from app.web.calculators.calculator import (
    Calculator,
    Entered,
    Entry,
    EntryFault,
    Outcome,
    Slider,
    ask,
    typed_examples,
    vector_result,
    vector_text,
)
from app.web.calculators.kinds import ANGLE, COUPLE, LENGTH, MASS, PLACE, UNBALANCE

METRIC, US = UnitSystem.METRIC, UnitSystem.US
ROWS = (1, 2, 3)
PARTS = {"mass": "mass_g", "radius": "radius_mm", "angle": "angle_deg", "z": "z_mm"}
PLANES = ("inboard", "outboard")


def _mass_row(row: int, metric: tuple[str, ...], us: tuple[str, ...]) -> tuple[Entry, ...]:
    group = f"Unbalance {row}" + (", if there is one" if row > 1 else "")
    mass, radius, angle, z = typed_examples(metric, us)
    entries = (
        Entry(f"mass{row}", "Mass", MASS, mass, f"m_{row}", slider=Slider((0, 100, 1), (0, 4, 0.05))),
        Entry(f"angle{row}", "Angle", ANGLE, angle, f"a_{row}", slider=Slider((0, 359, 1), (0, 359, 1))),
        Entry(f"radius{row}", "Radius", LENGTH, radius, f"r_{row}"),
        Entry(f"z{row}", "Place along the axle", PLACE, z, f"z_{row}"),
    )
    if row == 1:
        return tuple(replace(entry, group=group) for entry in entries)
    return tuple(replace(entry, group=group, optional=True, slider=None) for entry in entries)


def _plane(name: str, group: str, z: tuple[str, str], radius: tuple[str, str]) -> tuple[Entry, ...]:
    short = {"inboard": "in", "outboard": "out", "single": "one"}[name]
    return (
        Entry(
            f"{name}_z",
            "Place along the axle",
            PLACE,
            dict(zip((METRIC, US), z, strict=True)),
            f"z_{short}",
            group,
        ),
        Entry(
            f"{name}_radius",
            "Radius",
            LENGTH,
            dict(zip((METRIC, US), radius, strict=True)),
            f"r_{short}",
            group,
        ),
    )


def _work(entered: Entered) -> Outcome:
    rows = _rows(entered)
    masses = {
        f"unbalances[{place}].{wire}": f"{part}{row}"
        for place, row in enumerate(rows)
        for part, wire in PARTS.items()
    }
    planes = {
        f"planes[{place}].{wire}": f"{name}_{part}"
        for place, name in enumerate(PLANES)
        for part, wire in (("z", "z_mm"), ("radius", "radius_mm"))
    }
    names = {f"planes[{place}].name": name for place, name in enumerate(PLANES)}
    both = ask("two-plane-correction", entered, {**masses, **planes}, names)
    single = ask(
        "single-plane-correction",
        entered,
        {**masses, "plane.z_mm": "single_z", "plane.radius_mm": "single_radius"},
    )
    inboard, outboard = both["corrections"]
    weights = {"inboard weight": inboard, "outboard weight": outboard}
    return Outcome(
        headline=" ".join(
            f"{name.capitalize()} {_weight_text(weight, entered.system)}." for name, weight in weights.items()
        ),
        results=(
            vector_result("Static unbalance U", both["static"], UNBALANCE),
            vector_result("Couple unbalance M about the center plane", both["couple"], COUPLE),
            vector_result("Inboard weight", inboard, MASS, "mass_g"),
            vector_result("Outboard weight", outboard, MASS, "mass_g"),
            vector_result("One weight alone", single, MASS, "mass_g"),
            vector_result("Couple that one weight leaves", single["couple_left"], COUPLE),
        ),
        worked=_worked(entered, both),
        drawings=(
            vector_plot(
                _vectors(entered, rows, weights, single),
                unit=MASS.unit(entered.system),
                title="Unbalances and the weights against them, each at its own radius",
            ),
            _section(entered, rows),
        ),
        remarks=(
            "One weight answers the static unbalance only. What it leaves of the couple still wobbles the "
            "wheel: compare the last line above.",
        ),
    )


def _rows(entered: Entered) -> list[int]:
    """The rows that are filled in. Raises EntryFault at what a row lacks."""
    filled = []
    for row in ROWS:
        missing = [f"{part}{row}" for part in PARTS if entered[f"{part}{row}"] is None]
        if len(missing) == len(PARTS):
            continue
        if missing:
            raise EntryFault(missing[0], f"Fill this in, or clear all of unbalance {row}.")
        filled.append(row)
    return filled


def _weight_text(weight: dict[str, Any], system: UnitSystem) -> str:
    text = vector_text(weight, MASS, system, "mass_g")
    return text if weight["angle_deg"] is None else f"{text} ({show_clock(weight['angle_deg'])})"


def _vectors(
    entered: Entered, rows: list[int], weights: dict[str, dict[str, Any]], single: dict[str, Any]
) -> list[Vector]:
    system = entered.system

    def vector(label: str, mass_g: float, angle_deg: float | None, style: str) -> Vector:
        return Vector(f"{label} {MASS.show(mass_g, system)}", MASS.number(mass_g, system), angle_deg, style)

    return [
        *(vector(f"unbalance {row}", entered[f"mass{row}"], entered[f"angle{row}"], "other") for row in rows),
        *(vector(name, each["mass_g"], each["angle_deg"], "computed") for name, each in weights.items()),
        vector("one weight alone", single["mass_g"], single["angle_deg"], "own"),
    ]


def _section(entered: Entered, rows: list[int]) -> Any:
    system = entered.system

    def texts(z_mm: float, radius_mm: float) -> tuple[str, str]:
        return f"z {PLACE.show(z_mm, system)}", f"r {LENGTH.show(radius_mm, system)}"

    def plane(name: str, of: str) -> Plane:
        z_mm, radius_mm = entered[f"{of}_z"], entered[f"{of}_radius"]
        return Plane(name, z_mm, radius_mm, *texts(z_mm, radius_mm))

    lumps = [
        Lump(
            "heavy-spot",
            entered[f"z{row}"],
            entered[f"radius{row}"],
            f"unbalance {row}",
            ", ".join(texts(entered[f"z{row}"], entered[f"radius{row}"])),
        )
        for row in rows
        if entered[f"radius{row}"] > 0
    ]
    return section_view(
        [plane(f"{name} plane", name) for name in PLANES],
        lumps,
        entered=[plane("plane of one weight", "single")],
        title="Where the unbalances and the planes stand",
    )


def _worked(entered: Entered, both: dict[str, Any]) -> tuple[str, ...]:
    system = entered.system
    static = vector_text(both["static"], UNBALANCE, system)
    couple = vector_text(both["couple"], COUPLE, system)
    in_z, out_z = (PLACE.show(entered[f"{name}_z"], system) for name in PLANES)
    in_r, out_r = (LENGTH.show(entered[f"{name}_radius"], system) for name in PLANES)
    in_g, out_g = (_weight_text(each, system) for each in both["corrections"])
    return (
        f"{{U}} = {static}; {{M}} = {couple}",
        f"{{C_in}} = [({couple}) − ({out_z}) · ({static})] / [({out_z}) − ({in_z})]; "
        f"{{m_in}} = |{{C_in}}| / {in_r} = {in_g}",
        f"{{C_out}} = [({in_z}) · ({static}) − ({couple})] / [({out_z}) − ({in_z})]; "
        f"{{m_out}} = |{{C_out}}| / {out_r} = {out_g}",
    )


BALANCE = Calculator(
    slug="balance",
    title="Balance vectors",
    lead="Unbalances anywhere on the wheel, the two weights that cancel them, and what one weight alone "
    "would leave.",
    calculations=("two-plane-correction", "single-plane-correction"),
    entries=(
        *_mass_row(1, ("20 g", "300 mm", "60°", "-70 mm"), ("0.7 oz", "12 in", "60°", "-2.8 in")),
        *_mass_row(2, ("12 g", "300 mm", "200°", "60 mm"), ("0.4 oz", "12 in", "200°", "2.4 in")),
        *_mass_row(3, ("",) * 4, ("",) * 4),
        *_plane("inboard", "Inboard plane", ("-90 mm", "-3.5 in"), ("203 mm", "8 in")),
        *_plane("outboard", "Outboard plane", ("40 mm", "1.6 in"), ("178 mm", "7 in")),
        *_plane("single", "Plane of one weight alone", ("0 mm", "0 in"), ("190 mm", "7.5 in")),
    ),
    formula=(
        "{U} = sum of {m_k} {r_k} at {a_k};  {M} = sum of {m_k} {r_k} {z_k} at {a_k}",
        "{C_in} = ({M} − {z_out} {U}) / ({z_out} − {z_in});  {C_out} = ({z_in} {U} − {M}) / ({z_out} − "
        "{z_in})",
        "{m_in} = |{C_in}| / {r_in};  {m_out} = |{C_out}| / {r_out};  one weight alone: {C_one} = −{U}",
    ),
    source="Statics of a rigid rotor, in any textbook of dynamics. Angles run clockwise from the valve stem, "
    "seen from outboard; places along the axle are positive toward outboard.",
    work=_work,
    cautions=(Caution.SPINNING,),
)
