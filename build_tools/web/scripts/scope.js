/**
 * The names that the theme's own script expects to find: where the site begins, and its store of small choices.
 */
(function () {
  "use strict";

  const scope = new URL(document.currentScript.dataset.base, location);

  window.__md_scope = scope;
  window.__md_get = (key, store = localStorage, from = scope) => JSON.parse(store.getItem(from.pathname + "." + key));
  window.__md_set = (key, value, store = localStorage, from = scope) => {
    try {
      store.setItem(from.pathname + "." + key, JSON.stringify(value));
    } catch {
      // Storage can be refused; the choice then lasts as long as the page.
    }
  };
})();
