/**
 * Parts of a page that are folded away: a link that leads into one opens it, and paper shows them all.
 */
(function () {
  "use strict";

  /** The id an address points to; an address that is no text points nowhere. */
  function idOf(hash) {
    try {
      return decodeURIComponent(hash.slice(1));
    } catch {
      return "";
    }
  }

  function openTo(hash) {
    const target = document.getElementById(idOf(hash));
    const folded = target && target.closest("details:not([open])");
    if (!folded) return;
    folded.open = true;
    target.scrollIntoView();
  }

  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href^='#']");
    if (link) openTo(link.hash);
  });
  window.addEventListener("hashchange", () => openTo(location.hash));
  openTo(location.hash);

  window.addEventListener("beforeprint", () => {
    for (const part of document.querySelectorAll("details")) part.open = true;
  });
})();
