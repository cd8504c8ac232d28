"""Words of the bench and of how an assembly comes to it."""

from app.web.teaching.authoring.words.word import Words

WORDS = {
    "BenchSheet.stations": Words("Stations"),
    "BenchSheet.minutes": Words(
        "Minutes of actions", "One a line, like “spin = 3”, where an action takes other than the usual time."
    ),
    "BenchSheet.cones": Words("Cones of the balancer", entry="cone"),
    "BenchSheet.repeatability_g": Words(
        "Repeatability of the balancer", "Standard deviation from spin to spin."
    ),
    "BenchSheet.asks": Words("Dimensions that have to be typed in"),
    "BenchSheet.lug_count": Words("Wheel nuts", unit=""),
    "BenchSheet.retorque_km": Words("Torque is checked again after", "Least and most, parted by a comma."),
    "ConeSheet.id": Words("Name", "Small letters and hyphens, like middle."),
    "ConeSheet.min_mm": Words("Smallest bore"),
    "ConeSheet.max_mm": Words("Largest bore"),
    "AssemblyBenchSheet.arrives": Words("Comes", options={"separate": "tire and wheel separate"}),
    "AssemblyBenchSheet.valve": Words("Valve", options={"sensor": "with pressure sensor"}),
    "AssemblyBenchSheet.bore_mm": Words("Bore of the wheel"),
    "AssemblyBenchSheet.flange_mm": Words("Thickness of the rim’s lip"),
    "AssemblyBenchSheet.spokes": Words(
        "Spokes", "Behind which weights of the outer plane hide; 0 for none.", unit=""
    ),
    "AssemblyBenchSheet.mass_kg": Words("Mass of the assembly"),
    "AssemblyBenchSheet.distance_mm": Words("Distance from the balancer to the rim"),
    "AssemblyBenchSheet.pressure_kpa": Words(
        "Pressure as it comes", "Left empty: the placard’s front pressure."
    ),
    "AssemblyBenchSheet.old_weights": Words("Old weights", entry="old weight"),
    "AssemblyBenchSheet.dirt_mm": Words("Off center by dirt on its mounting face"),
    "AssemblyBenchSheet.dirt_deg": Words("Where the dirt throws it to"),
    "AssemblyBenchSheet.label": Words("Shelf label still on the tread", entry="shelf label"),
    "AssemblyBenchSheet.dots": Words("Dots on the sidewall"),
    "AssemblyBenchSheet.low_point_mark": Words("The wheel has a low-point mark"),
    "AssemblyBenchSheet.rotation": Words(
        "Arrow of rotation suits the", options={"left": "left side", "right": "right side"}
    ),
    "AssemblyBenchSheet.outside": Words("Sidewall marked “outside” faces"),
    "AssemblyBenchSheet.tread_depth_mm": Words(
        "Tread depths", "Three, from outer to inner, parted by commas."
    ),
    "AssemblyBenchSheet.damage": Words("Damage that a look shows"),
    "AssemblyBenchSheet.new_tire": Words("New tire that stands ready", entry="new tire"),
    "OldWeightSheet.kind": Words("Kind"),
    "OldWeightSheet.plane": Words("Plane"),
    "OldWeightSheet.mass_g": Words("Mass"),
    "OldWeightSheet.angle_deg": Words("Angle"),
    "LumpSheet.mass_g": Words("Mass"),
    "LumpSheet.angle_deg": Words("Angle"),
    "LumpSheet.radius_mm": Words("Distance from the axle"),
    "LumpSheet.z_mm": Words("Place across the wheel"),
    "NewTireSheet.first_n": Words("First harmonic of force"),
    "NewTireSheet.high_deg": Words("Its high point"),
    "NewTireSheet.conicity_n": Words("Conicity"),
    "NewTireSheet.heavy_spot": Words("Heavy spot of the new tire"),
}
