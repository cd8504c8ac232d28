"""Words of the scenario itself: what it is about, the vehicle, the machine, the parts, the teacher's page."""

from app.domain.cautions import CAUTION_WORDS
from app.web.teaching.authoring.words.word import Words

MARKDOWN = "Blank lines part paragraphs; **two stars** make bold, a hyphen begins a line of a list."

WORDS = {
    "Scenario.format": Words("Format", hidden=True),
    "Scenario.id": Words("Id", hidden=True),
    "Scenario.title": Words("Title", "As students and instructors see it in their lists."),
    "Scenario.summary": Words("Summary", "One or two sentences for the list of scenarios."),
    "Scenario.level": Words("Level"),
    "Scenario.minutes": Words("Time", "How long an ordinary student works at it.", unit="min"),
    "Scenario.skills": Words("Skills", "What it teaches, one skill a line.", entry="skill"),
    "Scenario.task_list_code": Words("Code in your program’s task list", "May stay empty."),
    "Scenario.course_place": Words("Place in the course", hidden=True),
    "Scenario.cautions": Words(
        "Cautions",
        "Shown before the work begins.",
        options={caution: words.title for caution, words in CAUTION_WORDS.items()},
    ),
    "Scenario.vehicle": Words("Vehicle"),
    "Scenario.machine": Words("Machine and weights"),
    "Scenario.bench": Words(
        "Bench", "With a bench, students do the job itself and are judged by what is left."
    ),
    "Scenario.assemblies": Words("Assemblies", entry="assembly"),
    "Scenario.parts": Words("Parts of the lab", entry="part"),
    "Scenario.reflection": Words(
        "Reflection sheet", "What students write about once the lab is handed in.", entry="prompt"
    ),
    "Scenario.teacher": Words("Teacher’s page"),
    "Scenario.well_posed": Words(
        "Margins", "A variant whose answers are not sure by these margins is drawn again."
    ),
    "VehicleSheet.description": Words("Vehicle", "Invented, like “Four-door sedan, front-wheel drive”."),
    "VehicleSheet.concern": Words("What the driver says", "The complaint that brings the car in."),
    "VehicleSheet.drive_side": Words(
        "Driver sits on the", options={"left": "left side", "right": "right side"}
    ),
    "VehicleSheet.placard": Words("Placard"),
    "VehicleSheet.wheel_torque_nm": Words("Torque of the wheel nuts"),
    "VehicleSheet.service_date": Words("Day of service", "The age of a tire is counted to this day."),
    "VehicleSheet.first_harmonic_limit_n": Words(
        "Limit of the first harmonic",
        "Of radial force variation, peak to peak. Needed where a task decides by it.",
    ),
    "VehicleSheet.total_force_limit_n": Words(
        "Limit of the total force variation", "Needed where a task judges by it."
    ),
    "VehicleSheet.oldest_tire_years": Words("Oldest tire", "Above this age a tire is to be replaced."),
    "VehicleSheet.rear_share": Words(
        "Weight of the rear axle",
        "For placement by tracking: how much the rear counts beside the front, 0 to 1.",
    ),
    "PlacardSheet.size": Words("Tire size", "Like 205/55R16 91V."),
    "PlacardSheet.rear_size": Words("Tire size of the rear", "Where it differs from the front."),
    "PlacardSheet.front_kpa": Words("Front pressure"),
    "PlacardSheet.rear_kpa": Words("Rear pressure"),
    "MachineSheet.metric": Words("Weights in a metric class", "In grams."),
    "MachineSheet.us": Words("Weights in a US customary class", "In ounces."),
    "MachineSheet.max_pieces": Words("Most weights side by side"),
    "MachineSheet.width_error_mm": Words(
        "Rim width typed in wrong by",
        "For lessons on wrong dimensions: above 0 too wide, below 0 too narrow.",
    ),
    "MachineSheet.diameter_error_mm": Words(
        "Rim diameter typed in wrong by", "Above 0 too large, below 0 too small."
    ),
    "MachineSheet.trial": Words("Trial run", "For balancing by experiment.", entry="trial run"),
    "TrialSheet.mass_g": Words("Trial weight", "Fitted in the inboard plane."),
    "TrialSheet.angle_deg": Words("Where the trial weight goes"),
    "TrialSheet.response": Words("Reading that one gram makes", unit="units/g"),
    "TrialSheet.lag_deg": Words("How far behind it the reading shows"),
    "StockSheet.step": Words("Step of the machine’s reading"),
    "StockSheet.dead_band": Words("Dead band", "Below this the machine shows 0."),
    "StockSheet.pieces": Words("Sizes on the shelf", "Parted by commas."),
    "PartSheet.title": Words("Title of the part"),
    "PartSheet.text": Words("Text", f"What the student reads first. {MARKDOWN}"),
    "PartSheet.shows": Words(
        "What is measured", "Drawings and tables of the student’s own numbers.", entry="measurement"
    ),
    "PartSheet.tasks": Words("Tasks", entry="task"),
    "Measurement.kind": Words(
        "What it shows",
        options={
            "heavy spots": "heavy spots on the wheel",
            "balancer": "report of the balancer",
            "entered width": "report with a wrong width typed in",
            "bead seats": "runout of the bead seats",
            "force trace": "trace of radial force",
            "sidewalls": "sidewall of the tire",
            "uniformity": "sheet of force and runout",
        },
    ),
    "Measurement.assemblies": Words("Of which assemblies", "None ticked: of all."),
    "Measurement.caption": Words("Words under its title"),
    "PromptSheet.id": Words("Id", hidden=True),
    "PromptSheet.text": Words("Prompt"),
    "TeacherSheet.aim": Words("Aim", "What students can do afterwards."),
    "TeacherSheet.prior_knowledge": Words("What students know before"),
    "TeacherSheet.common_mistakes": Words("Common mistakes"),
    "TeacherSheet.discuss": Words("To discuss"),
    "WellPosedSheet.placement_share": Words(
        "Lead of the best placement",
        "Share of the way from best to worst by which it beats the next, 0 to 0.5.",
        unit="",
    ),
    "WellPosedSheet.stock_margin_g": Words("Distance from half-way between two weights"),
    "WellPosedSheet.limit_margin_n": Words("Distance from the limit of force"),
    "WellPosedSheet.needs": Words(
        "Values that must each occur", "So that no variant lacks the case it is about.", entry="need"
    ),
    "NeedSheet.quantity": Words("Quantity", "Its name behind the letter, like tire.fits."),
    "NeedSheet.values": Words("Values", "One a line."),
    "WellPosedSheet.needs_decisions": Words(
        "Decisions that must each occur",
        options={"fit": "fit as it is", "match-mount": "match mount", "replace": "replace the tire"},
    ),
}
