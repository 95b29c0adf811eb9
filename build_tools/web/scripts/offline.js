/**
 * Keeping the handbook on this device: starts the service worker when the page rests, offers a new version quietly,
 * and says on the page about it what is kept, or why nothing can be.
 */
(function () {
  "use strict";

  const SOON_MS = 5000;
  const LONGEST_CHANGE_MS = 10000;
  const { base } = document.currentScript.dataset;
  const root = new URL(base, location).href;
  const panel = document.querySelector("[data-offline]");
  const part = (name) => panel?.querySelector(`[data-offline-${name}]`);
  let asked = false;
  let failure = "";

  function megabytes(bytes) {
    return (bytes / 1e6).toFixed(1) + " MB";
  }

  function tell(words) {
    if (panel) part("told").textContent = words;
  }

  /** cause: why something could not be kept; it stands beside what is kept already. */
  function failed(cause) {
    failure = ` The newest version could not be kept: ${cause}.`;
    if (panel && part("told").textContent.includes("kept on this device (")) tell(part("told").textContent + failure);
    else cannot(cause);
  }

  function cannot(cause) {
    tell(`Nothing more can be kept on this device: ${cause}. Everything else works while the server can be reached.`);
  }

  /** Whether a reader would lose something if the page were loaded anew. */
  function holdsValues() {
    return [...document.querySelectorAll("form :is(input[type=text], select, textarea)")].some((field) => field.value !== ""
      && !field.closest("[role=search]"));
  }

  function ask(worker, kind, hear) {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => hear(data);
    worker.postMessage({ kind }, [port2]);
  }

  function showState(found) {
    if (found.kind === "failed") {
      cannot(found.cause);
      return;
    }
    if (!panel) return;
    part("progress").hidden = true;
    part("more").hidden = found.whole;
    if (found.whole) {
      tell(`The whole handbook is kept on this device (${megabytes(found.keptBytes)}), every file checked. It opens without a network.${failure}`);
    } else if (found.usable) {
      tell(`All pages and the first calculation engine are kept on this device (${megabytes(found.keptBytes)}), and open without `
        + `a network. The second engine, which checks the first, is not: ${megabytes(found.lackingBytes)} more.${failure}`);
    } else {
      tell(`Only a part is kept on this device: ${megabytes(found.lackingBytes)} are missing.`);
    }
  }

  function keepWhole(worker) {
    const button = part("keep");
    const progress = part("progress");
    button.disabled = true;
    progress.hidden = false;
    // Else a phone that runs short of room may clear it. Whether it agrees changes nothing here.
    navigator.storage?.persist?.().catch(() => undefined);
    ask(worker, "keep", (said) => {
      if (said.kind === "progress") {
        progress.max = said.total;
        progress.value = said.bytes;
        tell(`Kept so far: ${megabytes(said.bytes)} of ${megabytes(said.total)}.`);
        return;
      }
      button.disabled = false;
      progress.hidden = true;
      showState(said);
    });
  }

  function offer(registration) {
    // Without an earlier version there is nothing to change over from.
    if (!registration.waiting || !navigator.serviceWorker.controller || document.querySelector(".new-version")) return;
    const bar = document.createElement("div");
    bar.className = "new-version";
    bar.setAttribute("role", "status");
    const words = document.createElement("p");
    words.textContent = "A new version of the handbook is here.";
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = "Use it now";
    button.addEventListener("click", () => {
      asked = true;
      // It takes over once the version before it has answered what is under way.
      button.disabled = true;
      words.textContent = "Changing to the new version …";
      registration.waiting?.postMessage({ kind: "take-over" });
      // Should the browser not tell of the change: the page that is loaded then belongs to whichever version serves.
      setTimeout(() => location.reload(), LONGEST_CHANGE_MS);
    });
    bar.append(words, button);
    const show = () => { bar.hidden = holdsValues(); };
    show();
    document.addEventListener("input", show);
    document.addEventListener("reset", () => setTimeout(show));
    document.body.append(bar);
  }

  function follow(registration) {
    const watch = (worker) => worker?.addEventListener("statechange", () => {
      if (worker.state === "installed") offer(registration);
      if (worker.state === "activated" && panel) show(worker);
    });
    offer(registration);
    // Its coming in may have begun before this page could listen.
    watch(registration.installing);
    registration.addEventListener("updatefound", () => watch(registration.installing));
  }

  function show(worker) {
    ask(worker, "state", showState);
  }

  async function start() {
    if (!window.isSecureContext) {
      cannot("browsers keep pages only from an address that begins with https");
      return;
    }
    if (!navigator.serviceWorker || !window.caches) {
      cannot("this browser, or its private window, does not let pages keep anything");
      return;
    }
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      if (asked) location.reload();
    });
    let registration;
    try {
      registration = await navigator.serviceWorker.register(root + "service-worker.js", { scope: root, updateViaCache: "none" });
    } catch (fault) {
      // The one that is there already serves on.
      registration = await navigator.serviceWorker.getRegistration(root);
      if (!registration?.active) cannot(`the browser refused (${fault.message})`);
    }
    if (!registration) return;
    follow(registration);
    if (!panel) {
      // Asking makes it drop what earlier versions have left behind.
      if (registration.active) ask(registration.active, "state", () => undefined);
      return;
    }
    if (registration.active) show(registration.active);
    else tell("The pages are being kept on this device.");
    part("keep").addEventListener("click", () => keepWhole(registration.active));
  }

  // From the start: what a browser keeps anew when it opens a page may fail before the page rests.
  navigator.serviceWorker?.addEventListener("message", ({ data }) => {
    if (data.kind === "failed") failed(data.cause);
  });

  // What the reader waits for goes first, and a reader who saves data is not made to fetch the whole handbook.
  const saves = navigator.connection?.saveData && !panel;
  const rest = window.requestIdleCallback || ((act) => setTimeout(act, 1000));
  const calculates = document.getElementById("engine-files") !== null;
  if (!saves) {
    const go = () => {
      if (document.documentElement.dataset.engine !== "loading") rest(start, { timeout: 10_000 });
      else window.addEventListener("engines-resting", () => rest(start, { timeout: 10_000 }), { once: true });
    };
    window.addEventListener("load", () => {
      if (!calculates) go();
      // A reader who has come to calculate soon begins, and the second engine then comes in.
      else if (document.documentElement.dataset.engine) setTimeout(go, SOON_MS);
      else window.addEventListener("engine-settled", () => setTimeout(go, SOON_MS), { once: true });
    });
  }
})();
