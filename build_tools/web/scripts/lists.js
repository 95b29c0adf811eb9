/** A list that a reader can narrow: findings and conditions from A to Z. Without this script the list stands in full. */
(function () {
  "use strict";

  const { foldedWords } = window.pulseRuler;

  function setUp(list) {
    if (list.dataset.ready) return;
    list.dataset.ready = "yes";
    const form = list.querySelector("[data-list-form]");
    const input = form.querySelector("input");
    const count = form.querySelector("[data-list-count]");
    const groups = [...list.querySelectorAll("[data-list-group]")];
    const rows = [...list.querySelectorAll("[data-words]")].map((element) => ({
      element,
      words: foldedWords(element.dataset.words + " " + element.textContent),
    }));

    function narrow() {
      const wanted = foldedWords(input.value);
      let shown = 0;
      for (const row of rows) {
        const fits = wanted.every((word) => row.words.some((own) => own.startsWith(word)));
        row.element.hidden = !fits;
        if (fits) shown += 1;
      }
      for (const group of groups) group.hidden = !group.querySelector("[data-words]:not([hidden])");
      count.textContent = wanted.length ? shown + " of " + rows.length : "";
    }

    input.addEventListener("input", narrow);
    form.addEventListener("submit", (event) => event.preventDefault());
    if (input.value) narrow(); // A browser puts back what was typed when the reader comes back to the page.
  }

  for (const list of document.querySelectorAll("[data-list]")) setUp(list);
})();
