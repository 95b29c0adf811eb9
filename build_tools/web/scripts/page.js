/**
 * The start of everything on a page that calculates. Runs as soon as it is there, before the page is complete,
 * so that the first engine comes in while the page is still being read and drawn.
 */
import { Calculator } from "./calculator.js";
import { Engines } from "./engines.js";

const files = JSON.parse(document.getElementById("engine-files").textContent);
const engines = new Engines(files.engines, new URL(".", document.currentScript.src).href);
// The theme's script waits for this (late.js).
engines.listen(() => {
  if (!engines.settled || document.documentElement.dataset.engine) return;
  document.documentElement.dataset.engine = "settled";
  window.dispatchEvent(new Event("engine-settled"));
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
