/** "Prove it on this device": every check of every calculator, in each engine, one after the other. */
import { agree } from "./agreement.js";
import { Engine } from "./engine.js";
import { readJson } from "./worker_files.js";

const files = JSON.parse(document.getElementById("proof-files").textContent);
const base = new URL(".", document.currentScript.src).href;
const TELL_EVERY = 20;

/** What an answer of the door found, without its words. `essence` in build_tools/proof.py gives the same. */
function essence(answer) {
  return {
    state: answer.state,
    problems: answer.problems.map((problem) => [problem.field, problem.kind]),
    cautions: answer.cautions.map((caution) => caution.field),
    results: answer.results.map((result) => [
      result.output, result.side, result.value, result.unit, result.raw,
      result.also.map((also) => [also.value, also.unit]),
      result.bands.map((band) => [band.scheme_id, band.band]),
    ]),
  };
}

function found({ state, problems, results }) {
  const values = results.map(([output, side, value, unit]) => `${output}${side ? ` (${side})` : ""} ${value} ${unit}`.trim());
  return [state, ...problems.map(([field, kind]) => `${kind}: ${field ?? "all"}`), ...values].join("; ");
}

function line(list, words) {
  const made = document.createElement("li");
  made.textContent = words;
  list.append(made);
  list.hidden = false;
  return made;
}

class Proof {
  constructor(section) {
    const part = (name) => section.querySelector(`[data-proof-${name}]`);
    this.button = part("start");
    this.progress = part("progress");
    this.told = part("told");
    this.engines = part("engines");
    this.misses = part("misses");
    if (files.engines.length === 1) part("in").textContent = "in the one engine of the portable edition";
    this.button.addEventListener("click", () => this.run());
    window.addEventListener("pagehide", () => this.engine?.end());
  }

  async run() {
    this.button.disabled = true;
    this.progress.value = 0;
    this.progress.hidden = false;
    this.engines.replaceChildren();
    this.misses.replaceChildren();
    this.misses.hidden = true;
    this.told.textContent = "Fetching the checks.";
    try {
      const { checks } = await readJson(files.checks, base, () => {});
      this.progress.max = checks.length * files.engines.length;
      const passed = [];
      for (const engine of files.engines) passed.push(await this.inEngine(engine, checks));
      this.tellAll(passed, checks.length);
    } catch (fault) {
      this.told.textContent = `The proof could not be made: ${fault.message}`;
    }
    this.progress.hidden = true;
    this.button.disabled = false;
  }

  /** Work out every check in one engine; gives how many came out as they should. */
  async inEngine(parts, checks) {
    const own = line(this.engines, `${parts.name}: the engine is starting.`);
    this.engine = new Engine(parts, base, () => {});
    this.engine.start();
    let passed = 0;
    let done = 0;
    try {
      for (const check of checks) {
        const answer = essence(JSON.parse(await this.engine.ask(JSON.stringify(check.request))));
        if (agree(answer, check.expect)) passed += 1;
        else line(this.misses, `${this.engine.version}: ${check.name}: ${found(answer)}. It should be: ${found(check.expect)}.`);
        done += 1;
        this.progress.value += 1;
        if (done % TELL_EVERY === 0) own.textContent = `${this.engine.version}: ${done} of ${checks.length} checks.`;
      }
      own.textContent = `${this.engine.version}: ${passed} of ${checks.length} checks came out as they should.`;
    } catch (fault) {
      own.textContent = `${parts.name}: broke off after ${done} of ${checks.length} checks. ${fault.message}`;
    }
    this.engine.end();
    return passed;
  }

  tellAll(passed, checks) {
    const whole = passed.every((one) => one === checks);
    const version = `Pulse & Ruler ${files.version}`;
    const engines = passed.length === 1 ? "one engine" : `each of ${passed.length} engines`;
    const advice = this.misses.hidden
      ? "One engine could not finish. What it did work out had no misses."
      : "Do not use the calculators named below, and tell whoever runs this site.";
    this.told.textContent = whole
      ? `Proved on this device: ${version}, ${checks} checks in ${engines}, no misses.`
      : `Not proved on this device: ${version}. ${advice}`;
  }
}

const section = document.querySelector("[data-proof]");
new Proof(section);
