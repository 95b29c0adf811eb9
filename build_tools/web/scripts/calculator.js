/** One calculator on the page: its form, its result, and the engines it asks. */
import { agree } from "./agreement.js";
import { engineWords, PATIENCE_MS } from "./engine_words.js";
import { Form } from "./form.js";
import { linkedEntries, linkTo } from "./link.js";
import { Result } from "./result.js";
import { takeFile } from "./table_file.js";

export class Calculator {
  /**
   * @param {HTMLElement} section
   * @param {Engines} engines
   * @param {string} version of the handbook, for the copied text
   */
  constructor(section, engines, version) {
    this.id = section.dataset.calculator;
    this.engines = engines;
    this.version = version;
    this.form = new Form(section.querySelector("form"));
    this.result = new Result(section);
    this._latest = 0;
    this._problems = [];
    this._shown = { engine: null, checked: "" };
    this._late = false;
    this._listen(section);
    engines.listen(() => this._tellEngine());
    setTimeout(() => {
      this._late = true;
      this._tellEngine();
    }, PATIENCE_MS);
    this._openLink(section);
    addEventListener("hashchange", () => this._openLink(section));
    this.form.labelUnits();
    // The browser may have kept what was typed before a reload.
    if (!this.form.isEmpty()) this._work();
  }

  _listen(section) {
    const form = this.form.element;
    const changed = () => {
      this.engines.wanted();
      this.form.edited();
      this.result.markOld();
      this._work();
    };
    form.addEventListener("input", (event) => {
      this._fieldOf(event)?.showChoice();
      this.form.labelUnits();
      changed();
    });
    form.addEventListener("change", async (event) => {
      const [file] = event.target.files ?? [];
      if (!file || !await takeFile(event.target.closest(".calculator-field"), file)) return;
      this.form.left(event.target.closest(".calculator-field").dataset.field);
      changed();
    });
    form.addEventListener("focusin", () => this.engines.wanted());
    form.addEventListener("focusout", (event) => {
      if (!this._fieldOf(event)) return;
      this.form.left(event.target.closest(".calculator-field").dataset.field);
      this.form.tell(this._problems);
    });
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      this._work(true);
    });
    form.addEventListener("reset", () => setTimeout(() => {
      this._latest++;
      this._problems = [];
      this.form.forget();
      this.form.labelUnits();
      for (const field of this.form.fields.values()) field.showChoice();
      this.result.clear();
      this._shown = { engine: null, checked: "" };
      this._tellEngine();
    }));
    section.addEventListener("click", (event) => {
      const act = event.target.closest("[data-act]")?.dataset.act;
      if (act === "copy") this.result.copy();
      if (act === "link") this.result.copy(linkTo(this.id, this.form.read(), location.href));
      if (act === "again") {
        this.engines.retry();
        this._work();
      }
      if (act === "sign") {
        this._fieldOf(event).changeSign();
        changed();
      }
    });
  }

  /** Take over the entries of a link that was made for this calculator. */
  _openLink(section) {
    const linked = linkedEntries(this.id, location.hash);
    if (linked === null) return;
    section.scrollIntoView();
    if (!linked.known) {
      const message = "This link was made by another version of the handbook. Enter the figures by hand.";
      this.form.summarise([{ field: null, kind: "unreadable", message }]);
      return;
    }
    this.form.element.reset();
    this.form.fill(linked.texts);
    this.engines.wanted();
    // After the reset has been dealt with, which empties the result.
    setTimeout(() => {
      this.form.labelUnits();
      this._work();
    });
  }

  _fieldOf(event) {
    const box = event.target.closest(".calculator-field");
    return box && this.form.fields.get(box.dataset.field);
  }

  /** Ask for an answer to what stands in the form. complete: the reader pressed the button. */
  async _work(complete = false) {
    const turn = ++this._latest;
    const request = JSON.stringify({
      calculator: this.id, ...this.form.read(), complete, version: this.version,
    });
    let reply;
    try {
      reply = await this.engines.answer(request);
    } catch {
      if (turn === this._latest) this.result.sayOld();
      return;                                     // the engines' own line says what happened
    }
    if (turn !== this._latest) return;            // the entries have changed since
    const answer = JSON.parse(reply.response);
    this._problems = answer.problems;
    if (answer.state === "answer") {
      this.form.tell([]);
      this.result.show(answer);
      if (complete) this.result.bringIntoView();
      this._recheck(turn, request, reply.engine, answer);
      return;
    }
    let refused = "";
    if (complete) this.form.summarise(answer.problems);
    else refused = this.form.tell(answer.problems);
    if (this.form.isEmpty()) this.result.clear();
    else this.result.sayOld(refused);
  }

  /** Have the other engine work it out again, and say quietly what came of it. */
  async _recheck(turn, request, engine, answer) {
    this._shown = { engine, checked: "" };
    this._tellEngine();
    let other;
    try {
      other = await this.engines.otherAnswer(request, engine);
    } catch {
      if (turn !== this._latest) return;
      this._shown.checked = "broken";
      this._tellEngine();
      return;
    }
    if (other === null || turn !== this._latest) return;
    const second = JSON.parse(other.response);
    this._shown.checked = agree(answer, second) ? "agreed" : "disagreed";
    if (this._shown.checked === "disagreed") {
      this.result.dispute([[engine.version, answer], [other.engine.version, second]]);
    }
    this._tellEngine();
  }

  _tellEngine() {
    const words = engineWords(this.engines, this._shown, this._late && this._inUse());
    this.result.tellEngine(words, this.engines.failed);
  }

  /** Whether the reader waits for this calculator. */
  _inUse() {
    return !this.form.isEmpty() || this.form.element.contains(document.activeElement);
  }
}
