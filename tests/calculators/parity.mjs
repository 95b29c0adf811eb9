// Runs the calculators in one browser engine under Node.
// Usage: node parity.mjs micropython|pyodide JOB.json > ANSWERS.json
// The job: {engines: folder of the npm packages, files: {path: source}, sheets: [text], requests: [text]}.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [engine, jobFile] = process.argv.slice(2);
const job = JSON.parse(readFileSync(jobFile, "utf-8"));

async function start() {
  if (engine === "micropython") {
    const home = join(job.engines, "@micropython", "micropython-webassembly-pyscript", "micropython.mjs");
    const { loadMicroPython } = await import(pathToFileURL(home));
    return loadMicroPython({ heapsize: 32 * 1024 * 1024 });
  }
  const home = join(job.engines, "pyodide");
  const { loadPyodide } = await import(pathToFileURL(join(home, "pyodide.mjs")));
  return loadPyodide({ indexURL: home });
}

const python = await start();
for (const [path, source] of Object.entries(job.files)) {
  const folders = path.split("/").slice(0, -1);
  folders.forEach((_, index) => {
    const folder = "/" + folders.slice(0, index + 1).join("/");
    if (!python.FS.analyzePath(folder).exists) python.FS.mkdir(folder);
  });
  python.FS.writeFile("/" + path, source);
}
python.runPython("import sys\nsys.path.insert(0, '/')\nfrom calculators import door");
const door = python.globals.get("door");
job.sheets.forEach((sheet) => door.load(sheet));
process.stdout.write(JSON.stringify(job.requests.map((request) => door.answer(request))));
