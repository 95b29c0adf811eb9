"""Runs inside Pyodide: compile the modules of its standard library that the calculators need.

Its value is JSON text, {path in the archive: base64 of the compiled module}. What is needed is what is loaded
once the engine stands, JSON has been read and a fault has been put into words.
"""

import _imp
import base64
import importlib.util
import json
import marshal
import sys
import traceback
import zipimport

# Pyodide takes the descriptions of its own functions from their docstrings; nobody else reads any here.
WITH_DOCSTRINGS = ("_pyodide", "pyodide")
# The source never changes once it is compiled, so the engine need not look whether it has.
UNCHECKED_HASH = (1).to_bytes(4, "little")

try:
    json.loads("[")
except ValueError:
    traceback.format_exc()

archive = next(path for path in sys.path if path.endswith(".zip"))
sources = zipimport.zipimporter(archive)
compiled = {}
for name in sorted(sys.modules):
    file = getattr(sys.modules[name], "__file__", None) or ""
    if file.startswith(archive + "/"):
        source = sources.get_data(file)
        level = 0 if name.split(".")[0] in WITH_DOCSTRINGS else 2
        code = compile(source, file, "exec", dont_inherit=True, optimize=level)
        digest = _imp.source_hash(int.from_bytes(importlib.util.MAGIC_NUMBER, "little"), source)
        module = importlib.util.MAGIC_NUMBER + UNCHECKED_HASH + digest + marshal.dumps(code)
        compiled[file[len(archive) + 1 : -len(".py")] + ".pyc"] = base64.b64encode(module).decode()

json.dumps(compiled)
