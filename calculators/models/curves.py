"""Curves through turning points: smooth, and never higher or lower than the points say."""


def nodes(points):
    """Give each point (x, y) a slope: level at turning points, else the harmonic mean of its neighbours' slopes.

    points: at least two, by rising x. Returns [(x, y, slope)].
    """
    steps = []
    for place in range(len(points) - 1):
        here, following = points[place], points[place + 1]
        steps.append((following[1] - here[1]) / (following[0] - here[0]))
    found = []
    for place in range(len(points)):
        slope = 0.0
        if 0 < place < len(points) - 1:
            before, after = steps[place - 1], steps[place]
            if before * after > 0:
                slope = 2 * before * after / (before + after)
        found.append((points[place][0], points[place][1], slope))
    return found


def between(a, b, x):
    """Cut the curve between two nodes at x: a node."""
    wide = b[0] - a[0]
    t = (x - a[0]) / wide
    y = (
        a[1] * (1 + 2 * t) * (1 - t) ** 2 + wide * a[2] * t * (1 - t) ** 2
        + b[1] * t * t * (3 - 2 * t) + wide * b[2] * t * t * (t - 1)
    )
    slope = (b[1] - a[1]) * 6 * t * (1 - t) / wide + a[2] * (1 - t) * (1 - 3 * t) + b[2] * t * (3 * t - 2)
    return (x, y, slope)


def sampled(points, start, step, count):
    """Give `count` heights of the curve through the points, `step` apart from `start`; level beyond its ends."""
    curve = nodes(points)
    heights = []
    place = 0
    last = len(curve) - 1
    for number in range(count):
        x = start + number * step
        while place < last and curve[place + 1][0] <= x:
            place += 1
        if place == last or x <= curve[place][0]:
            heights.append(curve[place][1])
            continue
        a, b = curve[place], curve[place + 1]
        # As in `between`, without its slope: this runs thousands of times for each stretch of a trace.
        wide = b[0] - a[0]
        t = (x - a[0]) / wide
        left = 1 - t
        heights.append(
            left * left * (a[1] * (1 + 2 * t) + wide * a[2] * t) + t * t * (b[1] * (3 - 2 * t) - wide * b[2] * left)
        )
    return heights
