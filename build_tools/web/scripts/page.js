/** The start of everything on a page that calculates. */
import { Calculator } from "./calculator.js";
import { pageEngines, whenShown } from "./page_engines.js";

const { engines, version } = pageEngines();
const ready = new WeakSet();

whenShown(() => {
  for (const section of document.querySelectorAll("[data-calculator]")) {
    if (ready.has(section)) continue;
    ready.add(section);
    new Calculator(section, engines, version);
    for (const part of section.querySelectorAll(".calculator-static details")) part.open = false;
  }
});
