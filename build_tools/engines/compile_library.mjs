// Runs compile_library.py inside Pyodide and prints what it gives.
// Usage: node compile_library.mjs FOLDER-OF-PYODIDE > MODULES.json
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const home = process.argv[2];
const { loadPyodide } = await import(pathToFileURL(join(home, "pyodide.mjs")));
const python = await loadPyodide({ indexURL: home });
const program = readFileSync(new URL("compile_library.py", import.meta.url), "utf-8");
process.stdout.write(python.runPython(program));
