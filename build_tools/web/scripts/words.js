/**
 * Words as they are compared when a reader searches or filters: no accents, indices as digits, one spelling, no plurals.
 * The rules are those of build_tools/search.py. Other scripts of the page reach them as `pulseRuler`.
 */
(function () {
  "use strict";

  function folded(word) {
    word = word.replaceAll("ae", "e").replaceAll("oe", "e");
    if (word.length > 4 && word.endsWith("our")) word = word.slice(0, -3) + "or";
    if (word.length > 3) {
      if (word.endsWith("oses")) return word.slice(0, -2) + "is";
      if (word.endsWith("ies")) return word.slice(0, -3) + "y";
      if (/(sses|xes|ches|shes)$/.test(word)) return word.slice(0, -2);
      if (word.endsWith("s") && !/(ss|us|is)$/.test(word)) return word.slice(0, -1);
    }
    return word;
  }

  /** Fold text to plain words. */
  function foldedWords(text) {
    const plain = text.replace(/['’]/g, "").normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
    return (plain.match(/[a-z0-9]+(?:\.[0-9]+)?/g) || []).map(folded);
  }

  /** An age in the words names a group of people: "at 80" is an older adult. Gives {group, number} or null. */
  function groupOfAge(text) {
    const found = /\b(?:at|aged?|age of)\s+(\d{1,3})\b(?!\s*[°/%])|\b(\d{1,3})[\s-]*(?:years?|yrs?|y(?:ear)?-old|yo)\b/i.exec(text);
    if (!found) return null;
    const number = found[1] || found[2];
    const age = Number(number);
    if (age > 120) return null;
    return { group: age < 1 ? "newborn" : age < 18 ? "child" : age >= 65 ? "older" : "adult", number };
  }

  window.pulseRuler = { foldedWords, groupOfAge };
})();
