"""What a cuff above or below the heart adds to or takes from the reading."""

MMHG_PER_CM = 1060 * 9.80665 * 0.01 / 133.322387415


def error(distance_cm, direction):
    """Error = ± 1060 kg/m³ × 9.80665 m/s² × distance, as mmHg: 0.78 mmHg a centimetre.

    direction: "below" (reads high) or "above" (reads low). The density of blood is common practice; the
    sizes of the units are exact [nist811, Appendix B].
    """
    size = MMHG_PER_CM * distance_cm
    return {
        "distance": distance_cm,
        "size": size,
        "error": size if direction == "below" else -size,
    }
