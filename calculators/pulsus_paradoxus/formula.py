"""Pulsus paradoxus: how far the systolic pressure falls on breathing in."""


def fall(first_sounds_mmhg, all_sounds_mmhg):
    """Paradox = A − B, mmHg: A where sounds come and go with breathing, B where every beat is heard [roy2007]."""
    return {
        "first": first_sounds_mmhg,
        "every": all_sounds_mmhg,
        "fall": first_sounds_mmhg - all_sounds_mmhg,
    }
