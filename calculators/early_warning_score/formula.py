"""The points of oxygen saturation in NEWS2, which depend on the scale and on the oxygen given."""

SCALE_1 = [[92, 3], [94, 2], [96, 1]]
SCALE_2 = [[84, 3], [86, 2], [88, 1]]
SCALE_2_ON_OXYGEN = [[84, 3], [86, 2], [88, 1], [93, 0], [95, 1], [97, 2]]


def saturation_points(saturation_percent, saturation_scale, air_or_oxygen):
    """The lowest and highest points possible, [low, high] [rcp2017news2, chart 1].

    saturation_percent and air_or_oxygen are None where they are not known.
    """
    if saturation_percent is None:
        return [0, 3]
    if saturation_scale == "scale-1":
        points = _below(SCALE_1, saturation_percent, 0)
        return [points, points]
    on_air = _below(SCALE_2, saturation_percent, 0)
    on_oxygen = _below(SCALE_2_ON_OXYGEN, saturation_percent, 3)
    if air_or_oxygen == "air":
        return [on_air, on_air]
    if air_or_oxygen == "oxygen":
        return [on_oxygen, on_oxygen]
    return [on_air, on_oxygen]


def _below(rows, percent, beyond):
    """The points of the first row whose limit lies above `percent`."""
    for limit, points in rows:
        if percent < limit:
            return points
    return beyond
