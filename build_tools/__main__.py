"""Make the virtual environment on first use, then run the command line in it.

This file and build_tools/__init__.py are read by any Python, however old, so that it can say what is wrong.
"""

import sys

OLDEST = (3, 11)

if sys.version_info < OLDEST:
    sys.exit(
        "Pulse & Ruler needs Python %s or newer; this is Python %s (%s).\n"
        % (".".join(map(str, OLDEST)), sys.version.split()[0], sys.executable)
        + "Start the same command with a newer one, for example: python3.13 -m build_tools "
        + (" ".join(sys.argv[1:]) or "build")
    )

from build_tools import environment  # noqa: E402 - after the check, since older Python can't read it

if __name__ == "__main__":
    sys.exit(environment.enter(sys.argv[1:]))
