"""Sound from arithmetic: damped tones, noise within a band, filters.

A sound is a plain list of numbers, RATE of them a second. Engines' libraries differ in the last bit of a sine or a
power, so three engines differ by dust alone, which is all but gone once samples are whole numbers.
"""

import math

RATE = 8000
# Thrown away at the start of filtered noise: filters ring until they have settled.
SETTLING = 400
# The last part of a tone in which it is led to nothing, so that it ends without a click.
TAIL = 0.2
# What a tone has died down to at the start of its tail.
FLOOR = 0.06


def samples(ms):
    """Give the number of samples in a time; an int."""
    return math.floor(ms * RATE / 1000 + 0.5)


def noise(count):
    """Give even noise from -1 to 1, always the same: products stay below 2**23, which all engines hold whole."""
    state = 20011
    found = []
    for _ in range(count):
        state = (state * 75 + 74) % 65537
        found.append(state / 32768 - 1)
    return found


def tone(partials, count, attack):
    """Give a damped tone whose loudest sample is 1.

    partials: [[Hz, level]]; count, attack: samples in all and until it is loudest. It swells as half a cosine,
    dies down evenly in decibels, and is led to nothing in its tail.
    """
    found = [0.0] * count
    for hz, level in partials:
        # sin(n w) from its two forerunners.
        turn = 2 * math.pi * hz / RATE
        twice = 2 * math.cos(turn)
        before, now = -math.sin(turn) * level, 0.0
        for place in range(count):
            found[place] += now
            before, now = now, twice * now - before
    tail = count - math.floor(count * TAIL)
    loss = math.exp(math.log(FLOOR) / max(1, tail - attack))
    loud = 1.0
    for place in range(count):
        if place < attack:
            swell = (1 - math.cos(math.pi * place / attack)) / 2
        else:
            swell = loud
            loud *= loss
        if place >= tail:
            swell *= (1 + math.cos(math.pi * (place - tail) / (count - tail))) / 2
        found[place] *= swell
    return levelled(found, highest(found))


def hum(hz, overtone, count):
    """Give a steady hum: a tone and its octave, `overtone` times as loud; its root mean square is 1."""
    found = []
    size = math.sqrt((1 + overtone * overtone) / 2)
    turn = 2 * math.pi * hz / RATE
    for place in range(count):
        found.append((math.sin(turn * place) + overtone * math.sin(2 * turn * place)) / size)
    return found


def hiss(low, high, count):
    """Give noise between two frequencies; its root mean square is 1."""
    found = noise(count + SETTLING)
    for stage in (high_pass(low), high_pass(low), low_pass(high), low_pass(high)):
        found = filtered(found, stage)
    found = found[SETTLING:]
    power = 0.0
    for value in found:
        power += value * value
    return levelled(found, math.sqrt(power / max(1, count)))


def highest(values):
    """Give the size of the loudest sample."""
    found = 0.0
    for value in values:
        size = abs(value)
        if size > found:
            found = size
    return found


def levelled(values, level):
    """Divide by a level; silence stays silence."""
    if level == 0:
        return values
    return [value / level for value in values]


def low_pass(hz):
    """Give a filter of the second order, down by 3 dB at `hz`: (b0, b1, b2, a1, a2)."""
    cosine, alpha = _corner(hz)
    whole = 1 + alpha
    side = (1 - cosine) / 2 / whole
    return side, 2 * side, side, -2 * cosine / whole, (1 - alpha) / whole


def high_pass(hz):
    """Give a filter of the second order, down by 3 dB at `hz`: (b0, b1, b2, a1, a2)."""
    cosine, alpha = _corner(hz)
    whole = 1 + alpha
    side = (1 + cosine) / 2 / whole
    return side, -2 * side, side, -2 * cosine / whole, (1 - alpha) / whole


def low_shelf(hz, decibels):
    """Give a filter that lifts (or, below 0, lowers) what lies under `hz`: (b0, b1, b2, a1, a2)."""
    cosine, alpha = _corner(hz)
    size = math.exp(math.log(10) * decibels / 40)
    root = 2 * math.sqrt(size) * alpha
    more, less = size + 1, size - 1
    whole = more + less * cosine + root
    return (
        size * (more - less * cosine + root) / whole,
        2 * size * (less - more * cosine) / whole,
        size * (more - less * cosine - root) / whole,
        -2 * (less + more * cosine) / whole,
        (more + less * cosine - root) / whole,
    )


def _corner(hz):
    turn = 2 * math.pi * min(hz, RATE * 0.45) / RATE
    return math.cos(turn), math.sin(turn) / math.sqrt(2)


def filtered(values, stage):
    """Send a sound through a filter of the second order."""
    b0, b1, b2, a1, a2 = stage
    first = second = 0.0
    found = []
    for value in values:
        out = b0 * value + first
        first = b1 * value - a1 * out + second
        second = b2 * value - a2 * out
        found.append(out)
    return found


def grained(values, hz):
    """Make a sound scratch: it swells and dies `hz` times a second, each time to another height."""
    heights = noise(len(values) * math.ceil(hz) // RATE + 3)
    found = []
    for place in range(len(values)):
        turn = place * hz / RATE
        number = math.floor(turn)
        swell = (1 - math.cos(2 * math.pi * turn)) / 2
        found.append(values[place] * (0.35 + swell * (0.9 + 0.6 * heights[number])))
    return found


def shaped(values, points, power, level):
    """Give a sound the outline of straight lines through points [(sample, height)], each height to a power (1 or 2).

    What lies before the first point and after the last is silent. level: by which all is multiplied. Returns a new
    list as long as `values`.
    """
    found = [0.0] * len(values)
    for number in range(len(points) - 1):
        start, low = points[number]
        end, high = points[number + 1]
        step = (high - low) / max(1, end - start)
        for place in range(max(0, start), min(end, len(values))):
            height = low + step * (place - start)
            if power == 2:
                height *= height
            found[place] = values[place] * height * level
    return found
