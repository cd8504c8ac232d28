"""What a lab measured: the drawings and tables of one measurement, from a student's own variant.

A measurement shows what an instrument, a balancer's report or a sidewall would show and nothing else: what a
lab asks for is for the student to work out. The answers, for a lab that is handed in, are drawn by
`app.drawings.measured.answers`.
"""

from collections.abc import Callable
from dataclasses import replace

from app.domain.scenario import Measurement
from app.domain.variants import Variant
from app.drawings.measured.balance import balancer, entered_width, heavy_spots
from app.drawings.measured.car import as_it_came, force_and_conicity, pressures
from app.drawings.measured.force_reports import force_report, two_measurements
from app.drawings.measured.half_turn import half_turn
from app.drawings.measured.lateral import lateral_forces
from app.drawings.measured.load_table import load_table
from app.drawings.measured.marks import dots
from app.drawings.measured.parts import Measured
from app.drawings.measured.real_weights import flange, spokes
from app.drawings.measured.setting_up import cones, entered_diameter, rim, shelf_label
from app.drawings.measured.tires import sidewalls
from app.drawings.measured.traces import bead_seats, force_trace_of
from app.drawings.measured.tread import tread, tread_on_the_hub
from app.drawings.measured.trial_run import trial_run
from app.drawings.measured.uniformity import uniformity
from app.drawings.measured.vibration import unbalance, vibration

_DRAWN_BY: dict[str, Callable[[Variant, tuple[str, ...]], Measured]] = {
    "cones": cones,
    "rim": rim,
    "heavy spots": heavy_spots,
    "balancer": balancer,
    "entered width": entered_width,
    "entered diameter": entered_diameter,
    "flange": flange,
    "spokes": spokes,
    "shelf label": shelf_label,
    "half turn": half_turn,
    "trial run": trial_run,
    "tread": tread,
    "tread on the hub": tread_on_the_hub,
    "bead seats": bead_seats,
    "force trace": force_trace_of,
    "force report": force_report,
    "two measurements": two_measurements,
    "sidewalls": sidewalls,
    "uniformity": uniformity,
    "load table": load_table,
    "dots": dots,
    "lateral forces": lateral_forces,
    "as it came": as_it_came,
    "force and conicity": force_and_conicity,
    "pressures": pressures,
    "vibration": vibration,
    "unbalance": unbalance,
}


def measured(shown: Measurement, variant: Variant) -> Measured:
    """One measurement of a lab's part, of the assemblies it names or of all.

    Raises LookupError where the scenario lacks what it shows, which `app.domain.check` refuses beforehand.
    """
    drawn = _DRAWN_BY[shown.kind](variant, shown.assemblies or variant.scenario.assembly_ids)
    return replace(drawn, caption=shown.caption)


__all__ = ["Measured", "measured"]
