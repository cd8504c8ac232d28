"""Words of what is measured on the road: the tires' temperature, the vibration."""

from app.web.teaching.authoring.words.word import Words

WORDS = {
    "VehicleSheet.temperature": Words(
        "Temperature", "For lessons on pressure and temperature.", entry="temperature"
    ),
    "VehicleSheet.vibration": Words("Vibration", "For lessons on speed and order.", entry="vibration"),
    "TemperatureSheet.set_c": Words("When the pressure was set"),
    "TemperatureSheet.at_c": Words("When it is read"),
    "TemperatureSheet.ambient_kpa": Words("Pressure of the air around"),
    "VibrationSheet.source": Words(
        "Where it comes from", "One a line: wheel, driveline or engine, with its order."
    ),
    "VibrationSheet.speed_kmh": Words("Speed"),
    "VibrationSheet.axle_ratio": Words("Ratio of the axle", unit=""),
    "VibrationSheet.engine_rpm": Words("Speed of the engine", unit="rpm"),
    "VibrationSheet.off_percent": Words("Off the true order by", unit="%"),
    "VibrationSheet.mass_g": Words("Unbalance behind it"),
    "VibrationSheet.radius_mm": Words("Where that sits"),
}
