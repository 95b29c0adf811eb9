/**
 * Both engines behind one question: the small one answers first, the full one re-checks.
 *
 * The second engine comes in when the first one stands, the page is idle and the reader has begun to use a
 * calculator, but not for a reader who saves data. It takes the first one's place when that fails. The portable
 * edition has no second engine.
 */
import { Engine } from "./engine.js";

export class Engines {
  /**
   * @param {object[]} files what each engine is made of, the first engine first
   * @param {string} base address of the folder that holds the files
   */
  constructor(files, base) {
    this._listeners = [];
    const changed = () => {
      if (this.settled) this._startSecondWhenIdle();
      this._listeners.forEach((listener) => listener());
    };
    [this.first, this.second = null] = files.map((one) => new Engine(one, base, changed));
    this._wanted = false;
    this._waits = false;
    this.savesData = Boolean(navigator.connection?.saveData)
      || window.matchMedia("(prefers-reduced-data: reduce)").matches;
  }

  /** @param {() => void} listener called after every change of either engine */
  listen(listener) {
    this._listeners.push(listener);
  }

  start() {
    this._waits = false;
    this.first.start();
  }

  end() {
    this.first.end();
    this.second?.end();
  }

  retry() {
    for (const engine of [this.first, this.second]) if (engine?.state === "failed") engine.retry();
  }

  /** The reader has begun to use a calculator. */
  wanted() {
    if (this._wanted) return;
    this._wanted = true;
    if (this.settled) this._startSecondWhenIdle();
  }

  /** Whether the first engine stands or has failed: what else the page wants may come now. */
  get settled() {
    return this.first.state === "ready" || this.first.state === "failed";
  }

  /** Whether the second engine is coming in, or about to. */
  get loading() {
    if (!this.second) return false;
    return (this._waits && this.second.state === "idle") || ["download", "start", "load"].includes(this.second.state);
  }

  get failed() {
    return this.first.state === "failed" && (!this.second || this.second.state === "failed");
  }

  /** Answer a request (JSON text): {engine, response}. Rejects when neither engine can. */
  async answer(request) {
    try {
      return { engine: this.first, response: await this.first.ask(request) };
    } catch (fault) {
      if (!this.second) throw fault;
      this.second.start();
      return { engine: this.second, response: await this.second.ask(request) };
    }
  }

  /** Answer once more by the other engine: {engine, response}, or null when there is none to ask. */
  async otherAnswer(request, engine) {
    const other = engine === this.first ? this.second : this.first;
    if (!other || other.state === "failed" || (other.state === "idle" && this.savesData)) return null;
    return { engine: other, response: await other.ask(request) };
  }

  _startSecondWhenIdle() {
    if (!this.second || !this._wanted || this._waits || this.savesData) return;
    this._waits = true;
    const start = () => this.second.start();
    const whenIdle = () => (window.requestIdleCallback ? requestIdleCallback(start, { timeout: 3000 }) : setTimeout(start, 1000));
    if (document.readyState === "complete") whenIdle();
    else window.addEventListener("load", whenIdle, { once: true });
  }
}
