// What a reader does on a page of ours, put into each page before its own scripts. It tells the moments by `tell`.
(() => {
  const told = new Set();
  function tellOnce(kind, more = {}) {
    if (told.has(kind)) return;
    told.add(kind);
    window.tell(JSON.stringify({ kind, at: performance.now(), ...more }));
  }

  new MutationObserver(() => {
    const form = document.querySelector("[data-calculator=mean_arterial_pressure] form");
    if (!form) return;
    const [systolic, diastolic] = form.querySelectorAll("input[type=text]");
    if (diastolic && systolic.value === "") {
      systolic.value = "120";
      diastolic.value = "80";
    }
    const section = form.closest("[data-calculator]");
    // The page's script folds the notes away once the form is live: from then on it hears that a field is touched.
    if (section.querySelector(".calculator-static details:not([open])") && !told.has("live")) {
      tellOnce("live");
      systolic.dispatchEvent(new Event("focusin", { bubbles: true }));
    }
    if (section.querySelector(".calculator-number")) tellOnce("answer", { text: section.querySelector(".calculator-number").textContent });
    const line = section.querySelector(".calculator-engine");
    if (line && line.textContent.includes("gives the same")) tellOnce("agreed");
  }).observe(document, { subtree: true, childList: true, attributes: true, attributeFilter: ["open"] });
})();
