/**
 * One calculator's form: what is typed and chosen, in which units, and which faults are told.
 *
 * Whom a calculator is not for is told at once.
 * A fault of a field is told once the reader has left it; a missing entry only when an answer was asked for;
 * two entries that contradict each other once the reader has left either. What was typed is never changed.
 */

const MINUS = "\u2212";

export class Form {
  /** @param {HTMLFormElement} element */
  constructor(element) {
    this.element = element;
    this.fields = new Map();
    for (const box of element.querySelectorAll(".calculator-field")) {
      this.fields.set(box.dataset.field, new Field(box));
    }
    this.units = [...element.querySelectorAll(".calculator-units")];
    this.summary = element.querySelector(".calculator-faults");
    this._left = new Set();
    this._leftAny = false;
  }

  /** What the door wants to know of the form: {answers, units}. */
  read() {
    const answers = {};
    for (const [name, field] of this.fields) answers[name] = field.text();
    const units = {};
    for (const group of this.units) {
      const chosen = group.querySelector("input:checked");
      for (const input of group.dataset.inputs.split(" ")) units[input] = chosen.value;
    }
    return { answers, units };
  }

  /** Fill in the entries of a link. A name or an answer that this form does not know is passed over. */
  fill(texts) {
    for (const [name, field] of this.fields) if (texts.has(name)) field.take(texts.get(name));
    for (const group of this.units) {
      const wanted = texts.get("unit." + group.dataset.inputs.split(" ")[0]);
      const option = [...group.querySelectorAll("input")].find((each) => each.value === wanted);
      if (option) option.checked = true;
    }
  }

  isEmpty() {
    return [...this.fields.values()].every((field) => field.text().trim() === "");
  }

  /** Write the chosen units into the labels. */
  labelUnits() {
    for (const group of this.units) {
      const words = group.querySelector("input:checked").parentElement.querySelector("span").textContent;
      const inputs = group.dataset.inputs.split(" ");
      for (const field of this.fields.values()) if (inputs.includes(field.input)) field.nameUnit(words);
    }
  }

  edited() {
    this._leftAny = false;
    this.summary.hidden = true;
  }

  left(name) {
    if (this.fields.get(name).text() !== "") this._left.add(name);
    this._leftAny = true;
  }

  /** Tell the faults that are due now, and take back those that are mended. Returns what concerns no single field. */
  tell(problems) {
    const due = problems.filter((problem) => problem.kind === "missing" || this._isDue(problem));
    for (const [name, field] of this.fields) {
      field.tell(due.filter((problem) => problem.field === name).map((problem) => problem.message));
    }
    return this._tellWhole(problems);
  }

  /** Tell what keeps the entries together from an answer; one who types a table is left in peace until it is done. */
  _tellWhole(problems) {
    const due = this._leftAny || !this.element.querySelector("textarea");
    const whole = due ? problems.filter((problem) => problem.kind === "excluded" && problem.field === null) : [];
    if (whole.length > 0) this._list(whole);
    return whole.map((problem) => problem.message).join(" ");
  }

  _list(problems) {
    this.summary.querySelector("ul").replaceChildren(...problems.map((problem) => this._summaryLine(problem)));
    this.summary.hidden = false;
  }

  _isDue(problem) {
    if (problem.kind === "excluded") return true;
    return problem.kind === "relation" ? this._leftAny : problem.field === null || this._left.has(problem.field);
  }

  /** Tell every fault, in the summary too, and take the reader there. */
  summarise(problems) {
    for (const name of this.fields.keys()) this._left.add(name);
    this._leftAny = true;
    this.tell(problems);
    this._list(problems);
    this.summary.focus();
  }

  _summaryLine(problem) {
    const line = document.createElement("li");
    if (problem.field === null) {
      line.textContent = problem.message;
      return line;
    }
    const link = document.createElement("a");
    const control = this.fields.get(problem.field).control;
    link.href = "#" + control.id;
    link.textContent = problem.message;
    link.addEventListener("click", (event) => {
      event.preventDefault();
      control.focus();
    });
    line.append(link);
    return line;
  }

  forget() {
    this._left.clear();
    this._leftAny = false;
    this.summary.hidden = true;
    for (const field of this.fields.values()) {
      field.tell([]);
      const told = field.box.querySelector(".calculator-file-told");
      if (told) told.textContent = "";
    }
  }
}

class Field {
  constructor(box) {
    this.box = box;
    this.input = box.dataset.input;
    const list = box.querySelector("select");
    this.control = box.querySelector("input:not([type=file]), textarea") ?? list;
    this.options = [...box.querySelectorAll("input[type=radio]")];
    // A list beside a number holds answers in its place; a list alone is the field.
    this.choice = this.control === list ? null : list;
    this.fault = box.querySelector(".calculator-fault");
    this.showChoice();
  }

  /** The number as typed, or the id of the answer that stands in its place. */
  text() {
    if (this.options.length > 0) return this.options.find((option) => option.checked)?.value ?? "";
    return this.choice?.value || this.control.value;
  }

  /** Take an entry as if it had been typed or chosen. */
  take(text) {
    const option = this.options.find((each) => each.value === text);
    if (option) option.checked = true;
    else if (this.options.length === 0) {
      const isAnswer = [...(this.choice?.options ?? [])].some((each) => each.value === text);
      if (isAnswer) this.choice.value = text;
      else this.control.value = text;
    }
    this.showChoice();
  }

  /** A number that an answer replaces stays readable, and comes back when the answer is taken back. */
  showChoice() {
    if (!this.choice) return;
    const replaced = this.choice.value !== "";
    this.control.readOnly = replaced;
    this.box.classList.toggle("is-replaced", replaced);
  }

  changeSign() {
    const text = this.control.value.trim();
    this.control.value = /^[-\u2010-\u2013\u2212]/.test(text) ? text.slice(1) : MINUS + text;
  }

  nameUnit(words) {
    this.box.querySelector(".calculator-unit").textContent = words;
  }

  tell(messages) {
    const words = messages.join(" ");
    if (this.fault.textContent !== words) this.fault.textContent = words;
    this.fault.hidden = words === "";
    this.box.classList.toggle("is-faulty", words !== "");
    for (const control of [this.control, this.choice]) {
      if (words) control?.setAttribute("aria-invalid", "true");
      else control?.removeAttribute("aria-invalid");
    }
  }
}
