/**
 * Normal values, narrowed as the reader types: a sign, a number, an age, or a group of people.
 * A number is also held against each range that it could belong to, and the ruler shows where it falls.
 */
(function () {
  "use strict";

  const { foldedWords, groupOfAge } = window.pulseRuler;
  const NUMBER = /^[0-9]+(\.[0-9]+)?$/;

  // Who else a row holds for: an older adult is an adult, and everyone is "any".
  const HOLDS = {
    adult: ["adult", "any"], older: ["older", "adult", "any"], pregnancy: ["pregnancy", "any"],
    child: ["child", "any"], newborn: ["newborn", "any"],
  };

  function limit(text) {
    return text === undefined || text === "" ? null : Number(text);
  }

  function read(element) {
    const marker = element.querySelector(".ruler-marker");
    return {
      element,
      marker,
      words: foldedWords(element.dataset.words + " " + element.querySelector("[data-range]").textContent),
      group: element.dataset.group,
      low: limit(element.dataset.low),
      high: limit(element.dataset.high),
      ends: marker && [Number(marker.dataset.low), Number(marker.dataset.high)],
      verdict: element.querySelector("[data-verdict]"),
    };
  }

  /** Whether a number could be a reading of this row: it lies on the row's ruler. */
  function couldBe(row, number) {
    return row.ends !== null && number >= row.ends[0] && number <= row.ends[1];
  }

  function place(row, number) {
    const { low, high, x0, x1 } = row.marker.dataset;
    const share = (number - Number(low)) / (Number(high) - Number(low));
    const x = Number(x0) + Math.min(1, Math.max(0, share)) * (Number(x1) - Number(x0));
    row.marker.setAttribute("transform", "translate(" + x.toFixed(2) + " 0)");
    row.marker.removeAttribute("visibility");
  }

  function judge(row, number, written) {
    const shown = number !== null && (row.low !== null || row.high !== null) && couldBe(row, number);
    if (row.verdict) row.verdict.hidden = !shown;
    if (!shown) {
      row.marker?.setAttribute("visibility", "hidden");
      return;
    }
    place(row, number);
    let words = "inside this range";
    if (number === row.low || number === row.high) words = "on the limit of this range";
    else if (row.low !== null && number < row.low) words = "below this range";
    else if (row.high !== null && number > row.high) words = "above this range";
    row.verdict.textContent = written + " lies " + words + ".";
  }

  function setUp(page) {
    if (page.dataset.ready) return;
    page.dataset.ready = "yes";
    const form = page.querySelector("[data-values-form]");
    const input = form.querySelector("input[type=text]");
    const count = form.querySelector("[data-values-count]");
    const groups = [...page.querySelectorAll("[data-values-group]")];
    const rows = [...page.querySelectorAll("[data-value]")].map(read);

    function narrow() {
      const text = input.value.replace(/(\d),(\d)/g, "$1.$2");
      const age = groupOfAge(text);
      const typed = foldedWords(text).filter((word) => !(age && word === age.number));
      const numbers = typed.filter((word) => NUMBER.test(word));
      const words = typed.filter((word) => !NUMBER.test(word) && !(age && /^(at|age|aged|of|year|yr)$/.test(word)));
      const chosen = form.querySelector("input[type=radio]:checked").value || (age && age.group) || "";
      const number = numbers.length === 1 ? Number(numbers[0]) : null;
      let shown = 0;
      for (const row of rows) {
        let fits = !chosen || HOLDS[chosen].includes(row.group);
        fits = fits && words.every((word) => row.words.some((own) => own.startsWith(word)));
        // A bare number finds the rows that print it and those it could be a reading of; beside words it only marks them.
        if (fits && numbers.length && !words.length) {
          fits = numbers.every((one) => row.words.includes(one) || couldBe(row, Number(one)));
        }
        row.element.hidden = !fits;
        if (fits) {
          shown += 1;
          judge(row, number, numbers[0]);
        }
      }
      for (const group of groups) group.hidden = !group.querySelector("[data-value]:not([hidden])");
      count.textContent = shown === rows.length ? rows.length + " values"
        : shown ? shown + " of " + rows.length + " values" : "No value fits. Clear a word, or choose Everyone.";
    }

    form.addEventListener("input", narrow);
    form.addEventListener("submit", (event) => event.preventDefault());
    narrow();
  }

  for (const page of document.querySelectorAll("[data-values]")) setUp(page);
})();
