"""The calculators, in the order in which they are listed."""

from app.web.calculators.calculator import Calculator
from app.web.calculators.sheets.balance import BALANCE
from app.web.calculators.sheets.matching import MATCH_MOUNTING, TIRE_AND_WHEEL
from app.web.calculators.sheets.placing import PLACEMENT
from app.web.calculators.sheets.pressure import PRESSURE_AND_TEMPERATURE
from app.web.calculators.sheets.runout import RUNOUT_AND_HARMONICS
from app.web.calculators.sheets.tires import TIRE_DATE, TIRE_SIZE
from app.web.calculators.sheets.unit_table import UNITS
from app.web.calculators.sheets.vibration import UNBALANCE_FORCE, VIBRATION_ORDER
from app.web.calculators.sheets.weights import SPLIT_WEIGHT, STOCK_WEIGHTS

GROUPS: dict[str, tuple[Calculator, ...]] = {
    "Balance": (BALANCE, STOCK_WEIGHTS, SPLIT_WEIGHT),
    "Vibration": (UNBALANCE_FORCE, VIBRATION_ORDER),
    "Runout and force variation": (RUNOUT_AND_HARMONICS, MATCH_MOUNTING, TIRE_AND_WHEEL, PLACEMENT),
    "Tires": (TIRE_SIZE, TIRE_DATE, PRESSURE_AND_TEMPERATURE),
    "Units": (UNITS,),
}

CALCULATORS: dict[str, Calculator] = {each.slug: each for group in GROUPS.values() for each in group}
