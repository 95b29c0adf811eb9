"""Join the page's and the workers' source modules, and an engine, into one plain script each.

One script means one request before the first answer. A plain script, unlike a module, also starts on a
server that labels scripts wrongly and from a folder opened without a server.
"""
from __future__ import annotations

import json
import re
from pathlib import Path

_IMPORT = re.compile(r'^import (?:\{[^}]*\} from )?"([^"]+)";\n', re.MULTILINE)
_EXPORT = re.compile(r"^export (?=(?:async )?function|class|const|let)", re.MULTILINE)
_COMMENT = re.compile(r"^[ \t]*/\*\*.*?\*/\n", re.MULTILINE | re.DOTALL)
_ENGINE = "engine:"


def join(entry: Path, engines: dict[str, str] | None = None) -> str:
    """Return the script made of `entry` and what it imports, each module once and before its user, without its docs.

    engines: the text that stands in for `import ... from "engine:NAME"`, by NAME.
    Top-level names share one scope, so a name used in two modules is a syntax error when the script loads.
    Raises ValueError for an import or export written in a form this does not know.
    """
    order: list[str] = []
    _collect(entry, engines or {}, order, set())
    return '(() => {\n"use strict";\n' + "\n".join(order) + "})();\n"


def _collect(path: Path, engines: dict[str, str], order: list[str], seen: set[str]) -> None:
    text = path.read_text(encoding="utf-8")
    for target in _IMPORT.findall(text):
        if target in seen:
            continue
        seen.add(target)
        if target.startswith(_ENGINE):
            order.append(engines[target.removeprefix(_ENGINE)])
        else:
            _collect(path.parent / target, engines, order, seen)
    text = _COMMENT.sub("", _EXPORT.sub("", _IMPORT.sub("", text))).strip("\n") + "\n"
    if left := re.search(r"^(import|export)\b.*", text, re.MULTILINE):
        raise ValueError(
            f"{path.name}: {left.group()!r} is not understood. Write imports as "
            'import { name } from "./file.js"; on one line, and export functions, classes and constants by name.'
        )
    order.append(text)


def micropython(source: str) -> str:
    """Return MicroPython's module as plain script text that defines `loadMicroPython`."""
    source = _replace(source, "import.meta.url", "self.location.href", "MicroPython")
    source = _replace(source, "export default _createMicroPythonModule;", "", "MicroPython")
    source = _replace(source, "export async function loadMicroPython", "async function loadMicroPython", "MicroPython")
    # Its command line for Node never runs here, and a plain script may not await where it does.
    node = 'const path=await import("path"),url=await import("url")'
    source = _replace(source, node, "const path=null,url=null", "MicroPython")
    return _scoped("loadMicroPython", source, "loadMicroPython")


def pyodide(loader: str, core: str, lock: str) -> str:
    """Return Pyodide's two modules as plain script text.

    It defines `createPyodideModule`, `loadPyodide`, and `lockInfo`: the part of its list of packages (JSON
    text) that says which engine it belongs to. The packages themselves are left out.
    """
    core = _replace(core, "import.meta.url", "self.location.href", "Pyodide")
    core = _replace(core, "export default _createPyodideModule;", "", "Pyodide")
    loader, names = re.subn(r"export\{(\w+) as loadPyodide,\w+ as version\};", r"return \1;", loader)
    if names != 1:
        raise _changed("Pyodide", "the export of loadPyodide")
    # Packages are never loaded. Without an address none can be asked for from outside by mistake.
    loader, addresses = re.subn(r"`https://[^`]*`", '"./"', loader)
    if addresses != 1:
        raise _changed("Pyodide", "one address of packages")
    loader = re.sub(r"\n//# sourceMappingURL=.*\s*$", "\n", loader)
    # The loader refuses plain workers, since it imports its core as a module there. Here it is given its core.
    plain = "self.importScripts = undefined;\n"
    info = json.dumps(json.loads(lock)["info"])
    return (
        _scoped("createPyodideModule", core, "_createPyodideModule") + plain + _scoped("loadPyodide", loader)
        + f"const lockInfo = {info};\n"
    )


def zstd(source: str) -> str:
    """Return the library fzstd's module as plain script text that defines `Decompress`."""
    source = _replace(source, "export { Decompress };", "", "fzstd")
    return _scoped("Decompress", source.replace("\nexport ", "\n"), "Decompress")


def _scoped(name: str, source: str, returned: str = "") -> str:
    last = f"return {returned};\n" if returned else ""
    return f'const {name} = (() => {{\n"use strict";\n{source}\n{last}}})();\n'


def _replace(source: str, old: str, new: str, engine: str) -> str:
    if old not in source:
        raise _changed(engine, repr(old))
    return source.replace(old, new)


def _changed(engine: str, what: str) -> ValueError:
    return ValueError(
        f"{engine}'s files no longer contain {what}. The pinned version has changed: "
        "read its loader anew and adapt build_tools/javascript.py."
    )
