/**
 * Light or dark: as the device says, unless the reader chose. The choice stays on this device.
 * This runs before the page is painted, so that a dark page never flashes white.
 */
(function () {
  "use strict";

  const KEY = "pulse-ruler-scheme";
  const SCHEMES = ["system", "paper", "night"];
  const WORDS = { system: "Colours follow the device", paper: "Light colours", night: "Dark colours" };
  const root = document.documentElement;

  function kept() {
    try {
      const scheme = localStorage.getItem(KEY);
      return SCHEMES.includes(scheme) ? scheme : "system";
    } catch {
      return "system"; // Storage can be refused; the page then follows the device.
    }
  }

  function keep(scheme) {
    try {
      localStorage.setItem(KEY, scheme);
    } catch {
      // The choice then lasts as long as the page.
    }
  }

  function show(scheme) {
    root.dataset.scheme = scheme;
    for (const button of document.querySelectorAll("[data-scheme-button]")) {
      const next = SCHEMES[(SCHEMES.indexOf(scheme) + 1) % SCHEMES.length];
      button.title = WORDS[scheme] + ". Touch for: " + WORDS[next].toLowerCase();
      button.querySelector("[data-scheme-words]").textContent = WORDS[scheme];
    }
  }

  root.classList.remove("no-js");
  show(kept());
  document.addEventListener("DOMContentLoaded", () => {
    show(kept());
    for (const button of document.querySelectorAll("[data-scheme-button]")) {
      button.addEventListener("click", () => {
        const next = SCHEMES[(SCHEMES.indexOf(root.dataset.scheme) + 1) % SCHEMES.length];
        keep(next);
        show(next);
      });
    }
  });
})();
