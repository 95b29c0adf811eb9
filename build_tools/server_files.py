"""Settings for nginx, Apache and IIS that come with the site, for whoever publishes it to copy.

They are made from the same types and headers that `serve` and the tests send. They lie in a folder of their own
under names that no server obeys there: a server that forbids one of the settings would refuse the whole site.
"""

from __future__ import annotations

import re
import string
from collections.abc import Iterable, Mapping
from pathlib import Path

from build_tools import __version__
from build_tools.compressing import KINDS, SUFFIX
from build_tools.headers import ASK_AGAIN, KEEP, NO_GUESSING, SECURITY_HEADERS, TYPES
from build_tools.placing import HASHED, SERVER_FILES, files_of, is_hashed

TEMPLATES = Path(__file__).parent / "web" / "server_files"

# `@each ROWS`, lines, `@end`: the lines once for each row.
_EACH = re.compile(r"^@each (\w+)\n(.*?)^@end\n", re.MULTILINE | re.DOTALL)

Rows = Mapping[str, Iterable[Mapping[str, str]]]


class _Template(string.Template):
    # The settings themselves are full of dollar signs and braces.
    delimiter = "@"


def write(site_dir: Path | str) -> None:
    """Write the settings for each server into a finished site."""
    site = Path(site_dir)
    folder = site / SERVER_FILES
    folder.mkdir(exist_ok=True)
    rows = rows_for(files_of(site))
    for template in sorted(TEMPLATES.iterdir()):
        text = filled(template.read_text(encoding="utf-8"), rows)
        (folder / template.name).write_text(text, encoding="utf-8", newline="\n")


def filled(template: str, rows: Rows) -> str:
    """Fill one template. Raises KeyError with the name of what it asks for and nobody gives."""
    once = {
        "version": __version__,
        "hashed": HASHED.pattern,
        "keep": KEEP,
        "ask_again": ASK_AGAIN,
        "texts": "|".join(row["bare"] for row in rows["text"]),
    }

    def repeated(found: re.Match[str]) -> str:
        return "".join(_Template(found[2]).substitute(row) for row in rows[found[1]])

    return _Template(_EACH.sub(repeated, template)).substitute(once)


def rows_for(names: Iterable[str]) -> Rows:
    """What the templates repeat, for a site of files with these names."""
    there = [name for name in sorted(names) if not name.endswith(SUFFIX)]
    folders = sorted({name.rpartition("/")[0] for name in there if is_hashed(name)})
    others = [name for name in there if name.rpartition("/")[0] in folders and not is_hashed(name)]
    types = [{"suffix": suffix, "bare": suffix[1:], "type": kind} for suffix, kind in TYPES.items()]
    return {
        "type": types,
        "text": [row for row in types if row["suffix"] in KINDS],
        "header": [{"name": name, "value": value} for name, value in {**SECURITY_HEADERS, **NO_GUESSING}.items()],
        "hashed_folder": [{"path": folder} for folder in folders],
        "other_there": [{"path": name} for name in others],
    }
