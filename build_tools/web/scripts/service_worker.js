/**
 * Keeps the handbook on this device, one whole version at a time.
 *
 * A version is a cache of its own. It is filled completely, every file held against its hash, or not at all; the
 * version before it serves on until the new one is asked for or every page of the old one is closed.
 *
 * In:  {kind: "state"}, {kind: "keep"}, both with a port to answer on; {kind: "take-over"}.
 * Out: on the port: {kind: "state", ...}, {kind: "progress", bytes, total}, {kind: "failed", cause};
 *      to pages: {kind: "failed", cause} when a version could not be kept.
 */
(function () {
  "use strict";

  // Put in when the site is built: {build, first: [[address, hash, bytes]], rest: [...]}.
  const LIST = null;

  const SCOPE = self.registration.scope;
  const FAMILY = "pulse-ruler|" + new URL(SCOPE).pathname + "|";
  const OWN = FAMILY + LIST.build;
  const HASHES = new Map([...LIST.first, ...LIST.rest].map(([name, hash]) => [address(name), hash]));
  // A note in each cache of what its files are, so that a later version can take over those that are the same.
  const NOTE = address("kept-files.json");
  const AT_ONCE = 6;

  function address(name) {
    return new URL(name, SCOPE).href;
  }

  function total(files) {
    return files.reduce((sum, file) => sum + file[2], 0);
  }

  function causeOf(fault) {
    if (fault.name === "QuotaExceededError") return "there is not enough free storage on this device";
    if (fault.name === "SecurityError") return "this browser does not let the page store anything";
    return fault.cause || "the browser said: " + fault.message;
  }

  function because(cause) {
    return Object.assign(new Error(cause), { cause });
  }

  async function hashOf(bytes) {
    const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
    return btoa(String.fromCharCode(...digest));
  }

  /** The caches of other versions of this very site, with what each says it holds. */
  async function others() {
    const found = [];
    for (const name of await caches.keys()) {
      if (!name.startsWith(FAMILY) || name === OWN) continue;
      const cache = await caches.open(name);
      const note = await cache.match(NOTE);
      found.push({ name, cache, hashes: note ? new Map(await note.json()) : new Map() });
    }
    return found;
  }

  /** Put one file into the cache: the same one from an earlier version, or a fresh one that has the right hash. */
  async function keep(cache, [name, hash], earlier) {
    const place = address(name);
    for (const { cache: from, hashes } of earlier) {
      const same = hashes.get(place) === hash && (await from.match(place));
      if (same) return cache.put(place, same);
    }
    let answer;
    try {
      // What carries its hash in its name may come from the browser's own store.
      answer = await fetch(place, { cache: /\.[0-9a-f]{16}\./.test(name) ? "default" : "no-cache" });
    } catch {
      throw because("the server could not be reached");
    }
    if (!answer.ok) throw because("the server answered " + answer.status + " for " + name);
    const bytes = await answer.arrayBuffer();
    if ((await hashOf(bytes)) !== hash) throw because("the file " + name + " on the server belongs to another version");
    const headers = new Headers(answer.headers);
    // The bytes are unpacked already.
    headers.delete("Content-Encoding");
    headers.delete("Content-Length");
    headers.delete("Vary");
    return cache.put(place, new Response(bytes, { headers }));
  }

  /** Keep files, a few at a time; the first fault ends it. */
  async function keepAll(cache, files, earlier, tell = () => {}) {
    const ahead = [...files];
    let bytes = 0;
    let broken = false;
    const lane = async () => {
      while (ahead.length && !broken) {
        const file = ahead.shift();
        try {
          await keep(cache, file, earlier);
        } catch (fault) {
          broken = true;
          throw fault;
        }
        bytes += file[2];
        tell(bytes);
      }
    };
    const ended = await Promise.allSettled(Array.from({ length: AT_ONCE }, lane));
    const fault = ended.find((one) => one.status === "rejected");
    if (fault) throw fault.reason;
  }

  async function missing(cache, files) {
    const kept = new Set((await cache.keys()).map((request) => request.url));
    return files.filter(([name]) => !kept.has(address(name)));
  }

  async function install() {
    try {
      // What an earlier try left half-filled must not pass for kept.
      await caches.delete(OWN);
      const earlier = await others();
      const cache = await caches.open(OWN);
      // Who keeps the whole handbook keeps the whole of the next version.
      const whole = earlier.some(({ hashes }) => hashes.get("whole"));
      await keepAll(cache, whole ? [...LIST.first, ...LIST.rest] : LIST.first, earlier);
      await note(cache, whole);
    } catch (fault) {
      await caches.delete(OWN).catch(() => undefined);
      for (const page of await pages()) page.postMessage({ kind: "failed", cause: causeOf(fault) });
      throw fault;
    }
  }

  function note(cache, whole) {
    const content = JSON.stringify([...HASHES, ["whole", whole]]);
    return cache.put(NOTE, new Response(content, { headers: { "Content-Type": "application/json" } }));
  }

  /** The open pages of this site. */
  async function pages() {
    const open = await clients.matchAll({ includeUncontrolled: true, type: "window" });
    return open.filter((page) => page.url.startsWith(SCOPE));
  }

  /** Drop earlier versions, unless another page may still be using one. */
  async function tidy() {
    if ((await pages()).length > 1) return;
    for (const { name } of await others()) {
      // A version that is being filled has no note yet, and waits for its turn.
      if (!self.registration.installing && !self.registration.waiting) await caches.delete(name);
    }
  }

  async function state() {
    const cache = await caches.open(OWN);
    const lacking = { first: await missing(cache, LIST.first), rest: await missing(cache, LIST.rest) };
    return {
      kind: "state",
      build: LIST.build,
      usable: lacking.first.length === 0,
      whole: lacking.first.length === 0 && lacking.rest.length === 0,
      keptBytes: total(LIST.first) + total(LIST.rest) - total(lacking.first) - total(lacking.rest),
      lackingBytes: total(lacking.first) + total(lacking.rest),
    };
  }

  async function keepWhole(port) {
    try {
      const cache = await caches.open(OWN);
      const files = [...await missing(cache, LIST.first), ...await missing(cache, LIST.rest)];
      await keepAll(cache, files, await others(), (bytes) => port.postMessage({ kind: "progress", bytes, total: total(files) }));
      await note(cache, true);
      port.postMessage(await state());
    } catch (fault) {
      port.postMessage({ kind: "failed", cause: causeOf(fault) });
    }
  }

  /** The file for a request: of this version, or of an earlier one that an open page still belongs to. */
  async function answer(request) {
    const place = new URL(request.url);
    place.search = place.hash = "";
    if (place.pathname.endsWith("/")) place.pathname += "index.html";
    const own = await (await caches.open(OWN)).match(place.href);
    if (own) return own;
    if (!HASHES.has(place.href)) {
      for (const { cache } of await others()) {
        const earlier = await cache.match(place.href);
        if (earlier && request.mode !== "navigate") return earlier;
      }
    }
    try {
      return await fetch(request);
    } catch (fault) {
      if (request.mode !== "navigate") throw fault;
      const words = "<!doctype html><html lang=en><meta charset=utf-8><title>Not on this device</title>"
        + "<p>This page is not kept on this device, and the server cannot be reached.</p>"
        + `<p><a href="${address("index.html")}">To the handbook’s home page</a></p>`;
      return new Response(words, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8" } });
    }
  }

  self.addEventListener("install", (event) => event.waitUntil(install()));
  self.addEventListener("activate", (event) => event.waitUntil(clients.claim()));
  self.addEventListener("fetch", (event) => {
    if (event.request.method !== "GET" || !event.request.url.startsWith(SCOPE)) return;
    event.respondWith(answer(event.request));
  });
  self.addEventListener("message", (event) => {
    const [port] = event.ports;
    if (event.data.kind === "take-over") self.skipWaiting();
    if (event.data.kind === "state") {
      event.waitUntil(tidy().then(state).then(
        (found) => port.postMessage(found),
        (fault) => port.postMessage({ kind: "failed", cause: causeOf(fault) }),
      ));
    }
    if (event.data.kind === "keep") event.waitUntil(keepWhole(port));
  });
})();
