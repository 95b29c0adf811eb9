/**
 * The theme's own script, fetched when the page has come and rests: what a reader waits for goes first, and a reader
 * who saves data does without. It marks the section that is being read.
 */
(function () {
  "use strict";

  const { base, script } = document.currentScript.dataset;
  const scope = new URL(base, location);

  // The names that the theme's script expects to find: where the site begins, and its store of small choices.
  window.__md_scope = scope;
  window.__md_get = (key, store = localStorage, from = scope) => JSON.parse(store.getItem(from.pathname + "." + key));
  window.__md_set = (key, value, store = localStorage, from = scope) => {
    try {
      store.setItem(from.pathname + "." + key, JSON.stringify(value));
    } catch {
      // Storage can be refused; the choice then lasts as long as the page.
    }
  };

  function fetchScript() {
    const element = document.createElement("script");
    element.src = script;
    document.body.append(element);
  }

  if (navigator.connection?.saveData) return;
  const rest = window.requestIdleCallback || ((act) => setTimeout(act, 1000));
  const calculates = document.getElementById("engine-files") !== null;
  window.addEventListener("load", () => {
    const go = () => rest(fetchScript, { timeout: 10_000 });
    if (!calculates || document.documentElement.dataset.engine) go();
    else window.addEventListener("engine-settled", go, { once: true });
  });
})();
