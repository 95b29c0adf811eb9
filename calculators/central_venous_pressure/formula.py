"""Central venous pressure from the height of the neck veins above the sternal angle.

A column of blood as high as the distance from the middle of the right atrium to the top of the
pulsation is read as so many centimetres of water. What differs is the distance assumed between the
sternal angle and the atrium.
"""

CUSTOMARY_DISTANCE_CM = 5
# Trunk above the horizontal in degrees, and the vertical distance in cm.
COMPUTED_TOMOGRAPHY = [[0, 5.4], [30, 8.0], [45, 9.7], [60, 9.8]]
ROUNDED = [[0, 5], [30, 8], [45, 10], [90, 10]]


def customary(height_cm):
    """The customary sum: P = h + 5, cmH2O, whatever the posture [seth2002, abstract, background].

    "not-seen" if the top of the column could not be seen.
    """
    if height_cm == "not-seen":
        return height_cm
    return {
        "height": height_cm,
        "distance": CUSTOMARY_DISTANCE_CM,
        "pressure": height_cm + CUSTOMARY_DISTANCE_CM,
    }


def by_computed_tomography(height_cm, elevation_degrees):
    """P = h + d, cmH2O, with the median distance by posture from chest scans [seth2002, abstract].

    d is printed for 0, 30, 45 and 60 degrees; straight lines between them are ours. None beyond 60
    degrees, or if the top of the column could not be seen.
    """
    return _with_distance(height_cm, elevation_degrees, COMPUTED_TOMOGRAPHY)


def by_rounded_distances(height_cm, elevation_degrees):
    """P = h + d, cmH2O, with the rounded distances of a review for heart failure [hfclin2017, table 5].

    d is printed for 0, 30, 45 and 90 degrees; straight lines between them are ours. None if the top of
    the column could not be seen.
    """
    return _with_distance(height_cm, elevation_degrees, ROUNDED)


def _with_distance(height_cm, elevation_degrees, table):
    """Add the distance that the table has for this elevation, on a straight line between two rows."""
    if height_cm == "not-seen":
        return None
    for index in range(len(table) - 1):
        angle_below, distance_below = table[index]
        angle_above, distance_above = table[index + 1]
        if elevation_degrees <= angle_above:
            part = (elevation_degrees - angle_below) / (angle_above - angle_below)
            distance = distance_below + part * (distance_above - distance_below)
            return {
                "height": height_cm,
                "elevation": elevation_degrees,
                "angle_below": angle_below,
                "angle_above": angle_above,
                "distance_below": distance_below,
                "distance_above": distance_above,
                "distance": distance,
                "pressure": height_cm + distance,
            }
    return None
