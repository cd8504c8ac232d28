"""A vibration on a test drive: what the instrument showed, and what turned how fast."""

from collections.abc import Sequence

from app.domain.measures import Measure
from app.domain.model.vibration import measured as vibration_of
from app.domain.variants import Variant
from app.drawings.measured.parts import Measured, Table, amount, measurement, words
from app.drawings.spectrum import spectrum


def vibration(variant: Variant, _letters: Sequence[str]) -> Measured:
    """The frequency of the strongest vibration with its peak, and the data of car and drive."""
    truth = vibration_of(variant.model)
    felt_hz = float(variant.model.value("car.vibration.measured_hz"))
    felt = amount(felt_hz, Measure.FREQUENCY, variant)
    rows = [
        ("Strongest vibration", felt),
        ("Speed", amount(float(truth.speed_kmh), Measure.SPEED, variant, decimals=1)),
    ]
    if truth.axle_ratio is not None:
        rows.append(
            ("Axle ratio", f"{float(truth.axle_ratio):.2f} turns of the driveshaft for one of the wheel")
        )
    if truth.engine_rpm is not None:
        rows.append(("Engine", f"{float(truth.engine_rpm):.0f} turns in a minute"))
    table = Table("The test drive", (words("What"), words("Is")), tuple(rows))
    drawing = spectrum(felt_hz, felt, title="Strength of the vibration by its frequency")
    return measurement("Vibration on the test drive", [drawing], [table])


def unbalance(variant: Variant, _letters: Sequence[str]) -> Measured:
    """The unbalance whose force is asked for: its mass and its distance from the axle."""
    truth = vibration_of(variant.model)
    table = Table(
        "Unbalance found on the wheel",
        (words("What"), words("Is")),
        (
            ("Mass", amount(float(truth.mass_g), Measure.MASS, variant)),
            ("From the axle", amount(float(truth.radius_mm), Measure.LENGTH, variant)),
        ),
    )
    return measurement("On the balancer", (), [table])
