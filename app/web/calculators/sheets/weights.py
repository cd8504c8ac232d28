"""Real weights: the pieces in the box, and one weight behind two spokes."""

from app.domain.measures import Measure, UnitSystem
from app.drawings.calculator_pieces import pieces_laid_out
from app.drawings.calculator_sum import vector_sum
from app.drawings.calculator_tire_size import Size
from app.drawings.spots import Vector
from app.web.calculators.calculator import Calculator, Entered, Entry, Outcome, Result, Slider, ask, result
from app.web.calculators.kinds import ANGLE, MASS, Measured, Several, Whole

METRIC, US = UnitSystem.METRIC, UnitSystem.US
SIGNED_MASS = Measured(Measure.MASS, signed=True)


def _stock(entered: Entered) -> Outcome:
    system = entered.system
    answer = ask(
        "weights-from-stock", entered, {"target_g": "target", "stock_g": "stock", "max_pieces": "pieces"}
    )
    pieces = answer["pieces_g"]
    total, error = MASS.show(answer["sum_g"], system), SIGNED_MASS.show(answer["error_g"], system)
    listed = " + ".join(MASS.show(piece, system) for piece in pieces) or "no weight"
    return Outcome(
        headline=f"{listed}, off by {error}." if len(pieces) < 2 else f"{listed} = {total}, off by {error}.",
        results=(
            Result(
                "Pieces", *(" + ".join(MASS.show(p, each) for p in pieces) or "none" for each in (METRIC, US))
            ),
            result("Together", answer["sum_g"], MASS),
            result("More (+) or less (−) than wanted", answer["error_g"], SIGNED_MASS),
        ),
        worked=(f"{total} − {MASS.show(entered['target'], system)} = {error}",),
        drawings=(
            pieces_laid_out(
                _piece(entered["target"], system),
                [_piece(piece, system) for piece in pieces],
                total=_piece(answer["sum_g"], system),
                title="The pieces against the mass that is wanted",
            ),
        ),
    )


def _piece(mass_g: float, system: UnitSystem) -> Size:
    return Size(mass_g, MASS.show(mass_g, system))


STOCK_WEIGHTS = Calculator(
    slug="stock-weights",
    title="Weights from stock",
    lead="The pieces in the box that come nearest to a mass.",
    calculations=("weights-from-stock",),
    entries=(
        Entry(
            "stock",
            "Sizes in the box",
            Several(MASS),
            {METRIC: "5 g, 10 g, 15 g, 20 g, 30 g, 40 g", US: "0.25 oz, 0.5 oz, 0.75 oz, 1 oz, 1.5 oz, 2 oz"},
            hint="Parted by commas.",
        ),
        Entry("pieces", "Most pieces in one place", Whole("2"), "2", hint="1 to 6."),
        Entry(
            "target",
            "Mass wanted",
            MASS,
            {METRIC: "37 g", US: "1.3 oz"},
            slider=Slider((0, 150, 1), (0, 5, 0.05)),
        ),
    ),
    formula=(
        "least |sum of pieces − wanted|; then fewest pieces, then the larger sum, then the larger pieces",
    ),
    source="Every combination is tried. The order of preference is ours; common practice rounds to the "
    "nearest piece.",
    work=_stock,
    models=("Every size is there as often as it is wanted, and weighs exactly what it says.",),
)


def _split(entered: Entered) -> Outcome:
    system = entered.system
    places = {"mass_g": "mass", "angle_deg": "angle", "at_deg[0]": "spoke1", "at_deg[1]": "spoke2"}
    first, second = ask("split-weight", entered, places)["masses_g"]
    at_first, at_second = (ANGLE.show(entered[name], system) for name in ("spoke1", "spoke2"))
    one, two, whole = (MASS.show(mass, system) for mass in (first, second, entered["mass"]))
    wanted = f"{whole} at {ANGLE.show(entered['angle'], system)}"
    return Outcome(
        headline=f"{one} at {at_first} and {two} at {at_second} act as {wanted}.",
        results=(
            result(f"Weight behind the spoke at {at_first}", first, MASS),
            result(f"Weight behind the spoke at {at_second}", second, MASS),
        ),
        worked=(f"({one} at {at_first}) + ({two} at {at_second}) = {wanted}",),
        drawings=(
            vector_sum(
                Vector(f"behind one spoke {one}", MASS.number(first, system), entered["spoke1"], "other"),
                Vector(f"behind the other {two}", MASS.number(second, system), entered["spoke2"], "own"),
                sum_label=f"together {wanted}",
                unit=MASS.unit(system),
                title="The two weights head to tail",
            ),
        ),
        remarks=(
            "The two weigh more together than the one: part of each pulls sideways and cancels. Nearer "
            "spokes waste less.",
        ),
    )


SPLIT_WEIGHT = Calculator(
    slug="split-weight",
    title="A weight behind two spokes",
    lead="One weight replaced by two at given angles, on the same plane and radius.",
    calculations=("split-weight",),
    entries=(
        Entry("mass", "Mass of the one weight", MASS, {METRIC: "40 g", US: "1.5 oz"}, "m"),
        Entry("spoke1", "Angle of one spoke", ANGLE, "108°", "b_1"),
        Entry("spoke2", "Angle of the other spoke", ANGLE, "180°", "b_2"),
        Entry(
            "angle", "Angle of the one weight", ANGLE, "130°", "a", slider=Slider((0, 359, 1), (0, 359, 1))
        ),
    ),
    formula=(
        "{m} at {a} = {m_1} at {b_1} + {m_2} at {b_2}",
        "{m_1} = {m} sin({b_2} − {a}) / sin({b_2} − {b_1});  {m_2} = {m} sin({a} − {b_1}) / sin({b_2} − "
        "{b_1})",
    ),
    source="Parts of a vector along two directions, in any textbook of statics.",
    work=_split,
)
