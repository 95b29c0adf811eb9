/**
 * The wave laboratory: four traces that run along, stop, go beat by beat and slow down.
 *
 * The model in the page's engines gives the samples; this script only draws them and says what they show.
 */
import { pageEngines, whenShown } from "./page_engines.js";
import { Tape, TAPE, endOf } from "./wave_tape.js";
import { Screen } from "./wave_painting.js";
import { sectionsOf } from "./wave_sections.js";

const { engines } = pageEngines();

/** How far ahead of the line samples are asked for, in ms of the tape. */
const AHEAD = 5000;
/** A browser that was busy or hidden goes on where it stopped. */
const LONGEST_FRAME = 300;

class Laboratory {
  constructor(section) {
    this._section = section;
    this._screen = new Screen(section.querySelector("canvas"));
    this._still = window.matchMedia("(prefers-reduced-motion: reduce)");
    this._sections = sectionsOf(document.getElementById("what-to-look-for"));
    this._running = !this._still.matches;
    this._time = 0;
    this._painted = false;
    this._stepping = false;
    this._fault = "";
    this._live = this._one(".wave-live");
    this._listen();
    this._one(".wave-still").hidden = true;
    this._live.hidden = false;
    this._screen.fit();
    if (!this._followAddress()) this._begin();
    // A browser goes to the place that an address names once more when the page is complete.
    window.addEventListener("load", () => this._followAddress());
    requestAnimationFrame((now) => this._draw(now));
  }

  _one(selector) {
    return this._section.querySelector(selector);
  }

  _listen() {
    this._one(".wave-choices").addEventListener("change", ({ target }) => {
      if (target.dataset.choice !== "breathing") this._takeRates(target);
      this._begin();
    });
    this._one(".wave-choices").addEventListener("submit", (event) => event.preventDefault());
    const rate = this._choice("rate");
    rate.addEventListener("input", () => this._tellRate());
    rate.addEventListener("change", () => this._begin());
    this._act("run", () => this._run(!this._running));
    this._act("step", () => this._stepOn());
    this._act("again", () => {
      engines.retry();
      this._begin();
    });
    this._act("closer", (button) => {
      this._screen.closer = !this._screen.closer;
      button.setAttribute("aria-pressed", String(this._screen.closer));
      this._repaint();
    });
    this._still.addEventListener("change", () => this._run(this._running && !this._still.matches));
    engines.listen(() => this._tell());
    window.addEventListener("hashchange", () => this._followAddress());
    new ResizeObserver(() => this._repaint()).observe(this._one(".wave-screen"));
    // Colours follow the page's own switch, and the system where that is followed.
    new MutationObserver(() => this._repaint()).observe(document.documentElement, { attributeFilter: ["data-scheme"] });
    window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this._repaint());
  }

  _act(name, act) {
    const button = this._one(`[data-act=${name}]`);
    button.addEventListener("click", () => act(button));
  }

  _choice(name) {
    return this._one(`[data-choice=${name}]`);
  }

  /** An address with the name of a condition or rhythm opens the laboratory on it. */
  _followAddress() {
    for (const name of ["condition", "rhythm"]) {
      const select = this._choice(name);
      const option = [...select.options].find(({ dataset }) => location.hash === `#${dataset.section}`);
      if (!option) continue;
      this._section.scrollIntoView();
      if (select.value === option.value && this._tape) return true;
      select.value = option.value;
      this._takeRates(select);
      this._begin();
      return true;
    }
    return false;
  }

  /** A rhythm has rates of its own, and some conditions a usual one. */
  _takeRates(changed) {
    const rate = this._choice("rate");
    const rhythm = this._choice("rhythm").selectedOptions[0].dataset;
    const usual = changed.selectedOptions[0].dataset.rate;
    rate.min = rhythm.low;
    rate.max = rhythm.high;
    if (usual) rate.value = Math.min(Number(usual), Number(rhythm.high));
    this._tellRate();
  }

  _tellRate() {
    const rate = this._choice("rate");
    const words = `${rate.value} a minute`;
    this._one(".wave-rate output").textContent = words;
    rate.setAttribute("aria-valuetext", words);
  }

  /** Begin a new tape with what is chosen now. */
  _begin() {
    const choice = Object.fromEntries(
      ["condition", "rhythm", "breathing", "rate"].map((name) => [name, this._choice(name).value]),
    );
    this._tellRate();
    this._fault = "";
    this._tape = new Tape(engines, choice, (tape) => this._arrived(tape), (fault) => this._fail(fault));
    // Who steps sees a whole screen from the start.
    this._time = this._running ? 0 : this._screen.window - 1;
    this._stepping = false;
    this._tape.want(0, this._time + AHEAD);
    this._sections.show(["condition", "rhythm"].map((name) => this._choice(name).selectedOptions[0].dataset.section));
    this._repaint();
    this._tell();
  }

  _arrived(tape) {
    if (tape !== this._tape) return;
    const told = this._one("#wave-told");
    told.replaceChildren(...tape.told.map((words) => Object.assign(document.createElement("li"), { textContent: words })));
    if (!this._running || !this._painted) this._repaint();
    if (this._stepping) this._stepOn();
    tape.want(this._time, AHEAD);
    this._tell();
  }

  _fail(fault) {
    this._fault = fault.message;
    this._tell();
  }

  _run(running) {
    this._running = running && !this._still.matches;
    this._tell();
  }

  /** Go to the end of the next beat, and stop there. */
  _stepOn() {
    this._running = false;
    this._stepping = true;
    const beat = this._tape.beatAfter(this._time);
    const target = beat ? endOf(beat) : this._time + AHEAD;
    if (target >= TAPE) {
      this._time = 0;
      this._repaint();
      this._stepOn();
      return;
    }
    if (beat && this._tape.has(this._time, target)) {
      this._stepping = false;
      this._goTo(target);
    } else {
      this._tape.want(this._time, AHEAD);
    }
    this._tell();
  }

  _goTo(time) {
    const before = this._time;
    this._time = time;
    if (time - before < this._screen.window) this._screen.paint(this._tape, before, time);
    else this._repaint();
    this._tape.want(time, AHEAD);
  }

  _repaint() {
    if (!this._tape) return;
    this._screen.fit();
    this._screen.paintAll(this._tape, this._time);
    this._painted = this._tape.lanes.length > 0;
  }

  _draw(now) {
    const passed = Math.min(LONGEST_FRAME, now - (this._before ?? now));
    this._before = now;
    if (this._running && this._painted) {
      const time = this._time + passed * Number(this._one("[data-act=speed]").value);
      if (time >= TAPE) {
        this._time = 0;
        this._repaint();
      } else if (this._tape.has(this._time, time + 300)) {
        this._goTo(time);
      }
    }
    requestAnimationFrame((next) => this._draw(next));
  }

  /** Say what state the traces are in, and what the beat on which they stand shows. */
  _tell() {
    const status = this._one(".wave-status");
    const words = this._status();
    if (status.textContent !== words) status.textContent = words;
    status.hidden = words === "";
    this._one("[data-act=again]").hidden = !engines.failed;
    this._one(".wave-still").hidden = !engines.failed;
    const run = this._one("[data-act=run]");
    run.textContent = this._running ? "Pause" : "Run";
    for (const part of [run, this._one("[data-act=speed]")]) part.hidden = this._still.matches;
    this._one(".wave-calm").hidden = !this._still.matches;
    const beat = this._running || !this._painted ? null : this._tape.beatAt(this._time - 1);
    const quiet = this._still.matches ? "" : "Pause, or step to the next beat, to read it here.";
    const told = beat ? beat.told : quiet;
    const shown = this._one(".wave-beat");
    if (shown.textContent !== told) shown.textContent = told;
  }

  _status() {
    const { first, second, failed } = engines;
    if (failed) return `The traces cannot run now. ${first.failure} The drawing above and the text below still hold.`;
    if (this._tape?.lanes.length) return "";
    if (this._fault && first.state === "ready") return this._fault;
    const engine = first.state === "failed" ? second : first;
    const lead = first.state === "failed" ? `${first.failure} Another engine takes its place. ` : "";
    if (engine.state === "ready") return `${lead}The traces are being reckoned.`;
    if (engine.state !== "download") return `${lead}The calculation engine is starting.`;
    return `${lead}The calculation engine is coming in: ${megabytes(engine.received)} of ${megabytes(engine.total)} MB.`;
  }
}

function megabytes(bytes) {
  return (bytes / 1e6).toFixed(2);
}

const ready = new WeakSet();

whenShown(() => {
  for (const section of document.querySelectorAll("[data-laboratory=wave_laboratory]")) {
    if (ready.has(section)) continue;
    ready.add(section);
    new Laboratory(section);
  }
});
