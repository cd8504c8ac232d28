"""Formulas of setting up, real weights, telling two parts apart and trial weights. See `formulas`."""

_BOTH = "half of the sum of {{@{first}}} and {{@{second}}} as arrows"
_FIRST_ONLY = "half of the difference {{@{first}}} − {{@{second}}} as arrows"
_HALF_TURN = {"first": r"half_turn.first.\1", "second": r"half_turn.second.\1"}
_HUB = {"first": "tread", "second": "tread_turned"}

FORMULAS_OF_LESSONS = (
    (r"after_single\.inboard\.(mass_g|angle_deg)", "{@unbalance.inboard} + {@single}, added as arrows"),
    (
        r"after_single\.outboard\.(mass_g|angle_deg)",
        r"{unbalance.outboard.\1}, which no weight inboard reaches",
    ),
    (
        r"single_enough",
        "{after_single.inboard.mass_g} and {after_single.outboard.mass_g} against {dead_band}",
    ),
    (
        r"wrong_diameter_left\.(\w+)\.mass_g",
        r"difference of {unbalance.\1.mass_g} and {wrong_diameter.\1.mass_g}",
    ),
    (r"outside_width\.over_mm", "2 × {lip}"),
    (r"cone", "{bore} between the thin and the thick end of a cone"),
    (r"clip", "{lip} within the lips that a clip fits"),
    (r"other_unit\.(\w+)", r"{correction.\1.mass_g}, at 28.35 g to the ounce"),
    (r"pieces\.(\w+)", r"the fewest pieces that make {stock.\1.mass_g}"),
    (
        r"spoke\.before\.angle_deg",
        "the last spoke before {correction.outboard.angle_deg}; they stand {spoke_step} apart, "
        "the first at half of that",
    ),
    (r"spoke\.after\.angle_deg", "{spoke.before.angle_deg} + {spoke_step}"),
    (
        r"spoke\.before\.mass_g",
        "{correction.outboard.mass_g} × sin({spoke.after.angle_deg} − {correction.outboard.angle_deg}) "
        "÷ sin({spoke_step})",
    ),
    (
        r"spoke\.after\.mass_g",
        "{correction.outboard.mass_g} × sin({correction.outboard.angle_deg} − {spoke.before.angle_deg}) "
        "÷ sin({spoke_step})",
    ),
    (r"spoke_stock\.(\w+)\.mass_g", r"the total from stock that is nearest to {spoke.\1.mass_g}"),
    (
        r"nearest_spoke\.mass_g",
        "2 × {correction.outboard.mass_g} × sin(half of the angle from {correction.outboard.angle_deg} "
        "to the nearer of {spoke.before.angle_deg} and {spoke.after.angle_deg})",
    ),
    (r"half_turn\.assembly\.(\w+)\.(mass_g|angle_deg)", _BOTH.format(**_HALF_TURN)),
    (r"half_turn\.mounting\.(\w+)\.(mass_g|angle_deg)", _FIRST_ONLY.format(**_HALF_TURN)),
    (
        r"half_turn\.off_centre_mm",
        "2 planes × {half_turn.mounting.inboard.mass_g} × {radius.inboard} ÷ {assembly_mass}",
    ),
    (r"half_turn\.cause", "{half_turn.mounting.inboard.mass_g} in each plane against {dead_band}"),
    (r"label_at_rim\.mass_g", "{label.mass} × {label.radius} ÷ {radius.inboard}"),
    (r"tread\.total_mm", "{greatest.tread} − {least.tread}"),
    (
        r"tread\.first_mm",
        "4 ÷ {count.tread} × √(cosine sum² + sine sum²), with {cosines.tread} and {sines.tread}",
    ),
    (
        r"tread\.high_deg",
        "the direction of the arrow of cosine sum and sine sum: {cosines.tread}, {sines.tread}",
    ),
    (r"tread_share\.assembly\.(first_mm|high_deg)", _BOTH.format(**_HUB)),
    (r"tread_share\.mounting\.(first_mm|high_deg)", _FIRST_ONLY.format(**_HUB)),
    (r"tread_share\.wheel\.(first_mm|high_deg)", r"{runout.average.\1}"),
    (r"tread_share\.tire\.(first_mm|high_deg)", "{@tread_share.assembly} − {@runout.average}, as arrows"),
    (
        r"tread_share\.largest",
        "the largest of {tread_share.mounting.first_mm} (mounting), {runout.average.first_mm} (wheel) and "
        "{tread_share.tire.first_mm} (tire)",
    ),
    (r"force\.verdict", "{force.first_n} against {limit}, {force.total_n} against {total_limit}"),
    (r"separated\.(tire|wheel)\.(first_n|high_deg)", r"{parted.\1.\2}"),
    (r"separated\.turn_deg", "{separated.wheel.high_deg} + 180° − {separated.tire.high_deg}"),
    (r"separated\.left_n", "difference of {separated.tire.first_n} and {separated.wheel.first_n}"),
    (
        r"marks\.goal",
        "a high-point dot goes to the low-point mark, a light-spot dot to the valve: {marks.dot}",
    ),
    (r"marks\.turn_deg", "{marks.to} − {marks.from}, the short way round"),
    (r"trial\.effect\.(reading|angle_deg)", "{@trial.with_weight} − {@trial.initial}, as arrows"),
    (r"trial\.correction\.mass_g", "{trial.mass} × {trial.initial.reading} ÷ {trial.effect.reading}"),
    (
        r"trial\.correction\.angle_deg",
        "{trial.angle} + {trial.initial.angle_deg} + 180° − {trial.effect.angle_deg}",
    ),
)
