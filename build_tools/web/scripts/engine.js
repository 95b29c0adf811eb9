/**
 * The page's side of one engine: start its worker, watch its time, ask it, and keep the first cause of failure.
 *
 * States: idle -> download -> start -> load -> ready, or failed from any of them, or ended.
 */

/** Longest silence allowed in each stage, in seconds; bytes coming in count as a sign of life. */
const LONGEST_SILENCE = { download: 30, start: 60, load: 20, ready: 10 };
const STAGE_WORDS = {
  download: "No more of the calculation engine came in",
  start: "The calculation engine did not start",
  load: "The calculation engine did not load the formulas",
  ready: "The calculation engine did not answer",
};

export class Engine {
  /**
   * @param {{name: string, script: string, engine: object, packs: object[]}} files what it is made of
   * @param {string} base address of the folder that holds the files
   * @param {(engine: Engine) => void} changed called after every change of state and of bytes received
   */
  constructor(files, base, changed) {
    this.files = files;
    this.base = base;
    this.changed = changed;
    this.name = files.name;
    this.state = "idle";
    this.failure = "";
    this.version = "";
    this.received = 0;
    this.total = 0;
    this._worker = null;
    this._timer = 0;
    this._questions = new Map();
    this._nextId = 1;
  }

  start() {
    if (this.state !== "idle" && this.state !== "ended") return;
    this.received = 0;
    this.total = packedFiles(this.files).reduce((sum, file) => sum + file.bytes, 0);
    this._enter("download");
    this._begin(new URL(this.files.script, this.base).href, true);
  }

  /** Answer a request (JSON text) with JSON text; waits for the engine, rejects with an Error that names the cause. */
  ask(request) {
    if (this.state === "failed") return Promise.reject(new Error(this.failure));
    return new Promise((resolve, reject) => {
      const id = this._nextId++;
      this._questions.set(id, { request, resolve, reject });
      if (this.state === "ready") this._send(id);
    });
  }

  /** End the worker. A later start() begins afresh. */
  end() {
    this._stopWorker();
    this._rejectAll("The page was left.");
    if (this.state !== "failed") this.state = "ended";
  }

  /** Forget a failure and begin again. */
  retry() {
    this._stopWorker();
    this.state = "idle";
    this.failure = "";
    this.start();
  }

  _begin(address, mayCopy) {
    let worker;
    try {
      worker = new Worker(address);
    } catch {
      this._fail("This browser does not let the page start a calculation engine.");
      return;
    }
    this._worker = worker;
    let heard = false;
    worker.onmessage = ({ data }) => {
      heard = true;
      if (worker === this._worker) this._hear(data);
    };
    worker.onerror = (event) => {
      event.preventDefault();
      if (worker !== this._worker || this.state === "failed") return;
      if (heard) this._fail(`The calculation engine broke down: ${event.message}`);
      else this._explainDeadWorker(mayCopy);
    };
    worker.postMessage({ kind: "start", base: this.base, engine: this.files.engine, packs: this.files.packs });
  }

  /** A worker whose script will not load says nothing of the reason: fetch the script to find it. */
  async _explainDeadWorker(mayCopy) {
    const name = this.files.script;
    let response;
    try {
      response = await fetch(new URL(name, this.base), { credentials: "same-origin" });
    } catch {
      this._fail(`The file ${name} could not be fetched: the server cannot be reached.`);
      return;
    }
    if (!response.ok) {
      const what = response.status === 404 ? "is missing on the server" : "was refused by the server";
      this._fail(`The file ${name} ${what} (status ${response.status}).`);
      return;
    }
    const type = (response.headers.get("Content-Type") || "no type").split(";")[0];
    if (mayCopy && !type.includes("javascript")) {
      const copy = new Blob([await response.text()], { type: "text/javascript" });
      this._begin(URL.createObjectURL(copy), false);
      return;
    }
    this._fail(`The file ${name} did not run. The server labels it as ${type}.`);
  }

  _hear(message) {
    if (message.kind === "bytes") {
      this.received = message.received;
      if (this.state === "download" && this.received >= this.total) this._enter("start");
      else this._watch();
      this.changed(this);
    } else if (message.kind === "stage") {
      this._enter(message.stage);
    } else if (message.kind === "ready") {
      this.version = message.version;
      this._enter("ready");
      for (const id of this._questions.keys()) this._send(id);
    } else if (message.kind === "failed") {
      this._fail(message.cause);
    } else {
      const question = this._questions.get(message.id);
      this._questions.delete(message.id);
      this._watch();
      if (message.kind === "answer") question.resolve(message.response);
      else question.reject(new Error(message.cause));
    }
  }

  _send(id) {
    this._worker.postMessage({ kind: "answer", id, request: this._questions.get(id).request });
    this._watch();
  }

  _enter(state) {
    this.state = state;
    this._watch();
    this.changed(this);
  }

  _watch() {
    clearTimeout(this._timer);
    const waiting = this.state === "ready" ? this._questions.size > 0 : this.state in LONGEST_SILENCE;
    if (!waiting) return;
    const seconds = LONGEST_SILENCE[this.state];
    this._timer = setTimeout(() => this._fail(`${STAGE_WORDS[this.state]} within ${seconds} seconds.`), seconds * 1000);
  }

  _fail(cause) {
    if (this.state === "failed") return;
    this.failure = cause;
    this.state = "failed";
    this._stopWorker();
    this._rejectAll(cause);
    this.changed(this);
  }

  _stopWorker() {
    clearTimeout(this._timer);
    if (this._worker) this._worker.terminate();
    this._worker = null;
  }

  _rejectAll(cause) {
    for (const question of this._questions.values()) question.reject(new Error(cause));
    this._questions.clear();
  }
}

function packedFiles(files) {
  return [...Object.values(files.engine), ...files.packs];
}
