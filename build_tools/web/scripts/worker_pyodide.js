/** The second engine: full CPython as Pyodide. The reference that re-checks the first one's answers. */
import { asWasm, serveDoor, serveFiles } from "./worker_door.js";
import "./worker_zstd.js";
import { createPyodideModule, loadPyodide, lockInfo } from "engine:pyodide";

serveDoor(async (engine, open) => {
  const [wasm, library] = await Promise.all([open(engine.wasm), open(engine.library)]);
  serveFiles({ "pyodide.asm.wasm": () => asWasm(wasm), "library.zip": () => new Response(library) });
  const here = "./";
  const pyodide = await loadPyodide({
    createPyodideModule,
    indexURL: here,
    stdLibURL: "library.zip",
    lockFileContents: { info: lockInfo, packages: {} },
    packageBaseUrl: here,
    stdout: () => {},
  });
  pyodide.runPython(
    "import sys\nversion = '.'.join(str(part) for part in sys.version_info[:3])\nsys.path.insert(0, '/')",
  );
  return {
    write(path, text) {
      const folder = path.slice(0, path.lastIndexOf("/"));
      if (folder) pyodide.FS.mkdirTree("/" + folder);
      pyodide.FS.writeFile("/" + path, text);
    },
    run: (code) => pyodide.runPython(code),
    get: (name) => pyodide.globals.get(name),
    version: "Python " + pyodide.globals.get("version"),
  };
});
