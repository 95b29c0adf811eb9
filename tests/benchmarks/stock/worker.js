import { loadPyodide } from "./pyodide.mjs";

const packs = ["core.json", "calculator.json"].map(async (name) => (await fetch(name)).json());
const pyodide = await loadPyodide({ indexURL: new URL(".", location.href).href });
pyodide.runPython("import sys\nsys.path.insert(0, '/')");
const sheets = [];
for (const pack of await Promise.all(packs)) {
  for (const [path, text] of pack.files) {
    pyodide.FS.mkdirTree("/" + path.slice(0, path.lastIndexOf("/")));
    pyodide.FS.writeFile("/" + path, text);
  }
  sheets.push(...pack.sheets);
}
pyodide.runPython("from calculators import door");
const door = pyodide.globals.get("door");
for (const sheet of sheets) door.load(JSON.stringify(sheet));
const request = {
  calculator: "mean_arterial_pressure", units: {}, complete: true, version: "",
  answers: { systolic_mmhg: "120", diastolic_mmhg: "80" },
};
postMessage(JSON.parse(door.answer(JSON.stringify(request))).results[0].value);
