/**
 * The engines of a page. Called as soon as the page's script is there, before the page is complete, so that the
 * first engine comes in while the page is still being read and drawn.
 */
import { Engines } from "./engines.js";

/** Start the engines that the page names. To be called once, while the script itself runs: {engines, version}. */
export function pageEngines() {
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
  window.addEventListener("pagehide", () => engines.end());
  // A page that the browser kept for the way back comes without its workers.
  window.addEventListener("pageshow", (event) => {
    if (event.persisted) engines.start();
  });
  return { engines, version: files.version };
}

/**
 * Set up what the page shows, now and whenever the theme shows another page: it may be called for one page twice.
 *
 * @param {() => void} setUp
 */
export function whenShown(setUp) {
  const begin = () => (window.document$ ? window.document$.subscribe(setUp) : setUp());
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin);
  else begin();
}

/**
 * Ask a model: {model, ...what it reads} in, its answer out. Rejects with an Error that can be shown to the reader,
 * when no engine runs or the model refuses.
 *
 * @param {Engines} engines
 * @param {{model: string}} request
 */
export async function askModel(engines, request) {
  const answer = JSON.parse((await engines.answer(JSON.stringify(request))).response);
  if (answer.state === "refused") throw new Error(answer.problem);
  return answer;
}
