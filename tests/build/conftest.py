"""A tiny handbook that is sound in every way, and a way to spoil it. Its facts and papers are invented."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from build_tools import handbook
from build_tools.handbook import Handbook

# Words to find and words to put in their place; without the first the file is written anew, without both it goes.
Change = tuple[str, str | None, str | None]

STEP = """\
---
kind: step
title: Tiny step
aliases: [tiny]
order: 10
region: arms
level: core
routes: [2, 8]
position: Sitting.
seconds: 60
short: Look and count.
summary:
  do: Look.
  normal: "{{value tiny-rate}}"
  stop: "Over 9 a minute: stop. [@invented2020, Table 1]"
findings: [tiny-sign]
measures: []
values: [tiny-rate]
record: Nothing seen.
red_flags: [tiny-flag]
---

## Why

Because it is tiny.

## Before you start

**Say:** "I will look."

## How

1. Look.

!!! stop "Not when it hurts"
    Do not press. [@invented2020, abstract]

2. Count for 4 seconds. [common practice]

## If you cannot find it

Look again at the [sign](../findings/tiny-sign.md#how-to-be-sure).

## Normal

As step 2 says, see below.

## Not normal

## How good is the sign

No study was found.

## Easy to get wrong

Counting twice.

## Write it down

The rate.

## Sources
"""

FINDING = """\
---
kind: finding
title: Tiny sign
level: core
steps: [tiny-step]
sees: "More than 9 a minute. [@invented2020, Table 1]"
present: tiny sign
absent: no tiny sign
now: Report it the same day. [local sign-off]
points_to:
  - condition: tiny-condition
    direction: for
    strength: moderate
    target: tininess by ruler
    lr_pos: 5.0
    lr_pos_ci: [2.0, 9.5]
    population: 40 invented adults
    source: invented2020
    place: Table 1
    checked: full-text
---

## How to be sure

Count again.

## Looks like it, but is not

A small sign.

## Points to

## How good

Said above.

## Now

Report it.

## Sources
"""

CONDITION = """\
---
kind: condition
title: Tiny condition
level: core
---

## In the circulation

Little happens.
It stays little.
It ends.

## The pattern at the bedside

Tiny.

## Signs by strength

## How severe

Grade 1 is milder than grade 2.

## Red flags

## First tests

A ruler.

## Sources
"""

INDEX = """\
---
kind: article
title: Tiny handbook
---

Start with the [step](examination/tiny-step.md).
"""

VALUES = """\
[[values]]
id = "tiny-rate"
quantity = "Tiny rate"
who = "Invented adults"
group = "adult"
low = 2
high = 9.0
unit = "/min"
sign = "tiny sign"
source = "invented2020"
place = "Table 1"
checked = "full-text"
step = "tiny-step"
"""

RED_FLAGS = """\
[[red_flags]]
id = "tiny-flag"
what = "A tiny flag."
why = "It may grow."
act = "Call for help. [local sign-off]"
speed = "now"
source = "invented2020"
place = "abstract"
checked = "abstract"
"""

REFERENCES = """\
% Invented, as everything here.

@article{invented2020,
  author = {Invented, Anna and {Society of Invented Things}},
  title = {Tiny things of an invented kind},
  journal = {Journal of Invention}, year = {2020}, volume = {1}, pages = {2--3}, doi = {10.0000/invented}
}
"""

SETTINGS = """\
site_name: Tiny
nav:
  - Home: index.md
  - Examination:
      - examination/tiny-step.md
"""

FILES = {
    "content/examination/tiny-step.md": STEP,
    "content/findings/tiny-sign.md": FINDING,
    "content/conditions/tiny-condition.md": CONDITION,
    "content/index.md": INDEX,
    "content/values/tiny.toml": VALUES,
    "content/red_flags.toml": RED_FLAGS,
    "content/references.bib": REFERENCES,
    "mkdocs.yml": SETTINGS,
}


@pytest.fixture
def tiny(tmp_path: Path) -> Callable[..., Path]:
    """Give a function that writes the tiny handbook, with changes, and returns its root."""

    def write(*changes: Change) -> Path:
        files = dict(FILES)
        for file, old, new in changes:
            if new is None:
                del files[file]
            elif old is None:
                files[file] = new
            else:
                assert old in files[file], f"{old!r} is not in {file}"
                files[file] = files[file].replace(old, new, 1)
        for file, text in files.items():
            path = tmp_path / file
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8", newline="\n")
        return tmp_path

    return write


@pytest.fixture
def load_tiny(tiny: Callable[..., Path]) -> Callable[..., Handbook]:
    """Give a function that loads the tiny handbook with changes, leaving second reads aside unless asked."""

    def load(*changes: Change, unread_ok: bool = True) -> Handbook:
        return handbook.load(tiny(*changes), unread_ok=unread_ok)

    return load
