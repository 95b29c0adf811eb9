/**
 * The portable edition: stands in for a server, for pages opened from a disk, a stick or a file share.
 *
 * There a browser lets a page fetch nothing and start no worker from a file, but it does run scripts. So each file that
 * a page would fetch lies in the folder as a script that hands it over here, in base64, and the script of a worker as
 * a function. `fetch` and `Worker` know these files and no others.
 */
(function () {
  "use strict";

  const NativeWorker = window.Worker;
  const root = new URL(document.currentScript.dataset.base, location).href;
  const handedOver = new Map();
  const asked = new Map();

  /** Each of those scripts calls this. content: a string in base64, or a function for the script of a worker. */
  window.pulseRulerCarries = (name, content) => handedOver.set(new URL(name, root).href, content);

  /** What a file holds; null when it does not lie in the folder. */
  function contentOf(address) {
    if (!asked.has(address)) {
      asked.set(address, new Promise((resolve) => {
        const script = document.createElement("script");
        script.src = address + ".js";
        script.onload = () => resolve(handedOver.get(address) ?? null);
        script.onerror = () => {
          asked.delete(address); // the stick may be back the next time
          resolve(null);
        };
        document.head.append(script);
      }));
    }
    return asked.get(address);
  }

  async function bytesOf(address) {
    const content = await contentOf(address);
    if (content === null) return null;
    if (typeof content === "function") return new TextEncoder().encode(content);
    return Uint8Array.from(atob(content), (sign) => sign.charCodeAt(0));
  }

  async function fetchCarried(resource) {
    const bytes = await bytesOf(new URL(resource.url ?? resource, location).href);
    return new Response(bytes, { status: bytes ? 200 : 404 });
  }

  /** A worker's own fetch, which asks the page. It runs inside the worker and can use nothing from here. */
  function askThePage(worker) {
    worker.fetch = (resource) => new Promise((resolve) => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = ({ data }) => resolve(new Response(data, { status: data ? 200 : 404 }));
      worker.postMessage({ wantedFile: String(resource.url ?? resource) }, [port2]);
    });
  }

  class CarriedWorker extends EventTarget {
    constructor(address) {
      super();
      this._early = []; // what was sent before the worker gave a sign of life
      this._heard = false;
      for (const type of ["message", "error"]) this.addEventListener(type, (event) => this["on" + type]?.(event));
      this._begin(new URL(address, location).href);
    }

    postMessage(message) {
      if (!this._heard) this._early.push(message);
      this._send?.(message);
    }

    terminate() {
      this._ended = true;
      this._worker?.terminate();
      this._send = null;
    }

    async _begin(address) {
      const run = await contentOf(address);
      if (this._ended) return;
      if (run === null) {
        this._fail("");
        return;
      }
      try {
        this._runInWorker(run);
      } catch {
        this._runInPage(run);
      }
    }

    _runInWorker(run) {
      const fetching = "(...given) => self.fetch(...given)";
      const source = new Blob([`(${askThePage})(self);(${run})(self, ${fetching}, self.postMessage.bind(self));`],
        { type: "text/javascript" });
      const address = URL.createObjectURL(source);
      this._worker = new NativeWorker(address);
      this._worker.onmessage = ({ data, ports }) => {
        this._heard = true;
        if (data.wantedFile) bytesOf(data.wantedFile).then((bytes) => ports[0].postMessage(bytes));
        else this._tell(data);
      };
      this._worker.onerror = (event) => {
        event.preventDefault();
        if (this._heard) this._fail(event.message);
        else this._runInPage(run);
      };
      this._connect((message) => this._worker.postMessage(message));
    }

    /** Where even such a worker is refused: slower to the touch, and it cannot be stopped, but it computes. */
    _runInPage(run) {
      if (this._ended) return;
      this._worker = null;
      const inside = Object.assign(new EventTarget(), {
        location,
        fetch: fetchCarried,
        postMessage: (data) => setTimeout(() => this._tell(data)),
      });
      run(inside, (...given) => inside.fetch(...given), inside.postMessage);
      this._connect((data) => setTimeout(() => inside.dispatchEvent(new MessageEvent("message", { data }))));
    }

    _connect(send) {
      this._send = send;
      this._early.forEach(send);
    }

    _tell(data) {
      if (!this._ended) this.dispatchEvent(new MessageEvent("message", { data }));
    }

    _fail(message) {
      this.dispatchEvent(new ErrorEvent("error", { message, cancelable: true }));
    }
  }

  window.fetch = fetchCarried;
  window.Worker = CarriedWorker;
})();
