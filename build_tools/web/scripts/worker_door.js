/**
 * One worker, one engine, one door: what both workers share.
 *
 * In:  {kind: "start", base, engine, packs} once, then {kind: "answer", id, request}.
 *      base: address of the folder with the files; engine: {wasm: file, library: file or none}; packs: [file].
 * Out: {kind: "stage", stage}, {kind: "bytes", received}, {kind: "ready", version}, {kind: "failed", cause},
 *      {kind: "answer", id, response} or {kind: "broken", id, cause}.
 * Requests and responses are JSON text: numbers never cross raw.
 */
import { LoadFailure, openFile, readJson } from "./worker_files.js";

/**
 * Serve one engine to the page.
 *
 * @param {(engine: object, open: (file: object) => Promise<ReadableStream>) => Promise<object>} startEngine
 *   starts the engine from its files; gives {write(path, text), run(code), get(name), version}
 */
export function serveDoor(startEngine) {
  let failed = false;
  let answer = null;

  function fail(fault) {
    if (failed) return;                           // what follows the first cause is only its echo
    failed = true;
    postMessage({ kind: "failed", cause: causeOf(fault) });
  }

  function named(promise) {
    promise.catch(fail);
    return promise;
  }

  async function start({ base, engine, packs }) {
    const received = {};
    const counter = (file) => (bytes) => {
      received[file.name] = bytes;
      postMessage({ kind: "bytes", received: Object.values(received).reduce((sum, one) => sum + one, 0) });
    };
    postMessage({ kind: "stage", stage: "download" });
    const reading = Promise.all(packs.map((file) => named(readJson(file, base, counter(file)))));
    const python = await startEngine(engine, (file) => named(openFile(file, base, counter(file), fail)));
    const contents = await reading;
    postMessage({ kind: "stage", stage: "load" });
    for (const pack of contents) {
      for (const [path, text] of pack.files) python.write(path, text);
    }
    python.run("from calculators import door\nload = door.load\nanswer = door.answer");
    const load = python.get("load");
    for (const pack of contents) {
      for (const sheet of pack.sheets) load(JSON.stringify(sheet));
    }
    answer = python.get("answer");
    postMessage({ kind: "ready", version: python.version });
  }

  // An engine that breaks while starting may leave its promise unsettled; the fault still comes by here.
  self.addEventListener("unhandledrejection", (event) => fail(event.reason));
  self.addEventListener("message", ({ data }) => {
    if (data.kind === "start") {
      start(data).catch(fail);
      return;
    }
    try {
      postMessage({ kind: "answer", id: data.id, response: answer(data.request) });
    } catch (fault) {
      postMessage({ kind: "broken", id: data.id, cause: causeOf(fault) });
    }
  });
}

function causeOf(fault) {
  return fault instanceof LoadFailure ? fault.message : `The engine reported: ${String(fault?.message ?? fault).trim()}`;
}

/**
 * Hand an engine the files it asks for by plain name, labelled as it insists, whatever the server says.
 *
 * @param {Record<string, () => Response>} files one response for each name
 */
export function serveFiles(files) {
  const fetchFromServer = self.fetch.bind(self);
  self.fetch = async (resource, options) => {
    const name = String(resource.url ?? resource).split("/").pop();
    return files[name] ? files[name]() : fetchFromServer(resource, options);
  };
}

export function asWasm(stream) {
  return new Response(stream, { headers: { "Content-Type": "application/wasm" } });
}
