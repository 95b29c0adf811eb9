/** The first engine: MicroPython. Small, and up in a tenth of a second. */
import { asWasm, serveDoor, serveFiles } from "./worker_door.js";
import { loadMicroPython } from "engine:micropython";

const HEAP_BYTES = 8 * 1024 * 1024;

serveDoor(async (engine, open) => {
  const wasm = await open(engine.wasm);
  serveFiles({ "micropython.wasm": () => asWasm(wasm) });
  const micropython = await loadMicroPython({ url: "micropython.wasm", heapsize: HEAP_BYTES });
  const implementation = "'.'.join([str(part) for part in sys.implementation[1][:3]])";
  micropython.runPython(`import sys\nversion = ${implementation}\nsys.path.insert(0, "/")`);
  return {
    /** Compiled modules come as base64. */
    write(path, base64) {
      const folder = path.slice(0, path.lastIndexOf("/"));
      if (folder) micropython.FS.mkdirTree("/" + folder);
      micropython.FS.writeFile("/" + path, Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0)));
    },
    run: (code) => micropython.runPython(code),
    get: (name) => micropython.globals.get(name),
    version: "MicroPython " + micropython.globals.get("version"),
  };
});
