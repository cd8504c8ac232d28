"""Words of an assembly: its wheel, its tire, its heavy spots."""

from app.web.teaching.authoring.words.word import Words

WORDS = {
    "AssemblySheet.id": Words("Letter", hidden=True),
    "AssemblySheet.wheel": Words("Wheel"),
    "AssemblySheet.tire": Words("Tire"),
    "AssemblySheet.replacement": Words(
        "With a new tire", "As it measures once its tire is replaced.", late=True
    ),
    "AssemblySheet.marks": Words(
        "Marks on tire and wheel", "Dots, arrows and what stands on the sidewall.", late=True
    ),
    "MarksSheet.light_spot_deg": Words("Dot at the light spot", "Left empty: none."),
    "MarksSheet.high_point_deg": Words("Dot at the high point", "Left empty: none."),
    "MarksSheet.low_point_deg": Words("Low-point mark of the wheel", "Left empty: none."),
    "MarksSheet.missing": Words("Mark that is missing", "“none” where all are there."),
    "MarksSheet.outside": Words("Sidewall marked “outside” faces", "out or in."),
    "MarksSheet.rotation": Words("Arrow of rotation suits the", "left or right."),
    "AssemblySheet.heavy_spots": Words("Heavy spots", entry="heavy spot"),
    "AssemblySheet.bench": Words("As it comes to the bench", "Only counts in a lab with a bench."),
    "WheelSheet.material": Words("Material"),
    "WheelSheet.diameter_in": Words("Rim diameter"),
    "WheelSheet.width_in": Words("Rim width"),
    "WheelSheet.inboard": Words("Inboard weight plane"),
    "WheelSheet.outboard": Words("Outboard weight plane"),
    "WheelSheet.bead_seats": Words(
        "Runout of the bead seats",
        "Needed to measure runout or to match mount.",
        entry="runout of the bead seats",
    ),
    "WheelSheet.lateral_runout": Words("Lateral runout, for the dial at the bench", entry="harmonic"),
    "PlaneSheet.z_mm": Words("Place across the wheel", "From the wheel’s center, positive toward outboard."),
    "PlaneSheet.radius_mm": Words("Radius where a weight sits"),
    "BeadSeatsSheet.inboard": Words("Inboard bead seat", entry="harmonic"),
    "BeadSeatsSheet.outboard": Words("Outboard bead seat", entry="harmonic"),
    "HarmonicSheet.order": Words("Harmonic", "1: once a turn, 2: twice a turn."),
    "HarmonicSheet.peak_to_peak": Words("Size, peak to peak", "In mm for runout, in N for force."),
    "HarmonicSheet.high_deg": Words("First high spot", "Clockwise from the valve, seen from outboard."),
    "TireSheet.designation": Words("Size and service", "Like 205/55R16 91V."),
    "TireSheet.tin": Words("Identification number", "Needed to read its age.", entry="identification number"),
    "TireSheet.force": Words("Radial force variation", "What the tire alone varies by.", entry="harmonic"),
    "TireSheet.tread_runout": Words("Runout of the tread, for the dial at the bench", entry="harmonic"),
    "TireSheet.mean_force_n": Words("Load on the roller", late=True),
    "TireSheet.turned_deg": Words(
        "Turn of the tire between two measurements",
        "Clockwise on its wheel, for telling tire and wheel apart.",
        late=True,
    ),
    "TireSheet.ply_steer_n": Words(
        "Ply steer", "Side force that flips with the direction of rotation.", late=True
    ),
    "TireSheet.conicity_n": Words("Conicity", "Positive toward the assembly’s own outboard side.", late=True),
    "TireSheet.spring_rate_n_per_mm": Words("Spring rate of the tire", late=True),
    "TinSheet.prefix": Words("First groups", "Invented, in capitals, like K7 XM."),
    "TinSheet.week": Words("Week of manufacture"),
    "TinSheet.year": Words("Year of manufacture"),
    "HeavySpotSheet.name": Words("Name", "As the student reads it, like “Tread splice”."),
    "HeavySpotSheet.mass_g": Words("Mass"),
    "HeavySpotSheet.radius_mm": Words("Distance from the axle"),
    "HeavySpotSheet.angle_deg": Words("Angle", "Clockwise from the valve, seen from outboard."),
    "HeavySpotSheet.z_mm": Words(
        "Place across the wheel", "From the wheel’s center, positive toward outboard."
    ),
    "HeavySpotSheet.on": Words("Turns with the", "When the tire is turned on its wheel."),
    "ReplacementSheet.first_n": Words("First harmonic of force"),
    "ReplacementSheet.conicity_n": Words("Conicity"),
}
