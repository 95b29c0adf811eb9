"""Heart rate from a count of beats, and the deficit between apex and wrist."""


def rate(beats, seconds, rhythm):
    """Rate = 60 × beats ÷ seconds, per minute (arithmetic).

    `one_beat` is what one beat more or less in the window changes, 60 ÷ seconds. rhythm: "regular",
    "irregular" or "not-known"; `short_irregular` is true for an irregular pulse counted for less than a
    minute, `short_and_fast` for a window under half a minute
    above 100/min [hollerbach1990, abstract]; `too_fast` above 300/min, where the count or the seconds must be
    wrong (common practice, no source).
    """
    found = 60 * beats / seconds
    return {
        "beats": beats,
        "seconds": seconds,
        "rate": found,
        "one_beat": 60 / seconds,
        "short_irregular": rhythm == "irregular" and seconds < 60,
        "short_and_fast": seconds < 30 and found > 100,
        "too_fast": found > 300,
    }


def deficit(apex_per_min, wrist_per_min):
    """Pulse deficit = apex − wrist, per minute [rajkumar2019, abstract]."""
    return {"apex": apex_per_min, "wrist": wrist_per_min, "deficit": apex_per_min - wrist_per_min}
