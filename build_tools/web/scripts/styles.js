/**
 * Brings the styles in where a server calls everything plain text: browsers then drop a style sheet without a word,
 * but take from a script what it holds.
 */
(function () {
  "use strict";

  function isDropped(link) {
    try {
      return !link.sheet || link.sheet.cssRules.length === 0;
    } catch {
      return false; // A page that was opened from a disk may not look into its own sheets.
    }
  }

  async function bring(link) {
    const answer = await fetch(link.href);
    if (!answer.ok) return [];
    const sheet = new CSSStyleSheet({ baseURL: link.href });
    return [await sheet.replace(await answer.text())];
  }

  // Not sooner: until then a sheet may still be on its way.
  window.addEventListener("load", async () => {
    const dropped = [...document.querySelectorAll("link[rel=stylesheet]")].filter(isDropped);
    if (dropped.length) document.adoptedStyleSheets = (await Promise.all(dropped.map(bring))).flat();
  });
})();
