/**
 * A list that a reader can narrow, by words and to its core: steps, findings and conditions.
 * Without this script the list stands in full. The choice of the core is kept on this device, for every list.
 */
(function () {
  "use strict";

  const KEY = "pulse-ruler-core-only";
  const { foldedWords } = window.pulseRuler;

  function keptToCore() {
    try {
      return localStorage.getItem(KEY) === "yes";
    } catch {
      return false; // Storage can be refused; the list then stands in full.
    }
  }

  function keep(core) {
    try {
      if (core) localStorage.setItem(KEY, "yes");
      else localStorage.removeItem(KEY);
    } catch {
      // The choice then lasts as long as the page.
    }
  }

  function setUp(list) {
    if (list.dataset.ready) return;
    list.dataset.ready = "yes";
    const form = list.querySelector("[data-list-form]");
    const input = form.querySelector("[data-list-filter]");
    const core = form.querySelector("[data-core-only]");
    const count = form.querySelector("[data-list-count]");
    const ways = [...list.querySelectorAll("nav li")];
    const groups = [...list.querySelectorAll("[data-list-group]")];
    const rows = [...list.querySelectorAll("[data-level]")].map((element) => ({
      element,
      beyond: element.dataset.level !== "core",
      words: foldedWords((element.dataset.words || "") + " " + element.textContent),
    }));

    function told(narrowed, shown, hidden) {
      if (narrowed && hidden) return `${shown} of ${rows.length}, and ${hidden} hidden as further or specialist`;
      if (narrowed) return `${shown} of ${rows.length}`;
      return hidden ? `${hidden} of ${rows.length} hidden: further and specialist. Search still finds them.` : "";
    }

    function narrow() {
      const wanted = foldedWords(input?.value || "");
      let shown = 0;
      let hidden = 0;
      for (const row of rows) {
        const fits = wanted.every((word) => row.words.some((own) => own.startsWith(word)));
        const kept = fits && !(core?.checked && row.beyond);
        row.element.hidden = !kept;
        if (kept) shown += 1;
        else if (fits) hidden += 1;
      }
      groups.forEach((group, at) => {
        group.hidden = !group.querySelector("[data-level]:not([hidden])");
        ways[at].hidden = group.hidden; // One way into each group, in their order.
      });
      count.textContent = told(wanted.length > 0, shown, hidden);
    }

    if (core) {
      core.checked = keptToCore();
      core.addEventListener("change", () => {
        keep(core.checked);
        narrow();
      });
    }
    input?.addEventListener("input", narrow);
    form.addEventListener("submit", (event) => event.preventDefault());
    // A browser puts back what was typed when the reader comes back to the page.
    if (input?.value || core?.checked) narrow();
  }

  for (const list of document.querySelectorAll("[data-list]")) setUp(list);
})();
