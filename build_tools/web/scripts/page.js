/**
 * The start of everything on a page that calculates. Runs as soon as it is there, before the page is complete,
 * so that the first engine comes in while the page is still being read and drawn.
 */
import { Calculator } from "./calculator.js";
import { Engines } from "./engines.js";

const files = JSON.parse(document.getElementById("engine-files").textContent);
const engines = new Engines(files.engines, new URL(".", document.currentScript.src).href);
// What else wants the line waits for this: the theme's script for the first engine, keeping the pages for both.
engines.listen(() => {
  if (!engines.settled) return;
  const { dataset } = document.documentElement;
  const before = dataset.engine;
  dataset.engine = engines.loading ? "loading" : "resting";
  if (!before) window.dispatchEvent(new Event("engine-settled"));
  if (before === "loading" && !engines.loading) window.dispatchEvent(new Event("engines-resting"));
});
engines.start();

const ready = new WeakSet();

function setUp() {
  for (const section of document.querySelectorAll("[data-calculator]")) {
    if (ready.has(section)) continue;
    ready.add(section);
    new Calculator(section, engines, files.version);
    for (const part of section.querySelectorAll(".calculator-static details")) part.open = false;
  }
}

/** The theme tells of every page it shows, where its own script has run; setting up twice does no harm. */
function begin() {
  if (window.document$) window.document$.subscribe(setUp);
  else setUp();
}

if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin);
else begin();

window.addEventListener("pagehide", () => engines.end());
// A page that the browser kept for the way back comes without its workers.
window.addEventListener("pageshow", (event) => {
  if (event.persisted) engines.start();
});
